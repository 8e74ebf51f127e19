package melt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

const celsius = 273.15

func TestMolarMassFactor(t *testing.T) {
	printed.Equal(t, "1.43079", MolarMassFactor(1, 0.9, ExponentLow), arith)
	printed.Equal(t, "1.62362", MolarMassFactor(1, 0.9, ExponentHigh), arith)
	printed.Equal(t, "2.13547", MolarMassFactor(1, 0.8, ExponentLow), arith)
	printed.Equal(t, "2.79117", MolarMassFactor(1, 0.8, ExponentHigh), arith)
	assert.Equal(t, 1.0, MolarMassFactor(100, 100, ExponentLow))
}

func TestZeroShearViscosity(t *testing.T) {
	printed.Equal(t, "549.5", ZeroShearViscosity(100), arith)
	printed.Equal(t, "2716.5", ZeroShearViscosity(160), arith)
	printed.Equal(t, "4054.4", ZeroShearViscosity(180), arith)
	printed.Equal(t, "6847.7", ZeroShearViscosity(210), arith)
	// Outside check: a grade of 180 kg/mol and MFR 6 (PLA data sheet) shows
	// 1918 Pa s at 210 °C; a factor of two is what molar masses from different
	// laboratories differ by.
	at210 := ZeroShearViscosity(180) / ArrheniusFactor(180+celsius, 210+celsius, 85e3)
	printed.Equal(t, "999", at210, arith)
	assert.InEpsilon(t, 1918, at210, 0.5)
}

func TestArrheniusFactor(t *testing.T) {
	printed.Equal(t, "2.49357", ArrheniusFactor(190+celsius, 210+celsius, 85e3), arith)
	assert.Equal(t, 1.0, ArrheniusFactor(450, 450, 85e3))
	printed.Same(t, 1/ArrheniusFactor(440, 480, 85e3), ArrheniusFactor(480, 440, 85e3))
}

// Every water cuts one ester; molar masses in g/mol, water in ppm on the
// polymer.
func TestMolarMassBound(t *testing.T) {
	for _, tt := range []struct {
		mn0, ppm float64
		want     string
	}{
		{100, 50, "78275"},
		{100, 100, "64304.8"},
		{100, 250, "41880.7"},
		{100, 1000, "15265"},
		{50, 250, "29518"},
	} {
		printed.Equal(t, tt.want, 1000*MolarMassBound(tt.mn0, tt.ppm*1e-6), arith)
	}
	printed.Equal(t, "19.3", MolarMassFactor(100, MolarMassBound(100, 250e-6), ExponentLow), arith)
	printed.Equal(t, "6.0", MolarMassFactor(50, MolarMassBound(50, 250e-6), ExponentLow), arith)
	printed.Same(t, 100, MolarMassBound(100, 0), "no water, no cut")
}

// The fit behind K210: moisture cost 17 846 of 102 850 g/mol of weight-average
// molar mass (twice the number average) in a single-screw study (J. Appl.
// Polym. Sci. 2025, doi 10.1002/app.56698, abstract). That takes 73.55 ppm of
// water to react.
func TestWaterThatReacted(t *testing.T) {
	before, after := 102.850/2, (102.850-17.846)/2
	printed.Equal(t, "73.55", 1e6*WaterMolarMassKgMol*(1/after-1/before), arith)
	assert.InEpsilon(t, after, MolarMassBound(before, 73.55e-6), 1e-5)

	// The size of the effect by the fit at 2500 against 250 ppm and 210 °C.
	// Circular: it shows size only.
	loss := func(timeS float64) float64 {
		kh, kt := HydrolysisRate(K210, ReferenceK), ThermalScissionRate(ReferenceK)
		return 2000 * (MolarMassAfter(before, 250e-6, kh, kt, timeS) - MolarMassAfter(before, 2500e-6, kh, kt, timeS))
	}
	printed.Equal(t, "8568", loss(60), arith)
	printed.Equal(t, "14522", loss(120), arith)
	printed.Equal(t, "18742", loss(180), arith)
}

