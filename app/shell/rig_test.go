package shell_test

import (
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// spyWindow keeps what the test driver throws away: who is told of files dropped
// onto the window and of its close button.
type spyWindow struct {
	fyne.Window
	dropped   func(fyne.Position, []fyne.URI)
	intercept func()
	closed    bool
	wanted    fyne.Size
}

func (w *spyWindow) SetOnDropped(f func(fyne.Position, []fyne.URI)) { w.dropped = f }

func (w *spyWindow) SetCloseIntercept(f func()) { w.intercept = f }

func (w *spyWindow) Resize(size fyne.Size) {
	w.wanted = size
	w.Window.Resize(size)
}

func (w *spyWindow) Close() {
	w.closed = true
	w.Window.Close()
}

// closeButton is the X of the window.
func (w *spyWindow) closeButton() {
	if w.intercept == nil {
		w.Close()
		return
	}
	w.intercept()
}

// rig is a workbench in a window without a display.
type rig struct {
	t      testing.TB
	app    fyne.App
	window *spyWindow
	bench  *shell.Workbench
	words  *wording.Words
	folder string
	clock  handClock
}

// look is the appearance of most tests.
var look = shell.Appearance{Variant: control.Light, Text: 1}

// english are the texts, read once: nothing writes into them.
var english = sync.OnceValue(func() *wording.Words { return wording.New("en") })

// newRig makes an app whose home and temporary folder are the test's own.
func newRig(t testing.TB) *rig {
	r := &rig{t: t, folder: t.TempDir(), words: english()}
	for _, name := range []string{"HOME", "USERPROFILE", "TMPDIR", "TMP", "TEMP"} {
		t.Setenv(name, r.folder)
	}
	r.app = test.NewTempApp(t)
	return r
}

// open opens a window on a project; path is "" for one without a file.
func (r *rig) open(p project.Project, path string, look shell.Appearance) *rig {
	r.app.Settings().SetTheme(look.Theme())
	r.bench = shell.New(p, path, shell.Options{
		Words: r.words, Preferences: r.app.Preferences(), Appearance: look,
		Clock: &r.clock, Immediate: true, AutosaveEvery: 24 * time.Hour, // the driver of the tests would autosave in the ticker's goroutine, a race in any test that lasts long enough
	})
	w := &spyWindow{Window: r.app.NewWindow("")}
	r.t.Cleanup(func() {
		if !w.closed {
			w.Close()
		}
	})
	r.window = w
	r.bench.Attach(r.window)
	return r
}

// openSample opens a window on a copy of a sample in a file of its own.
func openSample(t testing.TB, name string) *rig {
	r := newRig(t)
	p := sample(t, name)
	path := r.file("project.json")
	require.NoError(t, project.Save(path, p))
	return r.open(p, path, look)
}

func sample(t testing.TB, name string) project.Project {
	p, err := shell.Sample(name)
	require.NoError(t, err)
	return p
}

const (
	olive  = "olive-stone-pla"
	mussel = "mussel-shell-petg"
)

// file is a path in the folder of the test.
func (r *rig) file(name string) string { return filepath.Join(r.folder, name) }

func (r *rig) canvas() fyne.Canvas { return r.window.Canvas() }

// menuItem finds an item of the main menu by its catalogue ID.
func (r *rig) menuItem(id string) *fyne.MenuItem {
	r.t.Helper()
	text := r.words.Text(id)
	var find func(items []*fyne.MenuItem) *fyne.MenuItem
	find = func(items []*fyne.MenuItem) *fyne.MenuItem {
		for _, i := range items {
			if i.Label == text {
				return i
			}
			if i.ChildMenu != nil {
				if found := find(i.ChildMenu.Items); found != nil {
					return found
				}
			}
		}
		return nil
	}
	for _, m := range r.window.MainMenu().Items {
		if found := find(m.Items); found != nil {
			return found
		}
	}
	require.Failf(r.t, "no such item in the menu", "%s, %q", id, text)
	return nil
}

// choose does what choosing an item of the main menu does.
func (r *rig) choose(id string) {
	r.t.Helper()
	i := r.menuItem(id)
	require.False(r.t, i.Disabled, id)
	i.Action()
}

// editItem is the item of the edit menu with a shortcut: undo or redo.
func (r *rig) editItem(shortcut fyne.Shortcut) *fyne.MenuItem {
	r.t.Helper()
	for _, m := range r.window.MainMenu().Items {
		for _, i := range m.Items {
			if i.Shortcut != nil && i.Shortcut.ShortcutName() == shortcut.ShortcutName() {
				return i
			}
		}
	}
	require.Fail(r.t, "no item for "+shortcut.ShortcutName())
	return nil
}

func (r *rig) undoItem() *fyne.MenuItem { return r.editItem(&fyne.ShortcutUndo{}) }
func (r *rig) redoItem() *fyne.MenuItem { return r.editItem(&fyne.ShortcutRedo{}) }

func (r *rig) undo() { r.undoItem().Action() }
func (r *rig) redo() { r.redoItem().Action() }

// walk visits every visible object under o, parents first.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	visit(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, child := range o.Objects {
			walk(child, visit)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(o).Objects() {
			walk(child, visit)
		}
	}
}

