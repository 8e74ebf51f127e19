package control_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

// sections is a row of sections with something above and below it.
type sections struct {
	tabs          *control.Tabs
	canvas        fyne.Canvas
	before, after *widget.Entry
	items         []control.Item
	chosen        string
	heard         []string
}

func benchSections() []control.Item {
	return []control.Item{
		{ID: "drying", Title: "Drying", Mark: control.MarkCaution, MarkText: "caution"},
		{ID: "storage", Title: "Storage", Mark: control.MarkEmpty},
		{ID: "sieving", Title: "Sieve analysis", Mark: control.MarkStop, MarkText: "stop"},
		{ID: "clogging", Title: "Blockages", Mark: control.MarkFine, MarkText: "fine"},
	}
}

func newSections(t *testing.T, l look, width float32) *sections {
	s := &sections{before: widget.NewEntry(), after: widget.NewEntry(), items: benchSections(), chosen: "drying"}
	win := open(t, l, func() fyne.CanvasObject {
		s.tabs = control.NewTabs(control.TabsOptions{
			ID: "bench", Label: "Bench",
			Items:    func() []control.Item { return s.items },
			Chosen:   func() string { return s.chosen },
			OnChoose: func(id string) { s.chosen = id; s.heard = append(s.heard, id) },
		})
		return control.NewColumn(8, s.before, s.tabs, s.after)
	}, width, 300)
	s.canvas = win.Canvas()
	return s
}

func TestTabsChooseByKey(t *testing.T) {
	s := newSections(t, looks[0], 700)
	s.canvas.Focus(s.before)
	s.canvas.FocusNext()
	require.Equal(t, fyne.Focusable(s.tabs), s.canvas.Focused())
	for _, k := range []fyne.KeyName{fyne.KeyLeft, fyne.KeyRight, fyne.KeyEnd, fyne.KeyRight, fyne.KeyLeft, fyne.KeyHome} {
		s.canvas.Focused().TypedKey(key(k))
	}
	assert.Equal(t, []string{"storage", "clogging", "sieving", "drying"}, s.heard, "the ends hold")
	assert.Equal(t, "drying", s.tabs.Selected())
	s.canvas.Focused().TypedRune('x')
	s.canvas.FocusNext()
	assert.Equal(t, fyne.Focusable(s.after), s.canvas.Focused(), "Tab leaves")
}

func TestTabsChooseByTap(t *testing.T) {
	s := newSections(t, looks[0], 700)
	chips := test.WidgetRenderer(s.tabs).Objects()
	require.Len(t, chips, 4)
	tap := func(i int) {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(chips[i])
		test.TapCanvas(s.canvas, at.AddXY(chips[i].Size().Width/2, chips[i].Size().Height/2))
	}
	tap(2)
	tap(2)
	assert.Equal(t, []string{"sieving"}, s.heard, "the chosen one is not chosen again")
	assert.Equal(t, fyne.Focusable(s.tabs), s.canvas.Focused(), "the keys go on from where the mouse was")
}

func TestTabsSayWhatTheyAre(t *testing.T) {
	s := newSections(t, looks[0], 700)
	assert.Equal(t, "bench", s.tabs.ID())
	assert.Equal(t, "Bench: Drying, caution", s.tabs.AccessibilityLabel())
	assert.Equal(t, fyne.AccessibleRoleContainer, s.tabs.AccessibilityRole())
	for i, want := range []string{"Drying, caution", "Storage", "Sieve analysis, stop", "Blockages, fine"} {
		chip := test.WidgetRenderer(s.tabs).Objects()[i].(fyne.Accessible)
		assert.Equal(t, want, chip.AccessibilityLabel())
		assert.Equal(t, fyne.AccessibleRoleButton, chip.AccessibilityRole())
	}
	s.chosen = "nowhere"
	s.tabs.Sync()
	assert.Equal(t, "Bench", s.tabs.AccessibilityLabel())
	s.tabs.TypedKey(key(fyne.KeyRight))
	assert.Equal(t, "drying", s.chosen)
}

func TestTabsFollowWhatTheyShow(t *testing.T) {
	s := newSections(t, looks[0], 700)
	before := test.RenderObjectToMarkup(s.tabs)
	s.items[0].Mark = control.MarkFine
	s.tabs.Sync()
	assert.NotEqual(t, before, test.RenderObjectToMarkup(s.tabs), "the mark")
	s.chosen = "storage"
	s.tabs.Sync()
	assert.Equal(t, "storage", s.tabs.Selected())
	assert.Empty(t, s.heard, "showing is not choosing")
	s.items = s.items[:2]
	s.tabs.Sync()
	assert.Len(t, test.WidgetRenderer(s.tabs).Objects(), 2)
	s.items = nil
	s.tabs.Sync()
	assert.Zero(t, s.tabs.HeightFor(700))
	assert.NotPanics(t, func() { s.tabs.TypedKey(key(fyne.KeyEnd)) })
}

func TestTabsWrap(t *testing.T) {
	for _, l := range looks {
		t.Run(l.name, func(t *testing.T) {
			s := newSections(t, l, 400)
			assert.Greater(t, s.tabs.HeightFor(160), s.tabs.HeightFor(1600))
			assert.LessOrEqual(t, s.tabs.MinSize().Width, float32(400))
			for _, width := range []float32{60, 160, 280, 400} {
				s.tabs.Resize(fyne.NewSize(width, s.tabs.HeightFor(width)))
				for i, chip := range test.WidgetRenderer(s.tabs).Objects() {
					right, bottom := chip.Position().X+chip.Size().Width, chip.Position().Y+chip.Size().Height
					assert.LessOrEqual(t, right, width+0.01, "section %d at %v", i, width)
					assert.LessOrEqual(t, bottom, s.tabs.Size().Height+0.01, "section %d at %v", i, width)
				}
			}
		})
	}
}

func TestTabsPushWhatIsBelow(t *testing.T) {
	s := newSections(t, looks[0], 330)
	at := s.after.Position().Y
	s.items = append(s.items, control.Item{ID: "more", Title: "A section with a name of its own line"})
	s.tabs.Sync()
	assert.Greater(t, s.after.Position().Y, at)
}
