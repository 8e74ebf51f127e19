package uncertain

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func rectangle(low, high float64) Variable {
	return Variable{Input: even((low+high)/2, (high-low)/2/math.Sqrt(3)), Shape: Rectangular}
}

// JCGM 101:2008 9.2: sums of four inputs, exact by convolution.
func TestMonteCarloSums(t *testing.T) {
	normal, unit, wide := Variable{Input: even(0, 1)}, rectangle(-math.Sqrt(3), math.Sqrt(3)), rectangle(-10*math.Sqrt(3), 10*math.Sqrt(3))
	for name, tt := range map[string]struct {
		in                []Variable
		u, high           float64
		printedU, printed string
	}{
		"9.2.2": {[]Variable{normal, normal, normal, normal}, 2, 3.919927969080108, "2.00", "3.92"},
		"9.2.3": {[]Variable{unit, unit, unit, unit}, 2, 3.8794067413, "2.00", "3.88"},
		"9.2.4": {[]Variable{unit, unit, unit, wide}, math.Sqrt(103), 17.01581410, "10.1", "17.0"},
	} {
		for _, points := range []Points{Quasi, Pseudo} {
			e := propagate(t, Run{Inputs: tt.in, Figures: 1, Model: one(sum), Points: points, Draws: 1e6}).Estimates[0]
			agrees(t, 0, e.Mean, e.ErrMean, name)
			agrees(t, tt.u, e.U, e.ErrU+1e-6*tt.u, name) // n − 1 instead of n counts for so much
			agrees(t, -tt.high, e.Low, e.ErrLow, name)
			agrees(t, tt.high, e.High, e.ErrHigh, name)
			if points == Quasi {
				printed.Equal(t, tt.printedU, e.U, "JCGM 101 "+name)
				printed.Equal(t, tt.printed, e.High, "JCGM 101 "+name)
				printed.Equal(t, "-"+tt.printed, e.Low, "JCGM 101 "+name)
			}
		}
	}
}

// JCGM 101:2008 9.3, calibration of a mass, in mg. The u of the printed run, .0754, and
// its ends carry the noise of its draws; by integration u is .075479740, and a run of
// 4,000,000 draws has 1.0845 to 1.3836, and the shortest interval 1.0844 to 1.3835.
func TestMonteCarloMass(t *testing.T) {
	e := propagate(t, Run{
		Inputs: []Variable{
			{Input: even(100000, 0.050)},
			{Input: even(1.234, 0.020)},
			rectangle(1.10, 1.30), rectangle(7000, 9000), rectangle(7950, 8050),
		},
		Figures: 1, Draws: 1 << 21, Shortest: true,
		Model: one(func(x []float64) float64 {
			return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100000
		}),
	}).Estimates[0]
	printed.Equal(t, "1.2340", e.Mean, "integration")
	agrees(t, 0.075479740, e.U, e.ErrU, "integration")
	assert.InDelta(t, 1.0845, e.Low, 2e-4)
	assert.InDelta(t, 1.3836, e.High, 2e-4)
	assert.InDelta(t, 1.0844, e.ShortLow, 2e-3, "where a shortest interval lies is noisy")
	assert.InDelta(t, 1.3835, e.ShortHigh, 2e-3)
	assert.InDelta(t, 1.3835-1.0844, e.ShortHigh-e.ShortLow, 2e-4, "its length is not")
	assert.InDelta(t, 0.0754, e.U, 2e-4, "JCGM 101 9.3.2")
	assert.InDelta(t, 1.0834, e.Low, 1.5e-3, "JCGM 101 9.3.2")
	assert.InDelta(t, 1.3825, e.High, 1.5e-3, "JCGM 101 9.3.2")

	first := Validate(1.1285, 1.3395, e.Low, e.High, 0.053852, 1)
	higher := Validate(1.0871, 1.3809, e.Low, e.High, 0.074963, 1)
	assert.False(t, first.OK, "JCGM 101 9.3.2: first order does not do")
	assert.True(t, higher.OK, "JCGM 101 9.3.2: higher order does")
}

