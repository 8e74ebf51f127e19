package bench

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Rows that are odd are marked where they stand, and the others count.
func TestOddRowsAreMarkedInPlace(t *testing.T) {
	p := quiet()
	r := goodLog(&p)
	r.Readings[1].Time = quantity.Of[quantity.Duration]{}
	r.Readings[3].Masses[0] = q[quantity.Mass]("120 g")
	s := evaluate(t, p)
	rows := s.Powders[0].Drying.Runs[0].Rows
	require.Len(t, rows, 8, "no row is lost")
	assert.Equal(t, "no_time", rows[1].Remark.ID)
	assert.False(t, rows[1].Known)
	assert.Equal(t, "mass_rises", rows[3].Remark.ID)
	assert.Equal(t, 3, rows[3].Remark.Values["Other"], "it is held against the third row of the table")
	assert.Empty(t, rows[4].Remark.ID)
	assert.True(t, rows[4].Known)
}

func TestTwoTraysNeedTwoMasses(t *testing.T) {
	p := quiet()
	r := goodLog(&p)
	r.Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("10 g"), q[quantity.Mass]("20 g")}
	r.Readings[0].Masses = append(r.Readings[0].Masses, q[quantity.Mass]("150 g"))
	s := checkSheet(t, &p, newReader(), "trays")
	rows := s.Powders[0].Drying.Runs[0].Rows
	assert.InDelta(t, 140+150-30, rows[0].NetG, 1e-9)
	assert.Equal(t, "no_mass", rows[1].Remark.ID)
}

// Ten thousand rows are evaluated, not refused.
func TestTenThousandWeighings(t *testing.T) {
	p := quiet()
	var cells []string
	for i := range 10_000 {
		minutes := float64(i) / 20
		cells = append(cells, fmt.Sprint(minutes), fmt.Sprintf("%.4f", 100+40*math.Exp(-0.03*minutes)))
	}
	inTheRoom(dryingLog(&p, cells...))
	s := checkSheet(t, &p, newReader(), "ten thousand rows")
	run := &s.Powders[0].Drying.Runs[0]
	require.Len(t, run.Rows, 10_000)
	assert.InEpsilon(t, 0.03, run.Fits[0].K.Value, 1e-3)

	benchOf(&p).Drying.Runs[0].Readings = append(benchOf(&p).Drying.Runs[0].Readings, material.DryingReading{})
	assert.Error(t, project.Validate(&p), "one more is refused at the door")
}

