package bench

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// The check values of this file are arithmetic from the inputs stated beside
// them, done independently of the program and given to the digits shown. They
// go through a whole project here, so that the joints are tested with the
// formulas.

const arith = "arithmetic from the stated inputs"

// PLA of 1.24 g/cm3 with wood flour of 1.45 g/cm3.
func TestDensityVolumeAndPHRFromEndToEnd(t *testing.T) {
	for _, row := range []struct{ w, phi, rho, phr string }{
		{"0.05", "0.04307", "1.24904", "5.263"},
		{"0.10", "0.08677", "1.25822", "11.111"},
		{"0.15", "0.13112", "1.26754", "17.647"},
		{"0.20", "0.17614", "1.27699", "25.000"},
		{"0.30", "0.26820", "1.29632", "42.857"},
		{"0.40", "0.36310", "1.31625", "66.667"},
		{"0.50", "0.46097", "1.33680", "100.000"},
	} {
		t.Run(row.w, func(t *testing.T) {
			w := q[quantity.Factor](row.w).SI()
			s := evaluate(t, bare(wood(), fmt.Sprintf("%g wt%%", w*100)))
			printed.Equal(t, row.rho, value(t, s, 1, Density), arith)
			printed.Equal(t, row.phi, value(t, s, 1, FillerVolumeFraction)/100, arith)
			assert.InEpsilon(t, w*100, value(t, s, 1, FillerMassFraction), 1e-12)

			s = evaluate(t, bare(wood(), row.phr+" phr"))
			assert.InDelta(t, w, value(t, s, 1, FillerMassFraction)/100, 1e-5)
		})
	}
	s := evaluate(t, bare(wood(), "20 vol%"))
	printed.Equal(t, "22.621", value(t, s, 1, FillerMassFraction), arith)
}

// 77 wt% PLA, 20 wt% coffee grounds of 1.30 g/cm3, 3 wt% oil of 0.92 g/cm3.
func TestThreePartsFromEndToEnd(t *testing.T) {
	p := bare(powderOf("grounds", "1.30 g/cm3", "0 EUR/kg"), "20 wt%")
	p.Materials = append(p.Materials, material.Material{
		ID: "oil", Kind: material.Additive, Class: material.MineralOil,
		Density: q[quantity.Density]("0.92 g/cm3"), Price: q[quantity.PricePerMass]("10 EUR/kg"),
	})
	p.Blends[1].Parts = append(p.Blends[1].Parts, project.Part{Material: "oil", Amount: amount("3 wt%")})
	s := evaluate(t, p)
	printed.Equal(t, "1.23851", value(t, s, 1, Density), arith)
	printed.Equal(t, "0.19054", value(t, s, 1, FillerVolumeFraction)/100, arith)
	assert.InEpsilon(t, 0.77*20+0.03*10, value(t, s, 1, CostPerKg), 1e-12)
}

// 20 wt% wood, PLA at 20/kg. The extra conversion cost per kg of blend is
// entered as wear.
func TestCostAndBreakEvenFromEndToEnd(t *testing.T) {
	for _, row := range []struct {
		powder                           material.Material
		perKg, perKgChange, change, even string
		evenWithWear, metres             string
	}{
		{wood(), "16.600", "-17.0", "-14.52", "17.10345", "7.10345", "325.57"},
		{chalk(), "16.200", "-19.0", "-9.14", "9.15129", "-0.84871", "298.91"},
	} {
		t.Run(row.powder.Name, func(t *testing.T) {
			p := bare(row.powder, "20 wt%")
			s := evaluate(t, p)
			printed.Equal(t, row.perKg, value(t, s, 1, CostPerKg), arith)
			printed.Equal(t, row.perKgChange, (value(t, s, 1, CostPerKg)/value(t, s, 0, CostPerKg)-1)*100, arith)
			printed.Equal(t, row.change, value(t, s, 1, CostChangePerMetre), arith)
			printed.Equal(t, row.change, value(t, s, 1, MaterialCostChange), arith)
			printed.Equal(t, row.even, value(t, s, 1, BreakEvenFillerPrice), arith)
			printed.Equal(t, row.metres, value(t, s, 1, MetresPerKg), arith)
			density := row.powder.Density.SI()
			assert.InEpsilon(t, 20*1240/density, value(t, s, 1, BreakEvenFillerPrice), 1e-12, "c_m·rho_m/rho_f")
			assert.InEpsilon(t, value(t, s, 1, BreakEvenFillerPrice), value(t, s, 1, BreakEvenLongRun), 1e-12, "nothing is purged")

			p.Cost.Wear = q[quantity.PricePerMass]("2 EUR/kg")
			s = evaluate(t, p)
			printed.Equal(t, row.evenWithWear, value(t, s, 1, BreakEvenFillerPrice), arith)
			assert.InEpsilon(t, 20*1240/density-2/0.2, value(t, s, 1, BreakEvenFillerPrice), 1e-12, "less delta/w")
			_, never := note(s.Blends[1].Notes, "cannot_pay")
			assert.Equal(t, row.evenWithWear[0] == '-', never)
		})
	}
}

