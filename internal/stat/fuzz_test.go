package stat

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fuzzCurves are curves that overflow, have poles, and lose parameters.
var fuzzCurves = []struct {
	curve curve
	count int
}{
	{saturation, 2},
	{logistic, 4},
	{func(p []float64, x float64) float64 { return p[0] * math.Pow(x, p[1]) }, 2},
	{func(p []float64, x float64) float64 { return math.Exp(-p[0]*x) / (p[1] + p[2]*x) }, 3},
	{func(p []float64, x float64) float64 { return math.Log(p[0]+p[1]*x) + p[2]*p[3] }, 4},
	{func(p []float64, x float64) float64 { return math.Abs(p[0]-x) + math.Floor(p[1]) }, 2},
}

// fuzzProblem reads a problem from bytes: the curve, whether there are weights
// and bounds, then numbers of 2 bytes, or of 8 for those of any size.
func fuzzProblem(data []byte) Problem {
	next := func() byte {
		if len(data) == 0 {
			return 0
		}
		b := data[0]
		data = data[1:]
		return b
	}
	kind, how := next(), next()
	number := func() float64 {
		if how&1 != 0 && len(data) >= 8 {
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		return float64(int16(uint16(next())<<8|uint16(next()))) / 256
	}
	numbers := func(n int) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = number()
		}
		return x
	}
	c := fuzzCurves[int(kind)%len(fuzzCurves)]
	n := int(next() % 16)
	p := Problem{
		Model: c.curve.over(numbers(n)), Observed: numbers(n), Start: numbers(c.count),
		MaxIterations: 60,
	}
	if how&2 != 0 {
		p.Weights = numbers(n)
	}
	if how&4 != 0 {
		p.Lower = numbers(c.count)
	}
	if how&8 != 0 {
		p.Upper = numbers(c.count)
	}
	return p
}

// checkFit holds a fit without error against what it promises.
func checkFit(t *testing.T, p Problem, f Fit) {
	t.Helper()
	k := len(p.Start)
	require.Len(t, f.Params, k)
	require.Len(t, f.SD, k)
	require.Len(t, f.Covariance, k*k)
	require.Len(t, f.Residuals, len(p.Observed))
	for j, v := range f.Params {
		assert.True(t, finite(v) && p.lower(j) <= v && v <= p.upper(j), "parameter %d is %g", j, v)
		unknown := f.DegreesOfFreedom == 0 && !p.held(j) || slices.Contains(f.AtBound, j)
		assert.Equal(t, unknown, math.IsNaN(f.SD[j]), "SD %d is %g", j, f.SD[j])
		assert.False(t, f.SD[j] < 0 || math.IsInf(f.SD[j], 0))
		assert.Equal(t, math.IsNaN(f.SD[j]), math.IsNaN(f.Covariance[j*k+j]))
	}
	for _, r := range f.Residuals {
		assert.True(t, finite(r))
	}
	assert.True(t, finite(f.RSS) && f.RSS >= 0)
	assert.True(t, finite(f.R2) && f.R2 <= 1)
	assert.Equal(t, f.DegreesOfFreedom == 0, math.IsNaN(f.ResidualSD))
	assert.Empty(t, f.Undetermined)

	before := make([]float64, len(p.Observed))
	p.Model(p.Start, before)
	var rss float64
	for i, y := range p.Observed {
		rss += p.weight(i) * (y - before[i]) * (y - before[i])
	}
	assert.True(t, !(f.RSS > rss*(1+1e-9)), "from %g to %g", rss, f.RSS)
}

func FuzzLeastSquares(f *testing.F) {
	f.Add([]byte{0, 0, 4, 1, 0, 2, 0, 3, 0, 4, 0, 3, 0, 5, 0, 6, 0, 6, 128, 7, 0, 1, 0})
	f.Add([]byte{1, 6, 9, 250, 0, 251, 9, 255, 1, 0, 0, 1, 0, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16})
	f.Add(append([]byte{3, 15, 3}, slices.Repeat([]byte{0, 0, 0, 0, 0, 0, 0xf0, 0x3f}, 20)...))
	f.Fuzz(func(t *testing.T, data []byte) {
		p := fuzzProblem(data)
		fit, err := LeastSquares(p)
		if err != nil {
			assert.True(t, slices.Contains(fitErrors, err), "%v", err)
			return
		}
		checkFit(t, p, fit)
	})
}
