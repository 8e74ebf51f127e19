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

// lewisRun weighs 1 kg of dry powder while it dries by Lewis's law from 1.5 on dry
// basis down to nothing, to more digits than any scale.
func lewisRun(temperature, layer string, perSecond float64) material.DryingRun {
	run := material.DryingRun{OvenTemperature: q[quantity.Temperature](temperature), Layer: q[quantity.Length](layer)}
	for i := range 12 {
		seconds := 0.6 * float64(i) / perSecond
		run.Readings = append(run.Readings, material.DryingReading{
			Time:   q[quantity.Duration](fmt.Sprintf("%.9f s", seconds)),
			Masses: []quantity.Of[quantity.Mass]{q[quantity.Mass](fmt.Sprintf("%.9f g", 1000+1500*math.Exp(-perSecond*seconds)))},
		})
	}
	return run
}

// groundsRuns are the rates of spent grounds in layers of 0.6 mm (Int. J. Chem. Eng.
// 2022, 2312147, table 3), as logs.
func groundsRuns() []material.DryingRun {
	return []material.DryingRun{
		lewisRun("50 degC", "0.6 mm", 0.0016), lewisRun("60 degC", "0.6 mm", 0.0030),
		lewisRun("70 degC", "0.6 mm", 0.0043), lewisRun("80 degC", "0.6 mm", 0.0053),
	}
}

func TestActivationEnergyThroughAProject(t *testing.T) {
	p := bare(wood(), "20 wt%")
	drying := &benchOf(&p).Drying
	energy := func() Result { return evaluate(t, p).Powder(1).Drying.Energy }
	usual := energy()
	assert.Equal(t, Estimated, usual.Basis)
	assert.InDelta(t, 38, usual.Value, 1e-9)

	drying.Runs = groundsRuns()
	four := energy()
	printed.Equal(t, "37.73", four.Value, "arithmetic from rates that were read")
	assert.Equal(t, Calibrated, four.Basis)
	assert.Greater(t, four.High-four.Value, 10.0, "four rates with this scatter tell little")

	drying.Runs = groundsRuns()[:2]
	two := energy()
	assert.InEpsilon(t, 8.314462618e-3*math.Log(30.0/16)/(1/323.15-1/333.15), two.Value, 1e-6)
	assert.Equal(t, Calibrated, two.Basis)

	drying.Runs = append(groundsRuns()[:2], lewisRun("70 degC", "6 mm", 0.01))
	assert.Equal(t, Estimated, energy().Basis, "of the layer that is used there is one rate")
	drying.Runs = groundsRuns()[:1]
	assert.Equal(t, Estimated, energy().Basis)

	drying.ActivationEnergy, drying.LayerExponent = q[quantity.MolarEnergy]("45 ± 6 kJ/mol"), q[quantity.Factor]("1.2 ± 0.1")
	own := evaluate(t, p).Powder(1).Drying
	assert.Equal(t, Entered, own.Energy.Basis)
	assert.InDelta(t, 39, own.Energy.Low, 1e-9)
	assert.InDelta(t, 51, own.Energy.High, 1e-9)
	assert.Equal(t, Entered, own.Exponent.Basis)
	assert.InDelta(t, 1.1, own.Exponent.Low, 1e-9)
}

