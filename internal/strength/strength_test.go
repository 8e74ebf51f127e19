package strength

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestPukanszkyTable(t *testing.T) {
	for b, want := range map[float64]string{0: "0.53333", 1: "0.65141", 3: "0.97180", 3.5: "1.07400"} {
		printed.Equal(t, want, PukanszkyRatio(0.2, b), arith)
	}
	for _, b := range []float64{-5, 0, 3.5, 8} {
		assert.Equal(t, 1.0, PukanszkyRatio(0, b))
		assert.Zero(t, PukanszkyRatio(1, b))
		const p = 1e-6
		assert.InDelta(t, b-3.5, (PukanszkyRatio(p, b)-1)/p, 1e-4, "slope of the first grains")
	}
	assert.Zero(t, PukanszkyRatio(1, 1e6), "nothing is left to bear")
}

func TestPukanszkyBIsTheInverse(t *testing.T) {
	for _, b := range []float64{-5, -1, 0, 2.5, 4} {
		for _, p := range []float64{0.01, 0.1, 0.3, 0.6, 0.9} {
			assert.InDelta(t, b, PukanszkyB(PukanszkyRatio(p, b), p), 1e-12)
		}
	}
	for _, bad := range [][2]float64{{0, 0.1}, {-1, 0.1}, {math.Inf(1), 0.1}, {1, 0}, {1, 1}, {1, -0.1}, {math.NaN(), 0.1}, {1, math.NaN()}} {
		assert.True(t, math.IsNaN(PukanszkyB(bad[0], bad[1])), "%v", bad)
	}
}

// TestWoodFilament holds the laws against prints of filament with wood: 55 MPa without,
// 57 with 10 wt%, 30 with 50 wt%. One B does not hold for both, and the law without
// adhesion is far too low.
func TestWoodFilament(t *testing.T) {
	const source = "from strengths of Kariz and others, Mater. Today Commun. 14 (2018) 135"
	few, much := 0.08677, 0.46097
	printed.Equal(t, "3.720", PukanszkyB(57.0/55, few), source)
	printed.Equal(t, "1.689", PukanszkyB(30.0/55, much), source)
	printed.Equal(t, "41.96", 55*NicolaisNarkis(few), source)
	printed.Equal(t, "15.29", 55*NicolaisNarkis(much), source)
	assert.Less(t, 55*NicolaisNarkis(few), 0.75*57)
	assert.Less(t, 55*NicolaisNarkis(much), 0.55*30)
	wood, _ := WoodFlour.Defaults()
	assert.Less(t, 55*PukanszkyRatio(few, wood.B.Low), 57.0, "the band holds both")
	assert.Greater(t, 55*PukanszkyRatio(few, wood.B.High), 57.0)
	assert.Less(t, 55*PukanszkyRatio(much, wood.B.Low), 30.0)
	assert.Greater(t, 55*PukanszkyRatio(much, wood.B.High), 30.0)
}

func TestNicolaisNarkis(t *testing.T) {
	for p, want := range map[float64]string{0.1: "0.73931", 0.2: "0.58619", 0.3: "0.45775"} {
		printed.Equal(t, want, NicolaisNarkis(p), arith)
	}
	assert.Equal(t, 1.0, NicolaisNarkis(0))
	assert.Positive(t, NicolaisNarkis(0.75131))
	assert.Zero(t, NicolaisNarkis(0.75132))
	assert.Zero(t, NicolaisNarkis(1))
}

func TestLeidnerWoodhams(t *testing.T) {
	printed.Equal(t, "25.2400", HoldingGrains(25, 30, 0.9, 0.1), arith)
	printed.Equal(t, "44.7990", LooseGrains(10, 0.3, 0.9, 55, 0.1), arith)
	assert.Equal(t, 0.9*55, LooseGrains(10, 0.3, 0.9, 55, 0), "without grains: the matrix, concentration and all")
	assert.InEpsilon(t, 25*0.9, HoldingGrains(25, 30, 0.9, 0), 1e-15)
}

func TestKellyTyson(t *testing.T) {
	critical := CriticalLength(2000e6, 12e-6, 20e6)
	printed.Equal(t, "0.6000", critical*1e3, arith)
	printed.Equal(t, "0.33333", LengthEfficiency(0.4e-3, critical), arith)
	printed.Equal(t, "0.70000", LengthEfficiency(1e-3, critical), arith)
	assert.Equal(t, 0.5, LengthEfficiency(2, 2))
	assert.InDelta(t, 0.5, LengthEfficiency(math.Nextafter(2, 0), 2), 1e-15, "both pieces meet")
	last := 0.0
	for length := 0.1; length < 50; length += 0.1 {
		now := LengthEfficiency(length, 3)
		assert.Greater(t, now, last, "longer fibres lend more")
		assert.Less(t, now, 1.0)
		last = now
	}
}

// TestKellyTysonOnCellulose: inputs of a published table, the meaning of whose rows is
// inferred; its results were not seen.
func TestKellyTysonOnCellulose(t *testing.T) {
	const source = "inputs of Int. J. Polym. Sci. 2017, 6059183, table 2"
	for want, in := range map[string][4]float64{ // matrix MPa, volume fraction, orientation, length
		"91.0707": {52, 0.26, 1, 0.672}, "76.2326": {60, 0.26, 0.621, 0.655},
		"53.5371": {14, 0.21, 1, 0.672}, "48.1944": {20, 0.21, 0.757, 0.677},
	} {
		printed.Equal(t, want, KellyTyson(in[2], in[3], 301, in[0], in[1]), source)
	}
}

func TestElongationRatio(t *testing.T) {
	printed.Equal(t, "0.53584", ElongationRatio(0.1), arith)
	assert.Equal(t, 1.0, ElongationRatio(0))
	assert.Zero(t, ElongationRatio(1))
	onePercent := 0.01 / 1.45 / (0.01/1.45 + 0.99/1.24)
	assert.Less(t, ElongationRatio(onePercent), 0.8, "1 wt% costs a fifth")
}

func TestStrengthsHaveNoMeaning(t *testing.T) {
	nan := math.NaN()
	for _, p := range []float64{-0.01, 1.01, nan} {
		for _, got := range []float64{
			PukanszkyRatio(p, 1), NicolaisNarkis(p), HoldingGrains(1, 1, 1, p), LooseGrains(1, 1, 1, 1, p), KellyTyson(1, 1, 1, 1, p), ElongationRatio(p),
		} {
			assert.True(t, math.IsNaN(got), "content %v", p)
		}
	}
	for _, bad := range []float64{-1, nan} {
		for _, got := range []float64{
			HoldingGrains(bad, 1, 1, 0.1), HoldingGrains(1, bad, 1, 0.1), HoldingGrains(1, 1, bad, 0.1),
			LooseGrains(bad, 1, 1, 1, 0.1), LooseGrains(1, bad, 1, 1, 0.1), LooseGrains(1, 1, bad, 1, 0.1), LooseGrains(1, 1, 1, bad, 0.1),
			KellyTyson(bad, 1, 1, 1, 0.1), KellyTyson(1, bad, 1, 1, 0.1), KellyTyson(1, 1, bad, 1, 0.1), KellyTyson(1, 1, 1, bad, 0.1),
			CriticalLength(bad, 1, 1), CriticalLength(1, bad, 1), CriticalLength(1, 1, bad), LengthEfficiency(bad, 1), LengthEfficiency(1, bad),
		} {
			assert.True(t, math.IsNaN(got), "%v", bad)
		}
	}
}
