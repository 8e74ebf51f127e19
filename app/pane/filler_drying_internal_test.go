package pane

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

type tare = quantity.Of[quantity.Mass]

// dryingRig is the pane of a powder with a drying log.
type dryingRig struct {
	trays *tableRig[tare]
	log   *tableRig[material.DryingReading]
}

// newDryingRig has trays with these tares and readings of these masses, an hour
// apart; "-" is one that is not given.
func newDryingRig(t *testing.T, tares string, readings ...string) *dryingRig {
	masses := func(text string) (list []tare) {
		for _, mass := range strings.Fields(text) {
			q := tare{}
			if mass != "-" {
				q = quantity.MustParse[quantity.Mass](mass + " g")
			}
			list = append(list, q)
		}
		return list
	}
	d := powderProject()
	run := material.DryingRun{Trays: masses(tares)}
	for _, reading := range readings {
		run.Readings = append(run.Readings, material.DryingReading{Time: quantity.MustParse[quantity.Duration]("1 h"), Masses: masses(reading)})
	}
	d.Materials[0].Powder.Drying.Runs = []material.DryingRun{run}

	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	desk := &fakeDesk{history: project.NewHistory(d, 64<<20), words: wording.New("en")}
	p := NewFiller(desk)
	p.section, desk.lead = sectionDrying, func(string) bool { return false }
	show := func() {
		d := desk.history.Peek()
		p.Show(View{Project: d, Sheet: bench.Evaluate(d), Chosen: -1})
	}
	show()
	desk.history.OnChange(show)
	win := test.NewTempWindow(t, p.Object())
	win.Resize(fyne.NewSize(1200, 900))
	r := &dryingRig{&tableRig[tare]{t: t, desk: desk, base: &p.base, win: win}, &tableRig[material.DryingReading]{t: t, desk: desk, base: &p.base, win: win}}
	for _, table := range p.tables {
		switch table := table.(type) {
		case *rowsTable[tare]:
			r.trays.table = table
		case *rowsTable[material.DryingReading]:
			r.log.table = table
		}
	}
	return r
}

// has holds the document against tares and masses, as newDryingRig takes them.
func (r *dryingRig) has(tares string, readings ...string) {
	r.trays.t.Helper()
	text := func(list []tare) string {
		var words []string
		for _, q := range list {
			word, _, _ := strings.Cut(q.String(), " ")
			if word == "" {
				word = "-"
			}
			words = append(words, word)
		}
		return strings.Join(words, " ")
	}
	run := r.trays.desk.history.Peek().Materials[0].Powder.Drying.Runs[0]
	var got []string
	for _, reading := range run.Readings {
		got = append(got, text(reading.Masses))
	}
	assert.Equal(r.trays.t, tares, text(run.Trays), "tares")
	assert.Equal(r.trays.t, readings, got, "masses")
}

func (r *dryingRig) undo() { r.trays.desk.history.Undo() }

func TestAnEmptiedTareKeepsItsTray(t *testing.T) {
	masses := []string{"11 12 13", "21 22", "31"}
	r := newDryingRig(t, "1 2 3", masses...)
	for _, tray := range []int{1, 0, 2} {
		r.trays.table.grid.FocusCell(tray, 1)
		r.trays.press(fyne.KeyDelete)
	}
	r.has("- - -", masses...)
	require.NoError(t, project.Validate(r.trays.desk.history.Peek()))
	assert.Equal(t, []string{"1|", "2|", "3|", "4|"}, r.trays.shows())
	assert.Contains(t, test.RenderObjectToMarkup(r.trays.table.grid), "has no tare yet")
	r.trays.enter(1, 1, "5")
	r.has("- 5 -", masses...)
	r.undo()
	r.undo()
	r.undo()
	r.undo()
	r.has("1 2 3", masses...)
}

func TestADeletedTrayTakesItsMassesAlong(t *testing.T) {
	for tray, want := range map[int][]string{
		0: {"12 13", "22", "", "- 43", ""},
		1: {"11 13", "21", "31", "41 43", ""},
		2: {"11 12", "21 22", "31", "41", ""},
	} {
		before := []string{"11 12 13", "21 22", "31", "41 - 43", ""}
		r := newDryingRig(t, "1 2 3", before...)
		r.trays.choose(tray, "table.delete_row")
		tares := strings.Fields("1 2 3")
		r.has(strings.Join(append(tares[:tray:tray], tares[tray+1:]...), " "), want...)
		r.undo()
		r.has("1 2 3", before...)
		r.trays.desk.history.Redo()
		assert.Len(t, r.trays.list(), 2)
	}
}

