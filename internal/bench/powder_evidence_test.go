package bench

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
	"fillwright/internal/stat"
)

// printedRun is strand with 10 wt% of powder through a nozzle.
func printedRun(nozzle, strand string, blockages int) material.NozzleRun {
	return material.NozzleRun{
		Nozzle: q[quantity.Length](nozzle), Strand: q[quantity.Mass](strand), Content: q[quantity.Fraction]("10 %"), Blockages: blockages,
	}
}

func inspected(size, mass string, found int) material.Inspection {
	return material.Inspection{Size: q[quantity.Length](size), Mass: q[quantity.Mass](mass), Found: found}
}

// Strand through one bore counts together; clean strand through a larger one says
// nothing. How counts of several sizes go together is filler's.
func TestPrintsOfABoreAreAddedUp(t *testing.T) {
	for _, c := range []struct {
		name     string
		prints   []material.NozzleRun
		powderKg float64 // 0: no evidence
		count    int
		boreMM   float64
	}{
		{"one", []material.NozzleRun{printedRun("0.4 mm", "5 kg", 1)}, 0.5, 1, 0.4},
		{"two of the bore", []material.NozzleRun{printedRun("0.4 mm", "5 kg", 1), printedRun("0.4 mm", "3 kg", 2)}, 0.8, 3, 0.4},
		{"hardly another bore", []material.NozzleRun{printedRun("0.402 mm", "5 kg", 1), printedRun("0.398 mm", "3 kg", 0)}, 0.8, 1, 0.4},
		{"others beside it", []material.NozzleRun{printedRun("0.25 mm", "9 kg", 90), printedRun("0.4 mm", "5 kg", 1), printedRun("0.6 mm", "9 kg", 0)}, 0.5, 1, 0.4},
		{"a smaller one alone", []material.NozzleRun{printedRun("0.25 mm", "5 kg", 1), printedRun("0.25 mm", "1 kg", 1)}, 0.6, 2, 0.25},
		{"larger ones alone, and none blocked", []material.NozzleRun{printedRun("0.6 mm", "9 kg", 0)}, 0, 0, 0},
		{"without a content", []material.NozzleRun{{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("5 kg")}}, 0, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			nozzle(&p, "0.4 mm")
			benchOf(&p).Clogging.Prints = c.prints
			list := evaluate(t, p).Powder(1).Clogging.Evidence
			if c.powderKg == 0 {
				require.Empty(t, list)
				return
			}
			want, ok := filler.Counted([]filler.Count{{MassKg: c.powderKg, SizeM: c.boreMM * 1e-3, Found: c.count}}, 0.4e-3, math.NaN())
			require.True(t, ok)
			sameEvidence(t, want, list[0], FromPrints)
		})
	}
}

func sameEvidence(t *testing.T, want filler.Oversize, got Evidence, kind EvidenceKind) {
	t.Helper()
	assert.Equal(t, kind, got.Kind)
	assert.InDelta(t, want.LowPerKg, got.PerKg.Low, 1e-9*(1+want.LowPerKg))
	assert.InEpsilon(t, want.LikelyPerKg, got.PerKg.Value, 1e-9)
	assert.InEpsilon(t, want.HighPerKg, got.PerKg.High, 1e-9)
	assert.Equal(t, Measured, got.PerKg.Basis)
}

// The same of samples that were looked through: a bore of 0.45 mm makes 150 µm the
// critical size.
func TestInspectionsOfASizeAreAddedUp(t *testing.T) {
	for _, c := range []struct {
		name   string
		list   []material.Inspection
		kg     float64
		count  int
		sizeUM float64
	}{
		{"two of the size", []material.Inspection{inspected("150 um", "10 g", 1), inspected("150 um", "30 g", 2)}, 0.04, 3, 150},
		{"hardly another size", []material.Inspection{inspected("151 um", "10 g", 1), inspected("149 um", "30 g", 2)}, 0.04, 3, 150},
		{"others beside it", []material.Inspection{inspected("100 um", "10 g", 90), inspected("150 um", "30 g", 2), inspected("300 um", "90 g", 0)}, 0.03, 2, 150},
		{"a smaller one alone", []material.Inspection{inspected("80 um", "10 g", 5), inspected("80 um", "30 g", 6)}, 0.04, 11, 80},
		{"larger ones alone, and none found", []material.Inspection{inspected("300 um", "10 g", 0)}, 0, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			nozzle(&p, "0.45 mm")
			benchOf(&p).Clogging.Inspections = c.list
			list := evaluate(t, p).Powder(1).Clogging.Evidence
			if c.kg == 0 {
				require.Empty(t, list)
				return
			}
			want, ok := filler.Counted([]filler.Count{{MassKg: c.kg, SizeM: c.sizeUM * 1e-6, Found: c.count}}, 150e-6, math.NaN())
			require.True(t, ok)
			sameEvidence(t, want, list[0], FromInspections)
		})
	}
}

