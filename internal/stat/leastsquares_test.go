package stat

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// misra is a sound problem to spoil.
func misra() Problem { return certifiedSets["Misra1a"].problem(1, false) }

func with[T any](v T, change func(*T)) T {
	change(&v)
	return v
}

func replaced(x []float64, i int, v float64) []float64 {
	x = append([]float64{}, x...)
	x[i] = v
	return x
}

var fitErrors = []error{ErrBadProblem, ErrBadData, ErrBadStart, ErrTooFewPoints, ErrSingular, ErrNotConverged}

func TestLeastSquaresRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	none := func([]float64, []float64) {}
	for name, c := range map[string]struct {
		change func(*Problem)
		want   error
	}{
		"no model":                 {func(p *Problem) { p.Model = nil }, ErrBadProblem},
		"no parameters":            {func(p *Problem) { p.Start = nil }, ErrBadProblem},
		"weights of other length":  {func(p *Problem) { p.Weights = []float64{1} }, ErrBadProblem},
		"bounds of other length":   {func(p *Problem) { p.Lower = []float64{0} }, ErrBadProblem},
		"bounds crossed":           {func(p *Problem) { p.Lower, p.Upper = []float64{0, 2}, []float64{900, 1} }, ErrBadProblem},
		"bound NaN":                {func(p *Problem) { p.Upper = []float64{900, nan} }, ErrBadProblem},
		"iterations below 0":       {func(p *Problem) { p.MaxIterations = -1 }, ErrBadProblem},
		"observation NaN":          {func(p *Problem) { p.Observed = replaced(p.Observed, 3, nan) }, ErrBadData},
		"observation infinite":     {func(p *Problem) { p.Observed = replaced(p.Observed, 3, -inf) }, ErrBadData},
		"observation too large":    {func(p *Problem) { p.Observed = replaced(p.Observed, 3, 1e200) }, ErrBadData},
		"weight 0":                 {func(p *Problem) { p.Weights = make([]float64, len(p.Observed)) }, ErrBadData},
		"weight NaN":               {func(p *Problem) { p.Weights = replaced(p.Observed, 0, nan) }, ErrBadData},
		"weight infinite":          {func(p *Problem) { p.Weights = replaced(p.Observed, 0, inf) }, ErrBadData},
		"weight below 0":           {func(p *Problem) { p.Weights = replaced(p.Observed, 0, -1) }, ErrBadData},
		"no points":                {func(p *Problem) { p.Observed = nil }, ErrTooFewPoints},
		"one point":                {func(p *Problem) { p.Observed = p.Observed[:1] }, ErrTooFewPoints},
		"no points, all held":      {func(p *Problem) { p.Observed, p.Lower, p.Upper = nil, p.Start, p.Start }, ErrBadData},
		"start NaN":                {func(p *Problem) { p.Start = []float64{250, nan} }, ErrBadStart},
		"start infinite":           {func(p *Problem) { p.Start = []float64{inf, 1} }, ErrBadStart},
		"start outside the bounds": {func(p *Problem) { p.Lower = []float64{0, 0.001} }, ErrBadStart},
		"model infinite at start":  {func(p *Problem) { p.Start = []float64{250, -1e9} }, ErrBadStart},
		"slopes NaN at start": {func(p *Problem) {
			p.Slopes = func(_ []float64, slopes [][]float64) { slopes[1][0] = nan }
		}, ErrBadStart},
		"model that says nothing": {func(p *Problem) { p.Model = none }, ErrSingular},
		"far too few iterations":  {func(p *Problem) { p.MaxIterations = 2 }, ErrNotConverged},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := LeastSquares(with(misra(), c.change))
			for _, one := range fitErrors {
				assert.Equal(t, one == c.want, errors.Is(err, one), "%v is %v", err, one)
			}
		})
	}
}

// When the search fails, what it reached can still be shown, but no deviation.
func TestLeastSquaresTellsWhereItStood(t *testing.T) {
	p := misra()
	p.MaxIterations = 4
	f, err := LeastSquares(p)
	require.ErrorIs(t, err, ErrNotConverged)
	assert.Equal(t, 4, f.Iterations)
	assert.NotEqual(t, p.Start, f.Params)
	assert.Len(t, f.Residuals, 14)
	assert.Greater(t, f.RSS, 0.0)
	assert.True(t, math.IsNaN(f.SD[0]) && math.IsNaN(f.SD[1]) && math.IsNaN(f.Covariance[1]))
	assert.Empty(t, f.Undetermined)
}

func TestLeastSquaresNamesWhatIsNotDetermined(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5, 6}
	y := []float64{2.1, 3.9, 6.2, 7.8, 10.1, 12.2}
	for name, c := range map[string]struct {
		curve curve
		want  []int
	}{
		"no influence": {func(p []float64, x float64) float64 { return p[0] + p[2]*x }, []int{1}},
		"product":      {func(p []float64, x float64) float64 { return p[0] + p[1]*p[2]*x }, []int{1, 2}},
		"sum":          {func(p []float64, x float64) float64 { return (p[0] + p[1]) * x }, []int{0, 1, 2}},
		"a small part": {func(p []float64, x float64) float64 {
			return p[0] + p[1]*x + p[2]*(1+0.02*x)
		}, []int{0, 1, 2}},
		"two beside each other": {func(p []float64, x float64) float64 { return p[0]*x + p[1]*x + p[2]*x*x }, []int{0, 1}},
	} {
		t.Run(name, func(t *testing.T) {
			f, err := LeastSquares(Problem{Model: c.curve.over(x), Observed: y, Start: []float64{1, 1, 2}})
			require.ErrorIs(t, err, ErrSingular)
			assert.Equal(t, c.want, f.Undetermined)
			assert.True(t, math.IsNaN(f.SD[1]))
			assert.Less(t, f.RSS, 0.3, "the curve is the best one all the same")
		})
	}
}

