package melt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const arith = "arithmetic from the stated inputs"

// The table of relative viscosities: arithmetic from the formulas, packing
// limit 0.637 unless named.
func TestRelativeViscosities(t *testing.T) {
	at := func(f func(phi, phiMax float64) float64, phiMax float64) func(float64) float64 {
		return func(phi float64) float64 { return f(phi, phiMax) }
	}
	for _, tt := range []struct {
		name string
		f    func(phi float64) float64
		want [4]string // at 0.05, 0.10, 0.20, 0.30
	}{
		{"Einstein", Einstein, [4]string{"1.125", "1.250", "1.500", "1.750"}},
		{"Batchelor", Batchelor, [4]string{"1.1405", "1.3120", "1.7480", "2.3080"}},
		{"Guth", Guth, [4]string{"1.16025", "1.39100", "2.06400", "3.01900"}},
		{"Thomas", Thomas, [4]string{"1.15639", "1.36486", "1.97751", "3.05165"}},
		{"Mooney", at(Mooney, 0.637), [4]string{"1.14528", "1.34522", "2.07266", "4.12743"}},
		{"Krieger-Dougherty", at(KriegerDougherty, 0.637), [4]string{"1.13903", "1.31253", "1.82232", "2.75639"}},
		{"Maron-Pierce 0.68", at(MaronPierce, 0.68), [4]string{"1.16503", "1.37455", "2.00694", "3.20222"}},
		{"Maron-Pierce 0.637", at(MaronPierce, 0.637), [4]string{"1.17761", "1.40712", "2.12479", "3.57289"}},
		{"Maron-Pierce 0.50", at(MaronPierce, 0.50), [4]string{"1.23457", "1.56250", "2.77778", "6.25000"}},
		{"Maron-Pierce 0.44", at(MaronPierce, 0.44), [4]string{"1.27285", "1.67474", "3.36111", "9.87755"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for i, phi := range []float64{0.05, 0.10, 0.20, 0.30} {
				printed.Equal(t, tt.want[i], tt.f(phi), arith)
			}
			last := 0.0
			for phi := 0.0; phi < 0.43; phi += 0.01 {
				assert.Greater(t, tt.f(phi), last, "rises with content")
				last = tt.f(phi)
			}
			if tt.name != "Thomas" { // 1.00273 as published
				assert.Equal(t, 1.0, tt.f(0), "no grains, no change")
			}
		})
	}
	printed.Equal(t, "1.00273", Thomas(0), "Thomas 1965")
}

// For few grains all laws but Maron-Pierce have the slope 2.5 of Einstein; its
// slope is 2/φmax.
func TestDiluteSlope(t *testing.T) {
	const phi = 1e-6
	for _, eta := range []float64{Batchelor(phi), Guth(phi), Mooney(phi, 0.6), KriegerDougherty(phi, 0.6)} {
		assert.InDelta(t, 2.5, (eta-1)/phi, 1e-4)
	}
	assert.InDelta(t, 4, (MaronPierce(phi, 0.5)-1)/phi, 1e-4)
}

func TestPackedFullDoesNotFlow(t *testing.T) {
	for name, f := range map[string]func(phi, phiMax float64) float64{
		"Mooney": Mooney, "KriegerDougherty": KriegerDougherty, "MaronPierce": MaronPierce,
	} {
		assert.True(t, math.IsInf(f(0.5, 0.5), 1), name)
		assert.True(t, math.IsInf(f(0.9, 0.5), 1), "%s: beyond the limit it does not flow again", name)
		assert.True(t, math.IsInf(f(0.1, 0), 1), name)
		assert.True(t, math.IsNaN(f(math.NaN(), 0.5)), name)
		assert.True(t, math.IsNaN(f(0.1, math.NaN())), name)
		assert.Zero(t, GrainsFactor(f(0.6, 0.5), 1138, 1080), name)
	}
}

func TestFibrePackingLimit(t *testing.T) {
	printed.Equal(t, "0.465", FibrePackingLimit(6), arith)
	printed.Equal(t, "0.415", FibrePackingLimit(10), arith)
	printed.Equal(t, "0.290", FibrePackingLimit(20), arith)
	for _, outside := range []float64{5.99, 27.01, 0, -10, math.NaN()} {
		assert.True(t, math.IsNaN(FibrePackingLimit(outside)), "%v", outside)
	}
	last := SmoothPackingLimit
	for a := 6.0; a <= 27; a++ {
		assert.Less(t, FibrePackingLimit(a), last, "the longer the less fits in")
		assert.Positive(t, FibrePackingLimit(a))
		last = FibrePackingLimit(a)
	}
	// As in the table of relative viscosities, packing limits 0.68 and 0.44.
	printed.Equal(t, "2.00694", MaronPierce(0.2, SmoothPackingLimit), arith)
	printed.Equal(t, "3.36111", MaronPierce(0.2, RoughPackingLimit), arith)
}

