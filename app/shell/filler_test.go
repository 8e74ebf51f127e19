package shell_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// table is the table of a list of the document in the pane shown.
func (r *rig) table(place string) *control.Grid {
	r.t.Helper()
	for _, g := range all[*control.Grid](r.bench.Content()) {
		if g.ID() == place {
			return g
		}
	}
	require.Fail(r.t, "no such table", place)
	return nil
}

// enterInto types into a cell and presses Enter.
func (r *rig) enterInto(place string, row, col int, text string) {
	r.t.Helper()
	r.table(place).FocusCell(row, col)
	r.write(text)
	r.key(fyne.KeyReturn)
}

// part opens a part of the Filler pane.
func (r *rig) part(id string) {
	r.t.Helper()
	r.show(bench.PaneFiller)
	if !r.bench.OpenSection(id) {
		require.Equal(r.t, "properties", id, "it is the part that is open at first")
	}
}

const olivePowder = "/materials/1/powder"

func powderOf(r *rig) *material.Powder { return &r.bench.Project().Materials[1].Powder }

// said is all text of the pane shown.
func (r *rig) said() string { return strings.Join(texts(r.bench.Content()), "\n") }

func TestEveryPartOfTheBenchIsShown(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneFiller)
	require.Equal(t, []string{"properties", "drying", "storage", "preparation", "sieving", "clogging", "grain"}, r.bench.Sections())
	for id, want := range map[string]string{
		"drying": "At the start, dry basis", "storage": "estimated as for wood", "preparation": "To fetch, per usable mass",
		"sieving": "the largest aperture that the standard allows this sieve", "clogging": "An upper estimate for single grains", "grain": "Hausner",
	} {
		r.part(id)
		assert.Contains(t, r.said(), want, id)
		assert.NotContains(t, r.said(), "[", "a text is missing")
	}
}

// The first row of a log makes its run, and the keyboard stays in the table.
func TestALogIsTypedFromNothing(t *testing.T) {
	r := openSample(t, mussel)
	r.part("drying")
	log := "/materials/1/powder/drying/runs/0/readings"
	require.Empty(t, powderOf(r).Drying.Runs)
	for i, row := range [][2]string{{"0", "250.0"}, {"20", "241.5"}, {"40", "237"}, {"80 min", "233.5"}, {"2 h", "232.4"}, {"4 h", "232.1"}} {
		r.enterInto(log, i, 0, row[0])
		r.enterInto(log, i, 1, row[1])
	}
	run := powderOf(r).Drying.Runs[0]
	require.Len(t, run.Readings, 6)
	assert.Equal(t, "0 min", run.Readings[0].Time.String(), "a bare number is in minutes")
	assert.Equal(t, "241.5 g", run.Readings[1].Masses[0].String(), "and in grams")
	assert.Contains(t, r.said(), "At the last weighing, wet basis")
	_, on := r.canvas().Focused().(*control.Grid)
	assert.True(t, on, "the keyboard is in the table")

	r.undo()
	assert.Len(t, powderOf(r).Drying.Runs[0].Readings, 6, "undo takes back the last mass only")
	assert.Empty(t, powderOf(r).Drying.Runs[0].Readings[5].Masses)

	r.enterInto(log, 2, 1, "heavy")
	assert.Contains(t, r.said(), "heavy", "what cannot be read stays in its cell")
	assert.Equal(t, "237 g", powderOf(r).Drying.Runs[0].Readings[2].Masses[0].String())
}

// A tare gives the log another column; the masses stay.
func TestTraysMakeColumns(t *testing.T) {
	r := openSample(t, olive)
	r.part("drying")
	log := olivePowder + "/drying/runs/0/readings"
	before := len(powderOf(r).Drying.Runs[0].Readings[0].Masses)
	r.enterInto(olivePowder+"/drying/runs/0/trays", 2, 1, "150")
	require.Len(t, powderOf(r).Drying.Runs[0].Trays, 3)
	assert.Equal(t, before, len(powderOf(r).Drying.Runs[0].Readings[0].Masses))
	assert.Contains(t, r.said(), "Tray 3")
	assert.Same(t, r.table(olivePowder+"/drying/runs/0/trays"), r.canvas().Focused(), "the next tare can be typed at once")
	r.enterInto(log, 0, 3, "151.2")
	assert.Len(t, powderOf(r).Drying.Runs[0].Readings[0].Masses, 3)
}