// contains reports whether an object is shown somewhere under another.
func contains(o fyne.CanvasObject, wanted any) bool {
	found := false
	walk(o, func(child fyne.CanvasObject) { found = found || any(child) == wanted })
	return found
}

// all lists the visible objects of a type.
func all[T any](root fyne.CanvasObject) []T {
	var list []T
	walk(root, func(o fyne.CanvasObject) {
		if t, is := o.(T); is {
			list = append(list, t)
		}
	})
	return list
}

// texts lists what can be read under an object, with plain spaces. Text that
// wraps comes as a whole and then line by line.
func texts(root fyne.CanvasObject) []string {
	var list []string
	add := func(text string) {
		if text = strings.TrimSpace(plain(text)); text != "" {
			list = append(list, text)
		}
	}
	walk(root, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *canvas.Text:
			add(o.Text)
		case *control.Text:
			list = append(list, plain(o.String()))
		case *widget.Entry:
			add(o.Text)
		}
	})
	return list
}

// reads is all text under an object in one string.
func reads(root fyne.CanvasObject) string { return strings.Join(texts(root), "\n") }

func plain(text string) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(text)
}

// inputs are those of the pane shown, by their place; the entry inside a field
// is left out.
func (r *rig) inputs() []control.Input {
	var list []control.Input
	seen := map[string]bool{}
	for _, in := range all[control.Input](r.bench.Content()) {
		if _, bare := in.(*control.QuantityEntry); bare && seen[in.ID()] {
			continue
		}
		seen[in.ID()] = true
		list = append(list, in)
	}
	return list
}

// input is the one of a place in the pane shown.
func (r *rig) input(place string) control.Input {
	r.t.Helper()
	list := r.inputs()
	i := slices.IndexFunc(list, func(in control.Input) bool { return in.ID() == place })
	require.GreaterOrEqual(r.t, i, 0, "no input for %s in pane %s", place, r.bench.Pane())
	return list[i]
}

// field is the entry of a place in the pane shown.
func (r *rig) field(place string) *control.Field {
	r.t.Helper()
	f, is := r.input(place).(*control.Field)
	require.True(r.t, is, place)
	return f
}

// enter types a text over what stands in a field and leaves it with Enter.
func (r *rig) enter(place, text string) {
	r.t.Helper()
	r.typeInto(place, text)
	r.key(fyne.KeyReturn)
}

// typeInto types a text over what stands in a field, without leaving it.
func (r *rig) typeInto(place, text string) {
	r.t.Helper()
	f := r.field(place)
	f.Focus()
	require.Same(r.t, f.Entry(), r.canvas().Focused(), place)
	f.Entry().TypedShortcut(&fyne.ShortcutSelectAll{})
	r.key(fyne.KeyBackspace)
	if len(text) > 100 { // nobody types that much, and each letter lays out all of it anew
		r.app.Clipboard().SetContent(text)
		f.Entry().TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
		return
	}
	r.write(text)
}

// write types a text on the keyboard.
func (r *rig) write(text string) {
	r.t.Helper()
	for _, c := range text {
		require.NotNil(r.t, r.canvas().Focused())
		r.canvas().Focused().TypedRune(c)
	}
}

