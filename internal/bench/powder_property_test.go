package bench

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// sameBench asserts that two projects come to the same, to what rounding leaves.
func sameBench(t *testing.T, want, got project.Project, why string) {
	t.Helper()
	a, b := evaluate(t, want), evaluate(t, got)
	for i := range a.Blends {
		for _, f := range Figures() {
			x, y := a.Blends[i].Result(f), b.Blends[i].Result(f)
			require.Equal(t, x.Known(), y.Known(), "%s: %s", why, f.Key())
			for _, pair := range [][2]float64{{x.Value, y.Value}, {x.Low, y.Low}, {x.High, y.High}} {
				assert.InDelta(t, pair[0], pair[1], 1e-6*max(1e-3, pair[0], -pair[0]), "%s: %s", why, f.Key())
			}
		}
	}
}

func eachMass(r *material.DryingRun, change func(q quantity.Of[quantity.Mass]) quantity.Of[quantity.Mass]) {
	for i := range r.Readings {
		for k := range r.Readings[i].Masses {
			r.Readings[i].Masses[k] = change(r.Readings[i].Masses[k])
		}
	}
}

// benchSample is the sample without the scale's step: what is multiplied or split
// would else not be as fine as before.
func benchSample(t *testing.T) project.Project {
	p := sample(t, oliveStone)
	p.Batch.BalanceResolution = quantity.Of[quantity.Mass]{}
	return p
}

func TestUnitsOfTheBenchDoNotMatter(t *testing.T) {
	p := benchSample(t)
	other := project.Clone(p)
	b := &other.Materials[1].Powder
	grams := func(q quantity.Of[quantity.Mass]) quantity.Of[quantity.Mass] {
		return quantity.MustParse[quantity.Mass](fmt.Sprintf("%.9f kg", q.SI()))
	}
	run := &b.Drying.Runs[0]
	eachMass(run, grams)
	for i := range run.Trays {
		run.Trays[i] = grams(run.Trays[i])
	}
	for i := range run.Readings {
		run.Readings[i].Time = q[quantity.Duration](fmt.Sprintf("%.12f h", run.Readings[i].Time.SI()/3600))
	}
	for i := range b.Sieving.Sieves {
		s := &b.Sieving.Sieves[i]
		s.Opening = q[quantity.Length](fmt.Sprintf("%.6f mm", s.Opening.SI()*1e3))
		s.Retained = grams(s.Retained)
	}
	b.Sieving.Pan, b.Sieving.Charge = grams(b.Sieving.Pan), grams(b.Sieving.Charge)
	b.Storage.OpenTime = q[quantity.Duration]("1200 s")
	b.Preparation.Steps[1].Energy = q[quantity.Energy]("18.72 MJ")
	sameBench(t, p, other, "units")
}

func TestScaleOfASieveTestDoesNotMatter(t *testing.T) {
	p := benchSample(t)
	other := project.Clone(p)
	s := &other.Materials[1].Powder.Sieving
	tripled := func(m quantity.Of[quantity.Mass]) quantity.Of[quantity.Mass] {
		return q[quantity.Mass](fmt.Sprintf("%.9f g", 3000*m.SI()))
	}
	for i := range s.Sieves {
		s.Sieves[i].Retained = tripled(s.Sieves[i].Retained)
	}
	s.Pan, s.Charge = tripled(s.Pan), tripled(s.Charge)
	s.Sieves[0], s.Sieves[3] = s.Sieves[3], s.Sieves[0] // nor does the order
	sameBench(t, p, other, "three times as much, in another order")
}

func TestTraysOnlyAddUp(t *testing.T) {
	p := benchSample(t)
	other := project.Clone(p)
	run := &other.Materials[1].Powder.Drying.Runs[0]
	for i := range run.Readings {
		m := run.Readings[i].Masses
		half := fmt.Sprintf("%.9f g", 1000*(m[1].SI()-run.Trays[1].SI())/2)
		run.Readings[i].Masses = []quantity.Of[quantity.Mass]{m[0], q[quantity.Mass](half), q[quantity.Mass](half)}
	}
	run.Trays = []quantity.Of[quantity.Mass]{run.Trays[0], q[quantity.Mass]("0 g"), q[quantity.Mass]("0 g")}
	sameBench(t, p, other, "one tray as two")
}

// A finer check sieve lets fewer grains through, and more strand without a
// blockage allows fewer.
func TestMoreCareNeverRaisesTheChance(t *testing.T) {
	p := sample(t, oliveStone)
	p.Materials[1].Powder.Clogging = material.Clogging{}
	p.Materials[1].Powder.Sieving.Sieves = p.Materials[1].Powder.Sieving.Sieves[3:] // so that the tail decides
	before := 101.0
	for _, um := range []string{"250", "180", "150", "125", "106", "90", "63"} {
		p.Materials[1].Powder.Sieving.CheckSieve = q[quantity.Length](um + " um")
		s := evaluate(t, p)
		now := s.Blends[2].Result(ClogChancePerSpool)
		require.True(t, now.Known(), um)
		assert.LessOrEqual(t, now.High, before+1e-9, um)
		before = now.High
		for _, c := range s.Blends[2].Clog.Evidence {
			assert.True(t, 0 <= c.Spool.Low && c.Spool.High <= 100, um)
		}
	}
	before = 101
	p = sample(t, oliveStone)
	for _, kg := range []string{"0.5", "2", "8", "30", "300"} {
		p.Materials[1].Powder.Clogging.Prints[0].Strand = q[quantity.Mass](kg + " kg")
		now := evaluate(t, p).Blends[2].Result(ClogChancePerSpool)
		assert.Less(t, now.High, before, kg)
		before = now.High
	}
}

// What two blends share of a powder cancels when they are compared: a ± on the
// price of the wet powder says nothing of which of two equal blends is dearer.
func TestSharedPowderCancels(t *testing.T) {
	p := sample(t, oliveStone)
	twin := project.Clone(p).Blends[2]
	twin.ID, twin.Name = "twin", "Twin"
	p.Blends = append(p.Blends, twin)
	p.Reference = p.Blends[2].ID
	p.Materials[1].Powder.Preparation.WetPrice = q[quantity.PricePerMass]("0.40 ± 0.30 EUR/kg")
	r := evaluate(t, p).Blends[3].Result(MaterialCostChange)
	assert.InDelta(t, 0, r.Value, 1e-9)
	assert.InDelta(t, 0, r.High-r.Low, 1e-6)
}
