package bench

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// sievedFine is powder through a sieve that keeps back every grain that is
// critical for the nozzle.
func sievedFine() project.Project {
	p := quiet()
	nozzle(&p, "0.4 mm")
	goodStack(&p).CheckSieve = q[quantity.Length]("90 um") // up to 121.8 µm legally, of 133.3
	return p
}

// What is found in the finished powder tells against the sieve that should have
// kept it back: the chance is not nothing then.
func TestFoundGrainsTellAgainstTheSieve(t *testing.T) {
	p := sievedFine()
	s := evaluate(t, p)
	require.Zero(t, value(t, s, 1, ClogChancePerSpool), "taken at its word")
	require.Equal(t, FromTopSize, s.Powder(1).Clogging.Evidence[s.Powder(1).Clogging.Best].Kind)

	control := func(opening, retained string) func(c *material.Clogging) {
		return func(c *material.Clogging) {
			c.Control = material.Control{Opening: q[quantity.Length](opening), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass](retained)}
		}
	}
	inspection := func(size string, found int) func(c *material.Clogging) {
		return func(c *material.Clogging) {
			c.Inspections = append(c.Inspections, material.Inspection{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length](size), Found: found})
		}
	}
	for _, c := range []struct {
		name  string
		with  func(c *material.Clogging)
		leaks bool
	}{
		{"kept back above it", control("125 um", "5 g"), true},
		{"kept back within the step of the scale", control("125 um", "0.01 g"), false},
		{"kept back below it", control("106 um", "5 g"), false},
		{"kept back above the critical size", control("150 um", "5 g"), true},
		{"counted above it", inspection("125 um", 2), true},
		{"counted above the critical size", inspection("200 um", 2), true},
		{"none counted above it", inspection("125 um", 0), false},
		{"counted below it", inspection("100 um", 2), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sievedFine()
			c.with(&benchOf(&p).Clogging)
			s := checkSheet(t, &p, newReader(), c.name)
			assert.Equal(t, c.leaks, hasNote(s, 1, "check_sieve_leaks"))
			for _, e := range s.Powder(1).Clogging.Evidence {
				assert.False(t, c.leaks && e.Kind == FromTopSize, "a sieve that leaks proves nothing")
			}
			chance := s.Blends[1].Result(ClogChancePerSpool)
			assert.Equal(t, c.leaks, chance.High > 0, "%v", chance)
		})
	}
}

func hasNote(s *Sheet, blend int, id string) bool {
	_, found := note(s.Blends[blend].Notes, id)
	return found
}

// An empty sieve of the stack is the word of a sample: grains that were found above
// it leave the word of the check sieve, which the whole lot has passed.
func TestFoundGrainsLeaveTheCheckSieve(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.6 mm") // 200 µm are critical
	stack(&p, "20", "90", "0", "63", "60", "45", "20").CheckSieve = q[quantity.Length]("125 um")
	benchOf(&p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length]("125 um"), Found: 3}}
	s := evaluate(t, p)
	assert.False(t, hasNote(s, 1, "check_sieve_leaks"), "163 µm may pass 125 µm")
	assert.Equal(t, FromTopSize, s.Powder(1).Clogging.Evidence[s.Powder(1).Clogging.Best].Kind)
	assert.InEpsilon(t, filler.LargestAperture(125e-6)*1e6, value(t, s, 1, TopSize), 1e-9)

	benchOf(&p).Sieving.CheckSieve = quantity.Of[quantity.Length]{}
	s = evaluate(t, p)
	assert.False(t, hasNote(s, 1, "check_sieve_leaks"), "there is none")
	assert.Equal(t, FromInspections, s.Powder(1).Clogging.Evidence[s.Powder(1).Clogging.Best].Kind)
	assert.Positive(t, value(t, s, 1, ClogChancePerSpool))
}

// Every chance that is shown lies between 0 and 100, its interval about it, and
// the chance of a blend is that of the evidence that is used.
func TestChancesLieWithinTheirBounds(t *testing.T) {
	for name, p := range chances(t) {
		t.Run(name, func(t *testing.T) {
			s := checkSheet(t, &p, newReader(), name)
			for i := range s.Blends {
				b := &s.Blends[i]
				for _, f := range []Figure{ClogChancePerSpool, ClogChancePerPrint} {
					chanceWithin(t, b.Result(f), f.Key())
				}
				for _, e := range b.Clog.Evidence {
					chanceWithin(t, e.Spool, string(e.Kind))
					chanceWithin(t, e.Print, string(e.Kind))
					if !e.Used {
						continue
					}
					assert.InDelta(t, b.Result(ClogChancePerSpool).Value, e.Spool.Value, 1e-9, "%s", e.Kind)
					assert.InDelta(t, b.Result(ClogChancePerPrint).Value, e.Print.Value, 1e-9, "%s", e.Kind)
					assert.InDelta(t, b.Result(GrainsPerMetre).Value, e.PerMetre.Value, 1e-9*(1+e.PerMetre.Value), "%s", e.Kind)
				}
				for _, row := range b.Clog.Table() {
					for _, cell := range row.Cells {
						chanceWithin(t, cell.Chance, "table")
					}
				}
			}
		})
	}
}

