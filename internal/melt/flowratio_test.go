package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// By hand: ln ratio -0.66664040, variances of the means 7.815554e-4 and
// 2.241042e-4, 3.139328 degrees of freedom, for which Student's density
// integrates to 95 % within 3.104016.
func TestRatioByHand(t *testing.T) {
	r, ok := Ratio([]float64{3.1, 3.3, 3.0}, []float64{6.2, 5.9, 6.0, 6.3})
	require.True(t, ok)
	printed.Equal(t, "0.5134306", r.Ratio, arith)
	printed.Equal(t, "0.0492175", r.LogU, arith)
	printed.Equal(t, "0.4652989", r.Low, arith)
	printed.Equal(t, "0.5665412", r.High, arith)
}

func TestRatioInvariances(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	draw := func(n int, middle float64) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = middle * math.Exp(0.03*random.NormFloat64())
		}
		return x
	}
	times := func(f float64, x []float64) []float64 {
		y := make([]float64, len(x))
		for i := range x {
			y[i] = f * x[i]
		}
		return y
	}
	for range 200 {
		filled, plain := draw(2+random.IntN(5), 3e-6), draw(2+random.IntN(5), 9e-6)
		r, ok := Ratio(filled, plain)
		require.True(t, ok)
		assert.Less(t, r.Low, r.Ratio)
		assert.Less(t, r.Ratio, r.High)

		inGrams, _ := Ratio(times(6e5, filled), times(6e5, plain))
		assert.InEpsilon(t, r.Ratio, inGrams.Ratio, 1e-12, "no matter which unit")
		assert.InEpsilon(t, r.LogU, inGrams.LogU, 1e-6)

		back, _ := Ratio(plain, filled)
		assert.InEpsilon(t, 1/r.Ratio, back.Ratio, 1e-12)
		assert.InEpsilon(t, 1/r.High, back.Low, 1e-12)
		assert.InEpsilon(t, r.LogU, back.LogU, 1e-12)
	}
}

// The interval holds the true ratio about 95 times in 100, and is not much too
// wide, also when one set is small and spreads more.
func TestRatioIntervalCovers(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 1))
	const runs = 4000
	held := 0
	for range runs {
		filled, plain := make([]float64, 4), make([]float64, 6)
		for i := range filled {
			filled[i] = 0.5 * math.Exp(0.08*random.NormFloat64())
		}
		for i := range plain {
			plain[i] = math.Exp(0.02 * random.NormFloat64())
		}
		if r, ok := Ratio(filled, plain); ok && r.Low <= 0.5 && 0.5 <= r.High {
			held++
		}
	}
	assert.InDelta(t, 0.95, float64(held)/runs, 0.015)
}

func TestRatioThatIsNotKnown(t *testing.T) {
	for name, c := range map[string]struct {
		filled, plain []float64
		ratio         float64
	}{
		"one filled":  {[]float64{2}, []float64{4, 4.1}, 2 / math.Sqrt(4*4.1)},
		"one plain":   {[]float64{2, 2.1}, []float64{4}, math.Sqrt(2*2.1) / 4},
		"one each":    {[]float64{2}, []float64{4}, 0.5},
		"no spread":   {[]float64{2, 2}, []float64{4, 4, 4}, 0.5},
		"none filled": {nil, []float64{4, 4.1}, math.NaN()},
		"none plain":  {[]float64{2, 2.1}, nil, math.NaN()},
		"nought":      {[]float64{0, 2.1}, []float64{4, 4.1}, math.NaN()},
		"negative":    {[]float64{2, 2.1}, []float64{4, -4.1}, math.NaN()},
		"not finite":  {[]float64{2, math.Inf(1)}, []float64{4, 4.1}, math.NaN()},
	} {
		t.Run(name, func(t *testing.T) {
			r, ok := Ratio(c.filled, c.plain)
			assert.False(t, ok)
			if math.IsNaN(c.ratio) {
				assert.True(t, math.IsNaN(r.Ratio))
			} else {
				assert.InEpsilon(t, c.ratio, r.Ratio, 1e-12)
			}
			assert.True(t, math.IsNaN(r.LogU) && math.IsNaN(r.Low) && math.IsNaN(r.High))
		})
	}
	r, ok := Ratio([]float64{2, 2}, []float64{4, 4.1})
	assert.True(t, ok, "one set that varies is enough")
	assert.Positive(t, r.LogU)
}
