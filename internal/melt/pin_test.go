package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

func TestPackingLimitFromUndoesGrainsFactor(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 1))
	for range 2000 {
		limit := 0.2 + 0.8*random.Float64()
		phi := limit * (0.001 + 0.898*random.Float64())
		blend, matrix := 900+2000*random.Float64(), 900+400*random.Float64()
		got, ok := PackingLimitFrom(GrainsFactor(MaronPierce(phi, limit), blend, matrix), phi, blend, matrix)
		require.True(t, ok, "limit %v, phi %v", limit, phi)
		assert.InEpsilon(t, limit, got, 1e-10)
	}
	// 20 wt% of wood: 2.9758 of 6 g/10 min.
	limit, ok := PackingLimitFrom(2.9758/6, 0.15698, 1138.08, 1080)
	require.True(t, ok)
	printed.Equal(t, "0.500", limit, "arithmetic, as TestWoodFlow")
}

func TestPackingLimitThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ factor, phi, blend, matrix float64 }{
		"as fast as the matrix by volume": {1138.0 / 1080, 0.157, 1138, 1080},
		"faster":                          {1.6, 0.157, 1138, 1080},
		"a limit above 1":                 {0.9, 0.157, 1138, 1080},
		"hardly flows":                    {0.009, 0.157, 1080, 1080}, // φ above 0.9 of its limit
		"no flow":                         {0, 0.157, 1138, 1080},
		"negative":                        {-1, 0.157, 1138, 1080},
		"no grains":                       {0.5, 0, 1138, 1080},
		"no density":                      {0.5, 0.157, 0, 1080},
		"not a number":                    {math.NaN(), 0.157, 1138, 1080},
		"share not known":                 {0.5, math.NaN(), 1138, 1080},
	} {
		limit, ok := PackingLimitFrom(c.factor, c.phi, c.blend, c.matrix)
		assert.False(t, ok, name)
		assert.True(t, math.IsNaN(limit), name)
	}
	_, ok := PackingLimitFrom(0.0101, 0.157, 1080, 1080)
	assert.True(t, ok, "just below 0.9 of its limit")
}

// The more a blend is slowed, the smaller the limit.
func TestPackingLimitFalls(t *testing.T) {
	last := 1.0
	for factor := 0.65; factor > 0.02; factor -= 0.01 {
		limit, ok := PackingLimitFrom(factor, 0.157, 1080, 1080)
		require.True(t, ok)
		assert.Less(t, limit, last)
		last = limit
	}
}

func TestOilEffectFrom(t *testing.T) {
	k, ok := OilEffectFrom(3.05, 0.30)
	require.True(t, ok)
	printed.Equal(t, "3.717", k, "the measurement that KOil stands on")
	random := rand.New(rand.NewPCG(5, 2))
	for range 500 {
		want, share := 5*random.NormFloat64(), 0.001+0.999*random.Float64()
		got, ok := OilEffectFrom(OilFactor(want, share), share)
		require.True(t, ok)
		assert.InDelta(t, want, got, 1e-11*(1+math.Abs(want))/share)
	}
	for _, c := range [][2]float64{{1.1, 0}, {1.1, -0.1}, {1.1, 1.1}, {0, 0.1}, {-1, 0.1}, {math.Inf(1), 0.1}, {math.NaN(), 0.1}, {1.1, math.NaN()}, {1, 0}} {
		k, ok := OilEffectFrom(c[0], c[1])
		assert.False(t, ok, "%v", c)
		assert.True(t, math.IsNaN(k), "%v", c)
	}
}

// factorOf is the factor of the water, forwards.
func (t WaterTest) factorOf(rate float64) float64 {
	plain := MolarMassAfter(t.Mn0KgMol, t.OwnWater, rate, t.ThermalRate, t.TimeS)
	filled := MolarMassAfter(t.Mn0KgMol, t.TotalWater, rate, t.ThermalRate, t.TimeS)
	return MolarMassFactor(plain, filled, t.Exponent)
}

func randomWaterTest(random *rand.Rand) WaterTest {
	own := 300e-6 * random.Float64()
	return WaterTest{
		Mn0KgMol: 40 + 100*random.Float64(), Exponent: ExponentLow + random.Float64(),
		OwnWater: own, TotalWater: own + 100e-6 + 5e-3*random.Float64(),
		ThermalRate: 2e-5 * random.Float64(), TimeS: 30 + 600*random.Float64(),
	}
}

func TestHydrolysisRateFromUndoesTheFactor(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 3))
	for range 2000 {
		test := randomWaterTest(random)
		want := K210 * math.Exp(1.5*random.NormFloat64())
		got, ok := HydrolysisRateFrom(test.factorOf(want), test)
		require.True(t, ok)
		// What is lost is 1 - X for a long reaction.
		assert.InEpsilon(t, want, got, 1e-11*math.Exp(want*test.TimeS))
	}
}

