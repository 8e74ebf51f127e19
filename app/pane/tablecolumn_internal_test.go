package pane

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

const weighingsPlace = "/materials/0/powder/drying/runs/0/readings"

// newWeighingRig is a table with a time and the masses of two trays.
func newWeighingRig(t testing.TB) *tableRig[material.DryingReading] {
	p := powderProject()
	p.Materials[0].Powder.Drying.Runs = []material.DryingRun{{Name: "first"}}
	return newTableRig(t, p, func(b *base) rowsOptions[material.DryingReading] {
		masses := func(r *material.DryingReading) *[]quantity.Of[quantity.Mass] { return &r.Masses }
		return rowsOptions[material.DryingReading]{
			place: weighingsPlace, label: "Weighings", most: 10000, file: "weighings.csv",
			columns: []column[material.DryingReading]{
				quantityColumn(b, "time", "time", 80, "min", func(r *material.DryingReading) *quantity.Of[quantity.Duration] { return &r.Time }),
				listColumn(b, "masses", 0, "tray 1", 80, "g", masses),
				listColumn(b, "masses", 1, "tray 2", 80, "g", masses),
			},
			list: func(p *project.Project) *[]material.DryingReading {
				return &p.Materials[0].Powder.Drying.Runs[0].Readings
			},
		}
	})
}

func TestListColumnHoldsOneOfSeveral(t *testing.T) {
	r := newWeighingRig(t)
	r.paste(0, 0, "0\t100\t200\n30\t\t190\n60\t80\t\n")
	assert.Equal(t, []string{"0 min|100 g|200 g", "30 min||190 g", "60 min|80 g|"}, r.list())
	readings := r.desk.history.Peek().Materials[0].Powder.Drying.Runs[0].Readings
	assert.Len(t, readings[1].Masses, 2)
	assert.False(t, readings[1].Masses[0].Given())
	assert.Len(t, readings[2].Masses, 1, "nothing is kept at the end")
	r.paste(0, 1, "x\t7\n")
	assert.Equal(t, "0 min|100 g|7 g", r.list()[0])
	r.table.grid.FocusCell(0, 1)
	r.press(fyne.KeyEscape)
	r.table.grid.FocusCell(2, 1)
	r.press(fyne.KeyDelete)
	assert.Empty(t, r.desk.history.Peek().Materials[0].Powder.Drying.Runs[0].Readings[2].Masses)
	r.desk.history.Undo()
	r.desk.history.Undo()
	assert.Equal(t, "0 min|100 g|200 g", r.list()[0], "the state before was not written to")

	for place, col := range map[string]int{"/1/masses/1": 2, "/1/masses": 1, "/1/time": 0} {
		require.True(t, r.base.Lead(weighingsPlace+place))
		_, at := r.table.grid.Selected()
		assert.Equal(t, col, at, place)
	}
}

func TestBareNumbersTakeAUnit(t *testing.T) {
	r := newWeighingRig(t)
	r.importFile("time;tray 1;tray 2\n0 h;0,1 kg\n1;0,09\nx;y\n2;85 g\n3;80\n")
	assert.Equal(t, []string{"0 h|0.1 kg|", "1 h|0.09 kg|", "2 h|85 g|", "3 h|80 g|"}, r.list(), "of the cell above")
	r.enter(1, 1, "95") // the row shown third holds what could not be read
	assert.Equal(t, "1 h|95 kg|", r.list()[1], "that which stood there")
	r.enter(5, 2, "7")
	assert.Equal(t, "||7 g", r.list()[4], "the usual one")
	r.enter(5, 0, "7 g")
	require.NotEmpty(t, r.table.grid.Refusals())
	assert.Contains(t, r.table.grid.Refusals()[2].Message, "something else")
}

// newPrintRig is a table with a quantity and a count.
func newPrintRig(t *testing.T) *tableRig[material.NozzleRun] {
	return newTableRig(t, powderProject(), func(b *base) rowsOptions[material.NozzleRun] {
		return rowsOptions[material.NozzleRun]{
			place: "/materials/0/powder/clogging/prints", label: "Prints", most: 1000,
			columns: []column[material.NozzleRun]{
				quantityColumn(b, "strand", "strand", 80, "g", func(r *material.NozzleRun) *quantity.Of[quantity.Mass] { return &r.Strand }),
				wholeColumn("blockages", "blockages", 60, 0, 100000, func(r *material.NozzleRun) *int { return &r.Blockages }),
			},
			list: func(p *project.Project) *[]material.NozzleRun { return &p.Materials[0].Powder.Clogging.Prints },
		}
	})
}

func TestWholeColumn(t *testing.T) {
	r := newPrintRig(t)
	r.paste(0, 0, "250\t3\n500\t0\n750\t-1\n1000\t1.5\n")
	assert.Equal(t, []string{"250 g|3", "500 g|0", "750 g|0", "1000 g|0"}, r.list())
	refusals := r.table.grid.Refusals()
	require.Len(t, refusals, 2)
	assert.Equal(t, "A whole number from 0 to 100000 is accepted here.", refusals[0].Message)
	r.enter(4, 1, "2")
	assert.Equal(t, "|2", r.list()[4])
	r.table.grid.FocusCell(4, 1)
	r.press(fyne.KeyDelete)
	assert.Len(t, r.list(), 4, "no blockages of nothing is no row")
	r.table.grid.FocusCell(1, 0)
	r.press(fyne.KeyDelete)
	assert.Len(t, r.list(), 3)

	least := wholeColumn("n", "n", 50, 1, 9, func(n *int) *int { return n })
	n := 0
	assert.Empty(t, least.show(&n), "where the least is one, zero is not given")
	assert.Error(t, least.set(&n, "0"))
	require.NoError(t, least.set(&n, "9"))
	assert.Equal(t, "9", least.show(&n))
}

