package uncertain

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func share(t testing.TB, r SharesRun) Shares {
	t.Helper()
	out, err := VarianceShares(context.Background(), r)
	require.NoError(t, err)
	return out
}

const ishigamiA, ishigamiB = 7, 0.1

func ishigamiRun(draws int) SharesRun {
	r := SharesRun{Figures: 1, Draws: draws, Model: one(func(x []float64) float64 {
		return math.Sin(x[0]) + ishigamiA*math.Pow(math.Sin(x[1]), 2) + ishigamiB*math.Pow(x[2], 4)*math.Sin(x[0])
	})}
	for range 3 {
		r.Inputs = append(r.Inputs, rectangle(-math.Pi, math.Pi))
	}
	return r
}

// The function of T. Ishigami and T. Homma over −π..π, integrated by pen and paper:
// E[sin²] = 1/2, E[sin⁴] = 3/8, E[x⁴] = π⁴/5, E[x⁸] = π⁸/9.
func TestIshigami(t *testing.T) {
	pi4 := math.Pow(math.Pi, 4)
	v1 := math.Pow(1+ishigamiB*pi4/5, 2) / 2
	v2 := ishigamiA * ishigamiA / 8.0
	v13 := ishigamiB * ishigamiB * pi4 * pi4 / 2 * (1.0/9 - 1.0/25)
	v := v1 + v2 + v13
	first, total := []float64{v1 / v, v2 / v, 0}, []float64{(v1 + v13) / v, v2 / v, v13 / v}
	for i, want := range [3][2]string{{"0.3139", "0.5576"}, {"0.4424", "0.4424"}, {"0.0000", "0.2437"}} {
		printed.Equal(t, want[0], first[i], "A. Saltelli et al. 2010 and others")
		printed.Equal(t, want[1], total[i], "A. Saltelli et al. 2010 and others")
	}
	for _, points := range []Points{Quasi, Pseudo} {
		r := ishigamiRun(1 << 16)
		r.Points = points
		s := share(t, r)
		for i := range first {
			agrees(t, first[i], s.First[0][i], s.ErrFirst[0][i], "first")
			agrees(t, total[i], s.Total[0][i], s.ErrTotal[0][i], "total")
			if points == Quasi {
				assert.InDelta(t, first[i], s.First[0][i], 5e-3)
				assert.InDelta(t, total[i], s.Total[0][i], 2e-3)
			}
		}
		assert.InEpsilon(t, v, s.Variance[0], 0.02)
		assert.InDelta(t, ishigamiA/2.0, s.Mean[0], 0.05)
		assert.Equal(t, []float64{1}, s.Defined)
		assert.Equal(t, 5<<16, s.Evaluations)
	}
}

// The G function of I. M. Sobol', by pen and paper: V_i = 1/(3(1 + a_i)²),
// V = Π(1 + V_i) − 1, total V_i·Π_{j≠i}(1 + V_j).
func TestGFunction(t *testing.T) {
	a := []float64{0, 0.5, 3, 9, 99, 99}
	r := SharesRun{Figures: 1, Draws: 1 << 16, Model: one(func(x []float64) float64 {
		product := 1.0
		for i := range a {
			product *= (math.Abs(4*x[i]-2) + a[i]) / (1 + a[i])
		}
		return product
	})}
	all := 1.0
	var parts []float64
	for _, a := range a {
		r.Inputs = append(r.Inputs, rectangle(0, 1))
		parts = append(parts, 1/(3*(1+a)*(1+a)))
		all *= 1 + 1/(3*(1+a)*(1+a))
	}
	s := share(t, r)
	for i, v := range parts {
		agrees(t, v/(all-1), s.First[0][i], s.ErrFirst[0][i]+1e-5, "first")
		agrees(t, v*all/(1+v)/(all-1), s.Total[0][i], s.ErrTotal[0][i]+1e-5, "total")
	}
	agrees(t, all-1, s.Variance[0], 1e-3, "variance")
}