// JCGM 101:2008 9.4, comparison loss, × 1e-6: mean and u by pen and paper, shortest
// intervals as printed, except where a run of 4,000,000 draws shows more digits.
func TestMonteCarloComparisonLoss(t *testing.T) {
	for _, tt := range []struct{ x1, r, mean, u, low, high, tolerance float64 }{
		{0, 0, 50, 50, 0, -50 * math.Log(0.05), 0.5},
		{0.010, 0, 150, 111.8034, 0, 366.5, 2},
		{0.050, 0, 2550, 502.4938, 1600, 3555, 20},
		{0, 0.9, 50, 67.2681, 0, 185, 2},
		{0.010, 0.9, 150, 120.5197, 13, 398, 3},
		{0.050, 0.9, 2550, 504.5047, 1627, 3557, 20},
	} {
		r := Run{
			Inputs:  []Variable{{Input: even(tt.x1, 0.005)}, {Input: even(0, 0.005)}},
			Figures: 1, Draws: 1 << 20, Shortest: true,
			Model: one(func(x []float64) float64 { return 1e6 * (x[0]*x[0] + x[1]*x[1]) }),
		}
		if tt.r != 0 {
			r.Correlated = []Correlation{{0, 1, tt.r}}
		}
		e := propagate(t, r).Estimates[0]
		what := fmt.Sprintf("x1 %g, r %g", tt.x1, tt.r)
		agrees(t, tt.mean, e.Mean, e.ErrMean+1e-5*tt.mean, what)
		agrees(t, tt.u, e.U, e.ErrU+1e-5*tt.u, what)
		assert.InDelta(t, tt.low, e.ShortLow, tt.tolerance, what)
		assert.InDelta(t, tt.high, e.ShortHigh, tt.tolerance, what)
	}
}

// JCGM 100:2008 H.1, in nm: with the terms of second order (11.9 and 1.7) u is 34; the
// model is made of products of two inputs, so that they are all there is.
func TestMonteCarloEndGauge(t *testing.T) {
	shaped := func(value, u float64) Variable { return Variable{Input: even(value, u), Shape: Rectangular} }
	e := propagate(t, Run{
		Inputs: []Variable{
			{Input: even(50_000_623, 25)},
			{Input: even(215, 9.7)},
			shaped(11.5e-6, 1.2e-6), shaped(0, 0.58e-6), shaped(-0.1, 0.41), shaped(0, 0.029),
		},
		Figures: 1,
		Model: one(func(x []float64) float64 {
			return x[0] + x[1] - x[0]*(x[3]*x[4]+x[2]*x[5])
		}),
	}).Estimates[0]
	printed.Equal(t, "34", e.U, "GUM H.1.7")
	length := 50_000_623.0
	agrees(t, math.Sqrt(25*25+9.7*9.7+math.Pow(length*0.58e-6, 2)*(0.1*0.1+0.41*0.41)+
		math.Pow(length*0.029, 2)*(11.5e-6*11.5e-6+1.2e-6*1.2e-6)), e.U, e.ErrU+1e-3, "variance of products")
}

// The length of 1 kg of strand: by quadrature.
func TestMonteCarloLength(t *testing.T) {
	r := lengthRun(1 << 16)
	e := propagate(t, r).Estimates[0]
	for _, pair := range [][2]float64{{335.42235341, e.Mean}, {7.85819605, e.U}, {335.288622, e.Median}, {320.402900, e.Low}, {351.202023, e.High}} {
		assert.InEpsilon(t, pair[0], pair[1], 1e-3)
	}
	assert.InEpsilon(t, 335.42235341, e.Mean, 1e-5)
	for _, points := range []Points{Quasi, Pseudo} {
		r := lengthRun(1e6)
		r.Points = points
		out := propagate(t, r)
		e := out.Estimates[0]
		assert.InDelta(t, 335.42235341, e.Mean, 4*e.ErrMean)
		assert.InDelta(t, 7.85819605, e.U, 4*e.ErrU)
		assert.InDelta(t, 320.402900, e.Low, 4*e.ErrLow)
		assert.InDelta(t, 351.202023, e.High, 4*e.ErrHigh)
		assert.Equal(t, []int{983040, 30}, []int{out.Draws, out.Replicates}, "30 of 2^15")
		assert.False(t, out.Settled, "no digits were asked for")
		assert.True(t, math.IsNaN(e.ShortLow) && math.IsNaN(e.ShortHigh), "nor a shortest interval")
	}
}

