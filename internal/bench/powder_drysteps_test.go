package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// driedByLog has goodLog, from 40 % on the dry basis (28.6 % wet) to next to nothing,
// beside steps, and a preparation of which all is paid.
func driedByLog(list ...material.Step) project.Project {
	p := bare(wood(), "20 wt%")
	p.Spool.NetMass = q[quantity.Mass]("0.5 kg")
	goodLog(&p)
	prep := steps(&p, list...)
	prep.WetMass, prep.WetPrice, prep.Transport = q[quantity.Mass]("10 kg"), q[quantity.PricePerMass]("1 EUR/kg"), q[quantity.PricePerMass]("0 EUR/kg")
	return p
}

// dryStep is a drying from one moisture to another; an empty text is one not given.
func dryStep(in, out string) material.Step {
	s := material.Step{Kind: material.Dry, Energy: q[quantity.Energy]("0 kWh")}
	if in != "" {
		s.MoistureIn = q[quantity.Fraction](in)
	}
	if out != "" {
		s.MoistureOut = q[quantity.Fraction](out)
	}
	return s
}

// logEnds are the moistures at the ends of the log on the wet basis.
func logEnds(t *testing.T, p project.Project) (first, last float64) {
	t.Helper()
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	require.True(t, run.Initial.Known() && run.Now.Known())
	return run.Initial.Value / 100, run.Now.Value / 100
}

// A log is of one stay in the oven: of two dryings without data, the last takes it, and
// the other says that nothing tells its yield.
func TestOneDryingTakesTheLog(t *testing.T) {
	p := driedByLog(dryStep("", ""), dryStep("", ""))
	s := evaluate(t, p)
	assert.Equal(t, "", s.Powder(1).Preparation.Steps[0].From)
	assert.Equal(t, "log", s.Powder(1).Preparation.Steps[1].From)
	assert.False(t, s.Blends[1].Result(PreparationYield).Known())
	n, found := note(s.Blends[1].Notes, "step_yield_missing")
	require.True(t, found)
	assert.Equal(t, benchAt+"/preparation/steps/0/yield", n.Field)

	first, last := logEnds(t, p)
	benchOf(&p).Preparation.Steps[0] = dryStep("60 %", "30 %")
	assert.InEpsilon(t, 0.4/0.7*(1-first)/(1-last), derivedOf(&p, numYield), 1e-9, "air, then the oven")
	benchOf(&p).Preparation.Steps = []material.Step{dryStep("", ""), dryStep("1 %", "0.5 %")}
	assert.InEpsilon(t, (1-first)/(1-last)*0.99/0.995, derivedOf(&p, numYield), 1e-9, "a last drying with data of its own needs no log")
}

// One moisture that was entered stands beside the other of the log: for yield and
// water, and for price and fetch as well.
func TestOneMoistureBesideTheLog(t *testing.T) {
	first, last := logEnds(t, driedByLog())
	for _, c := range []struct {
		in, out   string
		from, to  float64
		said      string
		yieldFrom Basis
	}{
		{"", "", first, last, "log", Measured},
		{"", "5 %", first, 0.05, "moistures", Entered},
		{"60 %", "", 0.60, last, "moistures", Entered},
		{"60 %", "5 %", 0.60, 0.05, "moistures", Entered},
	} {
		p := driedByLog(dryStep(c.in, c.out))
		s := evaluate(t, p)
		name := c.in + " to " + c.out
		yield := (1 - c.from) / (1 - c.to)
		assert.Equal(t, c.said, s.Powder(1).Preparation.Steps[0].From, name)
		assert.Equal(t, c.yieldFrom, s.Blends[1].Result(PreparationYield).Basis, name)
		assert.InEpsilon(t, yield, derivedOf(&p, numYield), 1e-9, name)
		assert.InEpsilon(t, 1/yield-1, derivedOf(&p, numWater), 1e-9, name)
		assert.InEpsilon(t, 1/yield/(1-c.to), derivedOf(&p, numCostDry), 1e-9, name)
		assert.InEpsilon(t, 1/(1-c.from), derivedOf(&p, numCostDry), 1e-9, "%s: the dry mass stays the same", name)
		assert.InEpsilon(t, 0.1/(1-c.from), s.Blends[1].Fetch.Value, 1e-9, name)
	}
}

