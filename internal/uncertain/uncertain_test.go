package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func even(value, u float64) Input { return Input{value, u, u} }

// combined runs a model with one figure and even inputs.
func combined(t *testing.T, f func(x []float64) float64, in ...Input) (y, u float64) {
	t.Helper()
	s := NewScratch(len(in), 1)
	y0, down, up := FirstOrder(func(x, y []float64) { y[0] = f(x) }, in, nil, s)
	assert.InDelta(t, down[0], up[0], 1e-12*(1+up[0]), "even inputs give even intervals")
	return y0[0], up[0]
}

func sum(x []float64) float64 {
	var total float64
	for _, v := range x {
		total += v
	}
	return total
}

// JCGM 101:2008 9.2: sums of four inputs. The u of a rectangle is its half
// width/√3.
func TestSums(t *testing.T) {
	y, u := combined(t, sum, even(0, 1), even(0, 1), even(0, 1), even(0, 1))
	assert.Zero(t, y)
	printed.Equal(t, "2.00", u, "JCGM 101 9.2.2")
	assert.InDelta(t, 2, u, 1e-9)

	_, u = combined(t, sum, even(0, 1), even(0, 1), even(0, 1), even(0, 10))
	printed.Equal(t, "10.1", u, "JCGM 101 9.2.4")
	printed.Equal(t, "10.1488915651", u, "√103, arithmetic")
}

// JCGM 101:2008 9.3: calibration of a mass, in mg. First order sees none of the
// air and density terms, which is why the true u is .0755.
func TestMassCalibration(t *testing.T) {
	rect := func(low, high float64) Input { return even((low+high)/2, (high-low)/2/math.Sqrt(3)) }
	y, u := combined(t, func(x []float64) float64 {
		return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100000
	}, even(100000, 0.050), even(1.234, 0.020), rect(1.10, 1.30), rect(7000, 9000), rect(7950, 8050))
	printed.Equal(t, "1.2340", y, "JCGM 101 9.3, guide with first-order terms")
	printed.Equal(t, "0.0539", u, "JCGM 101 9.3, guide with first-order terms")
	printed.Equal(t, "0.053852", u, "√(.050² + .020²), arithmetic")
}

// JCGM 101:2008 9.4: comparison loss x1² + x2², u = .005 each, x2 = 0.
func TestComparisonLoss(t *testing.T) {
	loss := func(x []float64) float64 { return x[0]*x[0] + x[1]*x[1] }
	for _, tt := range []struct{ x1, y, u float64 }{
		{0, 0, 0}, {0.010, 100e-6, 100e-6}, {0.050, 2500e-6, 500e-6},
	} {
		y, u := combined(t, loss, even(tt.x1, 0.005), even(0, 0.005))
		assert.InDelta(t, tt.y, y, 1e-15, "JCGM 101 9.4, first order")
		assert.InDelta(t, tt.u, u, 1e-12, "JCGM 101 9.4, first order")
	}
}

// JCGM 100:2008 H.1: end gauge, in nm. Inputs from memory of the example: u of
// the standard 25, of the comparison 9.7, of the expansion difference
// 0.58e-6/°C and of the temperature difference 0.029 °C.
func TestEndGauge(t *testing.T) {
	_, u := combined(t, func(x []float64) float64 {
		standard, difference, expansion, dExpansion, warmth, dWarmth := x[0], x[1], x[2], x[3], x[4], x[5]
		return standard + difference - standard*(dExpansion*warmth+expansion*dWarmth)
	}, even(50_000_623, 25), even(215, 9.7), even(11.5e-6, 1.2e-6), even(0, 0.58e-6), even(-0.1, 0.41), even(0, 0.029))
	printed.Equal(t, "31.71", u, "√(25² + 9.7² + 2.9² + 16.675²), arithmetic")
	printed.Equal(t, "32", u, "GUM H.1.4")
}

// Length of 1 kg of strand: arithmetic from m = 1 ± .004 kg (k = 2), a range of
// 1230-1250 kg/m³ and d = 1.75 ± .04 mm (k = 2).
func TestStrandLength(t *testing.T) {
	in := []Input{even(1, 0.002), even(1240, 10/math.Sqrt(3)), even(1.75e-3, 0.02e-3)}
	y, u := combined(t, func(x []float64) float64 { return 4 * x[0] / (math.Pi * x[1] * x[2] * x[2]) }, in...)
	printed.Equal(t, "335.28361942", y, "4m/(πρd²)")
	printed.Equal(t, "7.84970336", u, "y√((u_m/m)² + (u_ρ/ρ)² + (2u_d/d)²)")
}