// key presses a key on the keyboard. Tab moves on as the driver moves on.
func (r *rig) key(name fyne.KeyName) {
	r.t.Helper()
	focused := r.canvas().Focused()
	require.NotNil(r.t, focused)
	if name == fyne.KeyTab {
		if tabs, is := focused.(fyne.Tabbable); !is || !tabs.AcceptsTab() {
			r.canvas().FocusNext()
			return
		}
	}
	focused.TypedKey(&fyne.KeyEvent{Name: name})
}

// grid is the table of the pane shown.
func (r *rig) grid() *control.Grid {
	r.t.Helper()
	grids := all[*control.Grid](r.bench.Content())
	require.Len(r.t, grids, 1)
	return grids[0]
}

// enterCell types a text into a cell of the table and leaves it with Enter.
func (r *rig) enterCell(row, col int, text string) {
	r.t.Helper()
	r.typeCell(row, col, text)
	r.key(fyne.KeyReturn)
}

// typeCell types a text into a cell of the table.
func (r *rig) typeCell(row, col int, text string) {
	r.t.Helper()
	r.grid().FocusCell(row, col)
	r.write(text)
}

// dialog is the dialog on top, nil when there is none.
func (r *rig) dialog() fyne.CanvasObject { return r.canvas().Overlays().Top() }

// dialogs is how many dialogs and menus lie over the window.
func (r *rig) dialogs() int { return len(r.canvas().Overlays().List()) }

// button is whatever can be pressed, also an item of a menu.
type button interface {
	fyne.Tappable
	fyne.CanvasObject
}

// press presses a button of the dialog on top.
func (r *rig) press(text string) {
	r.t.Helper()
	require.NotNil(r.t, r.dialog(), "no dialog with %q", text)
	for _, b := range all[button](r.dialog()) {
		if strings.Join(texts(b), " ") != text {
			continue
		}
		if d, can := b.(fyne.Disableable); can {
			require.False(r.t, d.Disabled(), text)
		}
		test.Tap(b)
		return
	}
	require.Failf(r.t, "no such button", "%q among %q", text, texts(r.dialog()))
}

// answer presses a button by its catalogue ID.
func (r *rig) answer(id string) { r.t.Helper(); r.press(r.words.Text(id)) }

// shownFigure is one figure of the verdict strip as it is shown.
type shownFigure struct{ Value, Unit, Change, Second string }

// figures are those of the verdict strip by their label.
func (r *rig) figures() map[string]shownFigure {
	r.t.Helper()
	strips := all[*control.Verdict](r.bench.Content())
	require.Len(r.t, strips, 1)
	list := map[string]shownFigure{}
	for _, cell := range test.WidgetRenderer(strips[0]).Objects() {
		w, is := cell.(fyne.Widget)
		if !is {
			continue
		}
		var words, numbers []string
		for _, o := range test.WidgetRenderer(w).Objects() {
			switch o := o.(type) {
			case *control.Text:
				words = append(words, plain(o.String()))
			case *canvas.Text:
				numbers = append(numbers, plain(o.Text))
			}
		}
		require.Len(r.t, words, 2)
		require.Len(r.t, numbers, 3)
		list[words[0]] = shownFigure{Value: numbers[0], Unit: numbers[1], Change: numbers[2], Second: words[1]}
	}
	return list
}

// figure is one of the verdict strip by its catalogue ID.
func (r *rig) figure(id string) shownFigure {
	r.t.Helper()
	f, known := r.figures()[r.words.Text(id)]
	require.True(r.t, known, id)
	return f
}

// card is what a blend's card in the bar says.
func (r *rig) card(name string) string {
	r.t.Helper()
	bars := all[*control.BlendBar](r.bench.Content())
	require.Len(r.t, bars, 1)
	found := ""
	walk(bars[0], func(o fyne.CanvasObject) {
		labelled, is := o.(interface{ AccessibilityLabel() string })
		if _, tile := o.(fyne.SecondaryTappable); !is || !tile {
			return
		}
		if line, match := strings.CutPrefix(plain(labelled.AccessibilityLabel()), name+", "); match && found == "" {
			found = line
		}
	})
	return found
}

// pictures are those of the pane shown.
func (r *rig) picture() *control.PictureView {
	r.t.Helper()
	list := all[*control.PictureView](r.bench.Content())
	require.Len(r.t, list, 1)
	return list[0]
}

// amountColumn is the column of the amounts in the table of parts.
const amountColumn = 1

func (r *rig) show(id bench.Pane) { r.bench.Show(id) }