// At the price that breaks even a metre costs the same, whatever is lost and
// paid for on the way.
func TestBreakEvenPriceBreaksEven(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		p.Batch.Spools = 40 // else the price is below zero, which cannot be entered
		last := len(p.Blends) - 1
		powder := p.MaterialByID(p.Blends[last].Parts[1].Material)
		p.Materials[powder].Powder.Preparation.SetAside = true // the price of the card is what is varied
		price := value(t, evaluate(t, p), last, BreakEvenFillerPrice)
		p.Materials[powder].Price = quantity.FromSI[quantity.PricePerMass](price, "EUR/kg", 15)
		s := evaluate(t, p)
		assert.InDelta(t, 0, value(t, s, last, CostChangePerMetre), 1e-9, name)

		price = value(t, s, last, BreakEvenLongRun)
		p.Materials[powder].Price = quantity.FromSI[quantity.PricePerMass](price, "EUR/kg", 15)
		assert.InDelta(t, 0, value(t, evaluate(t, p), last, SavingPerSpool), 1e-9, name)
	}
}

// Costs by hand: 2 spools of 0.75 kg, 40 g start-up, 120 g purge, 5 % scrap; 0.9 kW
// at 0.32/kWh and 2/h of work for 0.5 kg/h; 0.15/kg wear and 10 min more work a run.
func TestCostsOfMakingByHand(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Batch = project.Batch{
		Spools: 2, StartUpLoss: q[quantity.Mass]("40 g"), Purge: q[quantity.Mass]("120 g"), Scrap: q[quantity.Fraction]("5 %"),
	}
	p.Cost = project.Cost{
		EnergyPrice: q[quantity.PricePerEnergy]("0.32 EUR/kWh"), Power: q[quantity.Power]("0.9 kW"),
		Throughput: q[quantity.MassFlow]("0.5 kg/h"), Labour: q[quantity.PricePerTime]("2 EUR/h"),
		Wear: q[quantity.PricePerMass]("0.15 EUR/kg"), ExtraTime: q[quantity.Duration]("10 min"),
		EmptySpool: q[quantity.Price]("0.5 EUR"), BoughtPrice: q[quantity.Price]("25 EUR"), BoughtMass: q[quantity.Mass]("0.8 kg"),
	}
	p.Spool.NetMass = q[quantity.Mass]("0.75 kg")
	s := evaluate(t, p)
	conversion := (0.9*0.32 + 2) / 0.5
	plainKg, filledKg := (20+conversion)/0.95, (16.6+conversion)/0.95+0.15 // a kilogram of strand by itself
	purge := (16.6 + conversion) * 0.12 / 0.95
	plainRun := (20 + conversion) * 0.04 / 0.95
	filledRun := (16.6+conversion)*0.04/0.95 + purge + 10.0/60*2
	plain, filled := plainKg+plainRun/1.5, filledKg+filledRun/1.5
	rho := 1 / (0.8/1.24 + 0.2/1.45)
	area := math.Pi / 4 * 1.75e-3 * 1.75e-3
	for f, want := range map[Figure]float64{
		MaterialCostPerKg:  16.6,
		ChangeoverCost:     purge,
		CostPerKg:          filled,
		CostPerSpool:       filled*0.75 + 0.5,
		CostPerMetre:       filled * rho * 1000 * area,
		CostChangePerMetre: (filled*rho/(plain*1.24) - 1) * 100,
		SavingPerSpool:     (plainKg*1.24/rho - filledKg) * 0.75, // a spool of blend against as many metres of plain strand
		ExtraCostPerRun:    filledRun - plainRun*1.24/rho,        // the same length again
		CostChangeBought:   ((filled+0.5/0.75)*rho/(25/0.8*1.24) - 1) * 100,
		// 0.2 kg of powder in a kilogram through the line; per metre as dear as plain
		BreakEvenLongRun:     ((plainKg*1.24/rho-0.15)*0.95 - 16 - conversion) / 0.2,
		BreakEvenFillerPrice: ((plain*1.24/rho-0.15-10.0/60*2/1.5)*1.5*0.95/1.66 - 16 - conversion) / 0.2,
	} {
		assert.InEpsilon(t, want, value(t, s, 1, f), 1e-9, f.Key())
	}
	assert.InEpsilon(t, plain, value(t, s, 0, CostPerKg), 1e-9)
	assert.Zero(t, value(t, s, 0, SavingPerSpool))
	assert.Zero(t, value(t, s, 0, ExtraCostPerRun))
	assert.Zero(t, value(t, s, 0, ChangeoverCost), "the reference is what runs anyway")
	assert.InEpsilon(t, ((plain+0.5/0.75)/(25/0.8)-1)*100, value(t, s, 0, CostChangeBought), 1e-9)
	assert.InEpsilon(t, (1500+160.0)/0.95, s.Blends[1].Batch.ChargeG, 1e-9)
}