// Density of a strand from 3.070 g, 1.000 m and 1.75 mm: the diameter counts
// twice. Its 5 µm alone make 0.571 %; 1 mg and 0.5 mm more make 0.575 %.
func TestStrandDensity(t *testing.T) {
	f := func(x []float64) float64 { return 4 * x[0] / (math.Pi * x[1] * x[2] * x[2]) }
	y, u := combined(t, f, even(3.070e-3, 0), even(1, 0), even(1.75e-3, 5e-6))
	printed.Equal(t, "1.27636", y/1000, "arithmetic from the stated inputs")
	printed.Equal(t, "0.571", 100*u/y, "2·5 µm/1.75 mm")
	_, u = combined(t, f, even(3.070e-3, 1e-6), even(1, 0.5e-3), even(1.75e-3, 5e-6))
	printed.Equal(t, "0.575", 100*u/y, "√((u_m/m)² + (u_L/L)² + (2u_d/d)²)")
}

// y0 rises with x0 and falls with x1, y1 holds only x2, y2 is not known.
func slopes(x, y []float64) {
	y[0] = 2*x[0] - 3*x[1]
	y[1] = x[2] * x[2]
	y[2] = math.NaN()
}

func TestUnevenInputs(t *testing.T) {
	s := NewScratch(3, 3)
	in := []Input{{1, 0.1, 0.2}, {1, 0.3, 0.5}, even(3, 0.1)}
	y, down, up := FirstOrder(slopes, in, nil, s)
	printed.Same(t, -1, y[0])
	assert.InDelta(t, math.Hypot(2*0.2, 3*0.3), up[0], 1e-9, "up: x0 above, x1 below")
	assert.InDelta(t, math.Hypot(2*0.1, 3*0.5), down[0], 1e-9, "down: x0 below, x1 above")
	assert.InDelta(t, 0.6, up[1], 1e-9)
	assert.True(t, math.IsNaN(y[2]) && math.IsNaN(up[2]) && math.IsNaN(down[2]))
	assert.Equal(t, []Input{{1, 0.1, 0.2}, {1, 0.3, 0.5}, even(3, 0.1)}, in, "the inputs stay")

	assert.InDelta(t, (0.2*0.2+0.4*0.4)/2, s.Contribution(0, 0), 1e-9)
	assert.Zero(t, s.Contribution(0, 2))
	assert.InDelta(t, 1, s.Share(0, 0)+s.Share(0, 1), 1e-12)
	assert.Greater(t, s.Share(0, 1), s.Share(0, 0))
	assert.Zero(t, s.Share(2, 0), "nothing is known of y2")
}

func TestVaryOnlySome(t *testing.T) {
	s := NewScratch(3, 3)
	in := []Input{even(1, 0.1), even(1, 0.1), even(3, 0.1)}
	_, _, up := FirstOrder(slopes, in, []int{1}, s)
	assert.InDelta(t, 0.3, up[0], 1e-9)
	assert.Zero(t, up[1])
	assert.Equal(t, 0.0, s.Share(1, 2), "no uncertainty to share")

	_, _, up = FirstOrder(slopes, in, []int{}, s)
	assert.Zero(t, up[0], "an empty list is not nil")
	assert.Zero(t, s.Contribution(0, 1), "the last call is forgotten")
}

// An input at the edge of its range goes one way only, and a model that has no
// value on the other side is never asked for one.
func TestOneSidedInputs(t *testing.T) {
	s := NewScratch(1, 1)
	f := func(x, y []float64) {
		y[0] = math.NaN()
		if x[0] >= 0 {
			y[0] = math.Exp(x[0])
		}
	}
	_, down, up := FirstOrder(f, []Input{{0, 0, 0.01}}, nil, s)
	assert.InDelta(t, 0.01, up[0], 1e-10)
	assert.Zero(t, down[0])

	_, down, up = FirstOrder(f, []Input{{1, 0.01, 0}}, nil, s)
	assert.InDelta(t, 0.01*math.E, down[0], 1e-9)
	assert.Zero(t, up[0])

	y, down, up := FirstOrder(f, []Input{even(0, 0.01)}, nil, s)
	assert.Equal(t, 1.0, y[0])
	assert.True(t, math.IsNaN(up[0]) && math.IsNaN(down[0]), "no derivative, no interval")
}