func TestHydrolysisRate(t *testing.T) {
	for c, want := range map[float64]string{
		170: "0.853", 180: "1.148", 190: "1.526", 200: "2.003", 210: "2.600", 220: "3.340", 230: "4.247",
	} {
		printed.Equal(t, want, 1e4*HydrolysisRate(K210, c+celsius), arith)
	}
	printed.Same(t, 3*HydrolysisRate(K210, 470), HydrolysisRate(3*K210, 470))
}

// The constants are those of two temperatures, each between 1.75 and 7 min of
// dry melt (Taubner and Shishoo 2001; from memory, confirm), in kg/mol.
func TestThermalScissionRate(t *testing.T) {
	cuts := func(before, after float64) float64 { return (1/after - 1/before) / (5.25 * 60) }
	at210, at240 := cuts(33.6, 30.2), cuts(25.6, 13.6)
	assert.InEpsilon(t, at210, ThermalScissionRate(210+celsius), 1e-4)
	assert.InEpsilon(t, at240, ThermalScissionRate(240+celsius), 1e-4)
	printed.Equal(t, "1.06e-8", ThermalScissionRate(210+celsius)/1000, "mol/(g s), as quoted")
	energy := GasConstantJMolK * math.Log(at240/at210) / (1/(210+celsius) - 1/(240+celsius))
	printed.Equal(t, "160", energy/1000, "kJ/mol, as quoted")
}

// 100 kg/mol, 200 °C, 180 s; molar masses in g/mol and melt flow factors.
func TestMolarMassAfter(t *testing.T) {
	kh, kt := HydrolysisRate(K210, 473.15), ThermalScissionRate(473.15)
	for _, tt := range []struct {
		ppm          float64
		mass, factor string
	}{
		{100, "90736", "1.392"},
		{250, "88372", "1.522"},
		{1000, "78187", "2.309"},
		{3000, "59805", "5.742"},
	} {
		mn := MolarMassAfter(100, tt.ppm*1e-6, kh, kt, 180)
		printed.Equal(t, tt.mass, 1000*mn, arith)
		printed.Equal(t, tt.factor, MolarMassFactor(100, mn, ExponentLow), arith)
	}
}

// The quoted rates, rounded to 1.06e-8 mol/(g s) and 160 kJ/mol, give 90754,
// 88389, 78200 and 59813 g/mol at the same conditions: 0.02 % above, by
// arithmetic alone.
func TestMolarMassAfterWithRoundedRates(t *testing.T) {
	kt := 1.06e-5 * math.Exp(-160e3/GasConstantJMolK*(1/473.15-1/483.15))
	for ppm, want := range map[float64]string{100: "90754.15", 250: "88389.15", 1000: "78199.91", 3000: "59813.06"} {
		printed.Equal(t, want, 1000*MolarMassAfter(100, ppm*1e-6, HydrolysisRate(2.6e-4, 473.15), kt, 180), arith)
	}
}

func TestMolarMassAfterLimits(t *testing.T) {
	printed.Same(t, 100, MolarMassAfter(100, 0.003, 2e-4, 1e-5, 0), "no time")
	printed.Same(t, 100, MolarMassAfter(100, 0, 2e-4, 0, 1000), "neither water nor heat")
	printed.Same(t, MolarMassBound(100, 0.003), MolarMassAfter(100, 0.003, 2e-4, 0, 1e9), "all water has reacted")
	last := 100.1
	for timeS := 0.0; timeS < 2000; timeS += 50 {
		mn := MolarMassAfter(100, 0.001, 2e-4, 5e-6, timeS)
		assert.Less(t, mn, last, "falls with time")
		assert.GreaterOrEqual(t, MolarMassAfter(100, 0.001, 2e-4, 0, timeS), MolarMassBound(100, 0.001))
		last = mn
	}
	// a rate so small that 1 - exp(-kt) would lose its digits
	assert.InEpsilon(t, 1/(1/100.0+0.001/0.018015*1e-12), MolarMassAfter(100, 0.001, 1e-14, 0, 100), 1e-15)
}