// One kilogram of 1.24 g/cm3; 1.277538 g/cm3 with the readings of the sample; 430 g left.
func TestLengthsFromEndToEnd(t *testing.T) {
	p := bare(wood(), "20 wt%")
	printed.Equal(t, "335.284", value(t, evaluate(t, p), 0, LengthPerSpool), arith)
	printed.Equal(t, "335.284", value(t, evaluate(t, p), 0, MetresPerKg), arith)
	p.Spool.Diameter = q[quantity.Length]("2.85 mm")
	printed.Equal(t, "126.415", value(t, evaluate(t, p), 0, LengthPerSpool), arith)

	p.Spool.Diameter = q[quantity.Length]("1.75 mm")
	p.Blends[1].MeasuredDensity = q[quantity.Density]("1.277538 g/cm3")
	p.Spool.Weighed, p.Spool.EmptyMass = q[quantity.Mass]("640 g"), q[quantity.Mass]("210 g")
	printed.Equal(t, "139.936", value(t, evaluate(t, p), 1, RemainingLength), arith)
	p.Spool.Readings = sample(t, oliveStone).Spool.Readings
	printed.Equal(t, "325.400", value(t, evaluate(t, p), 1, LengthPerSpool), arith)
}

// 200 g of dry powder at 6 % moisture: 212.7660 g on the scale, 12.7660 g of it water.
func TestWeighingFromEndToEnd(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("6 %")
	b := evaluate(t, p).Blends[1].Batch
	require.True(t, b.Known)
	printed.Equal(t, "200.000", b.Rows[1].DryG, arith)
	printed.Equal(t, "212.7660", b.Rows[1].WeighG, arith)
	printed.Equal(t, "12.7660", b.Rows[1].WaterG, arith)
	assert.InEpsilon(t, b.Rows[0].WeighG+b.Rows[1].WeighG, b.Total.WeighG, 1e-12)
	assert.InEpsilon(t, 1000, b.Total.DryG, 1e-12)
	assert.InEpsilon(t, 100, b.Total.MassPercent, 1e-12)
	assert.InEpsilon(t, 100, b.Total.VolumePercent, 1e-12)
}

// 1.000 kg, 0.120 kg fixed loss, 4 %: 1.166667 kg.
func TestChargeFromEndToEnd(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Batch.StartUpLoss, p.Batch.Scrap = q[quantity.Mass]("0.120 kg"), q[quantity.Fraction]("4 %")
	s := evaluate(t, p)
	printed.Equal(t, "1.166667", s.Blends[0].Batch.ChargeG/1000, arith)
	p.Batch.StartUpLoss, p.Batch.Purge = q[quantity.Mass]("50 g"), q[quantity.Mass]("70 g")
	s = evaluate(t, p)
	printed.Equal(t, "1.166667", s.Blends[1].Batch.ChargeG/1000, arith+", a purge being lost too")
	assert.InEpsilon(t, 1.05/0.96, s.Blends[0].Batch.ChargeG/1000, 1e-12, "but not for the reference")
}

