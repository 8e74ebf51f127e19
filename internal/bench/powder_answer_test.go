package bench

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/stat"
	"fillwright/internal/wording"
)

// The table of sieves and nozzles: of ISO 3310-1, 90 µm lets 121.8 µm pass, 106 µm
// 140.9 µm, 125 µm 163.3 µm, 250 µm 307.8 µm. A third of 0.4 mm is 133.3 µm.
func TestTableOfSievesAndNozzles(t *testing.T) {
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	lawStack(&p, filler.LogNormal{MedianM: 80e-6, GSD: 1.6}, 250, 180, 125, 90, 63, 45, 25)
	s := evaluate(t, p)
	table := s.Blends[1].Clog.Table()
	require.Equal(t, []float64{0.25, 0.4, 0.6, 0.8, 1.0}, s.Blends[1].Clog.Nozzles)
	fits := map[float64][]SieveFit{}
	for _, row := range table {
		for _, cell := range row.Cells {
			fits[row.OpeningUM] = append(fits[row.OpeningUM], cell.Fit)
		}
	}
	assert.Equal(t, []SieveFit{SieveBlocks, SieveCoarse, SieveCoarse, SieveMarginal, SieveKeepsAll}, fits[250])
	assert.Equal(t, []SieveFit{SieveCoarse, SieveMarginal, SieveKeepsAll, SieveKeepsAll, SieveKeepsAll}, fits[125])
	assert.Equal(t, []SieveFit{SieveCoarse, SieveKeepsAll, SieveKeepsAll, SieveKeepsAll, SieveKeepsAll}, fits[90])

	law := s.Powder(1).Sieving.Fits[s.Powder(1).Sieving.Best].law
	for _, row := range table {
		assert.InEpsilon(t, filler.LargestAperture(row.OpeningUM*1e-6)*1e6, row.LargestUM, 1e-9)
		for i, cell := range row.Cells {
			critical := s.Blends[1].Clog.Nozzles[i] * 1e-3 / 3
			grains := 0.0
			if row.LargestUM*1e-6 > critical {
				grains = law.NumberBetween(critical, row.LargestUM*1e-6, filler.Sphere(1350))
			}
			assert.InDelta(t, 100*filler.BlockChance(grains, 0.2), cell.Chance.Value, 1e-6, "%v µm, %d: cut off where the sieve ends", row.OpeningUM, i)
			assert.Equal(t, Estimated, cell.Chance.Basis)
		}
	}
	assert.Equal(t, "No. 120", table[3].Mesh, "125 µm")
}

func TestTableInWords(t *testing.T) {
	words := wording.New("en")
	say := func(bore string) (lines []string) {
		p := quiet()
		nozzle(&p, bore)
		for _, a := range evaluate(t, p).Blends[1].Clog.Answer {
			lines = append(lines, words.Say(a.Message()))
		}
		return lines
	}
	usual := say("0.4 mm")
	require.Len(t, usual, 5)
	assert.Contains(t, usual[0], "a 90 µm sieve keeps every legal grain under 133 µm (bore over 3)")
	assert.Contains(t, usual[1], "125 µm is marginal")
	assert.Contains(t, usual[2], "150 µm and coarser")
	assert.Contains(t, usual[3], "up to 250 µm for this bore")
	assert.Contains(t, usual[4], "pass the whole lot through 90 µm")
	narrow := say("0.15 mm") // 50 µm: 45 µm lets 66.9 µm pass, 25 µm 41.1 µm, 32 µm 50.5 µm
	assert.Contains(t, narrow[0], "a 25 µm sieve keeps every legal grain under 50 µm")
	assert.Contains(t, narrow[4], "pass the whole lot through 25 µm")
	narrowest := say("0.1 mm") // 33.3 µm: even 20 µm lets 34.8 µm pass
	assert.Contains(t, narrowest[0], "no usual sieve keeps every legal grain under 33.3 µm")
	assert.Len(t, narrowest, 3, "and none is named to claim anything")
	assert.Contains(t, narrow[1], "45 µm is marginal")
	assert.Contains(t, narrow[2], "63 µm and coarser")
	wide := say("1.2 mm") // 400 µm: all of them are fine
	assert.Contains(t, wide[0], "a 300 µm sieve keeps", "the coarsest that does")
	assert.Len(t, wide, 3)
	p := quiet()
	assert.Empty(t, evaluate(t, p).Blends[1].Clog.Answer, "no nozzle, no answer")
	assert.False(t, evaluate(t, p).Blends[0].Clog.Known, "no powder")
}