// A straight model shares out as the contributions of first order do; exact inputs have
// nothing, figures are told apart, and a group is the sum of its inputs.
func TestSharesOfAStraightModel(t *testing.T) {
	in := []Input{even(1, 0.3), even(5, 0), even(2, 0.1), {1, 0.2, 0.2}}
	f := func(x, y []float64) { y[0], y[1], y[2], y[3] = x[0]+2*x[2]-x[3], x[1], x[2], x[0] }
	scratch := NewScratch(4, 4)
	FirstOrder(f, in, nil, scratch)
	r := SharesRun{Figures: 4, Keep: []int{0, 1, 2}, Draws: 1 << 15, Model: func() func(x, y []float64) { return f }}
	for _, in := range in {
		r.Inputs = append(r.Inputs, Variable{Input: in})
	}
	s := share(t, r)
	require.Len(t, s.First, 3)
	for i := range in {
		assert.InDelta(t, scratch.Share(0, i), s.First[0][i], 1e-3)
		assert.InDelta(t, scratch.Share(0, i), s.Total[0][i], 1e-3)
	}
	assert.Equal(t, []float64{0, 0, 0, 0}, s.First[1], "certain")
	assert.Equal(t, []float64{0, 0, 0, 0}, s.Total[1], "certain")
	assert.InDelta(t, 1, s.Total[2][2], 1e-3)
	assert.Equal(t, 5<<15, s.Evaluations, "an exact input costs nothing")

	r.Groups = [][]int{{0, 1}, {2, 3}, {1}}
	grouped := share(t, r)
	assert.InDelta(t, s.First[0][0], grouped.First[0][0], 2e-3)
	assert.InDelta(t, s.First[0][2]+s.First[0][3], grouped.First[0][1], 2e-3)
	assert.Zero(t, grouped.Total[0][2])
	assert.Equal(t, 4<<15, grouped.Evaluations)
}

func TestSharesOfFiguresThatAreNotDefined(t *testing.T) {
	r := SharesRun{
		Inputs:  []Variable{{Input: even(0, 1)}, {Input: even(0, 1)}},
		Figures: 3, Draws: 1 << 14,
		Model: func() func(x, y []float64) {
			return func(x, y []float64) { y[0], y[1], y[2] = x[0]+x[1], math.NaN(), math.Sqrt(x[0])+x[1] }
		},
	}
	s := share(t, r)
	assert.InDelta(t, 0.5, s.First[0][0], 5e-3, "others do not suffer")
	assert.True(t, math.IsNaN(s.First[1][0]) && math.IsNaN(s.ErrTotal[1][0]) && math.IsNaN(s.Mean[1]))
	assert.Equal(t, []float64{1, 0}, s.Defined[:2])
	assert.InDelta(t, 0.25, s.Defined[2], 1e-3, "x0 > 0 in A and in B")
	variance := math.Sqrt(2/math.Pi) - 0.822179*0.822179 // of √x over half of a normal curve, E√x = 2^¼·Γ(¾)/√π
	assert.InDelta(t, variance/(1+variance), s.Total[2][0], 0.02)
}

func TestCoresDoNotMatterForShares(t *testing.T) {
	r := ishigamiRun(1 << 13)
	r.Cores = 1
	want := fmt.Sprintf("%+v", share(t, r))
	for _, cores := range []int{2, 3, 0} {
		r.Cores = cores
		assert.Equal(t, want, fmt.Sprintf("%+v", share(t, r)))
	}
	r.Seed = 1
	assert.NotEqual(t, want, fmt.Sprintf("%+v", share(t, r)))
}

func TestSharesOfManyInputs(t *testing.T) {
	r := SharesRun{Figures: 1, Draws: 1 << 13, Model: one(sum)}
	for range 150 { // twice as many dimensions as the table has
		r.Inputs = append(r.Inputs, Variable{Input: even(0, 1)})
	}
	s := share(t, r)
	var first, total float64
	for i := range r.Inputs {
		agrees(t, 1.0/150, s.Total[0][i], s.ErrTotal[0][i], "total")
		first += s.First[0][i]
		total += s.Total[0][i]
	}
	assert.InDelta(t, 1, first, 0.3)
	assert.InDelta(t, 1, total, 0.05)
}

func TestSharesProgressAndCancel(t *testing.T) {
	r := ishigamiRun(1 << 16)
	last := 0
	ctx, cancel := context.WithCancel(context.Background())
	r.Progress = func(done, most int) {
		assert.Greater(t, done, last)
		assert.Equal(t, 1<<16, most)
		if last = done; done >= 1<<15 {
			cancel()
		}
	}
	_, err := VarianceShares(ctx, r)
	require.ErrorIs(t, err, context.Canceled)
	assert.GreaterOrEqual(t, last, 1<<15)

	_, err = VarianceShares(context.Background(), SharesRun{Draws: 100})
	require.ErrorIs(t, err, ErrDraws)
}

func BenchmarkShares(b *testing.B) {
	run := chainRun(1 << 14)
	r := SharesRun{Inputs: run.Inputs, Figures: run.Figures, Model: run.Model, Draws: run.Draws}
	b.ReportAllocs()
	var evaluations int
	for b.Loop() {
		evaluations += share(b, r).Evaluations
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(evaluations), "ns/evaluation")
}
