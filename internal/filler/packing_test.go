package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// Outside check: table of Tanaka and others, as quoted.
func TestWaterDensity(t *testing.T) {
	printed.Equal(t, "998.2067", WaterDensity(293.15), "Tanaka table")
	printed.Equal(t, "997.0470", WaterDensity(298.15), "Tanaka table")
	printed.Equal(t, "0.9975", WaterDensity(296.15)/1000, "ISO 1183-1, from memory, confirm")
	assert.InDelta(t, 999.97495, WaterDensity(zeroCelsiusK+3.983035), 1e-9, "densest")
	assert.True(t, math.IsNaN(WaterDensity(272)))
	assert.True(t, math.IsNaN(WaterDensity(314)))
}

func TestGrainDensity(t *testing.T) {
	// 12 g of powder displace 9.21 g of water at 23 °C
	d := Displacement{FilledKg: 0.15, PowderKg: 0.012, TogetherKg: 0.15279, LiquidKgM3: 997.5}
	rho, err := d.GrainDensity()
	require.NoError(t, err)
	printed.Equal(t, "1.29967", rho/1000, "12·0.9975/9.21, "+byHand)

	for name, change := range map[string]func(*Displacement){
		"no vessel":   func(d *Displacement) { d.FilledKg = 0 },
		"no powder":   func(d *Displacement) { d.PowderKg = math.NaN() },
		"no liquid":   func(d *Displacement) { d.LiquidKgM3 = math.Inf(1) },
		"all water":   func(d *Displacement) { d.MoistureWet = 1 },
		"below water": func(d *Displacement) { d.MoistureWet = -0.1 },
	} {
		bad := d
		change(&bad)
		_, err := bad.GrainDensity()
		assert.ErrorIs(t, err, ErrNotMeasured, name)
	}
	d.TogetherKg = d.FilledKg + d.PowderKg
	_, err = d.GrainDensity()
	assert.ErrorIs(t, err, ErrNothingDisplaced)
	d.TogetherKg = 0.161
	d.MoistureWet = 0.3 // more water than liquid displaced
	_, err = d.GrainDensity()
	assert.ErrorIs(t, err, ErrNothingDisplaced)
}

// Grains of known density and moisture are put into a vessel of known volume.
func TestGrainDensityComesBack(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for range 1000 {
		rho, moisture, liquid := 200+8000*random.Float64(), 0.5*random.Float64(), 700+400*random.Float64()
		vesselM3, emptyKg, dryKg := 5e-5, 0.03, 0.004
		waterKg := dryKg * DryBasis(moisture)
		room := vesselM3 - dryKg/rho - waterKg/bareWaterKgM3
		got, err := Displacement{
			FilledKg: emptyKg + vesselM3*liquid, PowderKg: dryKg + waterKg,
			TogetherKg: emptyKg + dryKg + waterKg + room*liquid, LiquidKgM3: liquid, MoistureWet: moisture,
		}.GrainDensity()
		require.NoError(t, err)
		assert.InEpsilon(t, rho, got, 1e-8)
	}
}

func TestDryBulkDensity(t *testing.T) {
	rho, err := DryBulkDensity(0.052, 1e-4, 0.06)
	require.NoError(t, err)
	printed.Equal(t, "488.80", rho, "52 g at 6 % in 100 mL, "+byHand)
	for _, none := range [][3]float64{{0, 1e-4, 0}, {0.05, 0, 0}, {0.05, 1e-4, 1}, {0.05, 1e-4, -0.1}, {0.05, math.NaN(), 0}} {
		_, err := DryBulkDensity(none[0], none[1], none[2])
		assert.ErrorIs(t, err, ErrNotMeasured, "%v", none)
	}
}

func TestPackingLimit(t *testing.T) {
	limit, err := PackingLimit(676, 1300)
	require.NoError(t, err)
	printed.Equal(t, "0.5200", limit, byHand)
	for _, tt := range []struct {
		tapped, grain float64
		want          error
	}{
		{1300, 1300, ErrPackingImpossible},
		{1400, 1300, ErrPackingImpossible},
		{0, 1300, ErrNotMeasured},
		{math.NaN(), 1300, ErrNotMeasured},
		{500, -1, ErrNotMeasured},
		{500, math.Inf(1), ErrNotMeasured},
	} {
		_, err := PackingLimit(tt.tapped, tt.grain)
		assert.ErrorIs(t, err, tt.want, "%v", tt)
	}
}