// Of two runs to more digits than any scale, nothing but the ovens blurs the energy:
// E·T/(R·T²) of each over 1/(R·T1) - 1/(R·T2).
func TestTwoRunsKnowTheEnergyByTheirOvensAndRates(t *testing.T) {
	p := bare(wood(), "20 wt%")
	drying := &benchOf(&p).Drying
	wide := func(change func(d *material.Drying)) float64 {
		drying.Runs = []material.DryingRun{lewisRun("60 degC", "6 mm", 0.0005), lewisRun("80 degC", "6 mm", 0.001)}
		change(drying)
		s := evaluate(t, p).Powder(1).Drying
		require.Equal(t, "runs", s.EnergyFrom)
		assert.InEpsilon(t, s.Energy.Value-s.Energy.Low, s.Energy.High-s.Energy.Value, 1e-9)
		return (s.Energy.High - s.Energy.Value) / s.Energy.Value
	}
	apart := 1/333.15 - 1/353.15
	ovens := func(cold, warm float64) float64 { return math.Hypot(cold/333.15/333.15, warm/353.15/353.15) / apart }
	unstated := wide(func(*material.Drying) {})
	assert.InEpsilon(t, 2*ovens(1, 1), unstated, 1e-6, "1 K of standard uncertainty, where nothing is said")
	assert.InEpsilon(t, ovens(4, 2), wide(func(d *material.Drying) {
		d.Runs[0].OvenTemperature = q[quantity.Temperature]("60 ± 4 degC")
	}), 1e-6, "a ± that is entered counts instead")
	assert.InEpsilon(t, ovens(0.2, 0.2), wide(func(d *material.Drying) {
		d.Runs[0].OvenTemperature, d.Runs[1].OvenTemperature = q[quantity.Temperature]("60.0 ± 0.2 degC"), q[quantity.Temperature]("80.0 ± 0.2 degC")
	}), 1e-6)

	scattered := func(d *material.Drying) {
		for i := range d.Runs[1].Readings {
			m := &d.Runs[1].Readings[i].Masses[0]
			*m = q[quantity.Mass](fmt.Sprintf("%.6f g", m.SI()*1e3+20*math.Cos(math.Pi*float64(i)))) // up and down in turn
		}
	}
	both := wide(scattered)
	drying.Target = q[quantity.Fraction]("10 %")
	fit := evaluate(t, p).Powder(1).Drying.Runs[1].Fits[0].K // k of Lewis is the rate
	rates := math.Log(fit.High / fit.Value)
	energy := math.Log(fit.Value*1000/30) / apart // 0.0005 per second is 30 per 1000 minutes
	assert.InEpsilon(t, math.Hypot(rates/apart/energy, unstated), both, 1e-3, "and what the weighings scatter by")
}

// What two runs tell of the energy is not taken where it tells less than is usual,
// and why is said.
func TestRunsThatTellNothingOfTheEnergy(t *testing.T) {
	p := bare(wood(), "20 wt%")
	drying := &benchOf(&p).Drying
	for name, c := range map[string]struct {
		from string
		runs []material.DryingRun
	}{
		"none":         {"usual", nil},
		"one":          {"usual", groundsRuns()[:1]},
		"same oven":    {"usual", []material.DryingRun{lewisRun("80 degC", "6 mm", 0.001), lewisRun("80 degC", "6 mm", 0.0012)}},
		"9 K apart":    {"too_close", []material.DryingRun{lewisRun("80 degC", "6 mm", 0.001), lewisRun("89 degC", "6 mm", 0.0015)}},
		"no faster":    {"not_faster", []material.DryingRun{lewisRun("80 degC", "6 mm", 0.001), lewisRun("95 degC", "6 mm", 0.0009)}},
		"10 K apart":   {"runs", groundsRuns()[:2]},
		"three within": {"runs", groundsRuns()[:3]},
	} {
		drying.Runs = c.runs
		s := evaluate(t, p).Powder(1).Drying
		assert.Equal(t, c.from, s.EnergyFrom, name)
		if c.from != "runs" {
			assert.Equal(t, Estimated, s.Energy.Basis, name)
			assert.InDeltaSlice(t, []float64{10, 38, 56}, []float64{s.Energy.Low, s.Energy.Value, s.Energy.High}, 1e-9, name)
		}
	}
	drying.Runs = []material.DryingRun{lewisRun("80 degC", "6 mm", 0.001), lewisRun("95 degC", "6 mm", 0.00103)}
	drying.Runs[0].OvenTemperature = q[quantity.Temperature]("80 ± 12 degC")
	s := evaluate(t, p).Powder(1).Drying
	require.Equal(t, "runs", s.EnergyFrom)
	assert.GreaterOrEqual(t, s.Energy.Low, 0.0, "nothing dries more slowly in the heat")
	drying.ActivationEnergy = q[quantity.MolarEnergy]("45 kJ/mol")
	assert.Equal(t, "entered", evaluate(t, p).Powder(1).Drying.EnergyFrom)
}

// Three runs on a line by chance know the energy no better than their ovens do.
func TestThreeRunsOnALineAreNotExact(t *testing.T) {
	at := func(celsius float64) material.DryingRun {
		kelvin := 273.15 + celsius
		return lewisRun(fmt.Sprintf("%g degC", celsius), "6 mm", 0.001*math.Exp(40e3/8.314462618*(1/353.15-1/kelvin)))
	}
	p := bare(wood(), "20 wt%")
	benchOf(&p).Drying.Runs = []material.DryingRun{at(60), at(80), at(100)}
	s := evaluate(t, p).Powder(1).Drying
	assert.InEpsilon(t, 40, s.Energy.Value, 1e-6)
	mean, sum, spread := (1/333.15+1/353.15+1/373.15)/3, 0.0, 0.0
	for _, kelvin := range []float64{333.15, 353.15, 373.15} {
		sum += math.Pow((1/kelvin-mean)/kelvin/kelvin, 2) // 1 K of each
		spread += math.Pow(1/kelvin-mean, 2)
	}
	assert.InEpsilon(t, 40*2*math.Sqrt(sum)/spread, s.Energy.High-s.Energy.Value, 1e-5)
}

