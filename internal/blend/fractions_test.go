package blend

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// PLA 1.24 and wood flour 1.45 g/cm³: arithmetic from these inputs.
func TestWoodInPLA(t *testing.T) {
	for _, tt := range []struct {
		w              float64
		phi, rho, phrs string
	}{
		{0.05, "0.04307", "1.24904", "5.263"},
		{0.10, "0.08677", "1.25822", "11.111"},
		{0.15, "0.13112", "1.26754", "17.647"},
		{0.20, "0.17614", "1.27699", "25.000"},
		{0.30, "0.26820", "1.29632", "42.857"},
		{0.40, "0.36310", "1.31625", "66.667"},
		{0.50, "0.46097", "1.33680", "100.000"},
	} {
		w := fractions(t, polymer(Balance, 0, pla), part(OfWhole, tt.w, wood))
		v, phr := make([]float64, 2), make([]float64, 2)
		VolumeFractions(v, w, []float64{pla, wood})
		PHR(phr, w, []bool{true, false})
		printed.Equal(t, tt.phi, v[1], arith)
		printed.Equal(t, tt.rho, Density(w, []float64{pla, wood})/1000, arith)
		printed.Equal(t, tt.phrs, 100*phr[1], arith)
		// the same by another way round, to more digits
		printed.Same(t, pla*wood/((1-tt.w)*wood+tt.w*pla), Density(w, []float64{pla, wood}))
		printed.Same(t, tt.w/(1-tt.w), phr[1])
	}
}

func TestBackFromVolume(t *testing.T) {
	w := fractions(t, polymer(ByVolume, 0.8, pla), part(ByVolume, 0.2, wood))
	printed.Equal(t, "0.22621", w[1], arith)
}

// 77 PLA, 20 coffee grounds (1.30), 3 oil (0.92 g/cm³): arithmetic from these
// inputs.
func TestThreeComponents(t *testing.T) {
	w, rho, v := []float64{0.77, 0.20, 0.03}, []float64{1240, 1300, 920}, make([]float64, 3)
	VolumeFractions(v, w, rho)
	printed.Equal(t, "1.23851", Density(w, rho)/1000, arith)
	printed.Equal(t, "0.19054", v[1], arith)
}

// In the melt the polymer is lighter (1.08 g/cm³), the powder is not.
func TestMeltVolumeFraction(t *testing.T) {
	w, rho, v := []float64{0.8, 0.2}, []float64{1080, wood}, make([]float64, 2)
	VolumeFractions(v, w, rho)
	printed.Equal(t, "0.15698", v[1], arith)
	printed.Equal(t, "1.13808", Density(w, rho)/1000, arith)
}

func TestFractionProperties(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for range 2000 {
		w, parts := randomComposition(random)
		rho := make([]float64, len(w))
		is := make([]bool, len(w))
		lightest, heaviest := math.Inf(1), 0.0
		for i, p := range parts {
			rho[i], is[i] = p.DensityKgM3, p.Polymer
			lightest, heaviest = min(lightest, rho[i]), max(heaviest, rho[i])
		}
		v := make([]float64, len(w))
		VolumeFractions(v, w, rho)
		var sum, mixed float64
		for i := range v {
			sum += v[i]
			mixed += v[i] * rho[i]
		}
		d := Density(w, rho)
		require.InDelta(t, 1, sum, 1e-12)
		require.InDelta(t, mixed, d, 1e-9*d, "mass of the parts in a unit of volume")
		require.True(t, lightest <= d*(1+1e-12) && d <= heaviest*(1+1e-12))

		phr := make([]float64, len(w))
		PHR(phr, w, is)
		var polymers float64
		for i := range phr {
			if is[i] {
				polymers += phr[i]
			}
			parts[i].Basis, parts[i].Value = OfPolymer, phr[i]
		}
		require.InDelta(t, 1, polymers, 1e-12)
		for i, back := range fractions(t, parts...) {
			require.InDelta(t, w[i], back, 1e-12, "wt%% to phr and back")
		}

		VolumeFractions(w, w, rho)
		require.Equal(t, v, w, "in place")
	}
}

