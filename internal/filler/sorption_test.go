package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func fahrenheit(f float64) float64 { return zeroCelsiusK + (f-32)/1.8 }

// Outside check: steam tables of IAPWS-95.
func TestSaturationPressure(t *testing.T) {
	const table = "steam table, from memory, confirm"
	printed.Equal(t, "611.7", SaturationPressure(273.16), table)
	printed.Equal(t, "2.339", SaturationPressure(293.15)/1e3, table)
	printed.Equal(t, "12.352", SaturationPressure(323.15)/1e3, table)
	printed.Equal(t, "101.42", SaturationPressure(373.15)/1e3, table)
	printed.Equal(t, "1.555", SaturationPressure(473.15)/1e6, table)
	assert.Equal(t, 22.064e6, SaturationPressure(647.096), "critical point")
	assert.True(t, math.IsNaN(SaturationPressure(273)))
	assert.True(t, math.IsNaN(SaturationPressure(648)))
	for tempK := 273.15; tempK < 647; tempK++ {
		assert.Less(t, SaturationPressure(tempK), SaturationPressure(tempK+0.05))
	}
}

// A room of 20 °C and 50 % holds 1.17 kPa of vapour; at 105 °C water boils at
// 120.9 kPa.
func TestHumidityInTheOven(t *testing.T) {
	printed.Equal(t, "0.00967", HumidityAt(0.5, 293.15, 378.15), "1.1696/120.90 kPa, "+byHand)
	assert.Equal(t, 0.5, HumidityAt(0.5, 300, 300))
	assert.Greater(t, HumidityAt(0.8, 303.15, 283.15), 1.0, "drops water, not clipped")
	assert.True(t, math.IsNaN(HumidityAt(1.01, 293.15, 378.15)))
	assert.True(t, math.IsNaN(HumidityAt(0.5, 263.15, 378.15)))
}

// Outside checks: 140 °F is the example of an encyclopaedia, 70 °F a published
// table of wood. Below 90 % humidity 0.15 points are allowed, half a point for
// the measured table and for saturation.
func TestWoodAgainstPublishedTables(t *testing.T) {
	for _, tt := range []struct{ f, h, percent, points float64 }{
		{140, 0.55, 8.4, 0.15},
		{140, 0.55, 8.0, 0.5}, // the measured value beside it
		{70, 0.25, 5.3, 0.15},
		{70, 0.60, 11.1, 0.15},
		{70, 0.84, 17.6, 0.15},
		{70, 0.87, 19.0, 0.15},
		{70, 1.00, 28.8, 0.5},
	} {
		assert.InDelta(t, tt.percent, 100*WoodMoisture(fahrenheit(tt.f), tt.h), tt.points, "%v °F, %v", tt.f, tt.h)
	}
}

func TestWoodMoisture(t *testing.T) {
	printed.Equal(t, "8.3726", 100*WoodMoisture(333.15, 0.55), byHand)
	printed.Equal(t, "6.188", 100*WoodMoisture(293.15, 0.30), byHand)
	printed.Equal(t, "9.271", 100*WoodMoisture(293.15, 0.50), byHand)
	printed.Equal(t, "11.996", 100*WoodMoisture(293.15, 0.65), byHand)
	// the form in °F gives 8.3775, and 5.362, 10.970, 17.530, 18.890 and 28.810
	// at 70 °F: the two forms are roundings of each other
	assert.InEpsilon(t, 8.3775, 100*WoodMoisture(fahrenheit(140), 0.55), 1e-3)
	for h, percent := range map[float64]float64{0.25: 5.362, 0.60: 10.970, 0.84: 17.530, 0.87: 18.890, 1: 28.810} {
		assert.InEpsilon(t, percent, 100*WoodMoisture(fahrenheit(70), h), 1e-3)
	}
	assert.Zero(t, WoodMoisture(293.15, 0))
	assert.True(t, math.IsNaN(WoodMoisture(293.15, 1.1)))
	assert.True(t, math.IsNaN(WoodMoisture(math.NaN(), 0.5)))
	assert.True(t, math.IsNaN(WoodMoisture(573.15, 0.5)), "the quadratics have no meaning there")
	assert.True(t, WoodMoistureKnown(378.15))
	assert.False(t, WoodMoistureKnown(410))
}

func TestWoodIsWetterInWetterAndCoolerAir(t *testing.T) {
	for tempC := 0.0; tempC <= 120; tempC += 5 {
		for h := 0.05; h <= 0.95; h += 0.05 {
			m := WoodMoisture(zeroCelsiusK+tempC, h)
			assert.Positive(t, m)
			assert.Greater(t, WoodMoisture(zeroCelsiusK+tempC, h+0.05), m, "%v °C, %v", tempC, h)
			if tempC >= 20 {
				assert.Less(t, WoodMoisture(zeroCelsiusK+tempC+5, h), m, "%v °C, %v", tempC, h)
			}
		}
	}
}

// What an oven leaves in wood flour, in a room of 20 °C and 50 %.
func TestOvenFloor(t *testing.T) {
	printed.Equal(t, "0.0706", 100*OvenFloor(293.15, 0.5, 378.15), "at 0.5·2.3393/120.90 of humidity, "+byHand)
	assert.InDelta(t, WoodMoisture(293.15, 0.5), OvenFloor(293.15, 0.5, 293.15), 1e-15, "an oven that is off")
	before := math.Inf(1)
	for ovenK := 303.15; ovenK <= 403.15; ovenK += 5 {
		now := OvenFloor(293.15, 0.5, ovenK)
		assert.Less(t, now, before)
		before = now
	}
	assert.True(t, math.IsNaN(OvenFloor(303.15, 0.9, 283.15)), "colder than the room: water drops")
}

func TestGAB(t *testing.T) {
	g := GAB{Monolayer: 0.045, C: 12, K: 0.85}
	printed.Equal(t, "0.04858", g.Moisture(0.3), byHand)
	printed.Equal(t, "0.07033", g.Moisture(0.5), byHand)
	printed.Equal(t, "0.10515", g.Moisture(0.7), byHand)
	assert.Zero(t, g.Moisture(0))
	assert.True(t, math.IsNaN(g.Moisture(1.1)))
	assert.True(t, math.IsNaN(GAB{0.045, 12, 1}.Moisture(1)), "without end")
	assert.True(t, math.IsNaN(GAB{}.Moisture(0.5)))
	for h := 0.0; h < 0.99; h += 0.01 {
		assert.Less(t, g.Moisture(h), g.Moisture(h+0.01))
	}
}
