package blend

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestVoids(t *testing.T) {
	// glass in resin, 70 to 30 by mass, 2.54 and 1.20 g/cm³
	theory := Density([]float64{0.7, 0.3}, []float64{2540, 1200})
	printed.Equal(t, "1.90262", theory/1000, arith)
	printed.Equal(t, "2.7657", 100*Voids(theory, 1850), arith)

	theory = Density([]float64{0.8, 0.2}, []float64{pla, wood})
	printed.Equal(t, "6.0289", 100*Voids(theory, 1200), arith)

	assert.InDelta(t, -0.01, Voids(1240, 1240*1.01), 1e-12, "a wrong constituent shows; nothing is clipped")
}

func TestImmersionDensity(t *testing.T) {
	printed.Equal(t, "1.25947", ImmersionDensity(2.500e-3, 0.520e-3, 997.5)/1000, arith)
	printed.Same(t, 500, ImmersionDensity(1, -1, 1000), "held under")
	for _, m := range []float64{1, 2, math.NaN()} {
		assert.True(t, math.IsNaN(ImmersionDensity(1, m, 1000)))
	}
	assert.True(t, math.IsNaN(ImmersionDensity(0, -1, 1000)))
}

func TestToWeigh(t *testing.T) {
	weigh, water := ToWeigh(0.200, 0.06)
	printed.Equal(t, "212.7660", 1000*weigh, arith)
	printed.Equal(t, "12.7660", 1000*water, arith)
	printed.Same(t, 0.06*weigh, water)

	weigh, water = ToWeigh(0.2, 0)
	assert.Equal(t, []float64{0.2, 0}, []float64{weigh, water})
	weigh, _ = ToWeigh(0.2, 1)
	assert.True(t, math.IsNaN(weigh))
}

func TestMoistureBases(t *testing.T) {
	printed.Same(t, 0.25, WetToDry(0.20))
	printed.Same(t, 0.20, DryToWet(0.25))
	for m := 0.0; m < 0.99; m += 0.01 {
		assert.InDelta(t, m, DryToWet(WetToDry(m)), 1e-14)
	}
	assert.True(t, math.IsNaN(WetToDry(1)))
}

// 15 wt% powder at 1 % moisture in PLA. Powder mass is dry mass here; counted
// moist, as some do, the water is a little less.
func TestWaterOnThePolymer(t *testing.T) {
	_, water := ToWeigh(0.15, 0.01)
	printed.Equal(t, "1783", 1e6*water/0.85, arith)
	printed.Equal(t, "1765", 1e6*0.15*0.01/0.85, arith)
}

func TestVapourVolume(t *testing.T) {
	printed.Equal(t, "2.1552", 1000*VapourVolume(1e-3, 473.15, 101325), "ideal gas, 1 g of water at 200 °C")
	// 20 wt% powder at 1 %: 2 mg per g of compound, whose melt takes 1/1.13808
	// cm³
	printed.Equal(t, "5.39", 1000*VapourVolume(0.5*0.005, 473.15, 101325), "500 g of pellets with 0.5 % of water")
	vapour := VapourVolume(2e-6, 473.15, 101325)
	printed.Equal(t, "4.310", 1e6*vapour, arith)
	printed.Equal(t, "83", 100*vapour/(vapour+1e-3/1138.08), arith)
}

func TestLetDown(t *testing.T) {
	share, ratio, ok := LetDown(0.15, 0.40, 0)
	assert.True(t, ok)
	printed.Equal(t, "0.37500", share, arith)
	printed.Same(t, (1-share)/share, ratio)

	share, ratio, ok = LetDown(0.15, 0.40, 0.02)
	assert.True(t, ok)
	printed.Equal(t, "0.34211", share, arith)
	printed.Same(t, (1-share)/share, ratio)
	assert.InDelta(t, 0.15, share*0.40+(1-share)*0.02, 1e-15, "the filler adds up")

	share, ratio, ok = LetDown(0.2, 1, 0)
	assert.True(t, ok, "pure powder")
	assert.InDeltaSlice(t, []float64{0.2, 4}, []float64{share, ratio}, 1e-15)

	for name, x := range map[string][3]float64{
		"weaker masterbatch": {0.15, 0.10, 0}, "masterbatch itself": {0.15, 0.15, 0}, "nothing wanted": {0, 0.4, 0},
		"resin has it already": {0.15, 0.4, 0.15}, "resin has more": {0.15, 0.4, 0.2}, "negative": {0.15, 0.4, -0.1},
		"over full": {0.15, 1.4, 0}, "unknown": {math.NaN(), 0.4, 0}, "unknown masterbatch": {0.15, math.NaN(), 0},
	} {
		share, ratio, ok := LetDown(x[0], x[1], x[2])
		assert.False(t, ok, name)
		assert.Equal(t, []float64{0, 0}, []float64{share, ratio}, name)
	}
}

func TestCharge(t *testing.T) {
	printed.Equal(t, "1.166667", Charge(1.000, 0.120, 0.04), arith)
	assert.Equal(t, 1.0, Charge(1, 0, 0))
	assert.True(t, math.IsNaN(Charge(1, 0, 1)))
	assert.True(t, math.IsNaN(Charge(1, 0, math.NaN())))
}

// Powder from 60 % to 3 % moisture, yields 98 % grinding and 70 % sieving.
func TestThroughStages(t *testing.T) {
	drying := (1 - 0.60) / (1 - 0.03)
	printed.Equal(t, "0.412371", drying, arith)
	wet := ThroughStages(1, drying, 0.98, 0.70)
	printed.Equal(t, "0.282887", 1/wet, arith)
	printed.Equal(t, "3.53499", wet, arith)
	water := wet * (0.60 - 0.03) / (1 - 0.03)
	printed.Equal(t, "2.07726", water, arith)
	printed.Equal(t, "4.2864", water*2.6/0.35/3.6, "kWh at 2.6 MJ/kg and 35 %, "+arith)
	assert.Equal(t, 2.5, ThroughStages(2.5))
}

func TestPowderLoss(t *testing.T) {
	printed.Equal(t, "0.191919", PowderAfterLoss(0.20, 0.05), arith)
	printed.Equal(t, "0.208333", PowderToSet(0.20, 0.05), arith)
	for w := 0.0; w <= 1; w += 0.05 {
		for l := 0.0; l < 0.99; l += 0.07 {
			assert.InDelta(t, w, PowderAfterLoss(PowderToSet(w, l), l), 1e-13, "inverse")
			assert.LessOrEqual(t, PowderAfterLoss(w, l), w+1e-15)
		}
		printed.Same(t, w, PowderAfterLoss(w, 0), "nothing lost")
	}
}

func TestWeighingError(t *testing.T) {
	printed.Same(t, 0.005, WeighingError(0.1, 0.001), "100 g on a scale that shows grams")
	assert.Zero(t, WeighingError(0, 0.001))
	assert.Zero(t, WeighingError(1, 0))
}