func TestMissingDensities(t *testing.T) {
	v := make([]float64, 2)
	for _, missing := range []float64{0, math.NaN(), -1} {
		assert.True(t, math.IsNaN(Density([]float64{0.8, 0.2}, []float64{pla, missing})))
		VolumeFractions(v, []float64{0.8, 0.2}, []float64{pla, missing})
		assert.True(t, math.IsNaN(v[0]) && math.IsNaN(v[1]))

		printed.Same(t, pla, Density([]float64{1, 0}, []float64{pla, missing}), "a part that is not there needs none")
		VolumeFractions(v, []float64{1, 0}, []float64{pla, missing})
		assert.Equal(t, []float64{1, 0}, v)
	}
	assert.True(t, math.IsNaN(Density(nil, nil)), "nothing has no density")
}

func TestPHRWithoutPolymer(t *testing.T) {
	x := make([]float64, 2)
	PHR(x, []float64{0, 1}, []bool{true, false})
	assert.True(t, math.IsNaN(x[0]) && math.IsNaN(x[1]))
}

func TestSetFillerContent(t *testing.T) {
	w := []float64{0.60, 0.20, 0.10, 0.05, 0.05} // two polymers, two fillers, oil
	filler := []bool{false, false, true, true, false}
	got := make([]float64, 5)
	require.True(t, SetFillerContent(got, w, filler, 0.30))
	scaled := 0.70 / 0.85
	want := []float64{0.60 * scaled, 0.20 * scaled, 0.20, 0.10, 0.05 * scaled}
	assert.InDeltaSlice(t, want, got, 1e-15)

	require.True(t, SetFillerContent(got, got, filler, 0.15))
	assert.InDeltaSlice(t, w, got, 1e-15, "there and back, in place")

	require.True(t, SetFillerContent(got, w, filler, 0))
	assert.InDelta(t, 0, got[2]+got[3], 0)
	assert.InDelta(t, 0.05/0.85, got[4], 1e-15)
}

func TestSetFillerContentOfPlainPolymer(t *testing.T) {
	got := make([]float64, 2)
	require.True(t, SetFillerContent(got, []float64{1, 0}, []bool{false, true}, 0.1))
	assert.InDeltaSlice(t, []float64{0.9, 0.1}, got, 1e-15)
}

func TestSetFillerContentRefuses(t *testing.T) {
	tests := map[string]struct {
		w       []float64
		filler  []bool
		content float64
	}{
		"no filler":                 {[]float64{1, 0}, []bool{false, false}, 0.1},
		"two fillers without share": {[]float64{1, 0, 0}, []bool{false, true, true}, 0.1},
		"filler only":               {[]float64{0, 1}, []bool{false, true}, 0.1},
		"everything":                {[]float64{0.9, 0.1}, []bool{false, true}, 1},
		"negative":                  {[]float64{0.9, 0.1}, []bool{false, true}, -0.1},
		"not a number":              {[]float64{0.9, 0.1}, []bool{false, true}, math.NaN()},
		"unknown shares":            {[]float64{math.NaN(), 0.1}, []bool{false, true}, 0.1},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			got := make([]float64, len(tt.w))
			got[0] = 42
			assert.False(t, SetFillerContent(got, tt.w, tt.filler, tt.content))
			assert.Equal(t, 42.0, got[0], "left alone")
		})
	}
}

func TestWrongLengthsPanic(t *testing.T) {
	one, two := make([]float64, 1), make([]float64, 2)
	for name, call := range map[string]func(){
		"VolumeFractions dst": func() { VolumeFractions(one, two, two) },
		"VolumeFractions rho": func() { VolumeFractions(two, two, one) },
		"Density":             func() { Density(two, one) },
		"PHR dst":             func() { PHR(one, two, make([]bool, 2)) },
		"PHR polymer":         func() { PHR(two, two, make([]bool, 1)) },
		"SetFillerContent":    func() { SetFillerContent(one, two, make([]bool, 2), 0.1) },
		"CostPerKg":           func() { CostPerKg(one, two) },
	} {
		t.Run(name, func(t *testing.T) { assert.PanicsWithValue(t, badLength, call) })
	}
}
