package shell_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// alive asserts that the keyboard is on something that is shown.
func alive(r *rig, message string) {
	r.t.Helper()
	focused := r.canvas().Focused()
	if assert.NotNil(r.t, focused, message) {
		assert.True(r.t, contains(r.bench.Content(), focused), "%s: the keyboard is on something that is gone", message)
	}
}

func TestTabReachesEveryInput(t *testing.T) {
	r := openSample(t, olive)
	for _, id := range bench.Panes() {
		r.show(id)
		r.canvas().Unfocus()
		reached := map[any]bool{}
		for range 300 {
			if r.canvas().Focused() == nil {
				r.canvas().FocusNext()
			} else {
				r.key(fyne.KeyTab)
			}
			reached[r.canvas().Focused()] = true
		}
		for _, in := range r.inputs() {
			found := false
			walk(in, func(o fyne.CanvasObject) { found = found || reached[o] })
			assert.True(t, found, "%s: Tab does not reach %q", id, in.ID())
		}
		for _, g := range all[*control.Grid](r.bench.Content()) {
			assert.True(t, reached[g], "%s: Tab does not reach the table", id)
		}
		for _, o := range []fyne.CanvasObject{all[*control.Rail](r.bench.Content())[0], all[*control.BlendBar](r.bench.Content())[0], all[*control.NoteList](r.bench.Content())[0]} {
			assert.True(t, reached[o], "%s: Tab does not reach %T", id, o)
		}
	}
}

func TestShortcutsAreNotUsedTwice(t *testing.T) {
	r := openSample(t, olive)
	seen := map[string]string{}
	var look func(items []*fyne.MenuItem)
	look = func(items []*fyne.MenuItem) {
		for _, i := range items {
			if i.Shortcut != nil {
				name := i.Shortcut.ShortcutName()
				assert.Empty(t, seen[name], "%s has the shortcut of %s", i.Label, seen[name])
				seen[name] = i.Label
			}
			if i.ChildMenu != nil {
				look(i.ChildMenu.Items)
			}
		}
	}
	for _, m := range r.window.MainMenu().Items {
		look(m.Items)
	}
	require.Contains(t, seen, "Undo")
	require.Contains(t, seen, "Redo")
}

func TestStartPutsTheKeyboardOnTheFirstEntry(t *testing.T) {
	r := openSample(t, olive)
	for _, id := range bench.Panes() {
		r.show(id)
		r.choose("menu.start")
		alive(r, string(id))
	}
	r.show(bench.PaneBlend)
	r.choose("menu.start")
	row, col := r.grid().Selected()
	assert.Equal(t, [2]int{1, amountColumn}, [2]int{row, col}, "the amount of the powder")
}

func TestMenuEntriesShowThePanes(t *testing.T) {
	r := openSample(t, olive)
	for _, id := range bench.Panes() {
		r.choose("pane." + string(id) + ".title")
		assert.Equal(t, id, r.bench.Pane())
	}
}

func TestRailAndBarWorkWithTheKeyboard(t *testing.T) {
	r := openSample(t, olive)
	rail := all[*control.Rail](r.bench.Content())[0]
	r.canvas().Focus(rail)
	r.key(fyne.KeyHome)
	for i, id := range bench.Panes() {
		assert.Equal(t, id, r.bench.Pane(), i)
		require.Same(t, rail, r.canvas().Focused(), "the rail keeps the keyboard")
		r.key(fyne.KeyDown)
	}
	bar := all[*control.BlendBar](r.bench.Content())[0]
	r.canvas().Focus(bar)
	r.key(fyne.KeyHome)
	for _, b := range r.bench.Project().Blends {
		assert.Equal(t, b.ID, r.bench.Chosen())
		require.Same(t, bar, r.canvas().Focused(), "the bar keeps the keyboard")
		r.key(fyne.KeyRight)
	}
}

// reached says whether the keyboard is on the field of a place, or on its cell.
func reached(r *rig, place string) bool {
	if place == "/blends" || place == "/reference" {
		_, bar := r.canvas().Focused().(*control.BlendBar)
		return bar
	}
	focused := r.canvas().Focused()
	if focused == nil || !contains(r.bench.Content(), focused) {
		return false
	}
	for _, in := range r.inputs() {
		if in.ID() == place && contains(in, focused) {
			return true
		}
	}
	for _, g := range all[*control.Grid](r.bench.Content()) {
		inIt := place == g.ID() || strings.HasPrefix(place, g.ID()+"/")
		makesIt := g.ID() == place+"/0/readings" // the first row of a drying log makes the first run
		if (inIt || makesIt) && contains(g, focused) {
			return true
		}
	}
	return false
}

func TestNotesAreOpenedWithTheKeyboard(t *testing.T) {
	r := openSample(t, mussel)
	require.NoError(t, r.bench.Edit("", "", func(p *project.Project) error { return set(p, "/spool/diameter", "") }))
	list := all[*control.NoteList](r.bench.Content())[0]
	require.Equal(t, "/spool/diameter", r.bench.Notes()[list.Order()[0]].Field, "the worst note comes first")
	r.canvas().Focus(list)
	r.key(fyne.KeyHome)
	r.key(fyne.KeyReturn)
	assert.Equal(t, bench.PaneSpool, r.bench.Pane())
	assert.True(t, reached(r, "/spool/diameter"))
	assert.True(t, r.field("/spool/diameter").Entry().Highlighted())
	assert.Equal(t, "—", r.figure("verdict.length").Value)
	assert.NotEmpty(t, r.figure("verdict.length").Second, "a figure that is not known says why")
}

func TestTicksKeepTheKeyboard(t *testing.T) {
	r := openSample(t, mussel)
	r.show(bench.PaneFiller)
	const place = "/materials/1/calcined"
	r.input(place).Focus()
	r.canvas().Focused().TypedRune(' ')
	assert.True(t, r.bench.Project().Materials[1].Calcined)
	alive(r, place)
	assert.Contains(t, reads(all[*control.NoteList](r.bench.Content())[0]), "calcined", "a stop note")
	r.undo()
	assert.False(t, r.bench.Project().Materials[1].Calcined)
	alive(r, place)
}

func TestUndoOfASettingLeadsThere(t *testing.T) {
	r := openSample(t, olive)
	for _, id := range bench.Panes() {
		r.show(id)
		for _, place := range tried(r.places()) {
			f, is := r.input(place).(*control.Field)
			if !is || f.Entry().Text == "" || id == bench.PaneBlend && strings.HasPrefix(place, "/materials/") {
				continue // properties of powders are in two panes
			}
			r.enter(place, "")
			r.canvas().Unfocus()
			r.show(bench.PanePlan)
			if id == bench.PanePlan {
				r.show(bench.PaneBlend)
			}
			r.undo()
			assert.Equal(t, id, r.bench.Pane(), "undo of %s", place)
			assert.True(t, reached(r, place), "undo of %s", place)
		}
	}
}