// What the powder holds when it leaves the last step is what the last drying left,
// unless a step behind it wets it: then what it holds when it is used.
func TestMoistureOfWhatLeavesTheSteps(t *testing.T) {
	kept := func(kind material.StepKind) material.Step {
		return material.Step{Kind: kind, Yield: q[quantity.Fraction]("90 %")}
	}
	told := kept(material.Wash)
	told.MoistureOut = q[quantity.Fraction]("30 %")
	for name, c := range map[string]struct {
		behind material.Step
		want   float64
	}{
		"grind":                 {kept(material.Grind), 0.05},
		"sieve":                 {kept(material.Sift), 0.05},
		"own step":              {kept(material.OwnStep), 0.05},
		"no kind":               {kept(""), 0.05},
		"wash":                  {kept(material.Wash), 0.02},
		"extract":               {kept(material.Extract), 0.02},
		"drying without an end": {kept(material.Dry), 0.02},
		"wash with an end":      {told, 0.30},
	} {
		p := bare(wood(), "20 wt%")
		p.Materials[1].Moisture = q[quantity.Fraction]("2 %")
		prep := steps(&p, dryStep("60 %", "5 %"), c.behind, kept(material.Grind))
		prep.Steps[1].Energy = q[quantity.Energy]("0 kWh")
		prep.WetMass, prep.WetPrice, prep.Transport = q[quantity.Mass]("10 kg"), q[quantity.PricePerMass]("1 EUR/kg"), q[quantity.PricePerMass]("0 EUR/kg")
		assert.InEpsilon(t, derivedOf(&p, numCost)/(1-c.want), derivedOf(&p, numCostDry), 1e-9, name)
	}
}

// A note of a step leads to what is missing or odd in it, and says which step it is.
func TestNotesOfStepsLeadToTheMember(t *testing.T) {
	kg, percent := q[quantity.Mass], q[quantity.Fraction]
	for name, c := range map[string]struct {
		step          material.Step
		id, leadsInto string
	}{
		"nothing":               {material.Step{Kind: material.Dry}, "step_yield_missing", "yield"},
		"mass in alone":         {material.Step{MassIn: kg("6 kg")}, "step_yield_missing", "mass_out"},
		"mass out alone":        {material.Step{MassOut: kg("6 kg")}, "step_yield_missing", "mass_in"},
		"moisture in alone":     {dryStep("60 %", ""), "step_yield_missing", "moisture_out"},
		"moisture out alone":    {dryStep("", "5 %"), "step_yield_missing", "moisture_in"},
		"of no mass":            {material.Step{MassIn: kg("0 kg"), MassOut: kg("6 kg")}, "step_yield_impossible", "mass_in"},
		"to no mass":            {material.Step{MassIn: kg("6 kg"), MassOut: kg("0 kg")}, "step_yield_impossible", "mass_out"},
		"no yield":              {material.Step{Yield: percent("0 %")}, "step_yield_impossible", "yield"},
		"drying that wets":      {dryStep("5 %", "10 %"), "step_gains", "moisture_out"},
		"drying that gains":     {material.Step{Kind: material.Dry, Yield: percent("110 %")}, "step_gains", "yield"},
		"grinding that gains":   {material.Step{Kind: material.Grind, MassIn: kg("6 kg"), MassOut: kg("6.1 kg")}, "step_gains", "mass_out"},
		"sieving that gains":    {material.Step{Kind: material.Sift, Yield: percent("101 %")}, "step_gains", "yield"},
		"washing may":           {material.Step{Kind: material.Wash, Yield: percent("110 %")}, "", ""},
		"a step of one's own":   {material.Step{Kind: material.OwnStep, Yield: percent("110 %")}, "", ""},
		"grinding that loses":   {material.Step{Kind: material.Grind, Yield: percent("99 %")}, "", ""},
		"grinding without loss": {material.Step{Kind: material.Grind, Yield: percent("100 %")}, "", ""},
	} {
		p := quiet()
		steps(&p, material.Step{Yield: percent("90 %")}, c.step)
		notes := evaluate(t, p).Blends[1].Notes
		for _, id := range []string{"step_yield_missing", "step_yield_impossible", "step_gains"} {
			n, found := note(notes, id)
			require.Equal(t, id == c.id, found, "%s: %s", name, id)
			if found {
				assert.Equal(t, benchAt+"/preparation/steps/1/"+c.leadsInto, n.Field, name)
				assert.Equal(t, 2, n.Values["Row"], name)
			}
		}
	}
}

// Beside a log, drying to more than went in is mended at the moisture that was entered.
func TestDryingThatWetsBesideTheLog(t *testing.T) {
	for member, step := range map[string]material.Step{
		"moisture_out": dryStep("", "50 %"), "moisture_in": dryStep("0.001 %", ""),
	} {
		p := driedByLog(step)
		n, found := note(evaluate(t, p).Blends[1].Notes, "step_gains")
		require.True(t, found, member)
		assert.Equal(t, benchAt+"/preparation/steps/0/"+member, n.Field)
	}
}
