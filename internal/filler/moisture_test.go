package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestMoistureBases(t *testing.T) {
	printed.Equal(t, "1.50", DryBasis(0.60), byHand)
	printed.Equal(t, "0.107143", WetBasis(0.12), byHand)
	assert.Zero(t, DryBasis(0))
	assert.Equal(t, 1.0, WetBasis(math.Inf(1)), "nothing but water")
	for _, none := range []float64{-0.01, 1, 1.2, math.NaN()} {
		assert.True(t, math.IsNaN(DryBasis(none)), "%v", none)
	}
	assert.True(t, math.IsNaN(WetBasis(-0.01)))
	random := rand.New(rand.NewPCG(1, 1))
	for range 1000 {
		wet := random.Float64()
		printed.Same(t, wet, WetBasis(DryBasis(wet)), "there and back")
	}
}

func TestMoistureFromADryMass(t *testing.T) {
	printed.Equal(t, "0.063830", MoistureOf(212.7660e-3, 0.2), "200 g dry at 6 % on wet basis are 212.7660 g, "+byHand)
	assert.Negative(t, MoistureOf(0.199, 0.2), "not clipped")
	assert.Zero(t, MoistureOf(0.2, 0.2))
	assert.True(t, math.IsNaN(MoistureOf(0.2, 0)))
	assert.True(t, math.IsNaN(MoistureOf(math.NaN(), 0.2)))
}

// PLA stands 250 ppm; 20 wt% powder in 80 wt% polymer.
func TestTargetMoisture(t *testing.T) {
	printed.Equal(t, "0.000999001", TargetMoisture(250e-6, 0, 0.8, 0.2), "0.1 % on dry basis, "+byHand)
	printed.Equal(t, "0.000399840", TargetMoisture(250e-6, 150e-6, 0.8, 0.2), "100 ppm are left, "+byHand)
	assert.Zero(t, TargetMoisture(250e-6, 400e-6, 0.8, 0.2), "the pellets are too wet alone")
	for _, none := range [][4]float64{{250e-6, 0, 0.8, 0}, {math.NaN(), 0, 0.8, 0.2}, {250e-6, -1e-6, 0.8, 0.2}} {
		assert.True(t, math.IsNaN(TargetMoisture(none[0], none[1], none[2], none[3])), "%v", none)
	}
	// at the target the polymer holds what it stands
	random := rand.New(rand.NewPCG(2, 2))
	for range 1000 {
		f := 0.01 + 0.5*random.Float64()
		limit := 1e-3 * random.Float64()
		own := limit * random.Float64()
		water := own*(1-f) + f*DryBasis(TargetMoisture(limit, own, 1-f, f))
		assert.InDelta(t, limit, water/(1-f), 1e-15)
	}
}
