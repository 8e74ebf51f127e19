package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// A share of a whole ends at the whole, as a figure and in the sheet of the powder.
func TestNoShareReachesBeyondTheWhole(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *project.Project)
		figure Figure
		sheet  func(s *PowderSheet) Result
		value  float64
	}{
		"sieve of which most is ground again": {func(p *project.Project) {
			steps(p, material.Step{Kind: material.Sift, Yield: q[quantity.Fraction]("55 ± 40 %"), Recycled: q[quantity.Fraction]("80 ± 19 %")})
		}, PreparationYield, func(s *PowderSheet) Result { return s.Preparation.Yield }, 85.9375},
		"tapped volume known to its last digit": {func(p *project.Project) { heap(p, "0.2 L", "0.1 L") }, PackingLimit, func(s *PowderSheet) Result { return s.Grain.Packing }, 100 / 1.45},
		"law that hardly ends": {func(p *project.Project) {
			benchOf(p).Storage = material.Storage{
				Monolayer: q[quantity.Fraction]("5 ± 4 %"), GABC: q[quantity.Factor]("10"), GABK: q[quantity.Factor]("1"),
				Humidity: q[quantity.Fraction]("99.9 ± 0.09 %"), OpenTime: q[quantity.Duration]("1000 h"), UptakeTime: q[quantity.Duration]("1 h"),
			}
		}, PowderMoisture, func(s *PowderSheet) Result { return s.Storage.After }, 98},
	} {
		p := quiet()
		c.change(&p)
		s := evaluate(t, p)
		for _, r := range []Result{s.Blends[1].Result(c.figure), c.sheet(s.Powder(1))} {
			require.True(t, r.Known(), name)
			assert.InEpsilon(t, c.value, r.Value, 0.01, name)
			assert.Equal(t, 100.0, r.High, name)
			assert.Less(t, r.Low, r.Value, name)
		}
		assert.Equal(t, c.sheet(s.Powder(1)).Low, s.Blends[1].Result(c.figure).Low, name)
	}
}

// Nor does it begin below nothing.
func TestNoShareReachesBelowNothing(t *testing.T) {
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("0.1 ± 0.2 %")
	steps(&p, material.Step{Kind: material.Sift, Yield: q[quantity.Fraction]("5 ± 5 %"), Recycled: q[quantity.Fraction]("80 ± 19 %")})
	s := evaluate(t, p)
	for _, f := range []Figure{PowderMoisture, BlendMoisture, PreparationYield} {
		r := s.Blends[1].Result(f)
		assert.Zero(t, r.Low, f.Key())
		assert.Positive(t, r.Value, f.Key())
	}
}

func TestFillerFractionsEndAtTheWhole(t *testing.T) {
	p := bare(powderOf("hollow", "0.5 ± 0.4 g/cm3", "3 EUR/kg"), "97 ± 3 wt%")
	s := evaluate(t, p)
	assert.Equal(t, 100.0, s.Blends[1].Result(FillerVolumeFraction).High)
	assert.InDelta(t, 100, s.Blends[1].Result(FillerMassFraction).High, 1e-9)
}

// Washing that brings in water: more comes out than was fetched, which is no error, and
// the interval is left as it is.
func TestYieldOfWashedPowderMayExceedTheWhole(t *testing.T) {
	p := quiet()
	steps(&p, material.Step{Kind: material.Wash, MassIn: q[quantity.Mass]("6.0 ± 0.1 kg"), MassOut: q[quantity.Mass]("6.5 ± 0.1 kg")})
	r := evaluate(t, p).Blends[1].Result(PreparationYield)
	assert.InEpsilon(t, 100*6.5/6, r.Value, 1e-9)
	assert.Greater(t, r.High, r.Value+1)
}
