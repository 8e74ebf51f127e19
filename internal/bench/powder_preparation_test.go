package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// While nothing is paid per run, a kilogram costs the same whether a small or a
// large mass is fetched, or nobody says how much. The oven takes its part.
func TestCostOfAKilogramKnowsNoRun(t *testing.T) {
	p := preparedPowder(t)
	want, energy := derivedOf(&p, numCost), derivedOf(&p, numEnergy)
	assert.InEpsilon(t, 0.30*3.53499+energy/3.6e6*0.30, want, 1e-5, "what is fetched, and the oven")
	for _, mass := range []string{"1 kg", "250 kg", ""} {
		benchOf(&p).Preparation.WetMass = quantity.Of[quantity.Mass]{}
		if mass != "" {
			benchOf(&p).Preparation.WetMass = q[quantity.Mass](mass)
		}
		assert.InEpsilon(t, want, derivedOf(&p, numCost), 1e-12, mass)
		assert.InEpsilon(t, energy, derivedOf(&p, numEnergy), 1e-12, mass)
		s := evaluate(t, p)
		assert.Equal(t, Estimated, s.Blends[1].Result(PreparedCost).Basis, mass)
		assert.Equal(t, Estimated, s.Powder(1).Preparation.EnergyPerKg.Basis, mass)
	}

	p.Cost.EnergyPrice = quantity.Of[quantity.PricePerEnergy]{}
	n, found := note(evaluate(t, p).Blends[1].Notes, "preparation_unpriced")
	require.True(t, found, "the oven has a price that is asked for")
	assert.Equal(t, "/cost/energy_price", n.Field)
}

// What is paid per run needs the run; energy per kilogram does not hang on work.
func TestRunIsAskedForWhereItIsPaid(t *testing.T) {
	p := preparedPowder(t)
	benchOf(&p).Preparation.WetMass = quantity.Of[quantity.Mass]{}
	energy := derivedOf(&p, numEnergy)
	for name, change := range map[string]func(s *material.Step){
		"cost": func(s *material.Step) { s.Cost = q[quantity.Price]("1 EUR") },
		"time": func(s *material.Step) { s.Time = q[quantity.Duration]("1 h") },
	} {
		p := project.Clone(p)
		change(&benchOf(&p).Preparation.Steps[1])
		s := evaluate(t, p)
		assert.False(t, s.Blends[1].Result(PreparedCost).Known(), name)
		assert.InEpsilon(t, energy, derivedOf(&p, numEnergy), 1e-12, name)
		n, found := note(s.Blends[1].Notes, "preparation_unpriced")
		require.True(t, found, name)
		assert.Equal(t, benchAt+"/preparation/wet_mass", n.Field, name)
	}
	benchOf(&p).Preparation.Steps[1].Energy = q[quantity.Energy]("1 kWh")
	assert.False(t, evaluate(t, p).Powder(1).Preparation.EnergyPerKg.Known(), "of a run of unknown size")
}

// Moistures that were typed the other way round: no oven gives energy back.
func TestOvenNeverPays(t *testing.T) {
	p := preparedPowder(t)
	dry := &benchOf(&p).Preparation.Steps[0]
	dry.MoistureIn, dry.MoistureOut = dry.MoistureOut, dry.MoistureIn
	assert.Zero(t, derivedOf(&p, numEnergy))
	assert.InEpsilon(t, 0.30/(0.97/0.40*0.98*0.70), derivedOf(&p, numCost), 1e-9)
}

// A step of which nothing is known does not put the blame on those after it.
func TestOneStepWithoutAYieldIsNotedOnce(t *testing.T) {
	p := preparedPowder(t)
	benchOf(&p).Preparation.Steps[0].MoistureOut = quantity.Of[quantity.Fraction]{}
	notes := evaluate(t, p).Blends[1].Notes
	assert.Contains(t, noteIDs(notes), "step_yield_missing")
	assert.NotContains(t, noteIDs(notes), "step_yield_impossible")

	benchOf(&p).Preparation.Steps[2].Yield = q[quantity.Fraction]("0 %")
	n, found := note(evaluate(t, p).Blends[1].Notes, "step_yield_impossible")
	require.True(t, found, "but what is wrong with them is said")
	assert.Equal(t, benchAt+"/preparation/steps/2/yield", n.Field)
}

// A maker who sets aside the moisture at the end of the log, because this powder
// lay elsewhere, still has the yield of the oven from it.
func TestYieldOfTheLogStaysWhenItsMoistureIsSetAside(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("2 %")
	goodLog(&p)
	steps(&p, material.Step{Kind: material.Dry}, material.Step{Kind: material.Grind, Yield: q[quantity.Fraction]("95 %")})
	byLog := evaluate(t, p)
	require.Equal(t, "log", byLog.Powder(1).Preparation.Steps[0].From)
	assert.InEpsilon(t, 0.95*100.1/140, value(t, byLog, 1, PreparationYield)/100, 2e-3, "from the first weighing to the last")
	assert.Less(t, value(t, byLog, 1, PowderMoisture), 0.2)

	benchOf(&p).Drying.SetAside = true
	s := evaluate(t, p)
	assert.Equal(t, value(t, byLog, 1, PreparationYield), value(t, s, 1, PreparationYield))
	assert.InDelta(t, 2, value(t, s, 1, PowderMoisture), 1e-9, "the card's moisture is back")
	assert.Equal(t, Entered, s.Blends[1].Result(PowderMoisture).Basis)
	_, fed := s.Powder(1).Fed("moisture")
	assert.False(t, fed)
}

