package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// grains is a powder that was weighed in water of 20 °C and poured into a cylinder,
// every number of it exact.
func grains() project.Project {
	p := bare(powderOf("grains", "1.30 g/cm3", "1 EUR/kg"), "20 wt%")
	benchOf(&p).Grain = material.Grain{
		Full: q[quantity.Mass]("350 g"), Powder: q[quantity.Mass]("42 g"), FullWithPowder: q[quantity.Mass]("362 g"),
		LiquidTemperature: q[quantity.Temperature]("20 degC"),
		HeapMass:          q[quantity.Mass]("70 g"), HeapVolume: q[quantity.Volume]("125 ± 0 mL"), TappedVolume: q[quantity.Volume]("100 ± 0 mL"),
	}
	return p
}

// The powder that was weighed is not the powder of the last run in the oven: what is
// said of the latter, and of how it lay open, leaves the densities alone.
func TestDensitiesStandApartFromTheOven(t *testing.T) {
	want := evaluate(t, grains()).Powder(1).Grain
	for name, change := range map[string]func(p *project.Project){
		"card": func(p *project.Project) { p.Materials[1].Moisture = q[quantity.Fraction]("12 ± 3 %") },
		"log":  func(p *project.Project) { goodLog(p) },
		"log of wetter powder": func(p *project.Project) {
			goodLog(p).DryMass = q[quantity.Mass]("90 ± 1 g")
		},
		"log set aside": func(p *project.Project) { goodLog(p); benchOf(p).Drying.SetAside = true },
		"left open": func(p *project.Project) {
			benchOf(p).Storage = material.Storage{Equilibrium: q[quantity.Fraction]("9 %"), OpenTime: q[quantity.Duration]("3 h")}
		},
	} {
		p := grains()
		change(&p)
		assert.Equal(t, want, evaluate(t, p).Powder(1).Grain, name)
	}
}

// 5 ± 1 % of water is 1 point in 95 of what the heap weighs dry. It is the same
// water in the heap and on the scale, and cancels where the one is held against the
// other; of two volumes of one heap it says nothing.
func TestMoistureOfWhatWasWeighedHasItsSpread(t *testing.T) {
	p := grains()
	benchOf(&p).Grain.Moisture = q[quantity.Fraction]("5 %")
	exact := evaluate(t, p).Powder(1).Grain
	benchOf(&p).Grain.Moisture = q[quantity.Fraction]("5 ± 1 %")
	wide := evaluate(t, p).Powder(1).Grain
	half := func(r Result) float64 { return (r.High - r.Low) / 2 / r.Value }
	for _, r := range []Result{exact.Density, exact.Bulk, exact.Tapped, exact.Packing, exact.Hausner, wide.Hausner} {
		assert.InDelta(t, 0, half(r), 1e-12)
	}
	assert.InEpsilon(t, 0.01/0.95, half(wide.Bulk), 1e-6)
	assert.InEpsilon(t, 0.01/0.95, half(wide.Tapped), 1e-6)
	assert.InEpsilon(t, half(wide.Tapped)-signedHalf(t, p), half(wide.Packing), 1e-3, "shared")
}

// signedHalf is by what share the density of the grains falls with 1 point of water
// more.
func signedHalf(t *testing.T, p project.Project) float64 {
	t.Helper()
	at := func(moisture string) float64 {
		benchOf(&p).Grain.Moisture = q[quantity.Fraction](moisture)
		return evaluate(t, p).Powder(1).Grain.Density.Value
	}
	return (at("4.99 %") - at("5.01 %")) / 0.02 / at("5 %")
}

// Powder that was weighed dry, within half a point, can only have been wetter.
func TestMoistureOfNothingGoesOneWay(t *testing.T) {
	p := grains()
	benchOf(&p).Grain.Moisture = q[quantity.Fraction]("0.0 ± 0.5 %")
	bulk := evaluate(t, p).Powder(1).Grain.Bulk
	assert.InEpsilon(t, 0.56, bulk.Value, 1e-9)
	assert.InEpsilon(t, 0.56, bulk.High, 1e-9)
	assert.InEpsilon(t, 0.56*0.995, bulk.Low, 1e-6)

	benchOf(&p).Grain.Moisture = q[quantity.Fraction]("0.0001 ± 1 %")
	assert.True(t, evaluate(t, p).Powder(1).Grain.Density.Known(), "next to nothing")
}

