package stat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	stairs  = []float64{1, 2, 3, 4, 5}
	climbed = []float64{1.2, 1.9, 3.2, 3.8, 5.4} // slope 1.03, mean 3.1: by hand 10.3/10
)

func stairsProblem() Problem {
	return Problem{
		Model:    curve(func(p []float64, x float64) float64 { return p[0] + p[1]*x }).over(stairs),
		Observed: climbed, Start: []float64{0, 0.5},
	}
}

// Where the slope may not pass 0.9, the best line has that slope and goes
// through the means. Its height has the deviation of a mean.
func TestLeastSquaresStopsAtABound(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		p := stairsProblem()
		p.Model = curve(func(p []float64, x float64) float64 { return p[0] + sign*p[1]*x }).over(stairs)
		p.Start = []float64{0, 0.5 * sign}
		p.Lower, p.Upper = []float64{-10, -0.9}, []float64{10, 0.9}
		f := fitted(t, p)
		assert.Equal(t, []int{1}, f.AtBound)
		assert.Equal(t, 0.9*sign, f.Params[1])
		assert.InDelta(t, 3.1-0.9*3, f.Params[0], 1e-10) // differences hold about ten digits
		assert.Equal(t, 3, f.DegreesOfFreedom)
		assert.InDelta(t, f.ResidualSD/math.Sqrt(5), f.SD[0], 1e-9)
		assert.True(t, math.IsNaN(f.SD[1]) && math.IsNaN(f.Covariance[1]) && math.IsNaN(f.Covariance[2]))
		assert.True(t, math.IsNaN(f.SDOf([]float64{1, 2})))
		assert.InDelta(t, f.SD[0], f.SDOf([]float64{1, 0}), 1e-15)
	}
}

func TestLeastSquaresHoldsAParameter(t *testing.T) {
	p := stairsProblem()
	p.Start = []float64{0.2, 0.5}
	p.Lower, p.Upper = []float64{0.2, -100}, []float64{0.2, 100}
	f := fitted(t, p)
	var xy, xx float64 // a line through (0, 0.2)
	for i, x := range stairs {
		xy += x * (climbed[i] - 0.2)
		xx += x * x
	}
	assert.Equal(t, 0.2, f.Params[0])
	assert.InDelta(t, xy/xx, f.Params[1], 1e-12)
	assert.Equal(t, 4, f.DegreesOfFreedom)
	assert.Equal(t, 0.0, f.SD[0])
	assert.InDelta(t, f.ResidualSD/math.Sqrt(xx), f.SD[1], 1e-9)
	assert.InDelta(t, 2*f.SD[1], f.SDOf([]float64{1, 2}), 1e-12)
	assert.Empty(t, f.AtBound)
}

func TestLeastSquaresWithAllHeldOnlyLooks(t *testing.T) {
	p := stairsProblem()
	p.Lower, p.Upper = p.Start, p.Start
	f := fitted(t, p)
	assert.Equal(t, p.Start, f.Params)
	assert.Equal(t, []float64{0, 0}, f.SD)
	assert.Equal(t, 5, f.DegreesOfFreedom)
	assert.InDelta(t, 0.7, f.Residuals[0], 1e-15)
	assert.Less(t, f.R2, 0.0, "worse than the mean")
}

// Bounds that the minimum does not touch change nothing, even if the search
// starts on one or passes it.
func TestLeastSquaresBoundsAroundTheMinimum(t *testing.T) {
	for name, set := range certifiedSets {
		for _, start := range set.starts {
			p := set.problem(0, false)
			p.Start = start
			p.Lower, p.Upper = make([]float64, len(start)), make([]float64, len(start))
			for j := range start {
				p.Lower[j] = min(start[j], set.params[j]/3)
				p.Upper[j] = max(start[j], set.params[j]*3)
			}
			f, err := LeastSquares(p)
			require.NoError(t, err, "%s from %v", name, start)
			assertClose(t, set.params, f.Params, 1e-8, name)
			assertClose(t, set.sd, f.SD, 1e-7, name)
			assert.Empty(t, f.AtBound)
		}
	}
}

// The model is never asked outside the bounds, not for a derivative either.
func TestLeastSquaresKeepsInsideTheBounds(t *testing.T) {
	for _, upper := range []float64{1e-9, 0.3, 0.9, 2} {
		p := stairsProblem()
		inner := p.Model
		p.Lower, p.Upper = []float64{-1, 0}, []float64{10, upper}
		p.Start = []float64{-1, 0}
		p.Model = func(params, y []float64) {
			for j, v := range params {
				require.True(t, p.Lower[j] <= v && v <= p.Upper[j], "parameter %d at %g", j, v)
			}
			inner(params, y)
		}
		f := fitted(t, p)
		assert.InDelta(t, min(1.03, upper), f.Params[1], 1e-9)
		assert.InDelta(t, 3.1-3*f.Params[1], f.Params[0], 1e-9)
	}
}

// A model that cannot be evaluated on one side of the start has slopes all the
// same; here the root of a number that must not fall below 0.
func TestLeastSquaresBesideTheEdgeOfAModel(t *testing.T) {
	x := []float64{0, 1, 2, 3, 4}
	f := fitted(t, Problem{
		Model:    curve(func(p []float64, x float64) float64 { return math.Sqrt(p[0]+1) + p[1]*x }).over(x),
		Observed: []float64{2.1, 2.9, 4.2, 4.8, 6.1}, Start: []float64{-1 + 1e-9, 1},
	})
	line, err := FitLine(x, []float64{2.1, 2.9, 4.2, 4.8, 6.1}, nil)
	require.NoError(t, err)
	assert.InDelta(t, line.Intercept, math.Sqrt(f.Params[0]+1), 1e-9)
	assert.InDelta(t, line.Slope, f.Params[1], 1e-9)
}

// A model whose own rounding is coarse lets the search end, near the minimum.
func TestLeastSquaresWithACoarseModel(t *testing.T) {
	p := misra()
	inner := p.Model
	p.Model = func(params, y []float64) {
		inner(params, y)
		for i := range y {
			y[i] = math.Round(4096*y[i]) / 4096
		}
	}
	p.Slopes = certifiedSets["Misra1a"].slopesOver()
	f := fitted(t, p)
	set := certifiedSets["Misra1a"]
	for j, want := range set.params {
		assert.InDelta(t, want, f.Params[j], 0.01*set.sd[j], "parameter %d", j)
	}
}

// At a corner of the bounds the differences go to one side, and are as good.
func TestDifferencesToOneSide(t *testing.T) {
	for name, set := range certifiedSets {
		want := make([][]float64, len(set.params))
		for j := range want {
			want[j] = make([]float64, len(set.x))
		}
		set.slopesOver()(set.params, want)
		for _, corner := range []func(*Problem){
			func(p *Problem) { p.Lower = p.Start },
			func(p *Problem) { p.Upper = p.Start },
			func(*Problem) {},
		} {
			p := set.problem(0, false)
			p.Start = set.params
			corner(&p)
			s := newSearch(p)
			require.True(t, s.evaluate() && s.accept())
			for j, slopes := range s.slopes {
				for i := range slopes {
					assert.InDelta(t, want[j][i], slopes[i]/s.root[i], 1e-8*s.norm[j]*s.unit, "%s %d %d", name, j, i)
				}
			}
		}
	}
}