// A block from a spreadsheet with decimal commas goes into the stack in one edit;
// a mesh number is turned into its opening.
func TestAStackIsPasted(t *testing.T) {
	r := openSample(t, olive)
	r.part("sieving")
	place := olivePowder + "/sieving/sieves"
	r.table(place).FocusCell(0, 0)
	r.app.Clipboard().SetContent("60 mesh\t1,2\n125\t12,5\n63 um\tabout 30\n")
	r.canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
	sieves := powderOf(r).Sieving.Sieves
	require.Len(t, sieves, 6, "the rows below stay")
	assert.Equal(t, "250 um", sieves[0].Opening.String())
	assert.Equal(t, "1.2 g", sieves[0].Retained.String())
	assert.Equal(t, "63 um", sieves[2].Opening.String(), "the rest of the row is taken")
	assert.Contains(t, r.said(), "about 30", "what cannot be read is shown in place")
	r.undo()
	assert.Equal(t, "125 um", powderOf(r).Sieving.Sieves[0].Opening.String())
}

// A file of another program, with semicolons and decimal commas, comes in as one
// edit, and goes out with points.
func TestAStackComesFromAFile(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	r.part("sieving")
	require.NoError(t, os.WriteFile(r.file("stack.csv"), []byte("\ufeffOpening;Mass on it\r\n0,25 mm;1,2\r\n125;12,5 g\r\nbottom;7\r\n63;30\r\n"), 0o600))
	r.pressButton("table.import")
	r.chooseFile("stack.csv")
	var got []string
	for _, s := range powderOf(r).Sieving.Sieves {
		got = append(got, s.Opening.String()+" "+s.Retained.String())
	}
	assert.Equal(t, []string{"0.25 mm 1.2 g", "125 mm 12.5 g", " 7 g", "63 mm 30 g"}, got[:min(4, len(got))], "a bare number takes the unit above it")
	assert.Contains(t, r.said(), "bottom", "what cannot be read stands in its cell")
	r.undo()
	assert.Len(t, powderOf(r).Sieving.Sieves, 6, "one edit")
	r.pressButton("table.export")
	r.press("Save")
	data, err := os.ReadFile(r.file("sieve-stack.csv"))
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), "Opening,Mass on it\r\n125 um,0.2 g\r\n"), "%q", data)
}

// Setting a value of the bench aside brings back the card's, everywhere.
func TestABenchValueIsSetAside(t *testing.T) {
	r := openSample(t, olive)
	r.part("grain")
	place := olivePowder + "/grain/density_set_aside"
	var box *control.CheckField
	for _, c := range all[*control.CheckField](r.bench.Content()) {
		if c.ID() == place {
			box = c
		}
	}
	require.NotNil(t, box)
	require.NoError(t, r.bench.Edit("", place, func(p *project.Project) error { p.Materials[1].Powder.Grain.DensitySetAside = true; return nil }))
	r.part("properties")
	assert.Contains(t, r.said(), "from memory, confirm")
	require.NoError(t, r.bench.Edit("", place, func(p *project.Project) error { p.Materials[1].Powder.Grain.DensitySetAside = false; return nil }))
	assert.Contains(t, r.said(), "bench: 1.4 g/cm³ is used")
}

// Every place below the bench opens its part, its run and its step.
func TestPlacesOpenTheirPart(t *testing.T) {
	r := openSample(t, olive)
	require.NoError(t, r.bench.Edit("", "", func(p *project.Project) error {
		runs := &p.Materials[1].Powder.Drying.Runs
		*runs = append(*runs, material.DryingRun{OvenTemperature: quantity.MustParse[quantity.Temperature]("90 °C")})
		return nil
	}))
	for _, place := range []string{
		"/drying/runs/1/oven_temperature", "/drying/runs/0/readings/3/masses/1", "/drying/target", "/storage/gab_k",
		"/preparation/steps/3/recycled", "/preparation/wet_price", "/sieving/check_sieve", "/sieving/sieves/2/opening",
		"/clogging/control/mass", "/clogging/prints/0/strand", "/grain/moisture", "/grain/tapped_volume",
	} {
		r.show(bench.PanePlan)
		r.bench.Lead(olivePowder + place)
		assert.True(t, reached(r, olivePowder+place), place)
	}
	r.bench.Lead("/print/nozzle")
	assert.True(t, reached(r, "/print/nozzle"))
}

