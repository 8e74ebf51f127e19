package pane

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"io"
	"io/fs"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// fakeDesk is the window as far as a table needs it.
type fakeDesk struct {
	history *project.History
	words   *wording.Words
	said    []string // in dialogs
	file    string   // what is imported
	written bytes.Buffer
	lead    func(string) bool
	chose   project.BlendID
}

func (d *fakeDesk) Edit(label, place string, change func(*project.Project) error) error {
	if err := d.history.Edit(label, place, change); err != nil {
		return errors.New(d.words.Error(err))
	}
	return nil
}
func (d *fakeDesk) Words() *wording.Words                     { return d.words }
func (d *fakeDesk) Colours() (a, b, c, e color.Color)         { return }
func (d *fakeDesk) TextScale() float32                        { return 1 }
func (d *fakeDesk) Menu(fyne.CanvasObject, ...*fyne.MenuItem) {}
func (*fakeDesk) StartDraws()                                 {}

func (*fakeDesk) StopDraws() {}

func (d *fakeDesk) Lead(place string)         { d.lead(place) }
func (d *fakeDesk) Choose(id project.BlendID) { d.chose = id }
func (d *fakeDesk) Now() time.Time            { return time.Date(2026, 8, 21, 9, 0, 0, 0, time.UTC) }
func (d *fakeDesk) Tick(func()) (stop func()) { return func() {} }
func (d *fakeDesk) Ask(_, question string, _ []string, _ func(int)) {
	d.said = append(d.said, question)
}
func (d *fakeDesk) Export(_ string, write func(io.Writer) error) { _ = write(&d.written) }
func (d *fakeDesk) OpenPath(string, []string, func(string))      {}

func (d *fakeDesk) OpenBeside(string) (io.ReadSeekCloser, error) { return nil, fs.ErrNotExist }

func (d *fakeDesk) Beside(path string) string { return path }

func (d *fakeDesk) Runner(func(float64, bool)) control.Runner { return control.Immediate{} }

func (d *fakeDesk) OpenText(_ string, _ []string, most int, take func(name, text string)) {
	take("file.csv", d.file[:min(len(d.file), most)])
}

// tableRig is a table in a window, over a list of a project.
type tableRig[T any] struct {
	t     testing.TB
	desk  *fakeDesk
	base  *base
	table *rowsTable[T]
	win   fyne.Window
}

func newTableRig[T any](t testing.TB, p project.Project, options func(*base) rowsOptions[T]) *tableRig[T] {
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	r := &tableRig[T]{t: t, desk: &fakeDesk{history: project.NewHistory(p, 64<<20), words: wording.New("en")}}
	b := newBase(bench.PaneFiller, r.desk)
	r.base, r.desk.lead = &b, b.Lead
	build := func() { r.table = newRowsTable(r.base, options(r.base)) }
	show := func() {
		r.base.take(View{Project: r.desk.history.Peek(), Chosen: -1}, fmt.Sprint(len(r.desk.history.Peek().Materials)), build)
		r.base.refresh()
	}
	show()
	r.desk.history.OnChange(show)
	r.win = test.NewTempWindow(t, r.table.object())
	r.win.Resize(fyne.NewSize(420, 600))
	return r
}

// powderProject is a project with one powder.
func powderProject() project.Project {
	p := project.New("EUR")
	p.Materials = []material.Material{{ID: "olive", Name: "Olive", Kind: material.Filler}}
	return p
}

const sievesPlace = "/materials/0/powder/sieving/sieves"

func sieves(p *project.Project) *[]material.Sieve { return &p.Materials[0].Powder.Sieving.Sieves }

// sieveOptions is a table of two quantities and a computed column between them.
func sieveOptions(b *base) rowsOptions[material.Sieve] {
	return rowsOptions[material.Sieve]{
		place: sievesPlace, label: "Sieves", most: 100, file: "sieves.csv",
		columns: []column[material.Sieve]{
			quantityColumn(b, "opening", "opening", 120, "um", func(s *material.Sieve) *quantity.Of[quantity.Length] { return &s.Opening }),
			computedColumn[material.Sieve]("passing", 60, func(i int) control.Cell { return control.Cell{Text: fmt.Sprint("#", i), State: control.CellMuted} }),
			quantityColumn(b, "retained", "retained", 120, "g", func(s *material.Sieve) *quantity.Of[quantity.Mass] { return &s.Retained }),
		},
		list: sieves,
	}
}

const retainedColumn = 2

func newSieveRig(t *testing.T, rows ...string) *tableRig[material.Sieve] {
	p := powderProject()
	for _, row := range rows {
		opening, retained, _ := strings.Cut(row, "|")
		*sieves(&p) = append(*sieves(&p), material.Sieve{
			Opening: quantity.MustParse[quantity.Length](opening), Retained: quantity.MustParse[quantity.Mass](retained),
		})
	}
	return newTableRig(t, p, sieveOptions)
}

// list is the rows of the document.
func (r *tableRig[T]) list() []string {
	var list []string
	for i := range *r.table.opts.list(r.desk.history.Peek()) {
		row := &(*r.table.opts.list(r.desk.history.Peek()))[i]
		var cells []string
		for _, c := range r.table.opts.columns {
			if c.file != nil {
				cells = append(cells, c.file(row))
			}
		}
		list = append(list, strings.Join(cells, "|"))
	}
	return list
}

// shows is what the table shows, row by row; refused text in brackets.
func (r *tableRig[T]) shows() []string {
	var list []string
	refused := map[[2]int]string{}
	for _, f := range r.table.grid.Refusals() {
		refused[[2]int{f.Row, f.Col}] = f.Text
	}
	for row := range len(r.table.lines) + 1 {
		var cells []string
		for col := range r.table.opts.columns {
			text := plain(r.table.cell(row, col).Text)
			if bad, is := refused[[2]int{row, col}]; is {
				text = "[" + bad + "]"
			}
			cells = append(cells, text)
		}
		list = append(list, strings.Join(cells, "|"))
	}
	return list
}

func (r *tableRig[T]) press(names ...fyne.KeyName) {
	for _, name := range names {
		r.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: name})
	}
}

// enter types a text into a cell and leaves it with Enter.
func (r *tableRig[T]) enter(row, col int, text string) {
	r.table.grid.FocusCell(row, col)
	for _, c := range text {
		r.win.Canvas().Focused().TypedRune(c)
	}
	r.press(fyne.KeyReturn)
}

func (r *tableRig[T]) paste(row, col int, text string) {
	r.table.grid.FocusCell(row, col)
	clip := test.NewClipboard()
	clip.SetContent(text)
	r.table.grid.TypedShortcut(&fyne.ShortcutPaste{Clipboard: clip})
}

func (r *tableRig[T]) importFile(text string) {
	r.desk.file = text
	r.table.askImport()
}

// choose does what choosing from the menu of a row does.
func (r *tableRig[T]) choose(row int, id string) {
	for _, item := range r.table.menu(row) {
		if item.Label == r.desk.words.Text(id) {
			require.False(r.t, item.Disabled, id)
			item.Action()
			return
		}
	}
	require.Fail(r.t, "not in the menu: "+id)
}
