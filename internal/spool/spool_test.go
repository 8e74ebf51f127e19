package spool

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

const arith = "arithmetic from the stated inputs"

func square(d float64) float64 { return d * d }

func TestArea(t *testing.T) {
	printed.Equal(t, "2.405282", 1e6*Area(1.75e-3), arith)
	printed.Equal(t, "6.379397", 1e6*Area(2.85e-3), arith)
	printed.Equal(t, "2.403318", 1e6*AreaFromMeanSquare(1.80e-3*1.70e-3), "oval of 1.80 x 1.70 mm, "+arith)
}

// One kilogram of PLA at 1.24 g/cm³, the density of the PLA data sheet.
func TestOneKilogramOfPLA(t *testing.T) {
	thin, thick := Length(1, 1240, square(1.75e-3)), Length(1, 1240, square(2.85e-3))
	printed.Equal(t, "335.284", thin, arith)
	printed.Equal(t, "335.28", thin, arith)
	printed.Equal(t, "126.415", thick, arith)
	printed.Equal(t, "126.4", thick, arith)
	// outside checks: sellers of strand say about 330 and 125 m (common
	// practice)
	assert.InEpsilon(t, 330, thin, 0.02)
	assert.InEpsilon(t, 125, thick, 0.02)
}

// Densities by the rule of mixtures, except 1.277538, which is taken as stated.
func TestMetresPerKilogramOfBlend(t *testing.T) {
	printed.Equal(t, "325.43", Length(1, 1277.538, square(1.75e-3)), "20 wt% wood, "+arith)
	printed.Equal(t, "298.91", Length(1, 1/(0.8/1240+0.2/2710), square(1.75e-3)), "20 wt% chalk, "+arith)
	printed.Equal(t, "325.57", Length(1, 1/(0.8/1240+0.2/1450), square(1.75e-3)), "20 wt% wood at 1.45 g/cm³, "+arith)
}

// Ten readings in mm, their mean square summed here in the open.
func TestLengthFromReadings(t *testing.T) {
	var sum float64
	for _, d := range []float64{1.74, 1.76, 1.75, 1.78, 1.73, 1.75, 1.77, 1.74, 1.76, 1.72} {
		sum += square(d * 1e-3)
	}
	printed.Equal(t, "3.062800", 1e6*sum/10, arith)
	printed.Equal(t, "2.405517", 1e6*AreaFromMeanSquare(sum/10), arith)
	printed.Equal(t, "325.400", Length(1, 1277.538, sum/10), arith)
	// what the square of the mean would miss at a standard deviation of 0.05 mm
	bias := AreaFromMeanSquare(square(1.75e-3)+square(0.05e-3))/Area(1.75e-3) - 1
	printed.Equal(t, "0.0816", 100*bias, arith)
}

func TestDensityOfAStrand(t *testing.T) {
	rho := Density(3.070e-3, 1.000, square(1.75e-3))
	printed.Equal(t, "1.27636", rho/1000, arith)
	printed.Same(t, 1, Length(3.070e-3, rho, square(1.75e-3)), "inverse")
}

// 640 g on the scale, 210 g of it the empty spool.
func TestRemaining(t *testing.T) {
	printed.Equal(t, "139.936", Remaining(0.640, 0.210, 1277.538, square(1.75e-3)), "blend of 1.277538 g/cm³, "+arith)
	printed.Equal(t, "144.172", Remaining(0.640, 0.210, 1240, square(1.75e-3)), "plain PLA, "+arith)
	assert.Zero(t, Remaining(0.210, 0.210, 1240, square(1.75e-3)))
	assert.Negative(t, Remaining(0.200, 0.210, 1240, square(1.75e-3)), "not clipped")
}

// Outer 190, core 80, width 55 mm, 1.75 mm strand, PLA at 1.24 g/cm³.
func TestCapacity(t *testing.T) {
	capacity := func(packing float64) float64 { return Capacity(packing, 0.190, 0.080, 0.055, Area(1.75e-3)) }
	printed.Equal(t, "320.03", capacity(0.60), arith)
	printed.Equal(t, "373.37", capacity(0.70), arith)
	printed.Equal(t, "418.92", capacity(0.7854), arith)
	printed.Equal(t, "483.73", capacity(0.9069), arith)
	mass := func(length float64) float64 { return length * Area(1.75e-3) * 1240 }
	printed.Equal(t, "0.9545", mass(capacity(0.60)), arith)
	printed.Equal(t, "1.1136", mass(capacity(0.70)), arith)
	assert.Zero(t, Capacity(0.7, 0.08, 0.08, 0.055, Area(1.75e-3)))
}

func TestCoreStrain(t *testing.T) {
	printed.Equal(t, "2.1407", 100*CoreStrain(1.75e-3, 0.080), arith)
	printed.Equal(t, "3.4400", 100*CoreStrain(2.85e-3, 0.080), arith)
	assert.Equal(t, 1.0, CoreStrain(1.75e-3, 0), "folded flat")
}

// m = 1 ± 0.004 kg, ρ 1230-1250 kg/m³, d = 1.75 ± 0.04 mm: 4m/(πρd²) at the two
// corners, in thirty-digit decimal arithmetic.
func TestLengthRange(t *testing.T) {
	low, high := LengthRange(0.996, 1.004, 1230, 1250, 1.71e-3, 1.79e-3)
	printed.Equal(t, "316.630963217", low, arith)
	printed.Equal(t, "355.423794609", high, arith)

	random := rand.New(rand.NewPCG(1, 1))
	within := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for range 1000 {
		length := Length(within(0.996, 1.004), within(1230, 1250), square(within(1.71e-3, 1.79e-3)))
		assert.True(t, low <= length && length <= high)
	}

	low, high = LengthRange(1, 1, 1240, 1240, 1.75e-3, 1.75e-3)
	assert.Equal(t, low, high, "nothing uncertain")
}

func TestStrandRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for range 1000 {
		mass, rho, d := 3*random.Float64()+0.01, 8000*random.Float64()+100, 3e-3*random.Float64()+1e-4
		length := Length(mass, rho, square(d))
		printed.Same(t, mass, length*rho*math.Pi*square(d/2))
		printed.Same(t, rho, Density(mass, length, square(d)))
	}
}