// Whatever is in a table, its sheet has no number that is none, a note says what is
// wrong with it, and the document keeps every row.
func TestBadTablesLoseNothing(t *testing.T) {
	words := newReader()
	for _, c := range []struct {
		name   string
		change func(p *project.Project)
		notes  []string
	}{
		{"one row", func(p *project.Project) { dryingLog(p, "0", "140") }, []string{"drying_not_fitted"}},
		{"empty rows", func(p *project.Project) { dryingLog(p, "", "", "", "") }, []string{"drying_log_missing"}},
		{"an empty row between", func(p *project.Project) { goodLog(p).Readings[2] = material.DryingReading{} }, nil},
		{"all at once", func(p *project.Project) { dryingLog(p, "5", "140", "5", "120", "5", "100") }, []string{"drying_time_repeats", "drying_not_fitted"}},
		{"two at once", func(p *project.Project) { goodLog(p).Readings[3].Time = q[quantity.Duration]("40 min") }, []string{"drying_time_repeats"}},
		{"backwards", func(p *project.Project) { dryingLog(p, "90", "100", "60", "110", "30", "125", "0", "140") }, []string{"drying_time_goes_back"}},
		{"rising", func(p *project.Project) {
			dryingLog(p, "0", "100", "30", "110", "60", "120", "90", "125", "120", "127")
		}, []string{"drying_mass_rises", "drying_not_fitted"}},
		{"all equal", func(p *project.Project) { dryingLog(p, "0", "140", "30", "140", "60", "140", "90", "140") }, []string{"drying_not_fitted"}},
		{"zero masses", func(p *project.Project) { dryingLog(p, "0", "0", "30", "0", "60", "0", "90", "0") }, []string{"drying_below_tare"}},
		{"below the tare from the start", func(p *project.Project) {
			goodLog(p).Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("500 g")}
		}, []string{"drying_below_tare"}},
		{"a tray without a tare", func(p *project.Project) { goodLog(p).Trays = []quantity.Of[quantity.Mass]{{}} }, []string{"drying_no_tare"}},
		{"a tray without masses", func(p *project.Project) {
			goodLog(p).Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("10 g"), q[quantity.Mass]("10 g")}
		}, []string{"drying_no_mass"}},
		{"dry mass above", func(p *project.Project) { goodLog(p).DryMass = q[quantity.Mass]("200 g") }, []string{"drying_dry_mass_above"}},
		{"dry mass tiny", func(p *project.Project) { goodLog(p).DryMass = q[quantity.Mass]("0.01 g") }, nil},
		{"dry mass anything", func(p *project.Project) { goodLog(p).DryMass = q[quantity.Mass]("60 ± 59 g") }, nil},
		{"dry mass close", func(p *project.Project) { goodLog(p).DryMass = q[quantity.Mass]("100.05 ± 2 g") }, nil},
		{"huge stack", func(p *project.Project) { stack(p, "0.0001", "125", "1000000", "63", "0.00001") }, []string{"size_above"}},
		{"no charge", func(p *project.Project) { goodStack(p).Charge = q[quantity.Mass]("0 g") }, nil},
		{"one sieve twice", func(p *project.Project) { stack(p, "20", "125", "5", "125", "6", "63", "30") }, []string{"sieve_twice"}},
		{"only one sieve, twice", func(p *project.Project) { stack(p, "20", "125", "5", "125", "6") }, []string{"sieve_twice", "sieve_single"}},
		{"more than the charge, pan left out", func(p *project.Project) {
			s := goodStack(p)
			s.Pan, s.Charge = quantity.Of[quantity.Mass]{}, q[quantity.Mass]("50 g")
		}, []string{"sieve_charge_below"}},
		{"more than the charge", func(p *project.Project) { goodStack(p).Charge = q[quantity.Mass]("50 g") }, []string{"sieve_gain"}},
		{"out of order", func(p *project.Project) { stack(p, "20", "63", "30", "125", "5", "45", "10") }, []string{"sieve_order"}},
		{"empty sieves", func(p *project.Project) { stack(p, "20", "", "", "", "") }, []string{"sieving_empty"}},
		{"an empty sieve between", func(p *project.Project) { goodStack(p).Sieves[1] = material.Sieve{} }, nil},
		{"all on top", func(p *project.Project) { stack(p, "0", "125", "100", "63", "0") }, []string{"size_above"}},
		{"all in the pan", func(p *project.Project) { stack(p, "100", "125", "0", "63", "0") }, []string{"size_below"}},
		{"nothing at all", func(p *project.Project) { stack(p, "0", "125", "0", "63", "0") }, []string{"sieve_nothing"}},
		{"no strand", func(p *project.Project) { benchOf(p).Clogging.Prints = []material.NozzleRun{{}} }, []string{"clog_evidence_missing"}},
		{"no sample", func(p *project.Project) { benchOf(p).Clogging.Inspections = []material.Inspection{{Found: 3}} }, []string{"clog_evidence_missing"}},
		{"no powder in it", func(p *project.Project) {
			benchOf(p).Clogging.Prints = []material.NozzleRun{{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("5 kg"), Content: q[quantity.Fraction]("0 %"), Blockages: 2}}
		}, []string{"clog_evidence_missing"}},
		{"nothing from nothing", func(p *project.Project) {
			steps(p, material.Step{Kind: material.Wash, MassIn: q[quantity.Mass]("0 g"), MassOut: q[quantity.Mass]("0 g")})
		}, []string{"step_yield_impossible"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			nozzle(&p, "0.4 mm")
			c.change(&p)
			require.NoError(t, project.Validate(&p))
			before := project.Clone(p)
			s := checkSheet(t, &p, words, c.name)
			assert.Equal(t, before, p)
			for _, id := range c.notes {
				assert.True(t, hasNote(s, 1, id), "%s: %v", id, noteIDs(s.Blends[1].Notes))
			}
			assert.Len(t, s.Powder(1).Sieving.Rows, len(benchOf(&p).Sieving.Sieves))
			for i, run := range benchOf(&p).Drying.Runs {
				assert.Len(t, s.Powder(1).Drying.Runs[i].Rows, len(run.Readings))
			}
		})
	}
}

