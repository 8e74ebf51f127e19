package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// The ± of a dry mass that was entered moves every moisture of the log alike.
func TestSpreadOfTheDryMass(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Class = material.Mineral // that keeps nothing
	p.Materials[0].MoistureLimit = q[quantity.Fraction]("0.5 %")
	pageLog(&p)
	run := &benchOf(&p).Drying.Runs[0]
	run.DryMass = q[quantity.Mass]("1005 g")
	exact := evaluate(t, p)
	run.DryMass = q[quantity.Mass]("1005 ± 4 g")
	s := evaluate(t, p)
	for name, pair := range map[string][2]Result{
		"at the start": {exact.Powder(1).Drying.Runs[0].InitialDry, s.Powder(1).Drying.Runs[0].InitialDry},
		"at the end":   {exact.Powder(1).Drying.Runs[0].NowDry, s.Powder(1).Drying.Runs[0].NowDry},
	} {
		assert.InDelta(t, pair[0].Value, pair[1].Value, 1e-12, name)
		assert.Less(t, pair[0].High-pair[0].Low, 1e-4, "the masses are exact")
		assert.InEpsilon(t, (1+pair[1].Value/100)*4/1005*100, pair[1].High-pair[1].Value, 1e-3, name)
	}
	_, _, _, high := s.Powder(1).Drying.Runs[0].Sample(2, 1)
	assert.InEpsilon(t, s.Powder(1).Drying.Runs[0].Initial.High, high[0], 1e-9, "as the band of the picture")
	assert.InDelta(t, 1009, s.Powder(1).Drying.Runs[0].DryMass.High, 1e-9)
	assert.InDelta(t, 1001, s.Powder(1).Drying.Runs[0].DryMass.Low, 1e-9)
	before, after := exact.Blends[1].Result(DryingTime), s.Blends[1].Result(DryingTime)
	assert.InEpsilon(t, before.Value, after.Value, 1e-9)
	assert.Greater(t, after.High-after.Low, 100*(before.High-before.Low))

	// one standard uncertainty less gives another time, and Student's factor of 8
	// degrees of freedom makes it an interval
	run.DryMass = q[quantity.Mass]("1003 g")
	moved := value(t, evaluate(t, p), 1, DryingTime)
	assert.InEpsilon(t, 2.306*math.Abs(math.Log(before.Value/moved)), math.Log(after.High/after.Value), 0.05)

	benchOf(&p).Drying.Runs[0].Readings = benchOf(&p).Drying.Runs[0].Readings[10:]
	run = &benchOf(&p).Drying.Runs[0]
	run.DryMass = q[quantity.Mass]("1000 ± 4 g")
	alone := evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.Equal(t, -1, alone.Better, "one weighing makes no curve")
	assert.InEpsilon(t, 0.4, (alone.NowDry.High-alone.NowDry.Low)/2, 0.05)
}

// A ± on a weighing widens what hangs on it, and nothing else.
func TestWeighingWidensWhatHangsOnIt(t *testing.T) {
	p := bare(powderOf("grains", "1.30 g/cm3", "1 EUR/kg"), "20 wt%")
	displaced(&p, "363.5 g")
	exact := evaluate(t, p)
	benchOf(&p).Grain.FullWithPowder = q[quantity.Mass]("363.5 ± 0.4 g")
	s := evaluate(t, p)
	for _, f := range Figures() {
		before, after := exact.Blends[1].Result(f), s.Blends[1].Result(f)
		if !after.Known() {
			continue
		}
		wider := after.High-after.Low > before.High-before.Low+1e-12
		hangs := f == Density || f == DensityEstimated || f == FillerVolumeFraction || f == MetresPerKg || f == LengthPerSpool ||
			f == CostPerMetre || f == MeltFlow || f == MeltFlowGrains || f == FillerMeltFraction || f == MaterialCostChange ||
			f == CostChangePerMetre || f == BreakEvenFillerPrice || f == BreakEvenLongRun || f == SavingPerSpool || f == PullerSpeed ||
			f == ViscosityRise || f == StrengthKeptFlat || f == StrengthKeptUpright
		assert.Equal(t, hangs, wider, f.Key())
	}
}

// widens compares the intervals of two projects, figure by figure.
func widens(t *testing.T, exact, wide project.Project) (figures []Figure) {
	t.Helper()
	a, b := evaluate(t, exact), evaluate(t, wide)
	for _, f := range Figures() {
		before, after := a.Blends[1].Result(f), b.Blends[1].Result(f)
		assert.Equal(t, before.Known(), after.Known(), f.Key())
		assert.InDelta(t, before.Value, after.Value, 1e-9*(1+math.Abs(before.Value)), "the value stays: %s", f.Key())
		if after.High-after.Low > (before.High-before.Low)*(1+1e-6)+1e-12 {
			figures = append(figures, f)
		}
	}
	return figures
}

