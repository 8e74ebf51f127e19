package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// However long powder lies open, it ends in equilibrium with the air: 1 - exp(-t/τ)
// rounds to 1 after 37 τ, which is 4¼ days where the usual range stands in for τ.
func TestLyingOpenForLong(t *testing.T) {
	p := sample(t, oliveStone)
	before := 0.0
	for _, open := range []string{"0.000000001 ms", "1 s", "20 min", "8 h", "30 h", "2 d", "80 h", "90 h", "98 h", "4 d", "4.25 d", "5 d", "30 d", "365 d"} {
		benchOf(&p).Storage.OpenTime = q[quantity.Duration](open)
		s := evaluate(t, p)
		now := value(t, s, 1, PowderMoisture)
		assert.GreaterOrEqual(t, now, before-1e-9, open)
		end := s.Powder(1).Storage.Equilibrium
		assert.LessOrEqual(t, now, end.Value+1e-9, open)
		if before = now; p.Materials[1].Powder.Storage.OpenTime.SI() > 4*86400 {
			r := s.Blends[1].Result(PowderMoisture)
			assert.InDelta(t, end.Value, r.Value, 1e-4, open)
			assert.InDelta(t, end.High-end.Value, r.High-r.Value, 0.05, "%s: no more than the air is known to", open)
			assert.InDelta(t, end.Value-end.Low, r.Value-r.Low, 0.05, "%s: nor less", open)
		}
	}
}

// A ± of the time that the powder lay open widens its moisture, whether the time
// constant is known or not.
func TestSpreadOfTheOpenTime(t *testing.T) {
	for _, uptake := range []string{"", "2 h"} {
		p := quiet()
		s := &benchOf(&p).Storage
		s.Equilibrium, s.OpenTime = q[quantity.Fraction]("9 %"), q[quantity.Duration]("2 h")
		if uptake != "" {
			s.UptakeTime = q[quantity.Duration](uptake)
		}
		exact := evaluate(t, p).Blends[1].Result(PowderMoisture)
		s.OpenTime = q[quantity.Duration]("2 ± 1 h")
		wide := evaluate(t, p).Blends[1].Result(PowderMoisture)
		assert.InDelta(t, exact.Value, wide.Value, 1e-12)
		assert.Greater(t, wide.High-wide.Low, exact.High-exact.Low, uptake)
	}
}

// Wood stands in for powder without a class as in the oven, in the note, the figure and
// the picture, and for no other class.
func TestWoodStandsInWhereNoClassIsGiven(t *testing.T) {
	for class, stands := range map[material.Class]bool{
		material.Organic: true, "": true, material.Shell: false, material.Mineral: false, material.Fibre: false,
		material.Metal: false, material.Hollow: false, material.Other: false,
	} {
		p := quiet()
		p.Materials[1].Class = class
		s := &benchOf(&p).Storage
		s.Temperature, s.OpenTime = q[quantity.Temperature]("20 degC"), q[quantity.Duration]("3 h")
		if stands {
			n, found := note(evaluate(t, p).Blends[1].Notes, "storage_air_missing")
			assert.True(t, found, class)
			assert.Equal(t, benchAt+"/storage/humidity", n.Field, class)
		}
		s.Humidity = q[quantity.Fraction]("50 %")
		sheet := evaluate(t, p)
		assert.Equal(t, stands, sheet.Blends[1].Result(PowderMoisture).Known(), class)
		humidity, _ := sheet.Powder(1).Storage.Isotherm(3, 90)
		assert.Equal(t, stands, len(humidity) > 0, class)
		n, found := note(sheet.Blends[1].Notes, "storage_measure")
		assert.Equal(t, !stands, found, class)
		if found {
			assert.Subset(t, n.Blocks, []Figure{PowderMoisture, BlendMoisture, MeltFlowWater}, class)
		}
	}
}

// A mineral of which the GAB parameters are known waits for the humidity alone.
func TestMineralWithALawWaitsForTheHumidity(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = material.Mineral
	benchOf(&p).Storage = material.Storage{
		Monolayer: q[quantity.Fraction]("0.2 %"), GABC: q[quantity.Factor]("12"), GABK: q[quantity.Factor]("0.85"), OpenTime: q[quantity.Duration]("3 h"),
	}
	n, found := note(evaluate(t, p).Blends[1].Notes, "storage_air_missing")
	assert.True(t, found)
	assert.Equal(t, benchAt+"/storage/humidity", n.Field)
	benchOf(&p).Storage.GABC = quantity.Of[quantity.Factor]{}
	assert.True(t, hasNote(evaluate(t, p), 1, "storage_measure"), "half a law is none")
	benchOf(&p).Storage.Equilibrium = q[quantity.Fraction]("0.1 %")
	assert.False(t, hasNote(evaluate(t, p), 1, "storage_measure"))
}

// Powder that dries in the air, or stays as it was, asks for nothing to be mended.
func TestPowderThatDriesInTheAir(t *testing.T) {
	for moisture, dries := range map[string]bool{"20 %": true, "9 %": true, "8.9 %": false} {
		p := quiet()
		p.Materials[1].Moisture = q[quantity.Fraction](moisture)
		benchOf(&p).Storage = material.Storage{Equilibrium: q[quantity.Fraction]("9 %"), OpenTime: q[quantity.Duration]("3 h")}
		s := evaluate(t, p)
		assert.Equal(t, dries, hasNote(s, 1, "left_open_dries"), moisture)
		assert.Equal(t, !dries, hasNote(s, 1, "left_open"), moisture)
	}
}