// Every remark beside a row, where it stands. An empty row has none.
func TestEveryRemarkOfARow(t *testing.T) {
	words := newReader()
	reached := map[string]bool{}
	for _, c := range []struct {
		change func(p *project.Project)
		row    int
		remark string
	}{
		{func(p *project.Project) { goodLog(p).Readings[2].Time = quantity.Of[quantity.Duration]{} }, 2, "no_time"},
		{func(p *project.Project) { goodLog(p).Readings[2].Masses = nil }, 2, "no_mass"},
		{func(p *project.Project) { goodLog(p).Readings[2] = material.DryingReading{} }, 2, ""},
		{func(p *project.Project) {
			goodLog(p).Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("100.4 g")}
		}, 6, "below_tare"},
		{func(p *project.Project) { goodLog(p).Trays = make([]quantity.Of[quantity.Mass], 1) }, 2, "no_tare"},
		{func(p *project.Project) { goodLog(p).Readings[3].Time = q[quantity.Duration]("40 min") }, 3, "time_repeats"},
		{func(p *project.Project) {
			r := goodLog(p)
			r.Readings[3], r.Readings[4] = r.Readings[4], r.Readings[3]
		}, 4, "time_goes_back"},
		{func(p *project.Project) { goodLog(p).Readings[5].Masses[0] = q[quantity.Mass]("106 g") }, 5, "mass_rises"},
		{func(p *project.Project) { goodStack(p).Sieves[2].Opening = quantity.Of[quantity.Length]{} }, 2, "no_opening"},
		{func(p *project.Project) { goodStack(p).Sieves[2].Retained = quantity.Of[quantity.Mass]{} }, 2, "no_retained"},
		{func(p *project.Project) { goodStack(p).Sieves[2] = material.Sieve{} }, 2, ""},
		{func(p *project.Project) { goodStack(p).Sieves[2].Opening = q[quantity.Length]("90 um") }, 2, "sieve_twice"},
		{func(p *project.Project) { goodStack(p).Sieves[2].Opening = q[quantity.Length]("150 um") }, 2, "out_of_order"},
		{func(p *project.Project) { goodStack(p).Sieves[2].Opening = q[quantity.Length]("64 um") }, 2, "not_nominal"},
		{func(p *project.Project) { counts(p, material.NozzleRun{Nozzle: q[quantity.Length]("0.4 mm")}) }, 0, "count_incomplete"},
		{func(p *project.Project) { counts(p, printedRun("0.4 mm", "0 kg", 0)) }, 0, "count_no_powder"},
		{func(p *project.Project) { counts(p, printedRun("0.6 mm", "1 kg", 0)) }, 0, "count_larger"},
		{func(p *project.Project) { counts(p, printedRun("0.6 mm", "1 kg", 1)) }, 0, ""},
		{testRow(func(r *project.FlowRow) { r.Time = quantity.Of[quantity.Duration]{} }), 1, "flow_no_time"},
		{testRow(func(r *project.FlowRow) { r.Mass = quantity.Of[quantity.Mass]{} }), 1, "flow_no_mass"},
		{testRow(func(r *project.FlowRow) { r.Bubbles = true }), 1, "flow_bubbles"},
		{testRow(func(*project.FlowRow) {}), 1, ""},
		{func(p *project.Project) {
			testRow(func(*project.FlowRow) {})(p)
			p.Melt.Tests[0].Procedure = project.Piston
		}, 1, "flow_no_travel"},
	} {
		p := quiet()
		c.change(&p)
		sheet := checkSheet(t, &p, words, c.remark)
		s := sheet.Powder(1)
		var remarks []Remark
		for _, test := range sheet.FlowTests {
			for _, row := range test.Rows {
				remarks = append(remarks, row.Remark)
			}
		}
		for _, run := range s.Drying.Runs {
			for _, row := range run.Rows {
				remarks = append(remarks, row.Remark)
			}
		}
		for _, row := range s.Sieving.Rows {
			remarks = append(remarks, row.Remark)
		}
		remarks = append(remarks, s.Clogging.Prints...)
		require.Greater(t, len(remarks), c.row, c.remark)
		assert.Equal(t, c.remark, remarks[c.row].ID)
		reached["row."+c.remark] = true
	}
	for _, id := range words.words.IDs() {
		if strings.HasPrefix(id, "row.") {
			assert.True(t, reached[id], id)
		}
	}
}

// testRow is a melt-flow test whose second row is changed.
func testRow(change func(*project.FlowRow)) func(p *project.Project) {
	return func(p *project.Project) {
		t := flowTest("plain", cuts(0.2, 0.201, 0.199))
		change(&t.Rows[1])
		p.Melt.Tests = []project.FlowTest{t}
	}
}

// counts are prints through nozzles, of a printer of 0.4 mm.
func counts(p *project.Project, prints ...material.NozzleRun) {
	nozzle(p, "0.4 mm")
	benchOf(p).Clogging.Prints = prints
}

// What is no mass, no time and no opening does not come in.
func TestDoorOfTheTables(t *testing.T) {
	_, err := quantity.Parse[quantity.Mass]("-3 g")
	assert.Error(t, err, "a mass below nothing is not even a mass")
	_, err = quantity.Parse[quantity.Duration]("-3 min")
	assert.Error(t, err)
	_, err = quantity.Parse[quantity.Length]("-3 um")
	assert.Error(t, err)
	for name, change := range map[string]func(p *project.Project){
		"mass":    func(p *project.Project) { goodLog(p).Readings[2].Masses[0] = q[quantity.Mass]("2000 kg") },
		"time":    func(p *project.Project) { goodLog(p).Readings[2].Time = q[quantity.Duration]("20000 h") },
		"opening": func(p *project.Project) { goodStack(p).Sieves[0].Opening = q[quantity.Length]("0 um") },
		"found": func(p *project.Project) {
			benchOf(p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length]("125 um"), Found: -1}}
		},
		"blockages": func(p *project.Project) { benchOf(p).Clogging.Prints = []material.NozzleRun{{Blockages: -1}} },
	} {
		p := quiet()
		change(&p)
		var broken *project.Broken
		require.ErrorAs(t, project.Validate(&p), &broken, name)
		assert.Contains(t, broken.Pointer, benchAt, name)
	}
}