// A volume without ± is known to half a unit of its last digit, a/√12 as a standard
// uncertainty, of which two make the interval.
func TestVolumesAreKnownToTheirLastDigit(t *testing.T) {
	for text, want := range map[string]float64{
		"100 mL": 1, "100.0 mL": 0.1, "0.10 L": 10, "1.0e2 mL": 10, "1e-4 m3": 100,
		"100 ± 0.5 mL": 0.5 / 2 * math.Sqrt(12), "100 ± 0 mL": 0, "97-103 mL": 6,
	} {
		p := grains()
		g := &benchOf(&p).Grain
		g.HeapVolume, g.TappedVolume = q[quantity.Volume](text), q[quantity.Volume](text)
		s := evaluate(t, p).Powder(1).Grain
		for _, r := range []Result{s.Bulk, s.Tapped} {
			require.True(t, r.Known(), text)
			assert.InDelta(t, 2*want/math.Sqrt(12)/100, r.High/r.Value-1, 1e-6, text)
		}
		assert.InDelta(t, math.Sqrt2*2*want/math.Sqrt(12)/100, s.Hausner.High/s.Hausner.Value-1, 1e-6, "%s: two readings", text)
	}
}

// A density is measured where it hangs on scale, thermometer and cylinder alone.
func TestDensitiesAreFoundedLikeWhatWasTyped(t *testing.T) {
	type bases struct{ density, bulk, tapped, packing, hausner Basis }
	for _, c := range []struct {
		name   string
		change func(p *project.Project, g *material.Grain)
		want   bases
	}{
		{"readings alone", func(*project.Project, *material.Grain) {}, bases{}},
		{"liquid typed", func(_ *project.Project, g *material.Grain) {
			g.LiquidDensity = q[quantity.Density]("0.80 g/cm3")
		}, bases{density: Entered, packing: Entered}},
		{"with its moisture", func(_ *project.Project, g *material.Grain) {
			g.Moisture = q[quantity.Fraction]("2 %")
		}, bases{}},
		{"density of the card", func(_ *project.Project, g *material.Grain) {
			g.DensitySetAside = true
		}, bases{packing: Entered}},
		{"density of the library", func(p *project.Project, g *material.Grain) {
			g.DensitySetAside = true
			p.Materials[1].Sources = []material.Source{{Field: "density", Text: "from memory, confirm", Confirm: true}}
		}, bases{packing: Estimated}},
		{"moisture, over a density of the library", func(p *project.Project, g *material.Grain) {
			g.DensitySetAside, g.Moisture = true, q[quantity.Fraction]("2 %")
			p.Materials[1].Sources = []material.Source{{Field: "density", Text: "from memory, confirm", Confirm: true}}
		}, bases{packing: Estimated}},
	} {
		p := grains()
		c.change(&p, &benchOf(&p).Grain)
		g := evaluate(t, p).Powder(1).Grain
		assert.Equal(t, c.want, bases{g.Density.Basis, g.Bulk.Basis, g.Tapped.Basis, g.Packing.Basis, g.Hausner.Basis}, c.name)
	}
}

// One cause has one note: the water that is too hot, the moisture that is too much, or
// the weighings.
func TestWhyTheGrainHasNoDensity(t *testing.T) {
	for name, c := range map[string]struct {
		together, degrees, moisture, id string
	}{
		"too light":           {"392.2 g", "21 degC", "", "grain_impossible"},
		"too light and moist": {"392.2 g", "21 degC", "5 %", "grain_impossible"},
		"too hot":             {"365 g", "50 degC", "", "liquid_unknown"},
		"too hot and moist":   {"365 g", "50 degC", "90 %", "liquid_unknown"},
		"too moist":           {"365 g", "21 degC", "90 %", "grain_too_wet"},
		"all is well":         {"365 g", "21 degC", "5 %", ""},
	} {
		p := quiet()
		displaced(&p, c.together)
		benchOf(&p).Grain.LiquidTemperature = q[quantity.Temperature](c.degrees)
		if c.moisture != "" {
			benchOf(&p).Grain.Moisture = q[quantity.Fraction](c.moisture)
		}
		s := evaluate(t, p)
		for _, id := range []string{"grain_impossible", "liquid_unknown", "grain_too_wet"} {
			assert.Equal(t, id == c.id, hasNote(s, 1, id), "%s: %s", name, id)
		}
	}
}
