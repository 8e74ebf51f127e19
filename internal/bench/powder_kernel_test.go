package bench

import (
	"fmt"
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

// derivedOf is a number of the bench in SI, with all its digits.
func derivedOf(p *project.Project, n powderNumber) float64 {
	m := Compile(p)
	return m.best()[m.powders[0].number(n)]
}

// A wet powder of 60 % is dried to 3 %, ground at 98 % and sieved at 70 %.
func preparedPowder(t *testing.T) project.Project {
	t.Helper()
	p := bare(wood(), "20 wt%")
	prep := steps(&p,
		material.Step{Kind: material.Dry, MoistureIn: q[quantity.Fraction]("60 %"), MoistureOut: q[quantity.Fraction]("3 %")},
		material.Step{Kind: material.Grind, Yield: q[quantity.Fraction]("98 %")},
		material.Step{Kind: material.Sift, Yield: q[quantity.Fraction]("70 %")})
	prep.WetMass, prep.WetPrice, prep.Transport = q[quantity.Mass]("10 kg"), q[quantity.PricePerMass]("0.20 EUR/kg"), q[quantity.PricePerMass]("0.10 EUR/kg")
	p.Cost.EnergyPrice = q[quantity.PricePerEnergy]("0.30 EUR/kWh")
	return p
}

func TestPreparationThroughAProject(t *testing.T) {
	p := preparedPowder(t)
	require.NoError(t, project.Validate(&p))
	printed.Equal(t, "0.282887", derivedOf(&p, numYield), arith)
	printed.Equal(t, "3.53499", derivedOf(&p, numWetPerUsable), arith)
	printed.Equal(t, "2.07726", derivedOf(&p, numWater), arith)
	heat, _, _ := dryingHeatRange()
	assert.InEpsilon(t, 2.07726*heat, derivedOf(&p, numEnergy), 1e-5, "the oven was not measured: water times the usual heat")
	assert.InEpsilon(t, (0.30+10*0.587629/10*heat/3.6e6*0.30)/0.282887, derivedOf(&p, numCost), 1e-4, "0.587629 kg of water leave each wet kilogram")

	s := evaluate(t, p)
	assert.Equal(t, "entered", s.Blends[1].Result(PreparationYield).Basis.String(), "moistures and yields were typed")
	assert.Equal(t, "estimated", s.Blends[1].Result(PreparedCost).Basis.String(), "so is the energy")
	sheet := s.Powder(1).Preparation
	assert.InEpsilon(t, 412.371, sheet.Steps[0].LeftG, 1e-5)

	// with 4.2864 kWh per usable kilogram measured: 2.6 MJ/kg at 0.35
	benchOf(&p).Preparation.Steps[0].Energy = q[quantity.Energy](fmt.Sprintf("%.8f kWh", 4.2864*2.82887))
	assert.InEpsilon(t, 4.2864*3.6e6, derivedOf(&p, numEnergy), 1e-5)
	assert.InEpsilon(t, (0.30+4.2864*0.282887*0.30)/0.282887, derivedOf(&p, numCost), 1e-5)
	assert.Equal(t, "entered", evaluate(t, p).Blends[1].Result(PreparedCost).Basis.String())
}

// Y = y/(1 - (1-y)·r): all oversize ground again leaves nothing but drying and
// the mill; half of it doubles the way of what comes back.
func TestGroundAgainThroughAProject(t *testing.T) {
	p := preparedPowder(t)
	benchOf(&p).Preparation.Steps[2].Recycled = q[quantity.Fraction]("50 %")
	assert.InEpsilon(t, 0.412371*0.98*0.70/0.85, derivedOf(&p, numYield), 1e-5)
	assert.InEpsilon(t, 0.412371*0.98, derivedOf(&p, numYieldAgain), 1e-5)
	assert.InEpsilon(t, 0.282887, derivedOf(&p, numYieldOnce), 1e-5)
	assert.Less(t, derivedOf(&p, numCostAgain), derivedOf(&p, numCostOnce), "nothing but powder is lost")
	assert.InEpsilon(t, 1/0.85, evaluate(t, p).Powder(1).Preparation.Steps[2].Passes, 1e-9)
}

// pageLog weighs 1 kg of dry powder while it dries by Page's law: k 0.012 1/minⁿ,
// n 1.15, from 1.5 on dry basis to 0.005, to more digits than any scale.
func pageLog(p *project.Project) {
	run := material.DryingRun{DryMass: q[quantity.Mass]("1000 g")}
	for _, minutes := range []float64{0, 10, 20, 30, 45, 60, 90, 120, 180, 240, 320} {
		moisture := 0.005 + 1.495*math.Exp(-0.012*math.Pow(minutes, 1.15))
		run.Readings = append(run.Readings, material.DryingReading{
			Time:   q[quantity.Duration](fmt.Sprintf("%g min", minutes)),
			Masses: []quantity.Of[quantity.Mass]{q[quantity.Mass](fmt.Sprintf("%.9f g", 1000*(1+moisture)))},
		})
	}
	benchOf(p).Drying.Runs = []material.DryingRun{run}
}

func TestPageThroughAProject(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Class = material.Mineral // of which the oven leaves nothing
	pageLog(&p)
	benchOf(&p).Drying.Runs[0].DryMass = quantity.Of[quantity.Mass]{} // so that the end mass is fitted: 1005 g
	s := evaluate(t, p)
	run := &s.Powder(1).Drying.Runs[0]
	require.Equal(t, 1, run.Better, "Page")
	assert.InEpsilon(t, 0.012, run.Fits[1].K.Value, 1e-5)
	assert.InEpsilon(t, 1.15, run.Fits[1].N.Value, 1e-5)
	assert.InEpsilon(t, 1005, run.Fits[1].End.Value, 1e-6)

	// the fitted end holds no water here, so that the target of 0.03 on a dry
	// kilogram is 30 g on the kilogram, and 1.03·1000/1005 - 1 on this basis
	target := 1030.0/1005 - 1
	benchOf(&p).Drying.Target = q[quantity.Fraction](fmt.Sprintf("%.10f %%", 100*target/(1+target)))
	s = evaluate(t, p)
	assert.InEpsilon(t, 159.332/60, s.Blends[1].Result(DryingTime).Value, 1e-5)
	assert.Equal(t, "measured", s.Blends[1].Result(DryingTime).Basis.String())
	_, wet, _, _ := run.Sample(3, 2)
	assert.InEpsilon(t, 0.264312, (wet[1]/(100-wet[1])*1005)/1495, 1e-5, "a moisture ratio of 0.264312 after 60 min")
}

// The oven leaves what wood holds at its humidity, and the powder keeps it.
func TestOvenFloorThroughAProject(t *testing.T) {
	p := bare(wood(), "20 wt%")
	inTheRoom(goodLog(&p))
	s := evaluate(t, p)
	floor := filler.OvenFloor(294.15, 0.5, 376.15)
	run := &s.Powder(1).Drying.Runs[0]
	assert.InEpsilon(t, floor*100, run.FloorDry.Value, 1e-9)
	assert.InDelta(t, 0.08, floor*100, 0.01, "dry air of 1 % humidity")
	assert.InEpsilon(t, 100/(1+floor), run.DryMass.Value, 2e-3)
	now := s.Blends[1].Result(PowderMoisture)
	assert.Greater(t, now.Value, run.Floor.Value)
	assert.GreaterOrEqual(t, (now.High-now.Low)/2, 0.25*run.Floor.Value*0.99, "the floor is known to a quarter only")
}

// 20 °C and 50 % humidity: 9.271 % on the dry basis, of which dry powder has taken
// up 63 % after one time constant.
func TestLyingOpenThroughAProject(t *testing.T) {
	p := bare(wood(), "20 wt%")
	dry := evaluate(t, p)
	benchOf(&p).Storage = material.Storage{
		Temperature: q[quantity.Temperature]("20 degC"), Humidity: q[quantity.Fraction]("50 %"),
		OpenTime: q[quantity.Duration]("2 h"), UptakeTime: q[quantity.Duration]("2 h"),
	}
	s := evaluate(t, p)
	printed.Equal(t, "9.271", s.Powder(1).Storage.EquilibriumDry.Value, "as published for wood, arithmetic from the stated inputs")
	after := 0.09271 * (1 - math.Exp(-1))
	assert.InEpsilon(t, 100*after/(1+after), s.Blends[1].Result(PowderMoisture).Value, 1e-4)
	assert.InEpsilon(t, 100*(0.2*after)/(1+0.2*after), s.Blends[1].Result(BlendMoisture).Value, 1e-4, "it flows into the blend")
	assert.Greater(t, value(t, s, 1, MeltFlowWater), 1.0)
	assert.Equal(t, 1.0, value(t, dry, 1, MeltFlowWater))

	benchOf(&p).Storage.OpenTime = q[quantity.Duration]("10000 h")
	assert.InEpsilon(t, 100*0.09271/1.09271, value(t, evaluate(t, p), 1, PowderMoisture), 1e-4, "never beyond")

	benchOf(&p).Storage = material.Storage{
		Humidity: q[quantity.Fraction]("50 %"), Monolayer: q[quantity.Fraction]("4.5 %"), GABC: q[quantity.Factor]("12"), GABK: q[quantity.Factor]("0.85"),
	}
	assert.InDelta(t, 7.033, evaluate(t, p).Powder(1).Storage.EquilibriumDry.Value, 5e-4, "GAB, arithmetic from the stated inputs")
}

// lawStack sieves 100 g of a law to more digits than any scale.
func lawStack(p *project.Project, law filler.SizeLaw, openings ...float64) {
	s := &benchOf(p).Sieving
	above := 1.0
	for _, um := range openings {
		passing := law.Passing(um * 1e-6)
		s.Sieves = append(s.Sieves, material.Sieve{
			Opening:  q[quantity.Length](fmt.Sprintf("%g um", um)),
			Retained: q[quantity.Mass](fmt.Sprintf("%.12f g", 100*(above-passing))),
		})
		above = passing
	}
	s.Pan = q[quantity.Mass](fmt.Sprintf("%.12f g", 100*above))
}

func TestLawsThroughAProject(t *testing.T) {
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	lawStack(&p, filler.RRSB{SizeM: 120e-6, Exponent: 1.8}, 355, 250, 180, 125, 90, 63, 45, 25)
	s := evaluate(t, p).Powder(1).Sieving
	for _, fit := range s.Fits[:2] {
		assert.InEpsilon(t, 120, fit.Size.Value, 1e-6, fit.ID)
		assert.InEpsilon(t, 1.8, fit.Shape.Value, 1e-6, fit.ID)
		printed.Equal(t, "60.2140", fit.Sauter.Value, arith)
	}
	for name, d := range map[string]Percentile{"34.3736": s.D10, "97.8928": s.D50, "190.7270": s.D90} {
		var exact float64
		_, err := fmt.Sscan(name, &exact)
		require.NoError(t, err)
		assert.True(t, d.Size.Low <= exact && exact <= d.Size.High, "%s lies between its sieves", name)
		assert.InEpsilon(t, exact, d.Size.Value, 0.07, "a straight line between two sieves is not the law")
	}

	p = bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	lawStack(&p, filler.LogNormal{MedianM: 80e-6, GSD: 1.6}, 250, 180, 125, 90, 63, 45, 25)
	s = evaluate(t, p).Powder(1).Sieving
	normal := s.Fits[2]
	require.Equal(t, "log_normal", normal.ID)
	assert.InEpsilon(t, 80, normal.Size.Value, 1e-4)
	assert.InEpsilon(t, 1.6, normal.Shape.Value, 1e-4)
	assert.InEpsilon(t, 71.6344, normal.Sauter.Value, 1e-4)
	assert.Equal(t, 2, s.Best)
}

// 0.02 % above 200 µm, 20 wt% of 1.35 g/cm3 in PLA: 35.37 grains per gram at the
// most, 21.45 in a metre of 1.75 mm.
func TestRetainedThroughAProject(t *testing.T) {
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	nozzle(&p, "0.6 mm")
	benchOf(&p).Clogging.Control = material.Control{Opening: q[quantity.Length]("200 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("0.02 g")}
	s := evaluate(t, p)
	printed.Equal(t, "200", s.Powder(1).Clogging.Critical.Value, "a third of the bore")
	e := s.Powder(1).Clogging.Evidence[0]
	require.Equal(t, FromRetained, e.Kind)
	printed.Equal(t, "35.37", e.PerKg.High/1000, arith)
	metre := s.Blends[1].Result(GrainsPerMetre)
	printed.Equal(t, "21.45", metre.High, arith)
	assert.Zero(t, metre.Low, "all of it may lie in few grains")
	assert.Equal(t, "measured", s.Powder(1).Clogging.Evidence[0].PerKg.Basis.String())
	assert.Equal(t, "estimated", metre.Basis.String(), "the density of the strand is that of a mix")
}

// None found in 100 g still allows 0.030 in a gram, 6.0 in a spool with 200 g.
func TestNoneFoundThroughAProject(t *testing.T) {
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	nozzle(&p, "0.6 mm")
	benchOf(&p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("60 g"), Size: q[quantity.Length]("200 um")}, {Mass: q[quantity.Mass]("40 g"), Size: q[quantity.Length]("200 um")}}
	s := evaluate(t, p)
	e := s.Powder(1).Clogging.Evidence[0]
	require.Equal(t, FromInspections, e.Kind)
	printed.Equal(t, "0.030", e.PerKg.High/1000, arith)
	chance := s.Blends[1].Result(ClogChancePerSpool)
	assert.InDelta(t, 6.0, -math.Log(1-chance.High/100), 0.05, "so many grains may be on the spool")
	assert.Zero(t, chance.Low)

	// less than 5 % over 330 m: 1.55434e-4 in a metre
	assert.InEpsilon(t, 0.05, filler.BlockChance(1.55434e-4, 330), 1e-5)
}

// A vessel of 250 g of water displaced by powder of 1.40 g/cm3, and a heap of it.
func TestDensitiesThroughAProject(t *testing.T) {
	p := bare(powderOf("grains", "1.30 g/cm3", "1 EUR/kg"), "20 wt%")
	byCard := evaluate(t, p)
	water := 0.9975
	benchOf(&p).Grain = material.Grain{
		Full: q[quantity.Mass]("350.00 g"), Powder: q[quantity.Mass]("42.00 g"), FullWithPowder: q[quantity.Mass](fmt.Sprintf("%.6f g", 350+42-42/1.40*water)),
		LiquidDensity: q[quantity.Density]("0.9975 g/cm3"),
		HeapMass:      q[quantity.Mass]("70 g"), HeapVolume: q[quantity.Volume]("125 mL"), TappedVolume: q[quantity.Volume]("100 mL"),
	}
	s := evaluate(t, p)
	g := s.Powder(1).Grain
	assert.InEpsilon(t, 1.40, g.Density.Value, 1e-6)
	assert.InEpsilon(t, 0.56, g.Bulk.Value, 1e-9)
	assert.InEpsilon(t, 0.70, g.Tapped.Value, 1e-9)
	assert.InEpsilon(t, 1.25, g.Hausner.Value, 1e-9)
	assert.InEpsilon(t, 50, s.Blends[1].Result(PackingLimit).Value, 1e-6, "0.70 over 1.40")
	assert.Equal(t, "entered", s.Blends[1].Result(PackingLimit).Basis.String(), "in a liquid whose density was typed")
	assert.InEpsilon(t, 1/(0.8/1.24+0.2/1.40), value(t, s, 1, DensityEstimated), 1e-6, "it stands in Blend")
	assert.NotEqual(t, value(t, byCard, 1, MeltFlowGrains), value(t, s, 1, MeltFlowGrains), "and in Melt")

	benchOf(&p).Grain.DensitySetAside, benchOf(&p).Grain.PackingSetAside = true, true
	s = evaluate(t, p)
	assert.Equal(t, value(t, byCard, 1, DensityEstimated), value(t, s, 1, DensityEstimated), "set aside, the card stands")
	assert.Equal(t, value(t, byCard, 1, PackingLimit), value(t, s, 1, PackingLimit))
	assert.True(t, s.Powder(1).Grain.Density.Known(), "and is shown all the same")
}