// Where the numbers of a shift are entered exactly, nothing but their ± widens the
// time there: ln t by Ea/(R·T²)·ΔT and by m·ΔL/L.
func TestSpreadOfTheOvenWidensTheShift(t *testing.T) {
	shifted := func(change func(p *project.Project)) Result {
		p := bare(wood(), "20 wt%")
		p.Materials[1].Class = material.Mineral // that keeps nothing in either oven
		drying := &benchOf(&p).Drying
		drying.Runs = []material.DryingRun{lewisRun("80 degC", "6 mm", 0.001)}
		drying.Target = q[quantity.Fraction]("10 %")
		drying.ActivationEnergy, drying.LayerExponent = q[quantity.MolarEnergy]("40 kJ/mol"), q[quantity.Factor]("1.1")
		drying.OtherTemperature, drying.OtherLayer = q[quantity.Temperature]("90 degC"), q[quantity.Length]("9 mm")
		change(&p)
		r := evaluate(t, p).Blends[1].Drying.Shifted
		require.True(t, r.Known())
		return r
	}
	exact := shifted(func(*project.Project) {})
	factor := math.Exp(40e3/8.314462618*(1/353.15-1/363.15)) * math.Pow(9.0/6, -1.1)
	assert.InEpsilon(t, math.Log(1.5/(1.0/9))/0.001/factor/3600, exact.Value, 1e-6)
	assert.Less(t, exact.High/exact.Low, 1+1e-6)

	for name, c := range map[string]struct {
		change func(d *material.Drying)
		log    float64
	}{
		"oven":        {func(d *material.Drying) { d.Runs[0].OvenTemperature = q[quantity.Temperature]("80 ± 3 degC") }, 40e3 / 8.314462618 / 353.15 / 353.15 * 3},
		"other oven":  {func(d *material.Drying) { d.OtherTemperature = q[quantity.Temperature]("90 ± 3 degC") }, 40e3 / 8.314462618 / 363.15 / 363.15 * 3},
		"energy":      {func(d *material.Drying) { d.ActivationEnergy = q[quantity.MolarEnergy]("40 ± 10 kJ/mol") }, 10e3 / 8.314462618 * (1/353.15 - 1/363.15)},
		"layer":       {func(d *material.Drying) { d.Runs[0].Layer = q[quantity.Length]("6.0 ± 0.6 mm") }, 1.1 * 0.1},
		"other layer": {func(d *material.Drying) { d.OtherLayer = q[quantity.Length]("9.0 ± 0.9 mm") }, 1.1 * 0.1},
		"exponent":    {func(d *material.Drying) { d.LayerExponent = q[quantity.Factor]("1.1 ± 0.2") }, 0.2 * math.Log(1.5)},
	} {
		wide := shifted(func(p *project.Project) { c.change(&benchOf(p).Drying) })
		assert.InEpsilon(t, exact.Value, wide.Value, 1e-9, name)
		assert.InEpsilon(t, c.log, math.Log(wide.High/wide.Value), 1e-4, name)
		assert.InEpsilon(t, math.Log(wide.High/wide.Value), math.Log(wide.Value/wide.Low), 1e-6, name)
	}
}

