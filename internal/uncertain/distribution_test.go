package uncertain

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// propagate runs a model with the usual settings of these tests.
func propagate(t testing.TB, r Run) Outcome {
	t.Helper()
	if r.Draws == 0 {
		r.Draws = 1 << 18
	}
	r.Seed++
	out, err := MonteCarlo(context.Background(), r)
	require.NoError(t, err)
	return out
}

// one makes a model with one figure.
func one(f func(x []float64) float64) func() func(x, y []float64) {
	return func() func(x, y []float64) { return func(x, y []float64) { y[0] = f(x) } }
}

func itself(x []float64) float64 { return x[0] }

// agrees holds a result within 4.5 standard errors, and a rounding error.
func agrees(t testing.TB, want, got, standardError float64, what string) {
	t.Helper()
	assert.InDelta(t, want, got, 4.5*standardError+1e-12*(1+math.Abs(want)), "%s ± %g", what, standardError)
}

// Mean and standard deviation of each shape, by integration with pen and paper.
func TestDrawsFollowTheShape(t *testing.T) {
	halves := func(down, up, mean float64) (shift, u float64) { // mean: of one half with u = 1
		shift = (up - down) * mean / 2
		return shift, math.Sqrt((up*up+down*down)/2 - shift*shift)
	}
	normal, normalU := halves(0.2, 0.5, math.Sqrt(2/math.Pi))
	even2, even2U := halves(0.2, 0.5, math.Sqrt(3)/2)
	s2 := math.Pow(math.Ln2/2, 2) // of the logarithm, where the ends are a half and twice
	for name, tt := range map[string]struct {
		v       Variable
		mean, u float64
	}{
		"normal":            {Variable{Input: even(3, 0.2)}, 3, 0.2},
		"uneven normal":     {Variable{Input: Input{3, 0.2, 0.5}}, 3 + normal, normalU},
		"one side":          {Variable{Input: Input{3, 0, 1}}, 3 + math.Sqrt(2/math.Pi)/2, math.Sqrt(0.5 - 1/(2*math.Pi))},
		"rectangle":         {Variable{Input: even(3, 0.2), Shape: Rectangular}, 3, 0.2},
		"uneven rectangle":  {Variable{Input: Input{3, 0.2, 0.5}, Shape: Rectangular}, 3 + even2, even2U},
		"positive":          {Variable{Input: Input{1, 0.25, 0.5}, Shape: Positive}, math.Exp(s2 / 2), math.Exp(s2/2) * math.Sqrt(math.Expm1(s2))},
		"positive, below 0": {Variable{Input: even(-1, 0.1), Shape: Positive}, -1, 0.1},
		"bounded at 0":      {Variable{Input: even(0, 1), Most: math.Inf(1)}, 1 / math.Sqrt(2*math.Pi), math.Sqrt(0.5 - 1/(2*math.Pi))},
	} {
		e := propagate(t, Run{Inputs: []Variable{tt.v}, Figures: 1, Model: one(itself)}).Estimates[0]
		agrees(t, tt.mean, e.Mean, e.ErrMean+1e-7, name)
		agrees(t, tt.u, e.U, e.ErrU+1e-6, name)
		agrees(t, tt.v.At(0.5), e.Median, 1e-4, name)
		agrees(t, tt.v.At(0.025), e.Low, e.ErrLow+1e-4, name)
		agrees(t, tt.v.At(0.975), e.High, e.ErrHigh+1e-4, name)
	}
}

func TestQuantilesOfVariables(t *testing.T) {
	const below2, above2 = 0.022750131948179207, 0.9772498680518208 // Φ(∓2)
	v := Variable{Input: Input{10, 1, 2}}
	assert.InDelta(t, 8, v.At(below2), 1e-12)
	assert.InDelta(t, 14, v.At(above2), 1e-12)
	v.Shape = Positive
	assert.InDelta(t, 8, v.At(below2), 1e-12, "k = 2 ends are kept")
	assert.InDelta(t, 14, v.At(above2), 1e-12)
	v.UMinus = 6
	assert.InDelta(t, 0.01, v.At(below2), 1e-12, "a thousandth stands for an end below zero")
	v.Shape = Rectangular
	assert.InDelta(t, 10-6*math.Sqrt(3)/2, v.At(0.25), 1e-12)
	v.Least, v.Most = 9, 11
	assert.Equal(t, 9.0, v.At(0.25))
	assert.Equal(t, 11.0, v.At(0.9))

	assert.Equal(t, 7.0, Variable{Input: even(7, 0), Shape: Positive, Least: 8, Most: 9}.At(0.1), "exact")
	assert.True(t, math.IsNaN(Variable{Input: even(math.NaN(), 1)}.At(0.1)))
}

func TestQuantilesRise(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		v := Variable{Input: Input{4*random.Float64() - 1, random.Float64(), random.Float64()}, Shape: Shape(random.IntN(3))}
		switch random.IntN(4) {
		case 0:
			v.UMinus = 0
		case 1:
			v.UPlus = 1e-12
		case 2:
			v.Least, v.Most = -1, math.Inf(1)
		}
		last := math.Inf(-1)
		for i := range 400 {
			x := v.At((float64(i) + 0.5) / 400)
			require.GreaterOrEqual(t, x, last, "%+v", v)
			require.False(t, math.IsInf(x, 0))
			last = x
		}
	}
}
