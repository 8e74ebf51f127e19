package control_test

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

func TestNotesComeWorstFirstAndOpenByKey(t *testing.T) {
	var opened []int
	var l *control.NoteList
	win := open(t, looks[0], func() fyne.CanvasObject {
		l = control.NewNoteList(2, func(i int) { opened = append(opened, i) })
		l.SetNotes(galleryNotes())
		return control.NewColumn(0, l)
	}, 900, 200)
	assert.Equal(t, []int{2, 1, 3, 0}, l.Order(), "stop, then cautions in their order, then info")
	win.Canvas().FocusNext()
	require.Equal(t, fyne.Focusable(l), win.Canvas().Focused())
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyDown, fyne.KeySpace, fyne.KeyEnd, fyne.KeyDown, fyne.KeyEnter, fyne.KeyHome, fyne.KeyUp, fyne.KeyReturn} {
		win.Canvas().Focused().TypedKey(key(k))
	}
	assert.Equal(t, []int{2, 1, 0, 2}, opened, "indices as handed in")
	test.TapCanvas(win.Canvas(), fyne.NewPos(100, 10))
	assert.Len(t, opened, 5)
}

func TestNoteListHeight(t *testing.T) {
	var l *control.NoteList
	open(t, looks[0], func() fyne.CanvasObject {
		l = control.NewNoteList(3, nil)
		return l
	}, 900, 200)
	many := make([]control.Note, 40)
	for i := range many {
		many[i] = control.Note{Text: fmt.Sprint("note ", i)}
	}
	l.SetNotes(many[:1])
	one := l.HeightFor(900)
	l.SetNotes(many)
	assert.Greater(t, l.HeightFor(900), 2*one)
	assert.Less(t, l.HeightFor(900), 4*one, "a long list scrolls")
	long := control.Note{Text: "the quick brown fox jumps over the lazy dog and runs away"}
	l.SetNotes([]control.Note{long})
	assert.Greater(t, l.HeightFor(200), l.HeightFor(900), "text wraps")
	l.SetNotes(nil)
	assert.True(t, l.Disabled(), "an empty list is passed over by Tab")
	assert.NotPanics(t, func() { l.TypedKey(key(fyne.KeyReturn)) })
}

func TestRailChoosesByKeyAndTap(t *testing.T) {
	var got []string
	var r *control.Rail
	win := open(t, looks[0], func() fyne.CanvasObject {
		r = control.NewRail(func(id string) { got = append(got, id) },
			control.Item{ID: "a", Title: "A"}, control.Item{ID: "b", Title: "B"}, control.Item{ID: "c", Title: "C"})
		return r
	}, 150, 400)
	assert.Equal(t, "a", r.Selected())
	assert.Empty(t, got, "showing is not choosing")
	win.Canvas().FocusNext()
	press := func(k fyne.KeyName) { win.Canvas().Focused().TypedKey(key(k)) }
	press(fyne.KeyDown)
	press(fyne.KeyDown)
	press(fyne.KeyDown)
	press(fyne.KeyUp)
	press(fyne.KeyHome)
	assert.Equal(t, []string{"b", "c", "b", "a"}, got)
	test.TapCanvas(win.Canvas(), fyne.NewPos(40, 60))
	assert.Equal(t, "b", r.Selected())
	require.Equal(t, fyne.Focusable(r), win.Canvas().Focused(), "the keys go on from where the mouse was")
	r.Select("c")
	assert.Equal(t, "c", r.Selected())
	assert.Len(t, got, 5)
	r.SetMark("c", control.MarkStop, "stopped")
	r.SetMark("nowhere", control.MarkStop, "")
}

func TestBlendBar(t *testing.T) {
	var got []string
	added := 0
	var b *control.BlendBar
	cards := []control.BlendCard{{ID: "a", Name: "A", Line: "reference"}, {ID: "b", Name: "B", Line: "5 wt%"}}
	win := open(t, looks[0], func() fyne.CanvasObject {
		b = control.NewBlendBar(control.BlendBarOptions{
			OnSelect: func(id string) { got = append(got, id) },
			OnAdd:    func() { added++ },
			Menu: func(id string) []*fyne.MenuItem {
				return []*fyne.MenuItem{fyne.NewMenuItem("Rename "+id, func() { got = append(got, "rename "+id) })}
			},
		})
		b.SetCards(cards, "a")
		return b
	}, 500, 100)
	win.Canvas().FocusNext()
	press := func(k fyne.KeyName) { win.Canvas().Focused().TypedKey(key(k)) }
	press(fyne.KeyRight)
	assert.Equal(t, []string{"b"}, got)
	press(fyne.KeyRight)
	assert.Equal(t, "b", b.Selected(), "the plus is not a blend")
	press(fyne.KeyReturn)
	assert.Equal(t, 1, added)
	press(fyne.KeyLeft)
	press(fyne.KeyLeft)
	assert.Equal(t, []string{"b", "a"}, got)
	press(desktop.KeyMenu)
	require.NotNil(t, win.Canvas().Overlays().Top())
	press(fyne.KeyDown)
	press(fyne.KeyReturn)
	assert.Equal(t, "rename a", got[len(got)-1])
	b.SetCards(cards[1:], "b")
	assert.Equal(t, "b", b.Selected())
}

func TestBlendBarScrollsToTheChosen(t *testing.T) {
	var b *control.BlendBar
	win := open(t, looks[0], func() fyne.CanvasObject {
		b = control.NewBlendBar(control.BlendBarOptions{OnSelect: func(string) {}})
		return b
	}, 400, 100)
	cards := make([]control.BlendCard, 12)
	for i := range cards {
		cards[i] = control.BlendCard{ID: fmt.Sprint(i), Name: fmt.Sprint("Blend ", i)}
	}
	b.SetCards(cards, "0")
	first := win.Canvas().Capture()
	b.Select("11")
	assert.NotEqual(t, first, win.Canvas().Capture())
	b.TypedKey(key(fyne.KeyRight))
	assert.Equal(t, "11", b.Selected(), "without a plus the last card is the end")
	assert.LessOrEqual(t, b.MinSize().Width, float32(400))
}

func TestVerdictBreaksLines(t *testing.T) {
	for _, l := range looks {
		t.Run(l.name, func(t *testing.T) {
			var v *control.Verdict
			open(t, l, func() fyne.CanvasObject {
				v = control.NewVerdict(galleryFigures()...)
				return v
			}, 1100, 400)
			wide, narrow := v.HeightFor(1600), v.HeightFor(500)
			assert.Greater(t, narrow, wide)
			assert.LessOrEqual(t, v.MinSize().Width, float32(500), "never wider than the window")
			v.SetFigures()
			assert.Zero(t, v.HeightFor(500))
		})
	}
}

func TestVerdictSaysWhyAFigureIsUnknown(t *testing.T) {
	var v *control.Verdict
	open(t, looks[0], func() fyne.CanvasObject {
		v = control.NewVerdict(control.Figure{Label: "Strength", Unit: "MPa", Interval: "1 to 2", Change: "−3 %", Reason: "no specimens yet"})
		return v
	}, 400, 200)
	markup := test.RenderObjectToMarkup(v)
	assert.Contains(t, markup, "—")
	assert.Contains(t, markup, "no specimens yet")
	assert.NotContains(t, markup, "MPa")
	assert.NotContains(t, markup, "1 to 2")
}
