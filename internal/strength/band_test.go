package strength

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func TestDefaults(t *testing.T) {
	for class, want := range map[Class]Defaults{
		Mineral:     {B: Band{1, -1, 2}, Modulus: LewisNielsenLaw},
		FineMineral: {B: Band{-3, -5, 0}, Modulus: GuthLaw},
		WoodFlour:   {B: Band{2.5, 1.5, 4}, Modulus: HalpinTsaiLaw, Shape: Band{2, 2, 6}, FillerPa: Band{10e9, 8e9, 12e9}},
		OilyOrganic: {B: Band{0.5, -2, 2}, Modulus: HalpinTsaiLaw, Shape: Band{2, 2, 2}, FillerPa: Band{4.5e9, 3e9, 6e9}},
	} {
		got, ok := class.Defaults()
		require.True(t, ok)
		assert.Equal(t, want, got)
		for _, band := range []Band{got.B, got.Shape, got.FillerPa, UprightShift(), UprightShare()} {
			assert.LessOrEqual(t, band.Low, band.Likely)
			assert.LessOrEqual(t, band.Likely, band.High)
		}
		assert.Equal(t, got.Modulus == HalpinTsaiLaw, got.Shape.Low > 0, "a shape where the law uses one")
	}
	for _, class := range []Class{Fibre, Other, -1} {
		got, ok := class.Defaults()
		assert.False(t, ok)
		assert.Zero(t, got)
	}
}

func TestMineralBetweenTheClasses(t *testing.T) {
	at := func(sizeM float64) Band {
		band, ok := MineralB(sizeM)
		require.True(t, ok)
		return band
	}
	assert.Equal(t, Band{-3, -5, 0}, at(0.99e-6))
	assert.Equal(t, Band{-3, -5, 2}, at(1e-6))
	assert.InDelta(t, -1, at(math.Sqrt(5)*1e-6).Likely, 1e-12, "half way by the logarithm")
	assert.InDelta(t, 1, at(5e-6).Likely, 1e-12)
	assert.Equal(t, -5.0, at(5e-6).Low)
	assert.Equal(t, Band{1, -1, 2}, at(5.01e-6))
	for _, bad := range []float64{0, -1e-6, math.NaN(), math.Inf(1)} {
		_, ok := MineralB(bad)
		assert.False(t, ok, "%v", bad)
	}
}

// TestUprightPair holds the shift against the pair of common practice that it rests on.
func TestUprightPair(t *testing.T) {
	const source = "58 to 53 MPa flat and 35 to 27 MPa upright at 5 wt%"
	for density, want := range map[float64][4]string{
		1.35: {"0.04611", "1.43", "-2.24", "3.67"},
		1.45: {"0.04307", "1.30", "-2.63", "3.93"},
	} {
		p := 0.05 / density / (0.05/density + 0.95/1.24)
		flat, upright := PukanszkyB(53.0/58, p), PukanszkyB(27.0/35, p)
		for i, got := range []float64{p, flat, upright, flat - upright} {
			printed.Equal(t, want[i], got, source)
		}
		assert.InDelta(t, UprightShift().Likely, flat-upright, 0.15)
	}
	printed.Equal(t, "-8.6", 100*(53.0/58-1), source)
	printed.Equal(t, "-22.9", 100*(27.0/35-1), source)
	assert.InDelta(t, UprightShare().Likely, 35.0/58, 0.01)
}