// The standard errors are honest: over many runs the errors are about as large.
func TestStandardErrorsAreHonest(t *testing.T) {
	for _, points := range []Points{Quasi, Pseudo} {
		var squares [4]float64
		const runs = 60
		for seed := range uint64(runs) {
			r := lengthRun(1 << 14)
			r.Points, r.Seed = points, seed
			e := propagate(t, r).Estimates[0]
			for i, z := range [4]float64{
				(e.Mean - 335.42235341) / e.ErrMean, (e.U - 7.85819605) / e.ErrU,
				(e.Low - 320.402900) / e.ErrLow, (e.High - 351.202023) / e.ErrHigh,
			} {
				squares[i] += z * z / runs
			}
		}
		for _, s := range squares {
			assert.InDelta(t, 1.15, s, 0.6, "of 15 degrees of freedom: 15/13") // own judgement
		}
	}
}

func TestQuasiIsCloserThanPseudo(t *testing.T) {
	r := lengthRun(1 << 18)
	quasi := propagate(t, r).Estimates[0]
	r.Points = Pseudo
	pseudo := propagate(t, r).Estimates[0]
	assert.Less(t, 100*quasi.ErrMean, pseudo.ErrMean)
	assert.Less(t, 30*quasi.ErrU, pseudo.ErrU)
	assert.Less(t, 2*quasi.ErrHigh, pseudo.ErrHigh)
}

// everything prints an outcome to the last bit, NaN and all.
func everything(o Outcome) string { return fmt.Sprintf("%+v", o) }

func TestCoresDoNotMatter(t *testing.T) {
	r := chainRun(1 << 15)
	r.Figures++
	base := r.Model
	r.Model = func() func(x, y []float64) {
		f := base()
		return func(x, y []float64) {
			f(x, y[:15])
			y[15] = math.Sqrt(x[0] - 1)
		}
	}
	r.Shortest, r.Digits = true, 2
	r.Correlated = []Correlation{{0, 1, 0.5}, {1, 2, -0.3}}
	for _, points := range []Points{Quasi, Pseudo} {
		r.Points, r.Cores, r.Seed = points, 1, 1
		want := everything(propagate(t, r))
		for _, cores := range []int{2, 5, 0} {
			r.Cores = cores
			assert.Equal(t, want, everything(propagate(t, r)), "%d cores", cores)
		}
		r.Seed = 5
		assert.NotEqual(t, want, everything(propagate(t, r)), "another seed")
	}
}

func TestOrderOfInputsDoesNotMatter(t *testing.T) {
	r := lengthRun(1 << 18)
	r.Inputs = append(r.Inputs, Variable{Input: even(1, 0)})
	forth := propagate(t, r).Estimates[0]
	slices.Reverse(r.Inputs)
	r.Model = one(func(x []float64) float64 { return 4 * x[3] / (math.Pi * x[2] * x[1] * x[1]) })
	back := propagate(t, r).Estimates[0]
	agrees(t, forth.Mean, back.Mean, forth.ErrMean+back.ErrMean, "mean")
	agrees(t, forth.U, back.U, forth.ErrU+back.ErrU, "u")
	agrees(t, forth.High, back.High, forth.ErrHigh+back.ErrHigh, "high")
}