// newStepRig is a table with a kind to choose and a name.
func newStepRig(t *testing.T) *tableRig[material.Step] {
	choices := []control.Choice{{Value: "dry", Text: "Dry it"}, {Value: "sieve", Text: "Sieve it"}}
	return newTableRig(t, powderProject(), func(b *base) rowsOptions[material.Step] {
		return rowsOptions[material.Step]{
			place: "/materials/0/powder/preparation/steps", label: "Steps", most: 50, file: "steps.csv",
			columns: []column[material.Step]{
				choiceColumn("kind", "kind", 80, choices,
					func(s *material.Step) string { return string(s.Kind) },
					func(s *material.Step, v string) { s.Kind = material.StepKind(v) }),
				textColumn("name", "name", 120, func(s *material.Step) *string { return &s.Name }),
			},
			list: func(p *project.Project) *[]material.Step { return &p.Materials[0].Powder.Preparation.Steps },
		}
	})
}

func TestChoiceAndTextColumns(t *testing.T) {
	r := newStepRig(t)
	r.table.grid.FocusCell(0, 0)
	r.press(fyne.KeyReturn, fyne.KeyDown, fyne.KeyReturn)
	require.Equal(t, []string{"dry|"}, r.list(), "chosen from the list")
	assert.Equal(t, []string{"Dry it|", "|"}, r.shows())
	r.paste(1, 0, "SIEVE IT\t wash, twice \ndry\t\nboil\thard\n\tgrind\n")
	assert.Equal(t, []string{"dry|", "sieve|wash, twice", "dry|", "|hard", "|grind"}, r.list())
	require.Len(t, r.table.grid.Refusals(), 1)
	assert.Equal(t, "“boil” is not one of those accepted here: Dry it, Sieve it.", r.table.grid.Refusals()[0].Message)

	r.paste(0, 1, strings.Repeat("x", 201)+"\nok\n")
	assert.Equal(t, []string{"dry|", "sieve|ok"}, r.list()[:2], "a text that is too long does not cost the next one")
	r.paste(0, 1, "fine\nb\xffd\n")
	assert.Equal(t, []string{"dry|fine", "sieve|ok"}, r.list()[:2], "nor does one that is none")

	r.table.export()
	before := r.list()
	r.importFile(r.desk.written.String())
	assert.Equal(t, before, r.list(), "the header of a table of words is known by its names")
}

// The most that a table takes is what the document takes.
func TestReadingsAreAsManyAsTheDocumentAccepts(t *testing.T) {
	p := project.New("EUR")
	p.Spool.Readings = make([]quantity.Of[quantity.Length], mostReadings)
	require.NoError(t, project.Validate(&p))
	p.Spool.Readings = make([]quantity.Of[quantity.Length], mostReadings+1)
	require.Error(t, project.Validate(&p))
}

// manyWeighings is a file of weighings.
func manyWeighings(n int) string {
	var file strings.Builder
	file.WriteString("time;tray 1;tray 2\n")
	for i := range n {
		fmt.Fprintf(&file, "%d;%d,5;%d\n", i, 100+i%7, 200+i%5)
	}
	return file.String()
}

func TestTableOfTenThousandRowsOnlyLooksUpWhatIsSeen(t *testing.T) {
	r := newWeighingRig(t)
	r.importFile(manyWeighings(10000))
	require.Len(t, r.list(), 10000)
	asked := 0
	show := r.table.opts.columns[0].show
	r.table.opts.columns[0].show = func(row *material.DryingReading) string {
		asked++
		return show(row)
	}
	r.table.Sync()
	r.table.grid.FocusCell(9999, 0)
	r.enter(9999, 1, "7")
	r.enter(5000, 0, "x")
	r.win.Canvas().Unfocus()
	assert.Less(t, asked, 3000, "every cell but those in view is left alone")
	assert.Equal(t, 9999, r.table.selected()+4999)
}

// Values beyond the limits are met one by one; their number must not matter much.
func TestTableTakesAFileWithManyValuesBeyondTheLimits(t *testing.T) {
	r := newWeighingRig(t)
	r.importFile("1 h;1 g\n" + strings.Repeat("2 h;999999 kg\n", 2000))
	require.Len(t, r.list(), 2001)
	assert.Len(t, r.table.grid.Refusals(), 2000)
}

func BenchmarkTableEdit(b *testing.B) {
	for _, c := range []struct{ rows, refused int }{{30, 0}, {30, 1}, {10000, 0}, {10000, 1}} {
		b.Run(fmt.Sprint(c.rows, " rows, ", c.refused, " refused"), func(b *testing.B) {
			r := newWeighingRig(b)
			r.importFile(manyWeighings(c.rows))
			for i := range c.refused {
				r.table.grid.Refuse(i, 0, "x", "cannot be read")
			}
			for i := 0; b.Loop(); i++ {
				if err := r.table.edit(c.rows/2, 1, fmt.Sprint(50+i%100)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