// What a note asks for is worth asking: from 5 % at the most a clog is a caution,
// and a sample of 2.996/0.0513 times the powder of a spool would prove less.
func TestNoteOfTheChance(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	told := func(c material.Clogging) (string, Severity) {
		benchOf(&p).Clogging = c
		for _, n := range evaluate(t, p).Blends[1].Notes {
			if strings.HasPrefix(n.ID, "clog_") {
				return n.ID, n.Severity
			}
		}
		return "", Info
	}
	// at most 2.9957 in the powder printed; 50 g in a spool of 5 wt%
	for strand, want := range map[string]string{"29 kg": "clog_from_prints", "30 kg": "clog_small"} { // 5.03 % and 4.87 %
		id, severity := told(material.Clogging{Prints: []material.NozzleRun{printedRun("0.4 mm", strand, 0)}})
		assert.Equal(t, want, id)
		assert.Equal(t, id == "clog_small", severity == Info)
	}
	sample := func(list ...material.Inspection) wording.Number {
		benchOf(&p).Clogging = material.Clogging{Inspections: list}
		n, found := note(evaluate(t, p).Blends[1].Notes, "clog_from_inspections")
		require.True(t, found)
		return n.Values["Sample"].(wording.Number)
	}
	assert.InEpsilon(t, 2.99573/0.0512933*50-10, sample(inspected("133.3 um", "10 g", 0)).Value, 1e-5, "besides the 10 g")
	more := sample(inspected("133.3 um", "10 g", 3))
	assert.InEpsilon(t, 7.75366/0.0512933*50-10, more.Value, 1e-5, "three were found already: 0.05 = e^-m·(1 + m + m²/2 + m³/6)")
	assert.Equal(t, "g", more.Unit)

	// who does as the note says has the claim
	done := fmt.Sprintf("%.3f g", more.Value*1.0001)
	id, _ := told(material.Clogging{Inspections: []material.Inspection{inspected("133.3 um", "10 g", 3), inspected("133.3 um", done, 0)}})
	assert.Equal(t, "clog_small", id)
}

// In a blend of two powders each note tells the chance by its own powder, and one
// more that by both: 1 - (1 - a)(1 - b). Either depends on its own mass in a spool.
func TestNoteOfTheChanceOfTwoPowders(t *testing.T) {
	p := twoPowders()
	benchOf(&p).Clogging.Inspections = []material.Inspection{inspected("133.3 um", "4 kg", 1)}
	p.Materials[3].Powder.Clogging.Prints = []material.NozzleRun{printedRun("0.4 mm", "50 kg", 2)}
	s := evaluate(t, p)
	told := func(id string) (chance float64, sample any) {
		n, found := note(s.Blends[1].Notes, id)
		require.True(t, found, id)
		return n.Values["Chance"].(wording.Number).Value, n.Values["Sample"]
	}
	first, sample := told("clog_from_inspections")
	second, _ := told("clog_from_prints")
	both, _ := told("clog_all_powders")
	assert.InEpsilon(t, 100*filler.BlockChance(stat.PoissonMedian(1)/4, 0.05), first, 1e-9, "50 g in a spool")
	assert.InEpsilon(t, 100*filler.BlockChance(stat.PoissonMedian(2)/5, 0.10), second, 1e-9, "100 g in a spool")
	assert.InEpsilon(t, 100-(100-first)*(100-second)/100, both, 1e-9)
	assert.InEpsilon(t, 4.74386/0.0512933*50-4000, sample.(wording.Number).Value, 1e-5)
	assert.InEpsilon(t, both, value(t, s, 1, ClogChancePerSpool), 1e-9, "as the figure has it")

	p.Materials[3].Powder.Clogging.Prints = nil
	s = evaluate(t, p)
	alone, _ := told("clog_from_inspections")
	assert.Equal(t, first, alone, "the other is not known")
	assert.False(t, hasNote(s, 1, "clog_all_powders"))
}

// twoPowders has 5 wt% of wood and 10 wt% of shell, and a nozzle of 0.4 mm.
func twoPowders() project.Project {
	p := quiet()
	nozzle(&p, "0.4 mm")
	p.Materials = append(p.Materials, powderOf("shell", "2.7 g/cm3", "1 EUR/kg"))
	filled(&p).Parts = append(filled(&p).Parts, project.Part{Material: "shell", Amount: amount("10 wt%")})
	return p
}

