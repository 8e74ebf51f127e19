package bench

import (
	"fmt"
	"math"
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
// price of the wet powder or on a weighing says nothing of which of two equal
// blends is dearer, while it widens the cost of each.
func TestSharedPowderCancels(t *testing.T) {
	for name, change := range map[string]func(b *material.Powder){
		"wet price":       func(b *material.Powder) { b.Preparation.WetPrice = q[quantity.PricePerMass]("0.40 ± 0.30 EUR/kg") },
		"mass in":         func(b *material.Powder) { b.Preparation.Steps[0].MassIn = q[quantity.Mass]("6.0 ± 0.5 kg") },
		"work":            func(b *material.Powder) { b.Preparation.Steps[2].Time = q[quantity.Duration]("60 ± 30 min") },
		"displaced water": func(b *material.Powder) { b.Grain.FullWithPowder = wider(b.Grain.FullWithPowder, "1 g") },
	} {
		t.Run(name, func(t *testing.T) {
			p := sample(t, oliveStone)
			twin := project.Clone(p).Blends[2]
			twin.ID, twin.Name = "twin", "Twin"
			p.Blends = append(p.Blends, twin)
			p.Reference = p.Blends[2].ID
			last := len(p.Blends) - 1
			before := evaluate(t, p)
			change(benchOf(&p))
			s := evaluate(t, p)
			for _, f := range []Figure{MaterialCostChange, SavingPerSpool} {
				r := s.Blends[last].Result(f)
				assert.InDelta(t, 0, r.Value, 1e-9, f.Key())
				assert.InDelta(t, 0, r.High-r.Low, 1e-6, f.Key())
			}
			cost, was := s.Blends[last].Result(CostPerMetre), before.Blends[last].Result(CostPerMetre)
			assert.Greater(t, cost.High-cost.Low, (was.High-was.Low)*(1+1e-9), "each by itself is known less well")
		})
	}
}

// wider is a mass with a ±.
func wider(m quantity.Of[quantity.Mass], spread string) quantity.Of[quantity.Mass] {
	return q[quantity.Mass](fmt.Sprintf("%.3f ± %s", m.SI()*1000, spread))
}

// An oven and a layer as they are shift nothing; warmer and thinner is faster.
func TestShiftOfTheOven(t *testing.T) {
	p := quiet()
	run := goodLog(&p)
	inTheRoom(run)
	run.OvenTemperature, run.Layer = q[quantity.Temperature]("80 degC"), q[quantity.Length]("8 mm")
	drying := &benchOf(&p).Drying
	drying.Target = q[quantity.Fraction]("2 %")
	use := func(temperature, layer string) DryingUse {
		drying.OtherTemperature, drying.OtherLayer = quantity.Of[quantity.Temperature]{}, quantity.Of[quantity.Length]{}
		if temperature != "" {
			drying.OtherTemperature = q[quantity.Temperature](temperature)
		}
		if layer != "" {
			drying.OtherLayer = q[quantity.Length](layer)
		}
		return evaluate(t, p).Blends[1].Drying
	}
	same := use("80 degC", "8 mm")
	assert.Equal(t, "both", same.ShiftedTo)
	assert.InEpsilon(t, same.Time.Value, same.Shifted.Value, 1e-9)
	assert.InEpsilon(t, same.Time.High, same.Shifted.High, 1e-9)
	assert.False(t, use("", "").Shifted.Known())

	// Ea 38 kJ/mol and m 1 are the usual ones; the floor is another one at 100 °C
	warm, thin := use("100 degC", ""), use("", "4 mm")
	factor := math.Exp(38000 / 8.314462618 * (1/353.15 - 1/373.15))
	assert.InEpsilon(t, warm.Time.Value/factor, warm.Shifted.Value, 0.05)
	assert.InEpsilon(t, thin.Time.Value/2, thin.Shifted.Value, 1e-9)
	for _, u := range []DryingUse{warm, thin} {
		assert.Equal(t, Estimated, u.Shifted.Basis)
		assert.Greater(t, math.Log(u.Shifted.High/u.Shifted.Low), math.Log(u.Time.High/u.Time.Low), "an extrapolation is known less well")
	}
}

// Of two powders in a blend, the grains of both count, each by its share.
func TestGrainsOfTwoPowdersAddUp(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	found := func(size string, count int) []material.Inspection {
		return []material.Inspection{{Mass: q[quantity.Mass]("100 g"), Size: q[quantity.Length](size), Found: count}}
	}
	benchOf(&p).Clogging.Inspections = found("133.3 um", 1)
	other := chalk()
	other.Powder.Clogging.Inspections = found("133.3 um", 6)
	p.Materials = append(p.Materials, other)
	filled(&p).Parts = append(filled(&p).Parts, project.Part{Material: "chalk", Amount: amount("3 wt%")})
	s := evaluate(t, p)
	each := func(i int) Result { return s.Powder(i).Clogging.Evidence[0].PerKg }
	grains := 0.05*each(1).Value + 0.03*each(3).Value
	assert.InEpsilon(t, 100*-math.Expm1(-grains), value(t, s, 1, ClogChancePerSpool), 1e-9, "1 kg of strand")
	assert.InEpsilon(t, grains/value(t, s, 1, LengthPerSpool), value(t, s, 1, GrainsPerMetre), 1e-9)

	benchOf(&p).Clogging.Inspections = nil
	s = evaluate(t, p)
	assert.False(t, s.Blends[1].Result(ClogChancePerSpool).Known(), "of one of them nothing is known")
	assert.True(t, hasNote(s, 1, "clog_evidence_missing"))
}