// A masterbatch of 40 % let down to 15 %: 0.37500.
func TestLetDownFromEndToEnd(t *testing.T) {
	p := bare(wood(), "15 wt%")
	p.Blends[1].Masterbatch = q[quantity.Fraction]("40 %")
	l := evaluate(t, p).Blends[1].Batch.LetDown
	require.True(t, l.Possible)
	printed.Equal(t, "0.37500", l.Share, arith)
	assert.InEpsilon(t, 375, l.MasterG, 1e-9)
	assert.InEpsilon(t, 625, l.ResinG, 1e-9)
	assert.InEpsilon(t, 5.0/3, l.Ratio, 1e-9)
}

// 20 % wood, measured 1.20 g/cm3: 6.0289 % voids.
func TestVoidsFromEndToEnd(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Blends[1].MeasuredDensity = q[quantity.Density]("1.20 g/cm3")
	s := evaluate(t, p)
	printed.Equal(t, "6.0289", value(t, s, 1, VoidFraction), arith)
	printed.Equal(t, "1.27699", value(t, s, 1, DensityEstimated), arith)
	assert.InEpsilon(t, 1.2, value(t, s, 1, Density), 1e-12)
}

// 20 wt% wood, packing limit 0.50, melt 1.08 g/cm3: 0.15698 of the volume, relative
// viscosity 2.1247, so that a melt flow rate of 6 falls to 2.9758.
func TestGrainsFromEndToEnd(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].PackingLimit = q[quantity.Fraction]("50 %")
	s := evaluate(t, p)
	printed.Equal(t, "15.698", value(t, s, 1, FillerMeltFraction), arith)
	printed.Equal(t, "2.9758", 6*value(t, s, 1, MeltFlowGrains), arith)
	assert.Equal(t, 1.0, value(t, s, 1, MeltFlowWater), "dry powder")
	assert.Equal(t, 1.0, value(t, s, 1, MeltFlowOil), "powder without oil")
	assert.Equal(t, value(t, s, 1, MeltFlowGrains), value(t, s, 1, MeltFlow))
}

// 20 wt% grounds with 12 % oil: w_oil 0.02913, flow x1.1143. The oil effect is
// fitted to 30 wt% of coffee oil in PLA raising the melt flow by 205 %.
func TestOilFromEndToEnd(t *testing.T) {
	p := bare(powderOf("grounds", "1.30 g/cm3", "0 EUR/kg"), "20 wt%")
	p.Materials[1].OilContent = q[quantity.Fraction]("12 %")
	printed.Equal(t, "1.1143", value(t, evaluate(t, p), 1, MeltFlowOil), arith)
}

// Water by hand: 15 wt% of powder at 1 % moisture and pellets at 250 ppm, 200 °C,
// 180 s, Mn 100 kg/mol. First-order reaction of the water with 2.6e-4 1/s at
// 210 °C and 49.6 kJ/mol, scission by heat with 160.16 kJ/mol, exponent 3.4.
func TestWaterByHand(t *testing.T) {
	p := bare(wood(), "15 wt%")
	p.Materials[0].Moisture = q[quantity.Fraction]("250 ppm")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	s := evaluate(t, p)

	own := 250e-6 / (1 - 250e-6)
	added := 0.15 / 0.85 * 0.01 / 0.99
	assert.InDelta(t, 1765e-6, 0.15/0.85*0.01, 1e-6, "1765 ppm on the PLA, as counted on damp powder")
	inverse := 1/473.15 - 1/483.15
	hydrolysis := 2.6e-4 * math.Exp(-49.6e3/8.314462618*inverse)
	printed.Equal(t, "2.003", hydrolysis*1e4, arith)
	thermal := 1.0637e-5 * math.Exp(-160.16e3/8.314462618*inverse)
	mn := func(water float64) float64 {
		return 1 / (1/100.0 + water/0.018015*(1-math.Exp(-hydrolysis*180)) + thermal*180)
	}
	printed.Equal(t, "88.4", mn(250e-6), arith) // 88.372 with the rate of heat rounded to 1.06e-8
	assert.InEpsilon(t, math.Pow(mn(own)/mn(own+added), 3.4), value(t, s, 1, MeltFlowWater), 1e-9)
	bound := 1 / (1/100.0 + (own+added)/0.018015)
	assert.InEpsilon(t, math.Pow(100/bound, 3.4), value(t, s, 1, MeltFlowWaterBound), 1e-9)
	product := value(t, s, 1, MeltFlowGrains) * value(t, s, 1, MeltFlowWater) * value(t, s, 1, MeltFlowOil)
	assert.InEpsilon(t, product, value(t, s, 1, MeltFlow), 1e-12)

	assert.InEpsilon(t, own*1e6, value(t, s, 1, WaterFromPellets), 1e-12)
	assert.InEpsilon(t, added*1e6, value(t, s, 1, WaterFromPowder), 1e-12)

	water := 0.85*own + 0.15*0.01/0.99
	assert.InEpsilon(t, water/(1+water)*100, value(t, s, 1, BlendMoisture), 1e-12)
}