// A parameter that is lost in rounding is not determined either.
func TestLeastSquaresSeesNearDependence(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5, 6}
	p := Problem{Observed: []float64{1, 3, 2, 5, 4, 6}, Start: []float64{1, 1}}
	for _, c := range []struct {
		apart  float64
		slopes bool
		want   error
	}{{1e-4, false, nil}, {1e-10, false, ErrSingular}, {1e-7, true, nil}, {1e-15, true, ErrSingular}} {
		p.Model = curve(func(p []float64, x float64) float64 {
			return p[0]*x + p[1]*(x+c.apart*x*x)
		}).over(x)
		p.Slopes = nil
		if c.slopes {
			p.Slopes = func(_ []float64, slopes [][]float64) {
				for i, x := range x {
					slopes[0][i], slopes[1][i] = x, x+c.apart*x*x
				}
			}
		}
		f, err := LeastSquares(p)
		require.ErrorIs(t, err, c.want, "%g %t", c.apart, c.slopes)
		if c.want != nil {
			assert.Equal(t, []int{0, 1}, f.Undetermined)
		}
	}
}

// As many points as parameters: the curve goes through them, and nothing is
// known of the spread.
func TestLeastSquaresWithoutDegreesOfFreedom(t *testing.T) {
	f, err := LeastSquares(Problem{
		Model: curve(saturation).over([]float64{1, 3}), Observed: []float64{10, 20}, Start: []float64{15, 1},
	})
	require.NoError(t, err)
	assert.Zero(t, f.DegreesOfFreedom)
	assert.InDelta(t, 0, f.RSS, 1e-20)
	// 20/10 = (1 - q³)/(1 - q) = 1 + q + q² with q = e^-b: q = (√5 - 1)/2.
	q := (math.Sqrt(5) - 1) / 2
	assert.InDelta(t, -math.Log(q), f.Params[1], 1e-12)
	assert.InDelta(t, 10/(1-q), f.Params[0], 1e-11)
	low, high := f.Interval(0, 0.95)
	for what, v := range map[string]float64{
		"SD": f.SD[0], "covariance": f.Covariance[1], "residual SD": f.ResidualSD, "low": low, "high": high,
		"SD of the curve": f.SDOf([]float64{1, 0}),
	} {
		assert.True(t, math.IsNaN(v), what)
	}
}

// Printed example: R in % on sieves of x, fitted with a Rosin-Rammler curve
// R = 100·exp(-(x/k)^n) by least squares; k and n as printed.
// Source: Brezani, plot of the Rosin-Rammler diagram (2011).
func TestLeastSquaresRosinRammler(t *testing.T) {
	x := []float64{0.08, 0.5, 1.25, 2, 4, 6.3, 8, 12.5, 16, 40}
	retained := []float64{95.61, 87.71, 82.45, 79.78, 73.28, 66.98, 63.21, 55.4, 49.91, 23.95}
	f, err := LeastSquares(Problem{
		Model: curve(func(p []float64, x float64) float64 {
			return 100 * math.Exp(-math.Pow(x/p[0], p[1]))
		}).over(x),
		Observed: retained, Start: []float64{10, 1}, Lower: []float64{0, 0},
	})
	require.NoError(t, err)
	printed.Equal(t, "27.0236", f.Params[0], "the example")
	printed.Equal(t, "0.5946", f.Params[1], "the example")
}

// b1 ± t·SD with t of 12 degrees of freedom from a printed table.
func TestIntervalOfAParameter(t *testing.T) {
	f, err := LeastSquares(misra())
	require.NoError(t, err)
	low, high := f.Interval(0, 0.95)
	assert.InDelta(t, 238.94212918-2.178813*2.7070075241, low, 1e-5)
	assert.InDelta(t, 238.94212918+2.178813*2.7070075241, high, 1e-5)
	_, wider := f.Interval(0, 0.99)
	assert.Greater(t, wider, high)
	low, high = f.Interval(1, 1)
	assert.True(t, math.IsNaN(low) && math.IsNaN(high), "no interval is certain")
}

// Nineteen of twenty intervals hold the true value.
func TestIntervalsCover(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	x := []float64{0.5, 1, 1.5, 2, 3, 4, 6, 8}
	truth := []float64{40, 0.6}
	p := Problem{Model: curve(saturation).over(x), Observed: make([]float64, len(x)), Start: []float64{30, 1}}
	exact := make([]float64, len(x))
	p.Model(truth, exact)
	const runs = 2000
	var held [2]int
	for range runs {
		for i := range exact {
			p.Observed[i] = exact[i] + 0.5*random.NormFloat64()
		}
		f, err := LeastSquares(p)
		require.NoError(t, err)
		for j := range truth {
			if low, high := f.Interval(j, 0.95); low <= truth[j] && truth[j] <= high {
				held[j]++
			}
		}
	}
	for j := range held { // 0.95 ∓ 3 times √(0.95·0.05/2000)
		assert.InDelta(t, 0.95, float64(held[j])/runs, 0.0147, "parameter %d", j)
	}
}
