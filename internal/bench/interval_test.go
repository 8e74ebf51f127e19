package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/spool"
)

// lengthProject has a spool of 1 ± 0.004 kg, 1.23-1.25 g/cm3 and 1.75 ± 0.04 mm.
func lengthProject() project.Project {
	p := bare(wood(), "20 wt%")
	p.Materials[0].Density = q[quantity.Density]("1.23-1.25 g/cm3")
	p.Spool.NetMass = q[quantity.Mass]("1 ± 0.004 kg")
	p.Spool.Diameter = q[quantity.Length]("1.75 ± 0.04 mm")
	return p
}

// GUM 5.1.2 by hand for L = 4m/(π·rho·d²): ± is k = 2, a range is rectangular.
func TestLengthIntervalByHand(t *testing.T) {
	r := evaluate(t, lengthProject()).Blends[0].Results[LengthPerSpool]
	rectangular := 0.01 / math.Sqrt(3) / 1.24
	relative := math.Sqrt(math.Pow(0.002, 2) + rectangular*rectangular + math.Pow(2*0.02/1.75, 2))
	length := 1 / (1240 * math.Pi / 4 * 1.75e-3 * 1.75e-3)
	assert.InEpsilon(t, length, r.Value, 1e-12)
	assert.InEpsilon(t, length*(1-2*relative), r.Low, 1e-6)
	assert.InEpsilon(t, length*(1+2*relative), r.High, 1e-6)
}

// The exact interval of the same length, with everything at its worst at once,
// holds the first-order one, which lets errors cancel.
func TestLengthIntervalLiesInsideItsCorners(t *testing.T) {
	r := evaluate(t, lengthProject()).Blends[0].Results[LengthPerSpool]
	low, high := spool.LengthRange(0.996, 1.004, 1230, 1250, 1.71e-3, 1.79e-3)
	assert.Greater(t, r.Low, low)
	assert.Less(t, r.High, high)
	assert.Less(t, r.High-r.Low, high-low)
	assert.Greater(t, r.High-r.Low, 0.75*(high-low), "but is not far narrower")
}

// What two blends share cancels in their comparison.
func TestComparisonWithATwinIsExact(t *testing.T) {
	p := sample(t, oliveStone)
	p.Batch.Purge = q[quantity.Mass]("0 g")
	p.Blends = append(p.Blends, recipe("twin", "pla", "balance"))
	s := evaluate(t, p)
	twin := len(s.Blends) - 1
	assert.False(t, s.Blends[twin].Results[CostPerMetre].Certain(), "density and diameter are not known exactly")
	for _, f := range []Figure{MaterialCostChange, CostChangePerMetre, SavingPerSpool, ExtraCostPerRun} {
		r := s.Blends[twin].Results[f]
		require.True(t, r.Known(), f.Key())
		assert.InDelta(t, 0, r.Value, 1e-12, f.Key())
		assert.InDelta(t, 0, r.High-r.Low, 1e-9, f.Key())
	}
}

// A diameter that is off makes every metre dearer by as much: the comparison per
// metre neither moves nor widens. Density of the polymer cancels for the most part.
func TestComparisonsDoNotCountTwice(t *testing.T) {
	p := bare(wood(), "20 wt%")
	narrow := evaluate(t, p).Blends[1].Results[CostChangePerMetre]
	assert.True(t, narrow.Certain())
	p.Spool.Diameter = q[quantity.Length]("1.75 ± 0.08 mm")
	assert.Equal(t, narrow, evaluate(t, p).Blends[1].Results[CostChangePerMetre])

	p.Materials[0].Density = q[quantity.Density]("1.24 ± 0.04 g/cm3")
	r := evaluate(t, p).Blends[1].Results[CostChangePerMetre]
	// change = 16.6/20·rho_c/rho_m - 1 with rho_m/rho_c = 0.8 + 0.2·rho_m/rho_f
	slope := -0.83 * 0.2 / 1450 / math.Pow(0.8+0.2*1240/1450.0, 2)
	assert.InEpsilon(t, 2*math.Abs(slope)*20*100, r.High-r.Value, 1e-6)
	independent := 0.83 * 1.2770 / 1.24 * math.Hypot(20/1240.0, 20/1240.0)
	assert.Less(t, r.High-r.Value, independent*2*100/5, "less than a fifth of what two independent densities would give")
}