// Long grains: the longest that is possible decides, 121.8 µm times the ratio.
func TestLongGrainsByTheLongest(t *testing.T) {
	for ratio, noted := range map[string]bool{"1": false, "2-3": false, "2-4": true, "3.3": true, "3.2": false} {
		p := sievedFine()
		p.Materials[1].AspectRatio = q[quantity.Factor](ratio)
		s := evaluate(t, p)
		assert.Equal(t, noted, hasNote(s, 1, "long_grains"), ratio)
		assert.GreaterOrEqual(t, s.Powder(1).Clogging.Longest.Low, 121.8, ratio)
	}
}

// Of a second powder, only what a blend shows of it waits: its grains.
func TestSecondPowderKeepsItsNotesToItself(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	other := chalk()
	p.Materials = append(p.Materials, other)
	filled(&p).Parts = append(filled(&p).Parts, project.Part{Material: "chalk", Amount: amount("3 wt%")})
	blocked := func(id, field string) ([]Figure, bool) {
		for _, n := range evaluate(t, p).Blends[1].Notes {
			if n.ID == id && n.Field == field {
				return n.Blocks, true
			}
		}
		return nil, false
	}
	list, found := blocked("clog_evidence_missing", "/materials/3/powder/sieving/sieves")
	require.True(t, found)
	assert.Contains(t, list, ClogChancePerSpool)
	_, found = blocked("drying_log_missing", "/materials/3/powder/drying/runs")
	assert.False(t, found, "the blend shows the log of its first powder")

	p.Materials[3].Powder.Preparation.Steps = []material.Step{{Kind: material.Grind}}
	list, found = blocked("step_yield_missing", "/materials/3/powder/preparation/steps/0/yield")
	require.True(t, found, "but what is wrong in it is said")
	assert.Empty(t, list, "and keeps no figure of this blend waiting")
	list, found = blocked("preparation_missing", benchAt+"/preparation/steps")
	require.True(t, found)
	assert.Contains(t, list, PreparationYield)
}

// Rows that are left out do not move the pointer of what is wrong below them.
func TestPointersCountEveryRow(t *testing.T) {
	p := quiet()
	stack(&p, "20", "125", "", "90", "25", "64", "30", "45", "20")
	n, found := note(evaluate(t, p).Blends[1].Notes, "sieve_not_nominal")
	require.True(t, found)
	assert.Equal(t, benchAt+"/sieving/sieves/2/opening", n.Field)
	assert.Equal(t, 3, n.Values["Row"])

	for humidity, noted := range map[string]bool{"90 %": false, "91 %": true} {
		benchOf(&p).Storage.Humidity = q[quantity.Fraction](humidity)
		assert.Equal(t, noted, hasNote(evaluate(t, p), 1, "humid_store"), humidity)
	}
}

// The rule of a third bites from its own size on, and what stays on a sieve is larger
// than the bore only from the bore on.
func TestSizesAgainstTheNozzle(t *testing.T) {
	for check, noted := range map[string]bool{"106 um": true, "90 um": false} { // up to 140.9 and 121.8 µm, of 133.3
		p := quiet()
		nozzle(&p, "0.4 mm")
		goodStack(&p).CheckSieve = q[quantity.Length](check)
		s := evaluate(t, p)
		assert.Equal(t, noted, hasNote(s, 1, "top_over_critical") || hasNote(s, 1, "top_over_critical_practice"), check)
	}
	for opening, noted := range map[string]bool{"425": true, "400": true, "355": false} {
		p := quiet()
		nozzle(&p, "0.4 mm")
		stack(&p, "60", opening, "5", "125", "35")
		assert.Equal(t, noted, hasNote(evaluate(t, p), 1, "grains_over_bore"), opening)
	}
}

// Rows of one kind are counted in one note, which leads to the first.
func TestOddRowsAreCounted(t *testing.T) {
	p := quiet()
	r := goodLog(&p)
	r.Readings[2].Time, r.Readings[5].Time, r.Readings[6].Time = quantity.Of[quantity.Duration]{}, quantity.Of[quantity.Duration]{}, quantity.Of[quantity.Duration]{}
	n, found := note(evaluate(t, p).Blends[1].Notes, "drying_no_time")
	require.True(t, found)
	assert.Equal(t, benchAt+"/drying/runs/0/readings/2", n.Field)
	assert.Equal(t, 3, n.Values["Row"])
	assert.Equal(t, 3, n.Values["Count"])
}

// Powder that is dry enough does not have to be dried on.
func TestDryEnoughIsNoNote(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("1 %")
	s := evaluate(t, p)
	require.True(t, s.Blends[1].Drying.Left.Known())
	assert.Zero(t, s.Blends[1].Drying.Left.Value)
	assert.False(t, hasNote(s, 1, "drying_goes_on"))
}
