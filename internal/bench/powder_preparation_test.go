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