// Each ± of the bench widens what hangs on it, and nothing else.
func TestSpreadsWidenWhatHangsOnThem(t *testing.T) {
	money := []Figure{
		MaterialCostPerKg, MaterialCostChange, CostPerKg, CostPerMetre, CostPerSpool, CostChangePerMetre,
		SavingPerSpool, ChangeoverCost, ExtraCostPerRun, PurgeCost99,
	}
	for _, c := range []struct {
		name  string
		with  func(b *material.Powder)
		wider []Figure
	}{
		{"mass in", func(b *material.Powder) { b.Preparation.Steps[0].MassIn = q[quantity.Mass]("10 ± 0.3 kg") }, append([]Figure{PreparationYield, PreparedCost}, money...)},
		{"wet price", func(b *material.Powder) { b.Preparation.WetPrice = q[quantity.PricePerMass]("1 ± 0.3 EUR/kg") }, append([]Figure{PreparedCost}, money...)},
		{"time of a step", func(b *material.Powder) { b.Preparation.Steps[1].Time = q[quantity.Duration]("60 ± 20 min") }, append([]Figure{PreparedCost}, money...)},
		{"tapped volume", func(b *material.Powder) { b.Grain.TappedVolume = q[quantity.Volume]("140 ± 5 mL") }, []Figure{PackingLimit, MeltFlow, MeltFlowGrains, ViscosityRise}},
		{"poured volume", func(b *material.Powder) { b.Grain.HeapVolume = q[quantity.Volume]("200 ± 5 mL") }, nil},
		{"store", func(b *material.Powder) { b.Storage.Humidity = q[quantity.Fraction]("50 ± 5 %") }, []Figure{PowderMoisture, BlendMoisture, MeltFlow, MeltFlowWater, MeltFlowWaterBound, WaterFromPowder, VapourFraction, MolarMassLoss, WaterUse}},
		{"target", func(b *material.Powder) { b.Drying.Target = q[quantity.Fraction]("1 ± 0.3 %") }, []Figure{DryingTime}},
	} {
		t.Run(c.name, func(t *testing.T) {
			exact := spreads()
			wide := project.Clone(exact)
			c.with(benchOf(&wide))
			assert.ElementsMatch(t, keys(c.wider), keys(widens(t, exact, wide)))
		})
	}
}

func keys(figures []Figure) (list []string) {
	for _, f := range figures {
		list = append(list, f.Key())
	}
	return list
}

// spreads is a project with a bench on which every number is exact, and where work
// and purge cost something, so that nothing is nothing.
func spreads() project.Project {
	p := bare(wood(), "20 wt%")
	p.Materials[0].MoistureLimit = q[quantity.Fraction]("0.5 %")
	p.Batch.Purge, p.Cost.Labour = q[quantity.Mass]("100 g"), q[quantity.PricePerTime]("5 EUR/h")
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("1 %")
	benchOf(&p).Storage = material.Storage{
		Temperature: q[quantity.Temperature]("20 degC"), Humidity: q[quantity.Fraction]("50 %"),
		OpenTime: q[quantity.Duration]("1 h"), UptakeTime: q[quantity.Duration]("5 h"),
	}
	prep := steps(&p, material.Step{Kind: material.Wash, MassIn: q[quantity.Mass]("10 kg"), MassOut: q[quantity.Mass]("8 kg")},
		material.Step{Kind: material.Grind, Yield: q[quantity.Fraction]("90 %"), Time: q[quantity.Duration]("60 min")})
	prep.WetMass, prep.WetPrice, prep.Transport = q[quantity.Mass]("10 kg"), q[quantity.PricePerMass]("1 EUR/kg"), q[quantity.PricePerMass]("0 EUR/kg")
	benchOf(&p).Grain = material.Grain{
		HeapMass: q[quantity.Mass]("100 g"), HeapVolume: q[quantity.Volume]("200 ± 0 mL"), TappedVolume: q[quantity.Volume]("140 ± 0 mL"),
	}
	return p
}

// Nothing holds less water than none: a ± about nothing goes one way, all the way.
func TestMoistureAboutNothingGoesOneWay(t *testing.T) {
	p := quiet()
	benchOf(&p).Storage.Equilibrium, benchOf(&p).Storage.OpenTime = q[quantity.Fraction]("5 %"), q[quantity.Duration]("1 s")
	high := func(moisture string) float64 {
		p.Materials[1].Moisture = q[quantity.Fraction](moisture)
		b := evaluate(t, p).Blends[1]
		assert.GreaterOrEqual(t, b.Result(WaterFromPowder).Low, 0.0, moisture)
		return b.Result(PowderMoisture).High
	}
	assert.InEpsilon(t, high("0.001 ± 0.2 %"), high("0 ± 0.2 %"), 0.02)
}
