package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// 50, 25, 15 g on the sieves and 10 g in the pan, typed in another order.
func TestSieveTableThroughAProject(t *testing.T) {
	p := quiet()
	stack(&p, "10", "63", "25", "125", "50", "45", "15").Charge = q[quantity.Mass]("99 g")
	s := evaluate(t, p).Powder(1).Sieving
	for i, want := range []struct {
		retained, passing float64
		mesh              string
	}{{25, 25, "No. 230"}, {50, 50, "No. 120"}, {15, 10, "No. 325"}} {
		assert.InDelta(t, want.retained, s.Rows[i].RetainedPercent, 1e-9)
		assert.InDelta(t, want.passing, s.Rows[i].PassingPercent, 1e-9)
		assert.Equal(t, want.mesh, s.Rows[i].Mesh)
	}
	assert.InDelta(t, 100*(100.0/99-1), s.Balance.Value, 1e-9)
	assert.InDelta(t, 45, s.D10.Size.Value, 1e-9, "10 % pass 45 µm")
	assert.InDelta(t, 125, s.D50.Size.Value, 1e-9)
	assert.True(t, s.D90.Above)
	assert.InDelta(t, 125, s.D90.Bound, 1e-9)
	assert.False(t, s.D90.Size.Known())
	for _, f := range s.Fits {
		assert.LessOrEqual(t, f.Misfit, 20.0, "in points of passing")
		assert.Greater(t, f.Misfit, 0.05, f.ID)
	}
}

// The figure of a size has the two sieves about it as its interval, and the largest
// grain the founding of what it comes from.
func TestSizesAsFigures(t *testing.T) {
	p := quiet()
	goodStack(&p)
	b := evaluate(t, p).Blends[1]
	assert.InDelta(t, 63, b.Result(SizeD50).Low, 1e-6)
	assert.InDelta(t, 90, b.Result(SizeD50).High, 1e-6)
	assert.Equal(t, Measured, b.Result(SizeD50).Basis)

	stack(&p, "20", "125", "0", "90", "25", "63", "30", "45", "20")
	top := evaluate(t, p).Blends[1].Result(TopSize)
	assert.False(t, top.Known(), "an empty sieve is the word of a sample")
	benchOf(&p).Sieving.CheckSieve = q[quantity.Length]("125 um")
	top = evaluate(t, p).Blends[1].Result(TopSize)
	printed.Equal(t, "163.3", top.Value, arith)
	benchOf(&p).Sieving.CheckSieve = q[quantity.Length]("106 um")
	top = evaluate(t, p).Blends[1].Result(TopSize)
	printed.Equal(t, "140.9", top.Value, arith)
	assert.Equal(t, Entered, top.Basis, "the maker says so")
}