// What a number cannot show moves nothing, and makes nothing unknown.
func TestUncertaintyBelowTheLastDigit(t *testing.T) {
	f := func(x, y []float64) { y[0], y[1] = 2*x[0], x[1] }
	for name, tiny := range map[string]Input{
		"both": {1, 1e-20, 1e-20}, "up": {1, 0, 1e-20}, "down": {1, 1e-20, 0}, "uneven": {1, 0.1, 1e-20}, "uneven, the other way": {1, 1e-20, 0.1},
	} {
		y, down, up := FirstOrder(f, []Input{tiny, {3, 0.5, 0.5}}, nil, NewScratch(2, 2))
		assert.Equal(t, []float64{2, 3}, y, name)
		assert.InDelta(t, 0.5, down[1], 1e-9, name)
		assert.InDelta(t, 0.5, up[1], 1e-9, name)
		assert.InDelta(t, 2*max(tiny.UMinus-1e-19, 0), down[0], 1e-9, name)
		assert.InDelta(t, 2*max(tiny.UPlus-1e-19, 0), up[0], 1e-9, name)
	}
}

func TestInfiniteFigureHasNoInterval(t *testing.T) {
	_, down, up := FirstOrder(func(_, y []float64) { y[0] = math.Inf(1) }, []Input{even(1, 0)}, nil, NewScratch(1, 1))
	assert.True(t, math.IsNaN(up[0]) && math.IsNaN(down[0]))
}

func TestStaysWithinTheUncertainty(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 500 {
		in := Input{math.Pow(10, random.Float64()*8-4), 0, 0}
		in.UMinus = in.Value * math.Pow(10, -10*random.Float64())
		in.UPlus = in.Value * math.Pow(10, -10*random.Float64())
		switch random.IntN(4) {
		case 0:
			in.UMinus = 0
		case 1:
			in.UPlus = 0
		}
		low, high := in.Value-in.UMinus, in.Value+in.UPlus
		FirstOrder(func(x, _ []float64) {
			// a unit in the last place is rounding
			assert.True(t, math.Nextafter(low, 0) <= x[0] && x[0] <= math.Nextafter(high, math.Inf(1)), "%+v at %g", in, x[0])
		}, []Input{in}, nil, NewScratch(1, 1))
	}
}

// The derivative holds over very different scales and uncertainties.
func TestDerivativeOfPowers(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for range 500 {
		x := math.Pow(10, random.Float64()*12-6)
		relative := math.Pow(10, -1-6*random.Float64())
		power := random.Float64()*6 - 3
		y, u := combined(t, func(x []float64) float64 { return math.Pow(x[0], power) }, even(x, x*relative))
		want := math.Abs(power) * y * relative
		require.InDelta(t, want, u, 1e-6*want+1e-9*y*relative, "x %g u/x %g power %g", x, relative, power)
	}
}

func TestWrongScratchPanics(t *testing.T) {
	assert.PanicsWithValue(t, badLength, func() {
		FirstOrder(slopes, []Input{even(1, 1)}, nil, NewScratch(3, 3))
	})
}

func TestFirstOrderDoesNotAllocate(t *testing.T) {
	s := NewScratch(3, 3)
	in := []Input{{1, 0.1, 0.2}, {1, 0, 0.5}, even(3, 0.1)}
	assert.Zero(t, testing.AllocsPerRun(10, func() { FirstOrder(slopes, in, nil, s) }))
}

func BenchmarkFirstOrder(b *testing.B) {
	const inputs, figures = 40, 150
	in := make([]Input, inputs)
	for i := range in {
		in[i] = even(1+float64(i), 0.01)
	}
	s := NewScratch(inputs, figures)
	f := func(x, y []float64) {
		for j := range y {
			y[j] = x[j%inputs] * x[(j+1)%inputs]
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		FirstOrder(f, in, nil, s)
	}
}

// What is kept of some figures is what is kept of all.
func TestContributionsOfTheFiguresKept(t *testing.T) {
	in := []Input{{1, 0.1, 0.2}, {1, 0, 0.5}, even(3, 0.1)}
	all, some := NewScratch(3, 3), NewScratchKeeping(3, 3, []int{1})
	_, down, up := FirstOrder(slopes, in, nil, all)
	_, alsoDown, alsoUp := FirstOrder(slopes, in, nil, some)
	assert.Equal(t, down[:2], alsoDown[:2])
	assert.Equal(t, up[:2], alsoUp[:2])
	for i := range in {
		assert.Equal(t, all.Contribution(1, i), some.Contribution(1, i))
		assert.True(t, math.IsNaN(some.Contribution(0, i)), "not kept")
	}
	assert.NotZero(t, some.Contribution(1, 2))
}