func TestDeletingByKeyTakesTheMassesToo(t *testing.T) {
	r := newDryingRig(t, "1 2 3", "11 12 13 14")
	r.trays.table.grid.FocusCell(0, 0)
	r.trays.press(fyne.KeyDelete)
	r.has("2 3", "12 13 14")
	r.trays.table.grid.FocusCell(1, 1)
	r.trays.table.grid.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyDelete, Modifier: fyne.KeyModifierShortcutDefault})
	r.has("2", "12 14")
	r.trays.choose(0, "table.delete_row")
	r.has("", "12 14")
}

func TestAMovedTrayTakesItsMassesAlong(t *testing.T) {
	before := []string{"11 12 13", "21 22", "31", ""}
	r := newDryingRig(t, "1 2 3", before...)
	r.trays.choose(2, "table.move_up")
	r.has("1 3 2", "11 13 12", "21 - 22", "31", "")
	r.trays.choose(0, "table.move_down")
	r.has("3 1 2", "13 11 12", "- 21 22", "- 31", "")
	r.trays.choose(0, "table.move_down")
	r.trays.choose(1, "table.move_down")
	r.has("1 2 3", before...)
	for range 4 {
		r.undo()
	}
	r.has("1 2 3", before...)
}

func TestATrayThatIsPutInBetweenHasNoMassesYet(t *testing.T) {
	before := []string{"11 12 13", "21", "", "41 42"}
	r := newDryingRig(t, "1 2", before...)
	r.trays.choose(1, "table.insert_row")
	r.has("1 2", before...)
	r.trays.enter(1, 1, "9")
	r.has("1 9 2", "11 - 12 13", "21", "", "41 - 42")
	r.undo()
	r.has("1 2", before...)
	r.trays.enter(2, 1, "3")
	r.has("1 2 3", before...)
	r.trays.choose(0, "table.insert_row")
	r.trays.paste(0, 1, "7\n8\n")
	r.has("7 8 2 3", "- 11 12 13", "- 21", "", "- 41 42")
}

func TestAPasteOverTraysKeepsTheirMasses(t *testing.T) {
	masses := []string{"11 12 13 14", "21"}
	r := newDryingRig(t, "1 2", masses...)
	r.trays.paste(0, 1, "5\n\n7\nx\n9\n\n")
	r.has("5 - 7 - 9", masses...)
	assert.Equal(t, []string{"1|5 g", "2|", "3|7 g", "4|[x]", "5|9 g", "6|"}, r.trays.shows())
	r.trays.enter(3, 1, "8")
	r.has("5 - 7 8 9", masses...)
	r.trays.paste(5, 1, "y\nz\n")
	r.has("5 - 7 8 9 -", masses...)
	r.undo()
	r.undo()
	r.undo()
	r.has("1 2", masses...)
}

// The first tare turns masses of powder alone into those of a tray, and the last one that goes back again.
func TestMassesOutliveTheOnlyTray(t *testing.T) {
	r := newDryingRig(t, "", "11", "21")
	r.trays.enter(0, 1, "1")
	r.has("1", "11", "21")
	r.trays.choose(0, "table.delete_row")
	r.has("", "11", "21")
}

// Text that was refused in the log is lost with its tray only.
func TestRefusedTextFollowsItsTray(t *testing.T) {
	r := newDryingRig(t, "1 2 3", "11 12 13", "21 22 23")
	for tray, text := range []string{"a", "b", "c"} {
		r.log.enter(0, 1+tray, text)
		r.log.win.Canvas().Unfocus()
	}
	r.log.enter(1, 0, "late")
	r.log.win.Canvas().Unfocus()
	row := func(i int) string {
		return strings.Join(strings.Split(r.log.shows()[i], "|")[:1+max(1, len(r.trays.list()))], "|")
	}
	require.Equal(t, "1 h|[a]|[b]|[c]", row(0))
	r.trays.choose(0, "table.move_down")
	assert.Equal(t, "1 h|[b]|[a]|[c]", row(0))
	r.trays.choose(1, "table.delete_row")
	assert.Equal(t, "1 h|[b]|[c]", row(0))
	assert.Equal(t, "[late]|22|23", row(1))
	r.undo()
	assert.Equal(t, "1 h|[b]|11|[c]", row(0), "what was typed elsewhere is where it was")
	r.trays.choose(0, "table.delete_row")
	r.trays.choose(0, "table.delete_row")
	r.trays.choose(0, "table.delete_row")
	assert.Equal(t, "1 h|[c]", row(0))
}