// A powder without anything on its bench shows every part without fault.
func TestEmptyBenchHasNoGaps(t *testing.T) {
	r := openSample(t, olive)
	require.NoError(t, r.bench.Edit("", "", func(p *project.Project) error { p.Materials[1].Powder = material.Powder{}; return nil }))
	r.show(bench.PaneFiller)
	for _, id := range r.bench.Sections() {
		r.bench.OpenSection(id)
		assert.NotContains(t, r.said(), "—", "%s: a number that is none", id)
		assert.NotContains(t, r.said(), "NaN", id)
		size := r.picture().Image().Bounds().Size()
		assert.Greater(t, size.X*size.Y, 50_000, "the picture of %s is drawn", id)
		paintable(t, r.bench.Content(), id)
	}
}

// paintable asserts that the painter finds a place for everything.
func paintable(t *testing.T, root fyne.CanvasObject, message string) {
	t.Helper()
	walk(root, func(o fyne.CanvasObject) {
		const far = 1e5 // no number is greater than not a number
		at, size := o.Position(), o.Size()
		if !(size.Width >= 0 && size.Height >= 0 && size.Width+size.Height < far && at.X*at.X+at.Y*at.Y < far*far) {
			assert.Fail(t, "cannot be painted", "%s: a %T of %v at %v", message, o, size, at)
		}
	})
}

// BenchmarkTypeInThirtyRows measures one mass typed into a log of 30 rows, from
// the document to all labels and the picture.
func BenchmarkTypeInThirtyRows(b *testing.B) {
	r := openSample(b, olive)
	require.NoError(b, r.bench.Edit("", "", func(p *project.Project) error {
		run := &p.Materials[1].Powder.Drying.Runs[0]
		for len(run.Readings) < 30 {
			last := run.Readings[len(run.Readings)-1]
			last.Time = quantity.MustParse[quantity.Duration](fmt.Sprintf("%d min", 210+10*len(run.Readings)))
			run.Readings = append(run.Readings, last)
		}
		return nil
	}))
	r.part("drying")
	settle(r.bench.Content())
	r.canvas().Capture()
	picture := r.picture()
	median(b, func(i int) {
		text := []string{"410.0 g", "410.4 g"}[i%2]
		err := r.bench.Edit("mass", olivePowder+"/drying/runs/0/readings/1/masses/0", func(p *project.Project) error {
			masses := []quantity.Of[quantity.Mass]{quantity.MustParse[quantity.Mass](text), p.Materials[1].Powder.Drying.Runs[0].Readings[1].Masses[1]}
			p.Materials[1].Powder.Drying.Runs[0].Readings[1].Masses = masses
			return nil
		})
		require.NoError(b, err)
		picture.Image()
	})
}

// reopen shows a part of the Filler pane, whichever is open.
func (r *rig) reopen(id string) {
	r.t.Helper()
	r.show(bench.PaneFiller)
	r.bench.OpenSection(id)
}

// edit changes the bench of the olive powder behind the window's back.
func (r *rig) edit(change func(*material.Powder)) {
	r.t.Helper()
	require.NoError(r.t, r.bench.Edit("", "", func(p *project.Project) error { change(&p.Materials[1].Powder); return nil }))
}

// tapped presses a button of the pane by the catalogue ID of its text.
func (r *rig) tapped(id string) *widget.Button {
	r.t.Helper()
	return r.tappedText(r.words.Text(id))
}

// tappedText presses a button of the pane by its text.
func (r *rig) tappedText(text string) *widget.Button {
	r.t.Helper()
	for _, b := range all[*widget.Button](r.bench.Content()) {
		if b.Text == text {
			if !b.Disabled() {
				test.Tap(b)
			}
			return b
		}
	}
	require.Fail(r.t, "no such button", text)
	return nil
}