// The tables of wood end at 132 °C: beyond, nobody knows what the other oven leaves,
// nor in one that is colder than the dew of the room. What holds no water anyway may
// go into any oven.
func TestNoShiftToAnOvenOfWhichTheFloorIsNotKnown(t *testing.T) {
	p := quiet()
	run := goodLog(&p)
	inTheRoom(run)
	drying := &benchOf(&p).Drying
	drying.Target = q[quantity.Fraction]("2 %")
	use := func(other string) DryingUse {
		drying.OtherTemperature = q[quantity.Temperature](other)
		u := evaluate(t, p).Blends[1].Drying
		require.True(t, u.Time.Known())
		assert.Equal(t, "temperature", u.ShiftedTo)
		assert.Equal(t, u.Shifted.Known(), u.ShiftedWhy == "")
		return u
	}
	for _, class := range []material.Class{material.Organic, ""} {
		p.Materials[1].Class = class
		assert.True(t, use("120 degC").Shifted.Known(), "%q", class)
		assert.Equal(t, "floor", use("135 degC").ShiftedWhy, "%q", class)
		assert.Equal(t, "floor", use("10 degC").ShiftedWhy, "%q: what comes in at 50 %% and 21 °C is dew there", class)
		assert.Equal(t, "beyond", use("22 degC").ShiftedWhy, "%q", class)
	}
	drying.OtherLayer, run.Layer = q[quantity.Length]("5 mm"), q[quantity.Length]("8 mm")
	u := evaluate(t, p).Blends[1].Drying
	assert.Equal(t, "both", u.ShiftedTo)
	drying.OtherLayer = quantity.Of[quantity.Length]{}

	run.RoomHumidity = quantity.Of[quantity.Fraction]{}
	assert.True(t, use("135 degC").Shifted.Known(), "where nothing is known of either oven, nothing stays in both")
	p.Materials[1].Class = material.Mineral
	inTheRoom(run)
	assert.True(t, use("200 degC").Shifted.Known())
}

// From an oven beyond the tables to one within them: what stays there is known.
func TestShiftFromAnOvenBeyondTheTables(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = ""
	run := goodLog(&p)
	inTheRoom(run)
	run.OvenTemperature = q[quantity.Temperature]("140 degC")
	drying := &benchOf(&p).Drying
	drying.Target, drying.OtherTemperature = q[quantity.Fraction]("0.5 %"), q[quantity.Temperature]("45 degC")
	u := evaluate(t, p).Blends[1].Drying
	require.True(t, u.Time.Known())
	assert.Equal(t, "beyond", u.ShiftedWhy)
}

// Moisture in equilibrium through a project, on dry basis: GAB with Xm 4.5 %, C 12
// and K 0.85, and wood at 20 °C (arithmetic from the stated inputs).
func TestEquilibriumThroughAProject(t *testing.T) {
	for humidity, want := range map[string][2]string{"30 %": {"4.858", "6.188"}, "50 %": {"7.033", "9.271"}, "70 %": {"10.515", ""}, "65 %": {"", "11.996"}} {
		p := bare(wood(), "20 wt%")
		storage := &benchOf(&p).Storage
		storage.Humidity, storage.Temperature = q[quantity.Fraction](humidity), q[quantity.Temperature]("20 degC")
		s := evaluate(t, p).Powder(1).Storage
		require.Equal(t, "wood", s.From)
		if want[1] != "" {
			printed.Equal(t, want[1], s.EquilibriumDry.Value, arith)
		}
		assert.InEpsilon(t, 100*filler.WetBasis(s.EquilibriumDry.Value/100), s.Equilibrium.Value, 1e-12)
		assert.InEpsilon(t, 0.25*s.EquilibriumDry.Value, s.EquilibriumDry.High-s.EquilibriumDry.Value, 1e-6, "wood stands in for it")

		storage.Monolayer, storage.GABC, storage.GABK = q[quantity.Fraction]("4.5 %"), q[quantity.Factor]("12"), q[quantity.Factor]("0.85")
		s = evaluate(t, p).Powder(1).Storage
		require.Equal(t, "gab", s.From)
		if want[0] != "" {
			printed.Equal(t, want[0], s.EquilibriumDry.Value, arith)
		}
		assert.Equal(t, Calibrated, s.EquilibriumDry.Basis)
	}
}

// The chance per spool is that of the grains in its length: less than 5 % over a
// length L takes less than -ln(0.95)/L in a metre, 1.55434e-4 over 330 m.
func TestChanceIsThatOfTheLength(t *testing.T) {
	perMetre := func(chance, metres float64) float64 { return -math.Log1p(-chance) / metres }
	printed.Equal(t, "1.55434e-4", perMetre(0.05, 330), arith)
	p := sample(t, oliveStone)
	p.Spool.Weighed = quantity.Of[quantity.Mass]{}
	b := evaluate(t, p).Blends[2]
	chance, metres := b.Result(ClogChancePerSpool), b.Result(LengthPerSpool)
	require.True(t, chance.Known() && metres.Known())
	assert.InEpsilon(t, perMetre(chance.Value/100, metres.Value), b.Result(GrainsPerMetre).Value, 1e-9)
	assert.InEpsilon(t, perMetre(b.Result(ClogChancePerPrint).Value/100, metres.Value*0.06), b.Result(GrainsPerMetre).Value, 1e-9, "60 g of a spool of 1 kg")
}