// Against measurement: 15 wt% of coffee silverskin in PLA raised the melt flow
// at 180 °C from 3.5 to 5.8 g/10 min (abstract of a published study; the
// moisture of 1 % and the 2 to 6 min of a small line are assumed). The rate of
// scission was not fitted to it. The band has to hold the measurement, and the
// grains alone must not.
func TestSilverskinRaisesTheFlowOfPLA(t *testing.T) {
	p := bare(powderOf("silverskin", "1.30-1.45 g/cm3", "0 EUR/kg"), "15 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	p.Materials[1].PackingLimit = q[quantity.Fraction]("45-55 %")
	p.Melt.Temperature, p.Melt.Residence = q[quantity.Temperature]("180 degC"), q[quantity.Duration]("4 ± 2 min")
	s := evaluate(t, p)
	r := s.Blends[1].Results
	measured := 5.8 / 3.5
	assert.True(t, r[MeltFlow].Low < measured && measured < r[MeltFlow].High, "%g to %g", r[MeltFlow].Low, r[MeltFlow].High)
	assert.Less(t, r[MeltFlowGrains].High, 1.0)
}

// A measured melt flow replaces the estimate, and water gets what grains and
// oil leave of it.
func TestMeasuredFlowPinsTheEstimate(t *testing.T) {
	p := sample(t, musselShell)
	p.Melt.Tests = nil
	p.Blends[1].MeasuredFlow = q[quantity.Factor]("1.15 ± 0.10")
	b := evaluate(t, p).Blends[1]
	assert.Equal(t, Measured, b.Results[MeltFlow].Basis)
	assert.Equal(t, Calibrated, b.Results[MeltFlowWater].Basis)
	assert.InEpsilon(t, 1.15, b.Results[MeltFlow].Value, 1e-12)
	assert.InEpsilon(t, 1.15,
		b.Results[MeltFlowGrains].Value*b.Results[MeltFlowWater].Value*b.Results[MeltFlowOil].Value, 1e-12)

	p = sample(t, oliveStone)
	estimate := evaluate(t, p).Blends[2].Results[MeltFlow]
	p.Blends[2].MeasuredFlow = q[quantity.Factor]("1.9 ± 0.2")
	b = evaluate(t, p).Blends[2]
	assert.Equal(t, estimate, b.Results[MeltFlowModel], "the estimate stays beside the measurement")
}

// 20 wt% of powder at 1 % moisture holds 2.0 mg of water per gram: at 200 °C more
// than 4.3 mL of vapour against about 0.87 mL of melt, 83 % of bubbles.
func TestBubblesFromDampPowder(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[0].MoistureLimit = q[quantity.Fraction]("250 ppm")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	n, damp := note(evaluate(t, p).Blends[1].Notes, "powder_damp")
	require.True(t, damp)
	assert.InDelta(t, 83, n.Values["Bubbles"].(wording.Number).Value, 0.5)
	target := 250e-6 * 0.8 / 0.2
	assert.InEpsilon(t, target/(1+target)*100, n.Values["Target"].(wording.Number).Value, 1e-9)
}