// 100 kg/mol, 200 °C, 180 s, 1000 ppm of water over none: 2.309 times the flow
// of uncut chains (see TestMolarMassAfter), and 1.309 by heat alone.
func TestHydrolysisRateFromPrintedFactor(t *testing.T) {
	test := WaterTest{
		Mn0KgMol: 100, Exponent: ExponentLow, TotalWater: 1000e-6,
		ThermalRate: ThermalScissionRate(473.15), TimeS: 180,
	}
	plain := MolarMassFactor(100, MolarMassAfter(100, 0, 0, test.ThermalRate, 180), ExponentLow)
	printed.Equal(t, "1.309", plain, arith)
	rate, ok := HydrolysisRateFrom(2.309/plain, test)
	require.True(t, ok)
	assert.InEpsilon(t, 2.003e-4, rate, 1e-3, "to the digits of the factor")
	assert.InEpsilon(t, K210, rate/HydrolysisRate(1, 473.15), 1e-3)
}

func TestHydrolysisRateThatCannotBe(t *testing.T) {
	test := WaterTest{Mn0KgMol: 100, Exponent: 3.4, OwnWater: 200e-6, TotalWater: 1000e-6, ThermalRate: 5e-6, TimeS: 180}
	rate, ok := HydrolysisRateFrom(1, test)
	assert.True(t, ok)
	assert.Zero(t, rate, "no change, no reaction")

	all := test.factorOf(math.Inf(1))
	_, ok = HydrolysisRateFrom(all*(1-1e-9), test)
	assert.True(t, ok)
	for _, factor := range []float64{0.999, 0, -1, all * (1 + 1e-9), 1e6, math.Inf(1), math.NaN()} {
		rate, ok = HydrolysisRateFrom(factor, test)
		assert.False(t, ok, "%v", factor)
		assert.True(t, math.IsNaN(rate), "%v", factor)
	}
	for name, spoil := range map[string]func(w *WaterTest){
		"molar mass": func(w *WaterTest) { w.Mn0KgMol = 0 },
		"exponent":   func(w *WaterTest) { w.Exponent = 0 },
		"own":        func(w *WaterTest) { w.OwnWater = -1e-6 },
		"total":      func(w *WaterTest) { w.TotalWater = w.OwnWater },
		"thermal":    func(w *WaterTest) { w.ThermalRate = math.NaN() },
		"time":       func(w *WaterTest) { w.TimeS = 0 },
	} {
		other := test
		spoil(&other)
		_, ok = HydrolysisRateFrom(1.5, other)
		assert.False(t, ok, name)
	}
}

// More flow takes a faster reaction; water of the pellets, which cuts the plain
// polymer too, takes one faster still.
func TestHydrolysisRateFromRises(t *testing.T) {
	test := WaterTest{Mn0KgMol: 100, Exponent: 3.4, TotalWater: 2000e-6, ThermalRate: 5e-6, TimeS: 180}
	wet := test
	wet.OwnWater = 300e-6
	last := 0.0
	for factor := 1.05; factor < 5; factor += 0.05 {
		rate, ok := HydrolysisRateFrom(factor, test)
		require.True(t, ok)
		assert.Greater(t, rate, last)
		last = rate
		wetter, ok := HydrolysisRateFrom(factor, wet)
		require.True(t, ok)
		assert.Greater(t, wetter, rate)
	}
}

// Coffee silverskin in PLA raised the flow 3.5 to 5.8, see TestSilverskinInPLA.
// Grains cannot do that, whatever their packing; beside grains of a limit of
// 0.50 it takes 2.77 times the fluidity of the polymer, which is 0.741 of its
// molar mass (0.801 by the higher exponent), or 62.9 ppm of reacted water.
func TestSilverskinPinned(t *testing.T) {
	volume := 0.15/1.40 + 0.85/1.08
	phi := 0.15 / 1.40 / volume
	_, ok := PackingLimitFrom(5.8/3.5, phi, 1/volume, 1.08)
	assert.False(t, ok)

	needed := 5.8 / 3.5 / GrainsFactor(MaronPierce(phi, 0.50), 1/volume, 1.08)
	printed.Equal(t, "2.77", needed, arith)
	printed.Equal(t, "0.741", math.Pow(needed, -1/ExponentLow), arith)
	printed.Equal(t, "0.801", math.Pow(needed, -1/ExponentHigh), arith)
	reacted := WaterMolarMassKgMol / 100 * (math.Pow(needed, 1/ExponentLow) - 1)
	printed.Equal(t, "62.9", 1e6*reacted, arith)

	// Of 1765 ppm that is 3.6 %. What heat does to both melts is left aside.
	test := WaterTest{Mn0KgMol: 100, Exponent: ExponentLow, TotalWater: 1765e-6, TimeS: 290}
	rate, ok := HydrolysisRateFrom(needed, test)
	require.True(t, ok)
	assert.InEpsilon(t, reacted, 1765e-6*-math.Expm1(-rate*290), 1e-12)
	k210 := rate / HydrolysisRate(1, 180+celsius)
	assert.True(t, K210/K210Factor < k210 && k210 < K210*K210Factor, "outside check: within the band of K210, got %v", k210)
}
