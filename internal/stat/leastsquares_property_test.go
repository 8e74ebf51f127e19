package stat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// recoverable are curves whose parameters lie around 1, over points from 0.2 to 5.
var recoverable = map[string]struct {
	curve curve
	count int
}{
	"exponential":  {saturation, 2},
	"power":        {func(p []float64, x float64) float64 { return p[0] * math.Pow(x, p[1]) }, 2},
	"stretched":    {func(p []float64, x float64) float64 { return math.Exp(-p[0] * math.Pow(x, p[1])) }, 2},
	"logistic":     {logistic, 4},
	"hyperbola":    {func(p []float64, x float64) float64 { return p[0]*x/(p[1]+x) + p[2] }, 3},
	"oscillation":  {func(p []float64, x float64) float64 { return p[0] * math.Sin(p[1]*x+p[2]) }, 3},
	"straight":     {func(p []float64, x float64) float64 { return p[0] - 1 + p[1]*x }, 2},
	"root of line": {func(p []float64, x float64) float64 { return math.Sqrt(p[0] + p[1]*x - 0.2) }, 2}, // NaN beside it
}

func logistic(p []float64, x float64) float64 { return p[0] + p[1]/(1+math.Exp(2*p[2]-2*p[3]*x)) }

func evenly(n int, low, high float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = low + (high-low)*float64(i)/float64(n-1)
	}
	return x
}

func TestLeastSquaresRecoversExactData(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 7))
	x := evenly(30, 0.2, 5)
	for name, c := range recoverable {
		for range 50 {
			truth, start := make([]float64, c.count), make([]float64, c.count)
			for j := range truth {
				truth[j] = 0.7 + 0.6*random.Float64()
				start[j] = truth[j] * (0.85 + 0.3*random.Float64())
			}
			p := Problem{Model: c.curve.over(x), Observed: make([]float64, len(x)), Start: start}
			p.Model(truth, p.Observed)
			f, err := LeastSquares(p)
			require.NoError(t, err, "%s %v from %v", name, truth, start)
			assert.InDeltaSlice(t, truth, f.Params, 1e-11, name)
			assert.Less(t, f.RSS, 1e-24)
			assert.InDelta(t, 1, f.R2, 1e-14)
			for j := range truth {
				assert.Less(t, f.SD[j], 1e-10)
			}
		}
	}
}

// noisy is a problem of four parameters with scatter.
func noisy(random *rand.Rand) Problem {
	x := evenly(30, 0.2, 5)
	p := Problem{Model: curve(logistic).over(x), Observed: make([]float64, len(x)), Start: []float64{0.8, 1.5, 1.2, 0.8}}
	p.Model([]float64{1, 2, 1.5, 1}, p.Observed)
	for i := range p.Observed {
		p.Observed[i] += 0.02 * random.NormFloat64()
	}
	return p
}

func fitted(t *testing.T, p Problem) Fit {
	t.Helper()
	f, err := LeastSquares(p)
	require.NoError(t, err)
	return f
}

// assertClose compares to a share of the numbers themselves.
func assertClose(t *testing.T, want, got []float64, share float64, what string) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		assert.InDelta(t, want[i], got[i], share*math.Abs(want[i]), "%s %d", what, i)
	}
}

func TestLeastSquaresScalesWithTheObservations(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 8))
	for range 20 {
		p := noisy(random)
		f := fitted(t, p)
		for _, scale := range []float64{-3, 1e-9, 1e9, 1e-140, 1e140} {
			q := p
			q.Observed, q.Start = slices.Clone(p.Observed), slices.Clone(p.Start)
			for i := range q.Observed {
				q.Observed[i] *= scale
			}
			q.Start[0] *= scale
			q.Start[1] *= scale
			g := fitted(t, q)
			s := []float64{scale, scale, 1, 1}
			for j := range s {
				assert.InEpsilon(t, f.Params[j]*s[j], g.Params[j], 1e-9)
				assert.InEpsilon(t, f.SD[j]*math.Abs(s[j]), g.SD[j], 1e-8)
			}
			assert.InEpsilon(t, f.RSS*scale*scale, g.RSS, 1e-9)
			assert.InDelta(t, f.R2, g.R2, 1e-12)
		}
	}
}

// A parameter in another unit is the same number in that unit.
func TestLeastSquaresScalesWithTheParameters(t *testing.T) {
	p := noisy(rand.New(rand.NewPCG(1, 9)))
	f := fitted(t, p)
	for _, unit := range []float64{1e-12, 1e-3, 1e6} {
		q := p
		q.Model = func(params, y []float64) {
			p.Model([]float64{params[0], params[1], params[2], params[3] / unit}, y)
		}
		q.Start = replaced(p.Start, 3, p.Start[3]*unit)
		g := fitted(t, q)
		assertClose(t, replaced(f.Params, 3, f.Params[3]*unit), g.Params, 1e-9, "parameter")
		assertClose(t, replaced(f.SD, 3, f.SD[3]*unit), g.SD, 1e-8, "SD")
	}
}

func TestLeastSquaresDoesNotMindTheOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 10))
	for range 20 {
		p := noisy(random)
		x := evenly(30, 0.2, 5)
		order := random.Perm(30)
		q := p
		q.Observed = make([]float64, 30)
		mixed := make([]float64, 30)
		for to, from := range order {
			q.Observed[to], mixed[to] = p.Observed[from], x[from]
		}
		q.Model = curve(logistic).over(mixed)
		f, g := fitted(t, p), fitted(t, q)
		assertClose(t, f.Params, g.Params, 1e-9, "parameter")
		assertClose(t, f.SD, g.SD, 1e-8, "SD")
		for to, from := range order {
			assert.InDelta(t, f.Residuals[from], g.Residuals[to], 1e-9)
		}
	}
}

// A point of weight 3 is as good as three points, but for the count; and only
// the ratio of weights matters.
func TestLeastSquaresWeights(t *testing.T) {
	p := noisy(rand.New(rand.NewPCG(1, 11)))
	x := evenly(30, 0.2, 5)
	weighted, seven, repeated := p, p, p
	var xs, ys []float64
	for i, y := range p.Observed {
		times := 1 + i%3
		weighted.Weights = append(weighted.Weights, float64(times))
		seven.Weights = append(seven.Weights, 7*float64(times))
		for range times {
			xs, ys = append(xs, x[i]), append(ys, y)
		}
	}
	repeated.Model, repeated.Observed = curve(logistic).over(xs), ys
	f, g, h := fitted(t, weighted), fitted(t, seven), fitted(t, repeated)

	assertClose(t, f.Params, g.Params, 1e-10, "parameter")
	assertClose(t, f.SD, g.SD, 1e-9, "SD")
	assert.InEpsilon(t, 7*f.RSS, g.RSS, 1e-10)
	assert.InDelta(t, f.R2, g.R2, 1e-13)

	assertClose(t, f.Params, h.Params, 1e-9, "parameter")
	assert.InEpsilon(t, f.RSS, h.RSS, 1e-10)
	assert.InDelta(t, f.R2, h.R2, 1e-12)
	more := math.Sqrt(float64(f.DegreesOfFreedom) / float64(h.DegreesOfFreedom))
	for j := range f.SD {
		assert.InEpsilon(t, f.SD[j]*more, h.SD[j], 1e-8)
	}
}

// The covariance of a linear problem, and what follows from it for a point of
// the line, has a formula.
func TestLeastSquaresAgreesWithLine(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 12))
	for range 50 {
		n := 3 + random.IntN(20)
		x, y, w := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i], w[i] = 5+random.NormFloat64(), random.NormFloat64(), 0.1+random.Float64()
		}
		line, err := FitLine(x, y, w)
		require.NoError(t, err)
		f := fitted(t, Problem{
			Model:    curve(func(p []float64, x float64) float64 { return p[0] + p[1]*x }).over(x),
			Observed: y, Weights: w, Start: []float64{0, 0},
		})
		assertClose(t, []float64{line.Intercept, line.Slope}, f.Params, 1e-7, "parameter")
		assertClose(t, []float64{line.InterceptSD, line.SlopeSD}, f.SD, 1e-7, "SD")
		assert.InEpsilon(t, line.Covariance, f.Covariance[1], 1e-7)
		assert.InEpsilon(t, line.RSS, f.RSS, 1e-10)
		assert.InDelta(t, line.R2, f.R2, 1e-10)
		assert.InEpsilon(t, line.SDAt(7), f.SDOf([]float64{1, 7}), 1e-7)
	}
}

// Slopes given or by differences, the result is the same, and the caller's
// slices stay as they were.
func TestLeastSquaresLeavesTheProblemAlone(t *testing.T) {
	set := certifiedSets["Chwirut2"]
	p := set.problem(0, true)
	start, y := slices.Clone(p.Start), slices.Clone(p.Observed)
	a, b := fitted(t, p), fitted(t, set.problem(0, false))
	assert.Equal(t, start, p.Start)
	assert.Equal(t, y, p.Observed)
	assertClose(t, a.Params, b.Params, 1e-9, "parameter")
	assertClose(t, a.Covariance, b.Covariance, 1e-8, "covariance")
	a.Params[0] = 0
	assert.Equal(t, start, p.Start, "nor does the result share them")
}

// More iterations do not allocate more.
func TestLeastSquaresAllocatesOnceOnly(t *testing.T) {
	near, far := certifiedSets["Misra1a"].problem(1, true), certifiedSets["Misra1a"].problem(0, true)
	require.Greater(t, fitted(t, far).Iterations, fitted(t, near).Iterations+5)
	assert.Equal(t,
		testing.AllocsPerRun(10, func() { _, _ = LeastSquares(near) }),
		testing.AllocsPerRun(10, func() { _, _ = LeastSquares(far) }))
	near.Slopes, far.Slopes = nil, nil
	assert.Equal(t,
		testing.AllocsPerRun(10, func() { _, _ = LeastSquares(near) }),
		testing.AllocsPerRun(10, func() { _, _ = LeastSquares(far) }))
}

// Four parameters, 30 points with scatter, slopes by differences.
func BenchmarkLeastSquares(b *testing.B) {
	p := noisy(rand.New(rand.NewPCG(1, 13)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := LeastSquares(p); err != nil {
			b.Fatal(err)
		}
	}
}