// Grains that were counted above a larger size, or that blocked a wider nozzle, are
// critical too: they hold the low end, and nothing holds the high one but that all
// the powder were just critical. 0.4 mm; 133.3 µm are critical.
func TestGrainsFoundAboveALargerSizeCount(t *testing.T) {
	most := filler.MostPerKg(0.4e-3/3, filler.Sphere(1450))
	for _, c := range []struct {
		name string
		with func(c *material.Clogging)
		kind EvidenceKind
		low  float64 // grains per kg
	}{
		{"sample", func(c *material.Clogging) { c.Inspections = []material.Inspection{inspected("300 um", "10 g", 5)} }, FromInspections, stat.PoissonLower(5, 0.95) / 0.010},
		{"print", func(c *material.Clogging) { c.Prints = []material.NozzleRun{printedRun("0.8 mm", "5 kg", 2)} }, FromPrints, stat.PoissonLower(2, 0.95) / 0.5},
		{"control sieve", func(c *material.Clogging) {
			c.Control = material.Control{Opening: q[quantity.Length]("250 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("3 g")}
		}, FromRetained, stat.PoissonLower(1, 0.95) / 0.1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			nozzle(&p, "0.4 mm")
			c.with(&benchOf(&p).Clogging)
			s := evaluate(t, p)
			e := evidence(t, &p, c.kind)
			assert.InEpsilon(t, c.low, e.PerKg.Low, 1e-9)
			assert.InEpsilon(t, most, e.PerKg.High, 1e-9)
			assert.Greater(t, e.PerKg.Value, e.PerKg.Low)
			assert.Positive(t, s.Blends[1].Result(ClogChancePerSpool).Low)

			benchOf(&p).Sieving.CheckSieve = q[quantity.Length]("90 um")
			s = evaluate(t, p)
			assert.Equal(t, c.kind != FromPrints, hasNote(s, 1, "check_sieve_leaks"), "a print counts what blocks, not grains above a size")
			assert.Positive(t, s.Blends[1].Result(ClogChancePerSpool).Low, "the sieve does not outweigh what was seen")
		})
	}
}

// Rows that take no part say so beside themselves.
func TestRowsOfCountsSayWhyTheyTakeNoPart(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	benchOf(&p).Clogging.Prints = []material.NozzleRun{
		printedRun("0.4 mm", "5 kg", 0), printedRun("0.25 mm", "5 kg", 0), printedRun("0.6 mm", "5 kg", 0), printedRun("0.6 mm", "5 kg", 1),
		printedRun("0.8 mm", "5 kg", 0),
		{Nozzle: q[quantity.Length]("0.4 mm"), Blockages: 2},
		{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("5 kg"), Content: q[quantity.Fraction]("0 %")},
	}
	benchOf(&p).Clogging.Inspections = []material.Inspection{inspected("100 um", "10 g", 5), {Mass: q[quantity.Mass]("10 g")}}
	s := evaluate(t, p).Powder(1).Clogging
	ids := func(remarks []Remark) (list []string) {
		for _, r := range remarks {
			list = append(list, r.ID)
		}
		return list
	}
	assert.Equal(t, []string{"", "", "", "", "count_larger", "count_incomplete", "count_no_powder"}, ids(s.Prints))
	assert.Equal(t, []string{"", "count_incomplete"}, ids(s.Inspections))
}

// All that lies on sieves from the critical size up counts, on the coarsest that is
// not above it, or hardly.
func TestStackSaysWhatIsKeptBack(t *testing.T) {
	for name, opening := range map[string]string{"below it": "125", "at it": "150", "hardly above it": "151"} {
		p := quiet()
		nozzle(&p, "0.45 mm") // 150 µm are critical
		stack(&p, "60", "250", "5", opening, "15", "63", "20")
		e := evidence(t, &p, FromRetained)
		x := map[string]float64{"125": 125e-6, "150": 150e-6, "151": 150e-6}[opening]
		want, ok := filler.Retained(0.20, 0.01/100, x, 150e-6, filler.Sphere(1450))
		require.True(t, ok)
		coarse, _ := filler.RetainedAbove(0.05, 0.1, 250e-6, 150e-6, filler.Sphere(1450))
		want.LowPerKg = coarse.LowPerKg // something lay on the coarse sieve
		sameEvidence(t, want, e, FromRetained)
		assert.InEpsilon(t, 150, evaluate(t, p).Powder(1).Clogging.Critical.Value, 1e-9, name)
	}
}

// Grains that were seen come first. While none was, that counts which allows the
// fewest: a sieve that keeps all critical grains back, or the larger clean sample.
func TestBestEvidence(t *testing.T) {
	for _, c := range []struct {
		name  string
		check string
		with  func(c *material.Clogging)
		best  EvidenceKind
		basis Basis
	}{
		{"the sieve alone", "90 um", func(*material.Clogging) {}, FromTopSize, Entered},
		{"printed without a blockage", "90 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "5 kg", 0)}
		}, FromTopSize, Entered},
		{"printed with a blockage", "90 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "5 kg", 1)}
		}, FromPrints, Measured},
		{"a wider nozzle blocked", "90 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.6 mm", "5 kg", 1)}
		}, FromPrints, Measured},
		{"a long clean print against what a sieve kept back", "250 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "60 kg", 0)}
			c.Control = material.Control{Opening: q[quantity.Length]("250 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("3 g")}
		}, FromPrints, Measured},
		{"a short clean print against grains that were seen", "125 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "50 g", 0)}
			c.Inspections = []material.Inspection{inspected("133.3 um", "50 g", 2)}
		}, FromInspections, Measured},
		{"a short clean print beside a large clean sample", "125 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "5 g", 0)}
			c.Inspections = []material.Inspection{inspected("133.3 um", "100 g", 0)}
		}, FromInspections, Measured},
		{"a long clean print beside a small clean sample", "125 um", func(c *material.Clogging) {
			c.Prints = []material.NozzleRun{printedRun("0.4 mm", "5 kg", 0)}
			c.Inspections = []material.Inspection{inspected("133.3 um", "10 g", 0)}
		}, FromPrints, Measured},
		{"none found", "90 um", func(c *material.Clogging) {
			c.Inspections = []material.Inspection{inspected("133.3 um", "10 g", 0)}
		}, FromTopSize, Entered},
		{"none found, and a coarse sieve", "125 um", func(c *material.Clogging) {
			c.Inspections = []material.Inspection{inspected("133.3 um", "10 g", 0)}
		}, FromInspections, Measured},
		// 99.5 µm let 133.1 µm pass legally: less than critical, and what was counted
		{"found between the sieve and the critical size", "99.5 um", func(c *material.Clogging) {
			c.Inspections = []material.Inspection{inspected("132.5 um", "10 g", 4)}
		}, FromInspections, Measured},
		{"found above the sieve, and less above nothing", "90 um", func(c *material.Clogging) {
			c.Inspections = []material.Inspection{inspected("133.3 um", "10 g", 4), inspected("50 um", "10 g", 900)}
		}, FromInspections, Measured},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sievedFine()
			benchOf(&p).Sieving.CheckSieve = q[quantity.Length](c.check)
			c.with(&benchOf(&p).Clogging)
			s := evaluate(t, p).Powder(1).Clogging
			assert.Zero(t, s.Best, "the list is in order")
			assert.Equal(t, c.best, s.Evidence[s.Best].Kind)
			assert.Equal(t, c.basis, s.Evidence[s.Best].PerKg.Basis)
			assert.Equal(t, strings.HasPrefix(c.name, "found above the sieve"), hasNote(evaluate(t, p), 1, "check_sieve_leaks"))
		})
	}
}