// The powder that was weighed had 5 % of water, which goes into the liquid; its heap
// weighs as much less when it is dry. What the card says is of other powder.
func TestDampPowderOnTheScale(t *testing.T) {
	p := bare(powderOf("grains", "1.30 g/cm3", "1 EUR/kg"), "20 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("12 %")
	g := &benchOf(&p).Grain
	*g = material.Grain{
		Moisture: q[quantity.Fraction]("5 %"),
		Full:     q[quantity.Mass]("350 g"), Powder: q[quantity.Mass]("42 g"), FullWithPowder: q[quantity.Mass]("362 g"),
		LiquidDensity: q[quantity.Density]("0.80 g/cm3"), LiquidTemperature: q[quantity.Temperature]("20 degC"),
		HeapMass: q[quantity.Mass]("70 g"), HeapVolume: q[quantity.Volume]("125 mL"), TappedVolume: q[quantity.Volume]("100 mL"),
	}
	density, err := filler.Displacement{FilledKg: 0.350, PowderKg: 0.042, TogetherKg: 0.362, LiquidKgM3: 800, MoistureWet: 0.05}.GrainDensity()
	require.NoError(t, err)
	dry, err := filler.Displacement{FilledKg: 0.350, PowderKg: 0.042, TogetherKg: 0.362, LiquidKgM3: 800}.GrainDensity()
	require.NoError(t, err)
	require.Greater(t, math.Abs(density/dry-1), 0.005)
	s := evaluate(t, p).Powder(1).Grain
	assert.InEpsilon(t, density/1e3, s.Density.Value, 1e-9, "in the liquid that was entered")
	assert.InEpsilon(t, 0.56*0.95, s.Bulk.Value, 1e-9)
	assert.InEpsilon(t, 0.70*0.95, s.Tapped.Value, 1e-9)
	assert.InEpsilon(t, 100*0.70*0.95/(density/1e3), s.Packing.Value, 1e-9)
	assert.Equal(t, Entered, s.Packing.Basis)

	g.LiquidDensity = quantity.Of[quantity.Density]{}
	water := evaluate(t, p).Powder(1).Grain.Density.Value
	assert.Greater(t, water, s.Density.Value*1.2, "water of 20 °C displaces more")
	g.Full = quantity.Of[quantity.Mass]{}
	p.Materials[1].Sources = []material.Source{{Field: "density", Text: "from memory, confirm", Confirm: true}}
	assert.Equal(t, Estimated, evaluate(t, p).Powder(1).Grain.Packing.Basis, "over a density that is estimated")
}

// A mass without ± is known to the step of the scale: a/√12 as a standard
// uncertainty, of which two make the interval.
func TestStepOfTheScaleOnTheBench(t *testing.T) {
	p := bare(powderOf("grains", "1.30 g/cm3", "1 EUR/kg"), "20 wt%")
	p.Batch.BalanceResolution = q[quantity.Mass]("1 g")
	benchOf(&p).Grain = material.Grain{HeapMass: q[quantity.Mass]("70 g"), TappedVolume: q[quantity.Volume]("100 ± 0 mL")}
	s := evaluate(t, p).Powder(1).Grain
	assert.InEpsilon(t, 2*1/math.Sqrt(12)/100, s.Tapped.High-s.Tapped.Value, 1e-6)
	benchOf(&p).Grain.HeapMass = q[quantity.Mass]("70.0 ± 0.2 g")
	s = evaluate(t, p).Powder(1).Grain
	assert.InEpsilon(t, 0.2/100, s.Tapped.High-s.Tapped.Value, 1e-6, "the maker knows better")
}

// 140, 120, 110 g and on to 100 g: water over the whole mass and over the dry mass,
// row by row, and what the curve misses.
func TestRowsOfTheLog(t *testing.T) {
	p := bare(chalk(), "20 wt%")
	r := goodLog(&p)
	r.DryMass = q[quantity.Mass]("100 g")
	r.Readings[4].Masses[0] = q[quantity.Mass]("105.2 g") // 1 g above the curve
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.InDelta(t, 100*40/140.0, run.Rows[0].WetPercent, 1e-9)
	assert.InDelta(t, 40, run.Rows[0].DryPercent, 1e-9)
	assert.InDelta(t, 140, run.Rows[0].NetG, 1e-9)
	assert.InDelta(t, 1.5, run.Rows[4].TimeH, 1e-12)
	assert.Positive(t, run.Rows[4].ResidualG, "weighed less fitted")
	assert.InDelta(t, 4, run.LastH, 1e-12)

	// a lower end below nothing is none
	r.Readings[4].Masses[0] = q[quantity.Mass]("104.2 g")
	r.DryMass = q[quantity.Mass]("100 ± 1 g")
	s := evaluate(t, p)
	assert.Zero(t, s.Powder(1).Drying.Runs[0].Now.Low)
	now := s.Blends[1].Result(PowderMoisture)
	assert.InDelta(t, 0, now.Low, 1e-3)
	assert.InDelta(t, 1, now.High, 0.2)
}

// A target beyond the last weighing is an extrapolation, one before it is not.
func TestTargetBeyondTheLog(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("2 %")
	assert.False(t, evaluate(t, p).Blends[1].Drying.Extrapolated)
	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.15 %")
	u := evaluate(t, p).Blends[1].Drying
	assert.True(t, u.Extrapolated)
	assert.InEpsilon(t, u.Time.Value-4, u.Left.Value, 1e-9, "after four hours")
}

// The oven at another temperature leaves another moisture: what takes long in one
// cannot be had in the other.
func TestShiftKnowsTheOtherFloor(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.5 %")
	benchOf(&p).Drying.OtherTemperature = q[quantity.Temperature]("45 degC")
	require.Greater(t, filler.WetBasis(filler.OvenFloor(294.15, 0.5, 318.15)), 0.005, "dry air of 45 °C leaves more")
	u := evaluate(t, p).Blends[1].Drying
	assert.True(t, u.Time.Known())
	assert.False(t, u.Shifted.Known())
}

// Energy in the unit of the meter, and the law of the picture is that of the number.
func TestSheetsInTradeUnits(t *testing.T) {
	p := preparedPowder(t)
	benchOf(&p).Preparation.Steps[0].Energy = q[quantity.Energy]("12 kWh")
	s := evaluate(t, p)
	assert.InEpsilon(t, 12/2.82887, s.Powder(1).Preparation.EnergyPerKg.Value, 1e-5)

	benchOf(&p).Storage = material.Storage{
		Humidity: q[quantity.Fraction]("50 %"), Monolayer: q[quantity.Fraction]("4.5 %"), GABC: q[quantity.Factor]("12"), GABK: q[quantity.Factor]("0.85"),
	}
	storage := evaluate(t, p).Powder(1).Storage
	humidity, wet := storage.Isotherm(3, 100)
	assert.Equal(t, []float64{0, 50, 100}, humidity)
	assert.InDelta(t, storage.Equilibrium.Value, wet[1], 1e-9)
}

// A batch takes so much wet stuff as leaves, off the last step, the powder that is
// weighed in: 0.5 kg of strand with 20 wt% is 0.1 kg of dry powder.
func TestWetMassToFetch(t *testing.T) {
	p := preparedPowder(t)
	p.Spool.NetMass = q[quantity.Mass]("0.5 kg")
	r := evaluate(t, p).Blends[1].Fetch
	assert.InEpsilon(t, 0.1/0.97*3.53499, r.Value, 1e-5, "3 % of it is water when it leaves the last step")
	p.Materials[1].Moisture = q[quantity.Fraction]("2 %")
	s := evaluate(t, p)
	assert.Equal(t, r, s.Blends[1].Fetch, "whatever it holds when it is used")
	price, _ := s.Powder(1).Fed("price")
	assert.InEpsilon(t, s.Powder(1).Preparation.Cost.Value/0.97, price.Value.Value, 1e-9, "and so is the price of dry powder")
	dried := project.Clone(p)
	benchOf(&dried).Preparation.Steps[0] = material.Step{Kind: material.Dry, MassIn: q[quantity.Mass]("97 g"), MassOut: q[quantity.Mass]("40 g")}
	assert.InEpsilon(t, 0.1/0.98*3.53499, evaluate(t, dried).Blends[1].Fetch.Value, 1e-5, "while no step says it, that with which it is used")
	assert.False(t, s.Blends[0].Fetch.Known(), "no powder")
	unknown := project.Clone(p)
	unknown.Batch.StartUpLoss = quantity.Of[quantity.Mass]{}
	assert.False(t, evaluate(t, unknown).Blends[1].Fetch.Known(), "nor is the batch known")

	// a dry step after the sieve dries what the sieve lets through
	list := benchOf(&p).Preparation.Steps
	list[2].Recycled = q[quantity.Fraction]("50 %")
	benchOf(&p).Preparation.Steps = append(list[1:], list[0])
	heat, _, _ := dryingHeatRange()
	assert.InEpsilon(t, (1-0.40/0.97)/(0.40/0.97)*heat, derivedOf(&p, numEnergy), 1e-9, "of what comes to it, for what leaves it")
}

// What lay open took up water from the air, which nobody fetched.
func TestWaterFromTheAirIsNotFetched(t *testing.T) {
	p := preparedPowder(t)
	want := evaluate(t, p).Blends[1].Fetch.Value
	benchOf(&p).Storage = material.Storage{
		Equilibrium: q[quantity.Fraction]("9 %"), OpenTime: q[quantity.Duration]("100 h"), UptakeTime: q[quantity.Duration]("1 h"),
	}
	s := evaluate(t, p)
	assert.InDelta(t, 9, value(t, s, 1, PowderMoisture), 1e-6)
	assert.InEpsilon(t, want, s.Blends[1].Fetch.Value, 1e-9)
}
