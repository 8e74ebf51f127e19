package strength

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func TestPointUncertainty(t *testing.T) {
	for _, tt := range []struct {
		name  string
		point Point
		want  float64
	}{
		{"one spool", Point{Strength: 50e6, StdU: 5e6, Spools: 1}, math.Sqrt2 * 5e6},
		{"number not known", Point{Strength: 50e6, StdU: 5e6}, math.Sqrt2 * 5e6},
		{"one spool, no ±", Point{Strength: 50e6, Spools: 1}, 5e6},
		{"two spools", Point{Strength: 50e6, StdU: 1e6, Spools: 2}, 1e6},
		{"four spools, no ±", Point{Strength: 50e6, Spools: 4}, 2.5e6},
	} {
		printed.Same(t, tt.want, tt.point.Uncertainty(), tt.name)
	}
	assert.True(t, math.IsNaN(Point{Strength: 50e6, StdU: -1}.Uncertainty()))
	assert.True(t, math.IsNaN(Point{Strength: 50e6, StdU: math.NaN()}.Uncertainty()))
}

// kariz are the strengths of prints with wood, each with an assumed ± of 2 MPa.
func kariz(spools int) []Point {
	return []Point{{0, 55e6, 2e6, spools}, {0.08677, 57e6, 2e6, spools}, {0.46097, 30e6, 2e6, spools}}
}

// TestFitOfWoodFilament: with one spool of each the two B agree within what spools may
// differ by; with two they do not, and the uncertainty is widened.
func TestFitOfWoodFilament(t *testing.T) {
	const source = "weighted mean, worked out without the program"
	one := FitB(kariz(1), 55e6)
	printed.Equal(t, "1.77725", one.B, source)
	printed.Equal(t, "0.414787", one.StdU, source)
	printed.Equal(t, "2.64635", one.Reduced, source)
	printed.Equal(t, "-2.57707", one.ByPlain, source)
	assert.Equal(t, 2, one.Points)
	two := FitB(kariz(2), 55e6)
	printed.Equal(t, "1.91910", two.B, source)
	printed.Equal(t, "0.644197", two.StdU, source)
	printed.Equal(t, "22.379", two.Reduced, source)
	assert.Equal(t, 0.0, Weights(kariz(2))[0], "plain polymer")
	printed.Equal(t, "0.113404", Weights(kariz(2))[1], source)
}

// TestFitFindsB behind points that have it, in Pa as well as in ratios, and is not
// narrower than the points allow.
func TestFitFindsB(t *testing.T) {
	for _, b := range []float64{-4, 0.5, 3.5} {
		var points, ratios []Point
		information := 0.0
		for _, p := range []float64{0.02, 0.05, 0.1, 0.2} {
			s := PukanszkyRatio(p, b)
			points = append(points, Point{p, 60e6 * s, 60e6 * 0.03 * s, 2})
			ratios = append(ratios, Point{p, s, 0.03 * s, 2})
			information += p * p / (0.03 * 0.03)
		}
		fit := FitB(points, 60e6)
		assert.InDelta(t, b, fit.B, 1e-10)
		assert.InEpsilon(t, 1/math.Sqrt(information), fit.StdU, 1e-10, "agreement beyond chance does not narrow")
		assert.InDelta(t, 0, fit.Reduced, 1e-10)
		other := FitB(ratios, 1)
		assert.InDelta(t, fit.B, other.B, 1e-10)
		assert.InEpsilon(t, fit.StdU, other.StdU, 1e-10)
	}
}

// TestFitInClosedForm: what Weights and ByPlain say is what the fit does.
func TestFitInClosedForm(t *testing.T) {
	points := kariz(1)
	sum, mean := 0.0, 0.0
	for i, w := range Weights(points) {
		sum += w
		if w > 0 {
			mean += w * PukanszkyB(points[i].Strength/55e6, points[i].VolumeFraction)
		}
	}
	printed.Same(t, 1, sum)
	printed.Same(t, FitB(points, 55e6).B, mean)
	const h = 1e-6
	slope := (FitB(points, 55e6*(1+h)).B - FitB(points, 55e6*(1-h)).B) / (2 * h)
	assert.InEpsilon(t, slope, FitB(points, 55e6).ByPlain, 1e-6)
}

// TestMeanOfPlainBars: means that disagree by more than their ± widen that of all, and those
// that agree leave it as narrow as their number allows.
func TestMeanOfPlainBars(t *testing.T) {
	mean, u := Mean([]Point{{0, 54e6, 0.5e6, 2}, {0, 40e6, 0.5e6, 2}})
	printed.Same(t, 47e6, mean)
	printed.Same(t, 7e6, u, "half of what they are apart: χ² = 2·14² times 0.5²/2")
	mean, u = Mean([]Point{{0, 54e6, 0.5e6, 2}, {0, 54e6, 1e6, 2}})
	printed.Same(t, 54e6, mean)
	printed.Same(t, 1e6/math.Sqrt(5), u)
	mean, u = Mean([]Point{{0, 54, 1, 2}, {0, 60, 2, 2}})
	printed.Same(t, 55.2, mean)
	printed.Same(t, 2.4, u, "χ² = 1.2² + 2.4², over 1 + 1/4")
	mean, u = Mean([]Point{{0, 54e6, 0, 1}})
	printed.Same(t, 54e6, mean)
	printed.Same(t, 5.4e6, u, "one spool")
	for name, points := range map[string][]Point{"none": nil, "below 0": {{0, 54e6, -1, 2}}, "NaN": {{0, math.NaN(), 0, 2}}} {
		mean, u = Mean(points)
		assert.True(t, math.IsNaN(mean) && math.IsNaN(u), name)
	}
}

func TestFitOfOnePoint(t *testing.T) {
	fit := FitB([]Point{{0.1, 50e6, 0, 1}}, 55e6)
	printed.Same(t, PukanszkyB(50.0/55, 0.1), fit.B)
	printed.Same(t, 1, fit.StdU, "a tenth of the strength over a content of 0.1")
	assert.True(t, math.IsNaN(fit.Reduced))
	assert.InDelta(t, -10, fit.ByPlain, 1e-12)
}

func TestFitHasNoMeaning(t *testing.T) {
	good, nan := Point{0.1, 50e6, 2e6, 2}, math.NaN()
	for name, points := range map[string][]Point{
		"no points": nil, "plain polymer only": {{0, 55e6, 2e6, 2}},
		"no strength": {good, {0.1, 0, 2e6, 2}}, "strength below 0": {good, {0.1, -1, 2e6, 2}}, "strength NaN": {good, {0.1, nan, 2e6, 2}},
		"no polymer": {good, {1, 50e6, 2e6, 2}}, "content below 0": {good, {-0.1, 50e6, 2e6, 2}}, "content NaN": {good, {nan, 50e6, 2e6, 2}},
		"uncertainty below 0": {good, {0.1, 50e6, -1, 2}},
	} {
		fit := FitB(points, 55e6)
		for _, got := range append(Weights(points), fit.B, fit.StdU, fit.Reduced, fit.ByPlain) {
			assert.True(t, math.IsNaN(got), name)
		}
	}
	for _, plain := range []float64{0, -55e6, nan, math.Inf(1)} {
		fit := FitB([]Point{good, {0.2, 40e6, 2e6, 2}}, plain)
		for _, got := range []float64{fit.B, fit.StdU, fit.Reduced, fit.ByPlain} {
			assert.True(t, math.IsNaN(got), "plain %v", plain)
		}
	}
	require.Empty(t, Weights(nil))
}