// Factors have intervals on the logarithm: they never reach zero, and the
// exponent of the molar mass, 3.4 to 4.6, opens them upwards.
func TestFactorsHaveSkewedIntervals(t *testing.T) {
	p := bare(wood(), "15 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	r := evaluate(t, p).Blends[1].Results[MeltFlowWater]
	up, down := math.Log(r.High/r.Value), math.Log(r.Value/r.Low)
	assert.Greater(t, up, down*1.001, "more above than below")

	p.Materials[1].Moisture = q[quantity.Fraction]("1 ± 0.9 %")
	r = evaluate(t, p).Blends[1].Results[MeltFlowWater]
	assert.Positive(t, r.Low)
	p.Materials[1].Moisture = q[quantity.Fraction]("1 ± 80 %")
	r = evaluate(t, p).Blends[1].Results[MeltFlowWater]
	assert.Positive(t, r.Low)
	assert.True(t, r.Known())
}

// An interval on the logarithm is that of the value as long as it is narrow,
// and ends where nothing is known any more.
func TestIntervalsOnTheLogarithm(t *testing.T) {
	d := definition{log: true}
	low, high := d.interval(2, 0.001, 0.002)
	assert.InDelta(t, 2-0.002, low, 1e-5)
	assert.InDelta(t, 2+0.004, high, 1e-5)
	low, high = d.interval(2, 1e9, 1e9)
	assert.InEpsilon(t, 2e-12, low, 1e-9)
	assert.InEpsilon(t, 2e12, high, 1e-9)
	low, high = d.interval(0, 1, 1)
	assert.Equal(t, -2.0, low)
	assert.Equal(t, 2.0, high)
}

// Only the exponent is uncertain: the upper end is that of 4.6 to first order.
func TestExponentOpensUpwardsOnly(t *testing.T) {
	p := bare(wood(), "15 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	m := Compile(&p)
	for i := range m.inputs {
		if m.inputs[i].Pointer != "molar-mass exponent" {
			m.inputs[i].UMinus, m.inputs[i].UPlus = 0, 0
		}
	}
	r := m.Results()[1][MeltFlowWater]
	assert.Equal(t, r.Value, r.Low)
	assert.InEpsilon(t, math.Log(r.Value)/3.4*4.6, math.Log(r.High), 1e-6)
}

// An amount with an uncertainty and no balance: its neighbours are scaled, and
// nothing vanishes.
func TestAmountsMayBeUncertain(t *testing.T) {
	p := bare(wood(), "20 ± 1 wt%")
	p.Blends[1].Parts[0].Amount = amount("80 wt%")
	r := evaluate(t, p).Blends[1].Results[FillerMassFraction]
	require.True(t, r.Known())
	assert.InEpsilon(t, 20, r.Value, 1e-12)
	assert.InEpsilon(t, 0.8, r.High-r.Value, 1e-6, "d(x/(x+0.8))/dx = 0.8 at x = 0.2")

	p.Blends[1].Parts[0].Amount = amount("balance")
	r = evaluate(t, p).Blends[1].Results[FillerMassFraction]
	assert.InEpsilon(t, 1, r.High-r.Value, 1e-6)
}

// The readings of the sample: mean 1.75 mm, s 0.018257 mm, ten that count; Student's
// t for 9 degrees of freedom at 95 % is 2.262157 (tables), the caliper is ± 0.02 mm.
func TestDiameterFromReadings(t *testing.T) {
	p := sample(t, oliveStone)
	r := Compile(&p).Diameter()
	require.True(t, r.Known())
	assert.Equal(t, Measured, r.Basis)
	assert.InEpsilon(t, math.Sqrt(3.0628), r.Value, 1e-9)
	assert.InEpsilon(t, math.Hypot(2.262157*0.0182574/math.Sqrt(10), 0.02), r.High-r.Value, 1e-5)

	p.Spool.Gauge = quantity.Of[quantity.Length]{}
	p.Spool.Readings[3] = q[quantity.Length]("1.78 ± 0.02 mm")
	same := Compile(&p).Diameter()
	assert.InDelta(t, r.High, same.High, 1e-12, "the error of the caliper may stand with a reading")

	p.Spool.Readings = p.Spool.Readings[:1]
	one := Compile(&p).Diameter()
	assert.InEpsilon(t, 1.74, one.Value, 1e-12)
	assert.InEpsilon(t, 0.05, one.High-one.Value, 1e-9, "one reading keeps the ± of the diameter entered")
}

// Added water cuts chains and never joins them, so its factor is not below one,
// however wide its first-order interval; one found from a measurement may be.
func TestAddedWaterNeverThickens(t *testing.T) {
	p := sample(t, oliveStone)
	for _, b := range evaluate(t, p).Blends {
		assert.GreaterOrEqual(t, b.Results[MeltFlowWater].Low, 1.0, b.Name)
	}
	p.Blends[2].MeasuredFlow = q[quantity.Factor]("0.6 ± 0.1")
	assert.Less(t, evaluate(t, p).Blends[2].Results[MeltFlowWater].Low, 1.0)
}