// Twice the figure has twice of everything, and an exact input changes nothing.
func TestScaling(t *testing.T) {
	r := lengthRun(1 << 15)
	r.Shortest = true
	plain := propagate(t, r).Estimates[0]
	r.Inputs = append([]Variable{{Input: even(2, 0)}}, r.Inputs...)
	r.Model = one(func(x []float64) float64 { return x[0] * (4 * x[1] / (math.Pi * x[2] * x[3] * x[3])) })
	double := propagate(t, r).Estimates[0]
	want := plain
	for _, v := range []*float64{
		&want.Mean, &want.U, &want.Median, &want.Low, &want.High, &want.ShortLow, &want.ShortHigh,
		&want.ErrMean, &want.ErrU, &want.ErrLow, &want.ErrHigh,
	} {
		*v *= 2
	}
	assert.Equal(t, want, double)
}

// Several figures, some without a value in some or all draws, and only some kept.
func TestFiguresThatAreNotDefined(t *testing.T) {
	r := Run{
		Inputs: []Variable{{Input: even(0, 1)}}, Figures: 6, Draws: 1 << 17, Shortest: true,
		Keep: []int{5, 0, 1, 2, 3},
		Model: func() func(x, y []float64) {
			return func(x, y []float64) {
				y[0], y[1], y[2], y[3], y[4] = 0.1, math.NaN(), math.Inf(1), 1/math.Max(x[0], 0), math.NaN()
				y[5] = math.Pow(math.Sqrt(x[0]), 2)
			}
		},
	}
	e := propagate(t, r).Estimates
	require.Len(t, e, 5)
	agrees(t, 0.5, e[0].Defined, 1e-4, "x > 0")
	agrees(t, math.Sqrt(2/math.Pi), e[0].Mean, e[0].ErrMean+1e-4, "half of a normal curve")
	agrees(t, math.Sqrt(1-2/math.Pi), e[0].U, e[0].ErrU+1e-4, "half of a normal curve")
	agrees(t, 0.674489750196082, e[0].Median, 1e-3, "half of a normal curve")
	agrees(t, 2.241402727604947, e[0].High, e[0].ErrHigh+1e-3, "half of a normal curve")
	agrees(t, 1.959963984540054, e[0].ShortHigh, 1e-2, "half of a normal curve")
	assert.Equal(t, Estimate{
		Mean: 0.1, Median: 0.1, Low: 0.1, High: 0.1, ShortLow: 0.1, ShortHigh: 0.1, Defined: 1,
	}, e[1], "certain")
	for _, e := range e[2:4] {
		assert.Zero(t, e.Defined)
		assert.True(t, math.IsNaN(e.Mean) && math.IsNaN(e.U) && math.IsNaN(e.Low) && math.IsNaN(e.ErrHigh) && math.IsNaN(e.ShortLow))
	}
	assert.Equal(t, e[0].Defined, e[4].Defined, "1/0 is left out")
}

func TestAnInputThatIsNotANumber(t *testing.T) {
	for _, in := range []Input{even(math.NaN(), 1), even(1, math.NaN()), even(1, math.Inf(1)), even(math.NaN(), 0)} {
		for shape := range Shape(3) {
			e := propagate(t, Run{
				Inputs: []Variable{{Input: in, Shape: shape}, {Input: even(1, 1)}}, Figures: 2, Draws: 2048,
				Model: func() func(x, y []float64) { return func(x, y []float64) { copy(y, x) } },
			}).Estimates
			assert.LessOrEqual(t, e[0].Defined, 0.5, "%v %v", in, shape) // a logarithm spread without end has 0 on one side
			assert.Equal(t, 1.0, e[1].Defined)
		}
	}
}

func TestDigitsEndARun(t *testing.T) {
	r := lengthRun(1 << 22)
	r.Digits = 2
	for _, points := range []Points{Quasi, Pseudo} {
		r.Points = points
		out := propagate(t, r)
		assert.True(t, out.Settled)
		assert.Less(t, out.Draws, 1<<22)
		e := out.Estimates[0]
		half := NumericalTolerance(e.U, 2) / 2
		assert.Less(t, max(e.ErrMean, e.ErrU, e.ErrLow, e.ErrHigh), half)
		assert.InDelta(t, 351.202023, e.High, 4*half)
	}
	r.Digits = 6
	r.Draws = 1 << 16
	out := propagate(t, r)
	assert.False(t, out.Settled)
	assert.Equal(t, 1<<16, out.Draws)

	r.Moments, r.Points, r.Digits = true, Quasi, 3
	assert.True(t, propagate(t, r).Settled, "the ends do not count where they are not told")

	r = Run{Inputs: []Variable{{Input: even(1, 0)}}, Figures: 2, Draws: 1 << 20, Digits: 2, Model: func() func(x, y []float64) {
		return func(x, y []float64) { y[0], y[1] = x[0]/3, math.NaN() }
	}}
	out = propagate(t, r)
	assert.True(t, out.Settled, "nothing is uncertain")
	assert.Equal(t, 1<<15, out.Draws, "the first look, 16 of 2^11 ≥ 100/.05")
}