// The laws side by side at φ 0.20 and a packing limit of 0.637.
func TestThickeningLaws(t *testing.T) {
	want := map[string]string{
		"einstein": "1.500", "batchelor": "1.7480", "guth": "2.06400", "thomas": "1.97751",
		"mooney": "2.07266", "krieger_dougherty": "1.82232", "maron_pierce": "2.12479",
	}
	seen := map[string]bool{}
	for _, law := range ThickeningLaws() {
		require.Contains(t, want, law.ID)
		assert.False(t, seen[law.ID], "%s twice", law.ID)
		seen[law.ID] = true
		printed.Equal(t, want[law.ID], law.Relative(0.2, 0.637), law.ID)
		assert.Equal(t, law.UsesLimit, law.Relative(0.2, 0.637) != law.Relative(0.2, 0.5), law.ID)
	}
	assert.Len(t, seen, len(want))
}

func TestThickeningLawsKnowTheirRanges(t *testing.T) {
	valid := func(phi, phiMax float64) []string {
		var ids []string
		for _, law := range ThickeningLaws() {
			if law.Valid(phi, phiMax) {
				ids = append(ids, law.ID)
			}
		}
		return ids
	}
	limited := []string{"mooney", "krieger_dougherty", "maron_pierce"}
	assert.Len(t, valid(0, 0.5), 7)
	assert.Len(t, valid(0.02, 0.5), 7)
	assert.Equal(t, append([]string{"batchelor", "guth", "thomas"}, limited...), valid(0.021, 0.5))
	assert.Equal(t, append([]string{"guth", "thomas"}, limited...), valid(0.11, 0.5))
	assert.Equal(t, append([]string{"thomas"}, limited...), valid(0.21, 0.5))
	assert.Equal(t, append([]string{"thomas"}, limited...), valid(0.45, 0.5))
	assert.Empty(t, valid(0.451, 0.5), "it would not flow, whatever a law without a limit says")
	assert.Equal(t, limited, valid(0.61, 0.7))
	assert.Equal(t, []string{"guth", "thomas"}, valid(0.2, math.NaN()))
	assert.Empty(t, valid(-0.01, 0.5))
	assert.Empty(t, valid(math.NaN(), 0.5))
}

// TestThickeningLawsKnowWhatEndsThem: its own content, or nine tenths of the packing
// limit where that is less.
func TestThickeningLawsKnowWhatEndsThem(t *testing.T) {
	for _, law := range ThickeningLaws() {
		want := map[string]float64{"einstein": 0.02, "batchelor": 0.1, "guth": 0.2}
		if end, own := want[law.ID]; own {
			assert.InDelta(t, end, law.Highest(0.44), 0, law.ID)
		} else {
			assert.InEpsilon(t, 0.396, law.Highest(0.44), 1e-12, law.ID)
		}
		assert.Equal(t, law.UsesLimit, math.IsNaN(law.Highest(math.NaN())), law.ID)
		assert.True(t, law.Valid(law.Highest(0.44), 0.44), law.ID)
		assert.False(t, law.Valid(math.Nextafter(law.Highest(0.44), 1), 0.44), law.ID)
	}
}

// Within their ranges all laws rise from about 1 with the share of grains, and
// those with a limit fall with a larger one.
func TestThickeningLawsProperties(t *testing.T) {
	for _, law := range ThickeningLaws() {
		last := 0.99
		for phi := 0.0; law.Valid(phi, 0.6); phi += 0.005 {
			eta := law.Relative(phi, 0.6)
			assert.Greater(t, eta, last, law.ID)
			if law.UsesLimit && phi > 0 {
				assert.Less(t, law.Relative(phi, 0.61), eta, law.ID)
			}
			last = eta
		}
		assert.Greater(t, last, 1.02, "%s: the range is not empty", law.ID)
	}
}

func TestWillFlow(t *testing.T) {
	assert.True(t, WillFlow(0, 0.5))
	assert.True(t, WillFlow(0.45, 0.5))
	assert.False(t, WillFlow(0.451, 0.5))
	assert.False(t, WillFlow(math.NaN(), 0.5))
}

// 20 wt% wood (1.45 g/cm³) in a polymer with melt density 1.08 and a melt flow
// rate of 6.
func TestWoodFlow(t *testing.T) {
	volume := 0.2/1.45 + 0.8/1.08
	phi := 0.2 / 1.45 / volume
	printed.Equal(t, "0.15698", phi, arith)
	printed.Equal(t, "1.13808", 1/volume, arith)
	eta := MaronPierce(phi, 0.5)
	printed.Equal(t, "2.1247", eta, arith)
	printed.Equal(t, "2.9758", 6*GrainsFactor(eta, 1/volume, 1.08), arith)
	assert.True(t, WillFlow(phi, 0.5))
}
