package uncertain

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func TestMonteCarloRegression(t *testing.T) {
	r := Run{Figures: 3, Model: func() func(x, y []float64) { return regression }}
	for _, in := range regressionInputs(t) {
		r.Inputs = append(r.Inputs, Variable{Input: in})
	}
	e := propagate(t, r).Estimates
	for j, want := range [3][2]string{{"-0.1712", "0.0029"}, {"0.00218", "0.00067"}, {"-0.1494", "0.0041"}} {
		printed.Equal(t, want[0], e[j].Mean, "GUM H.3")
		printed.Equal(t, want[1], e[j].U, "GUM H.3")
	}

	r = Run{
		Inputs:     []Variable{{Input: even(-0.1712, 0.0029)}, {Input: even(0.00218, 0.00067)}},
		Correlated: []Correlation{{0, 1, -0.930}},
		Figures:    1,
		Model:      one(func(x []float64) float64 { return x[0] + 10*x[1] }),
	}
	printed.Equal(t, "0.0041", propagate(t, r).Estimates[0].U, "GUM H.3, from the two results")
}

// The means of products of joined inputs: r·u·u for normal ones, for rectangles that of
// their own correlation, 6/π·asin(r/2) (from memory, and as the draws confirm).
func TestCorrelatedInputs(t *testing.T) {
	wide := Variable{Input: even(0, 2)}
	flat := Variable{Input: even(0, 1), Shape: Rectangular}
	r := Run{
		Inputs:     []Variable{{Input: even(5, 0)}, wide, flat, wide, flat},
		Correlated: []Correlation{{4, 2, 0.8}, {1, 3, -0.5}, {0, 1, 0.9}},
		Figures:    4,
		Model: func() func(x, y []float64) {
			return func(x, y []float64) { y[0], y[1], y[2], y[3] = x[1]*x[3], x[2]*x[4], x[1]*x[2], x[4] }
		},
	}
	for _, points := range []Points{Quasi, Pseudo} {
		r.Points = points
		e := propagate(t, r).Estimates
		agrees(t, -0.5*4, e[0].Mean, e[0].ErrMean, "normal")
		agrees(t, 6/math.Pi*math.Asin(0.4), e[1].Mean, e[1].ErrMean, "rectangular")
		agrees(t, 0, e[2].Mean, e[2].ErrMean, "not joined")
		agrees(t, 1, e[3].U, e[3].ErrU+1e-5, "each keeps its own spread")
		assert.InDelta(t, math.Sqrt(3)*0.95, e[3].High, 5*e[3].ErrHigh+1e-3)
	}
}

// Three that are all joined, to each other and not only in pairs.
func TestThreeCorrelatedInputs(t *testing.T) {
	r := Run{
		Correlated: []Correlation{{0, 1, 0.6}, {1, 2, 0.5}, {2, 0, -0.2}},
		Figures:    3,
		Model: func() func(x, y []float64) {
			return func(x, y []float64) { y[0], y[1], y[2] = x[0]*x[1], x[1]*x[2], x[2]*x[0] }
		},
	}
	for range 3 {
		r.Inputs = append(r.Inputs, Variable{Input: even(0, 1)})
	}
	e := propagate(t, r).Estimates
	for i, want := range []float64{0.6, 0.5, -0.2} {
		agrees(t, want, e[i].Mean, e[i].ErrMean, "covariance")
		assert.Less(t, e[i].ErrMean, 1e-3)
	}
}

func TestCorrelationsThatNoNumbersHave(t *testing.T) {
	in := make([]Variable, 3)
	for i := range in {
		in[i] = Variable{Input: even(0, 1)}
	}
	for name, bad := range map[string][]Correlation{
		"contradictory":  {{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, -0.9}},
		"one":            {{0, 1, 1}},
		"not a number":   {{0, 1, math.NaN()}},
		"with itself":    {{1, 1, 0.5}},
		"twice":          {{0, 1, 0.5}, {1, 0, 0.6}},
		"of nothing":     {{0, 3, 0.5}},
		"before nothing": {{-1, 0, 0.5}},
	} {
		_, err := MonteCarlo(context.Background(), Run{Inputs: in, Correlated: bad, Figures: 1, Model: one(itself), Draws: 1024})
		require.ErrorIs(t, err, ErrCorrelations, name)
	}
}