// How often each of several is the least, as the mean of ones and zeros.
func TestWeights(t *testing.T) {
	r := Run{Inputs: []Variable{{Input: even(0, 1)}, {Input: even(0, 1)}, {Input: even(1, 1)}}, Figures: 3, Model: func() func(x, y []float64) {
		return func(x, y []float64) {
			clear(y)
			y[slices.Index(x, slices.Min(x))] = 1
		}
	}}
	full := propagate(t, r).Estimates
	r.Moments = true
	light := propagate(t, r).Estimates
	var all float64
	for j := range light {
		all += light[j].Mean
		assert.Equal(t, full[j].Mean, light[j].Mean)
		assert.Equal(t, full[j].ErrU, light[j].ErrU)
		assert.True(t, math.IsNaN(light[j].Median) && math.IsNaN(light[j].ErrLow))
		assert.Equal(t, []float64{0, 1}, []float64{full[j].Low, full[j].High})
	}
	assert.InDelta(t, 1, all, 1e-12)
	agrees(t, light[0].Mean, light[1].Mean, light[0].ErrMean+light[1].ErrMean, "they are alike")
	assert.Less(t, light[2].Mean, light[0].Mean)
}

func TestProgress(t *testing.T) {
	r := lengthRun(1 << 16)
	r.Digits = 12
	var last, calls int
	r.Progress = func(done, most int) {
		assert.Greater(t, done, last)
		assert.Equal(t, 1<<16, most)
		last = done
		calls++
	}
	propagate(t, r)
	assert.Equal(t, 1<<16, last)
	assert.Greater(t, calls, 16)
}

// A run asks every 256 draws whether to go on, and does not summarise what it has.
func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	var evaluations atomic.Int64
	r := lengthRun(1 << 20)
	r.Cores = 2
	r.Model = func() func(x, y []float64) {
		return func(_, y []float64) {
			if y[0] = 1; evaluations.Add(1) == 5000 {
				cancel()
			}
		}
	}
	out, err := MonteCarlo(ctx, r)
	require.ErrorIs(t, err, context.Canceled)
	assert.Zero(t, out)
	assert.LessOrEqual(t, evaluations.Load(), int64(5000+2*2*blockPoints))

	_, err = MonteCarlo(ctx, r)
	require.ErrorIs(t, err, context.Canceled)
	assert.LessOrEqual(t, evaluations.Load(), int64(5000+2*2*blockPoints), "not even begun")
}

func TestRunsThatAreRefused(t *testing.T) {
	r := lengthRun(1000)
	_, err := MonteCarlo(context.Background(), r)
	require.ErrorIs(t, err, ErrDraws)
	r.Draws = 1024
	for _, p := range []float64{-0.1, 1, 2, math.NaN()} {
		r.Probability = p
		assert.Panics(t, func() { _, _ = MonteCarlo(context.Background(), r) })
	}
}

// More inputs than the table of directions has dimensions.
func TestManyInputs(t *testing.T) {
	r := Run{Figures: 1, Model: one(sum), Draws: 1 << 14}
	for range 400 {
		r.Inputs = append(r.Inputs, Variable{Input: even(0, 0.05)})
	}
	e := propagate(t, r).Estimates[0]
	agrees(t, 0, e.Mean, e.ErrMean, "mean")
	agrees(t, 1, e.U, e.ErrU, "u")
}