// Washing and drying by the masses before and after: 6 kg take up water to 6.5 kg,
// and leave the oven as 3.9 kg; a quarter of that is lost.
func TestPreparationByMasses(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("2 %")
	wash := material.Step{Kind: material.Wash, MassIn: q[quantity.Mass]("6 kg"), MassOut: q[quantity.Mass]("6.5 kg"), Cost: q[quantity.Price]("3 EUR")}
	dry := material.Step{Kind: material.Dry, MassIn: q[quantity.Mass]("6.5 kg"), MassOut: q[quantity.Mass]("3.9 kg"), Energy: q[quantity.Energy]("0 kWh")}
	prep := steps(&p, wash, dry, material.Step{Kind: material.OwnStep, Yield: q[quantity.Fraction]("75 %")})
	prep.WetPrice, prep.Transport = q[quantity.PricePerMass]("0.50 EUR/kg"), q[quantity.PricePerMass]("0.10 EUR/kg")
	p.Cost.EnergyPrice, p.Cost.Labour = quantity.Of[quantity.PricePerEnergy]{}, quantity.Of[quantity.PricePerTime]{}

	usable := 6.5 / 6 * 3.9 / 6.5 * 0.75
	assert.InEpsilon(t, usable, derivedOf(&p, numYield), 1e-12)
	assert.InEpsilon(t, 6.5/6*(1-3.9/6.5)/usable, derivedOf(&p, numWater), 1e-12, "what the washing brought in goes too")
	want := (0.60 + 3.0/6) / usable
	assert.InEpsilon(t, want, derivedOf(&p, numCost), 1e-12, "what goes into the first step is the run; no energy and no work need no price")
	assert.InEpsilon(t, want/0.98, derivedOf(&p, numCostDry), 1e-12, "2 % of what is weighed is water")
	s := evaluate(t, p)
	assert.Equal(t, "masses", s.Powder(1).Preparation.Steps[0].From)
	assert.InEpsilon(t, want/0.98*0.2+20*0.8, value(t, s, 1, MaterialCostPerKg), 1e-9, "a blend takes dry powder")
}

// y 0.7 at the sieve: ground once, mill and sieve see each kilogram once. With half
// of the oversize sent back, as it was run, they see 1/0.85 of it, and with all of
// it 1/0.7: their energy and work grow as much, those of the oven do not.
func TestCostOfGrindingAgain(t *testing.T) {
	p := preparedPowder(t)
	p.Cost.Labour = q[quantity.PricePerTime]("6 EUR/h")
	list := benchOf(&p).Preparation.Steps
	list[0].Energy = q[quantity.Energy]("20 kWh")
	list[1].Energy, list[1].Time = q[quantity.Energy]("4 kWh"), q[quantity.Duration]("60 min")
	list[2].Time, list[2].Recycled = q[quantity.Duration]("30 min"), q[quantity.Fraction]("50 %")
	fixed, milling := 10*0.30+20*0.30, 4*0.30+6+3.0
	for n, c := range map[powderNumber]struct{ yield, load float64 }{
		numCost:      {0.70 / 0.85, 1},
		numCostOnce:  {0.70, 0.85},
		numCostAgain: {1, 0.85 / 0.70},
	} {
		assert.InEpsilon(t, (fixed+milling*c.load)/(10*0.40/0.97*0.98*c.yield), derivedOf(&p, n), 1e-9, "%d", n)
	}
}

// Each price that a usable kilogram waits for is asked for where it is entered.
func TestEachMissingPriceIsAskedFor(t *testing.T) {
	for field, change := range map[string]func(p *project.Project){
		benchAt + "/preparation/wet_price": func(p *project.Project) {
			benchOf(p).Preparation.WetPrice = quantity.Of[quantity.PricePerMass]{}
		},
		benchAt + "/preparation/transport": func(p *project.Project) {
			benchOf(p).Preparation.Transport = quantity.Of[quantity.PricePerMass]{}
		},
		"/cost/energy_price": func(p *project.Project) { p.Cost.EnergyPrice = quantity.Of[quantity.PricePerEnergy]{} },
		"/cost/labour":       func(p *project.Project) { p.Cost.Labour = quantity.Of[quantity.PricePerTime]{} },
	} {
		p := preparedPowder(t)
		benchOf(&p).Preparation.Steps[1].Time = q[quantity.Duration]("30 min")
		require.True(t, evaluate(t, p).Blends[1].Result(PreparedCost).Known())
		change(&p)
		s := evaluate(t, p)
		assert.False(t, s.Blends[1].Result(PreparedCost).Known(), field)
		n, found := note(s.Blends[1].Notes, "preparation_unpriced")
		require.True(t, found, field)
		assert.Equal(t, field, n.Field)
		assert.Len(t, n.Values["Fields"], 1, field)
		assert.Contains(t, n.Blocks, PreparedCost, field)
		price, is := s.Powder(1).Fed("price")
		assert.False(t, is, "%s: %v", field, price)
	}
}