// The ends of the figure are those of the evidence where nothing else is uncertain,
// and hardly wider where the diameter is: what was seen cannot become nothing again.
func TestEndsOfGrainsAreThoseOfTheEvidence(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	stack(&p, "60", "1000", "10", "250", "30")
	for _, diameter := range []string{"1.75 mm", "1.75 ± 0.05 mm"} {
		p.Spool.Diameter = q[quantity.Length](diameter)
		s := evaluate(t, p)
		e := s.Powder(1).Clogging.Evidence[0].PerKg
		require.Positive(t, e.Low)
		grains := s.Blends[1].Result(GrainsPerMetre)
		share := grains.Value / e.Value
		assert.InEpsilon(t, e.Low, grains.Low/share, 0.07, diameter)
		assert.InEpsilon(t, e.High, grains.High/share, 0.07, diameter)
		assert.InEpsilon(t, 100*filler.BlockChance(e.Low, 0.05), s.Blends[1].Result(ClogChancePerSpool).Low, 1e-4, diameter)
	}
}

func chanceWithin(t *testing.T, r Result, about string) {
	t.Helper()
	assert.True(t, 0 <= r.Low && r.Low <= r.Value && r.Value <= r.High && r.High <= 100, "%s: %v", about, r)
}

// chances are projects that rest on each kind of evidence, from next to nothing to
// next to certain.
func chances(t *testing.T) map[string]project.Project {
	all := map[string]project.Project{"olive": sample(t, oliveStone), "mussel": sample(t, musselShell), "top size": sievedFine()}
	for name, bore := range map[string]string{"wide": "1 mm", "usual": "0.4 mm", "narrow": "0.1 mm"} {
		bare := func() project.Project {
			p := quiet()
			nozzle(&p, bore)
			p.Print.Mass = q[quantity.Mass]("30 g")
			return p
		}
		p := bare()
		stack(&p, "5", "212", "15", "180", "40", "150", "40")
		all[name+", tail"] = p
		p = bare()
		goodStack(&p)
		all[name+", stack"] = p
		p = bare()
		benchOf(&p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length]("30 um"), Found: 1000}}
		all[name+", counted"] = p
		p = bare()
		benchOf(&p).Clogging.Prints = []material.NozzleRun{{Nozzle: q[quantity.Length]("0.1 mm"), Strand: q[quantity.Mass]("3 kg"), Content: q[quantity.Fraction]("5 %"), Blockages: 2}}
		all[name+", printed"] = p
	}
	return all
}

// A powder of x50 80 µm and GSD 1.6, of 1.35 g/cm3: grains above a size in a gram,
// by the closed form (arithmetic from the stated inputs).
func TestTailThroughAProject(t *testing.T) {
	for bore, perGram := range map[string]float64{
		"0.45 mm": 22420.9, "0.6 mm": 2914.51, "0.75 mm": 470.058, "0.9 mm": 90.3035, "1.2 mm": 4.98764,
	} {
		p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
		lawStack(&p, filler.LogNormal{MedianM: 80e-6, GSD: 1.6}, 250, 180, 125, 90, 63, 45, 25)
		nozzle(&p, bore)
		tail := evidence(t, &p, FromTail)
		assert.InEpsilon(t, perGram, tail.PerKg.Value/1000, 1e-4, "above a third of %s", bore)
		assert.LessOrEqual(t, tail.PerKg.Low, tail.PerKg.Value/10)
		assert.GreaterOrEqual(t, tail.PerKg.High, tail.PerKg.Value*10)
		assert.Equal(t, Estimated, tail.PerKg.Basis, "nothing of it was seen")
	}

	// 0.4 mm, critical only what fills the bore: 3.0245 in a metre of 1.75 mm with
	// 20 wt%, half a chance after 0.229 m
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	lawStack(&p, filler.LogNormal{MedianM: 80e-6, GSD: 1.6}, 250, 180, 125, 90, 63, 45, 25)
	nozzle(&p, "0.4 mm")
	p.Print.CriticalParts = q[quantity.Factor]("1")
	s := evaluate(t, p)
	tail := slices.IndexFunc(s.Blends[1].Clog.Evidence, func(c ClogChance) bool { return c.Kind == FromTail })
	perMetre := s.Blends[1].Clog.Evidence[tail].PerMetre.Value
	assert.InEpsilon(t, 3.0245, perMetre, 2e-4)
	assert.InEpsilon(t, 0.229, math.Ln2/perMetre, 2e-3)
	assert.InEpsilon(t, 998, perMetre*330, 1e-3)
	assert.InEpsilon(t, 0.60639, 1.26054*1000*0.2*math.Pi/4*1.75*1.75*1e-3, 1e-5, "powder in a metre, g")
	assert.InEpsilon(t, 1.26054, value(t, s, 1, Density), 1e-5)
}

func evidence(t *testing.T, p *project.Project, kind EvidenceKind) Evidence {
	t.Helper()
	for _, e := range evaluate(t, *p).Powder(1).Clogging.Evidence {
		if e.Kind == kind {
			return e
		}
	}
	require.Fail(t, "no such evidence", "%s", kind)
	return Evidence{}
}
