package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

func summaryOf(t *testing.T, x ...float64) Summary {
	t.Helper()
	s, ok := Summarise(x)
	require.True(t, ok)
	return s
}

// Data and results of t.test in R 4.2.2, data set sleep.
func TestWelchAgainstR(t *testing.T) {
	a := summaryOf(t, .7, -1.6, -.2, -1.2, -.1, 3.4, 3.7, .8, 0, 2)
	b := summaryOf(t, 1.9, .8, 1.1, .1, -.1, 4.4, 5.5, 1.6, 4.6, 3.4)
	d, ok := Welch(a, b)
	require.True(t, ok)
	assert.InEpsilon(t, -1.86081346749, d.Value/d.SE, 1e-11)
	assert.InEpsilon(t, 17.7764735162, d.DegreesOfFreedom, 1e-11)
	assert.InEpsilon(t, -3.36548323071, d.Value-d.HalfWidth(0.95), 1e-11)
	assert.InEpsilon(t, .205483230712, d.Value+d.HalfWidth(0.95), 1e-11)
}

func TestWelchKnowsItsFreedoms(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	for range 500 {
		a := Summary{N: 2 + random.IntN(10), Mean: random.NormFloat64(), SD: math.Exp(3 * random.NormFloat64())}
		b := Summary{N: 2 + random.IntN(10), Mean: random.NormFloat64(), SD: math.Exp(3 * random.NormFloat64())}
		d, ok := Welch(a, b)
		require.True(t, ok)
		assert.GreaterOrEqual(t, d.DegreesOfFreedom, float64(min(a.N, b.N)-1))
		assert.LessOrEqual(t, d.DegreesOfFreedom, float64(a.N+b.N-2)*(1+1e-12))
		back, _ := Welch(b, a)
		assert.Equal(t, Difference{-d.Value, d.SE, d.DegreesOfFreedom}, back)
		want := distuv.StudentsT{Sigma: 1, Nu: d.DegreesOfFreedom}.Quantile(0.975) * d.SE
		assert.InEpsilon(t, want, d.HalfWidth(0.95), 1e-9)

		// Only one of them varies: all freedoms are its own.
		b.SD = 0
		d, ok = Welch(a, b)
		require.True(t, ok)
		assert.InEpsilon(t, float64(a.N-1), d.DegreesOfFreedom, 1e-12)
		assert.Positive(t, d.HalfWidth(0.95))
	}
}

// Equal spreads and numbers have the freedoms of the pooled test.
func TestWelchOfEqualSpreads(t *testing.T) {
	d, ok := Welch(Summary{N: 6, Mean: 3, SD: 2}, Summary{N: 6, Mean: 1, SD: 2})
	require.True(t, ok)
	assert.InEpsilon(t, 10, d.DegreesOfFreedom, 1e-12)
	assert.InEpsilon(t, 2/math.Sqrt(3), d.SE, 1e-12)
	tiny, ok := Welch(Summary{N: 6, Mean: 3, SD: 2e-200}, Summary{N: 6, Mean: 1, SD: 2e-200})
	require.True(t, ok)
	assert.InEpsilon(t, 10, tiny.DegreesOfFreedom, 1e-12)
}

func TestWelchWithoutSpread(t *testing.T) {
	two := Summary{N: 2, Mean: 3, SD: 1}
	for _, c := range []struct {
		a, b  Summary
		value float64
	}{
		{Summary{N: 1, Mean: 1}, two, -2},
		{two, Summary{N: 1, Mean: 1}, 2},
		{Summary{N: 3, Mean: 4}, Summary{N: 3, Mean: 5}, -1},
		{Summary{}, two, math.NaN()},
		{two, Summary{}, math.NaN()},
	} {
		d, ok := Welch(c.a, c.b)
		assert.False(t, ok)
		assert.True(t, d.Value == c.value || math.IsNaN(d.Value) && math.IsNaN(c.value), "%v", d.Value)
		assert.True(t, math.IsNaN(d.SE))
		assert.True(t, math.IsNaN(d.HalfWidth(0.95)))
	}
}