// Coffee silverskin in PLA (Polymers 17 (2025) 1766, abstract): 15 wt% raised
// the melt flow rate at 180 °C from 3.5 to 5.8. Grains alone say that it falls;
// with the water of powder at 1 % moisture the model brackets the measurement
// at usual times in the melt. The powder's density is not given there; 1.40
// g/cm³ is assumed.
func TestSilverskinInPLA(t *testing.T) {
	volume := 0.15/1.40 + 0.85/1.08
	phi := 0.15 / 1.40 / volume
	grains := func(phiMax float64) float64 { return GrainsFactor(MaronPierce(phi, phiMax), 1/volume, 1.08) }
	printed.Equal(t, "1.92", 3.5*grains(0.44), arith)
	printed.Equal(t, "2.10", 3.5*grains(0.50), arith)
	printed.Equal(t, "2.39", 3.5*grains(0.637), arith)

	flow := func(timeS float64) float64 {
		kh, kt := HydrolysisRate(K210, 453.15), ThermalScissionRate(453.15)
		mn := MolarMassAfter(100, 1765e-6, kh, kt, timeS)
		return 3.5 * grains(0.50) * MolarMassFactor(100, mn, ExponentLow)
	}
	printed.Equal(t, "3.30", flow(120), arith)
	printed.Equal(t, "4.91", flow(240), arith)
	printed.Equal(t, "6.97", flow(360), arith)
	assert.True(t, flow(240) < 5.8 && 5.8 < flow(360), "outside check: the measured 5.8 is reached between 4 and 6 min")
	assert.InDelta(t, 5.8, flow(295), 0.01, "which is after about 5 min")
}

// Signs that must come out: wood flour in polypropylene makes it stiffer from 3 to
// 20 wt%, and so does eucalyptus in polystyrene from 10 to 50 wt%, as both were
// measured (signs only); with powder in a polyester no sign is certain, as above.
func TestGrainsAloneSlowTheFlow(t *testing.T) {
	for _, matrix := range []float64{740, 950} { // melts of PP and PS in kg/m³, from memory
		last := 1.0
		for _, w := range []float64{0.03, 0.10, 0.20, 0.30, 0.50} {
			volume := w/1450 + (1-w)/matrix
			phi := w / 1450 / volume
			factor := GrainsFactor(MaronPierce(phi, 0.50), 1/volume, matrix)
			assert.Less(t, factor, last, "%v wt%%", 100*w)
			last = factor
		}
	}
}

func TestMeltDoesNotAllocate(t *testing.T) {
	var sink float64
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		kh, kt := HydrolysisRate(K210, 473.15), ThermalScissionRate(473.15)
		sink += MolarMassFactor(100, MolarMassAfter(100, 1e-3, kh, kt, 180), ExponentLow)
		sink += LossToWater(100, 1e-3, kh, kt, 180)
		sink += GrainsFactor(MaronPierce(0.1, 0.5), 1100, 1080) * OilFactor(KOil, OilShare(0.01, 0.9))
		grade, _ := GenericPLA.ScaleTo(1e-5, FlowConditions{TempK: 483.15, LoadKg: UsualLoadKg, MeltDensityKgM3: 1080})
		sink += grade.Flow(473.15, 2e4, StandardDie)
	}))
	assert.Positive(t, sink)
}

// What water costs is what the melt has less with it than without, after the same heat.
func TestLossToWater(t *testing.T) {
	kh, kt := HydrolysisRate(K210, 473.15), ThermalScissionRate(473.15)
	for _, water := range []float64{0, 60e-6, 1e-3, 1} {
		wet, dry := MolarMassAfter(100, water, kh, kt, 240), MolarMassAfter(100, 0, kh, kt, 240)
		assert.InDelta(t, 1-wet/dry, LossToWater(100, water, kh, kt, 240), 1e-14)
	}
	assert.Zero(t, LossToWater(100, 0, kh, kt, 240), "heat alone is not put down to water")
	assert.InDelta(t, 1-MolarMassBound(100, 1e-3)/100, LossToWater(100, 1e-3, 10, 0, 240), 1e-12, "all of it")
	assert.True(t, math.IsNaN(LossToWater(100, math.NaN(), kh, kt, 240)))
}
