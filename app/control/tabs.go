package control

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// TabsOptions say what the sections are and whom [Tabs] tells.
type TabsOptions struct {
	ID    string
	Label string // names the row to a screen reader
	// Items are the sections in their order, with the marks that they have now.
	Items func() []Item
	// Chosen is the section shown.
	Chosen func() string
	// OnChoose hears the section chosen by the user.
	OnChoose func(id string)
}

// Tabs is a row of named sections above content, one of them chosen. Where the
// row is too long for its place it goes on in the next line. With the keyboard
// Left, Right, Home and End choose; Tab leaves.
type Tabs struct {
	widget.BaseWidget
	hosted

	opts    TabsOptions
	chips   []*tabChip
	chosen  string
	focused bool
}

// NewTabs returns the row of sections.
func NewTabs(opts TabsOptions) *Tabs {
	t := &Tabs{opts: opts}
	t.ExtendBaseWidget(t)
	t.Sync()
	return t
}

// ID names the row.
func (t *Tabs) ID() string { return t.opts.ID }

// Selected is the section shown as chosen.
func (t *Tabs) Selected() string { return t.chosen }

// Sync asks for the sections, their marks and the chosen one again.
func (t *Tabs) Sync() {
	items := t.opts.Items()
	if t.chosen == t.opts.Chosen() && slices.Equal(items, t.items()) {
		return
	}
	width := t.Size().Width
	before := t.HeightFor(width)
	t.chosen = t.opts.Chosen()
	for len(t.chips) < len(items) {
		t.chips = append(t.chips, newTabChip(t))
	}
	t.chips = t.chips[:len(items)]
	for i, item := range items {
		t.chips[i].Item = item
	}
	t.Refresh()
	if width > 0 && t.HeightFor(width) != before {
		t.settled()
	}
}

func (t *Tabs) items() []Item {
	items := make([]Item, len(t.chips))
	for i, chip := range t.chips {
		items[i] = chip.Item
	}
	return items
}

func (t *Tabs) at(id string) int {
	return slices.IndexFunc(t.chips, func(c *tabChip) bool { return c.ID == id })
}

func (t *Tabs) choose(i int) {
	if i < 0 || i >= len(t.chips) || t.chips[i].ID == t.chosen {
		return
	}
	if t.opts.OnChoose != nil {
		t.opts.OnChoose(t.chips[i].ID)
	}
	t.Sync()
}

// Focus moves the keyboard to the row.
func (t *Tabs) Focus() { focusOn(t) }

// FocusGained implements fyne.Focusable.
func (t *Tabs) FocusGained() {
	t.focused = true
	t.Refresh()
	t.revealed(t)
}

// FocusLost implements fyne.Focusable.
func (t *Tabs) FocusLost() {
	t.focused = false
	t.Refresh()
}

// TypedRune implements fyne.Focusable.
func (t *Tabs) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (t *Tabs) TypedKey(ev *fyne.KeyEvent) {
	now := t.at(t.chosen)
	switch ev.Name {
	case fyne.KeyLeft:
		t.choose(now - 1)
	case fyne.KeyRight:
		t.choose(now + 1)
	case fyne.KeyHome:
		t.choose(0)
	case fyne.KeyEnd:
		t.choose(len(t.chips) - 1)
	}
}

// AccessibilityLabel implements fyne.Accessible.
func (t *Tabs) AccessibilityLabel() string {
	if i := t.at(t.chosen); i >= 0 {
		return t.opts.Label + ": " + t.chips[i].AccessibilityLabel()
	}
	return t.opts.Label
}

// AccessibilityRole implements fyne.Accessible.
func (t *Tabs) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleContainer }

// HeightFor returns the height of the row, or rows, at a width.
func (t *Tabs) HeightFor(width float32) float32 {
	return t.flow(width, func(*tabChip, fyne.Position, fyne.Size) {})
}

// flow calls put for every section with its place, and returns the height of all.
func (t *Tabs) flow(width float32, put func(*tabChip, fyne.Position, fyne.Size)) float32 {
	if len(t.chips) == 0 {
		return 0
	}
	at, high := fyne.Position{}, tabHeight()
	for _, chip := range t.chips {
		wide := chip.width()
		if width > 0 {
			wide = fyne.Min(wide, width)
		}
		if at.X > 0 && at.X+wide > width {
			at = fyne.NewPos(0, at.Y+high+gap(5))
		}
		put(chip, at, fyne.NewSize(wide, high))
		at.X += wide + gap(5)
	}
	return at.Y + high
}

func (t *Tabs) lay(size fyne.Size) {
	t.flow(size.Width, func(chip *tabChip, at fyne.Position, size fyne.Size) {
		place(chip, at.X, at.Y, size.Width, size.Height)
	})
}

func (t *Tabs) leastWidth() float32 { return em(120) }

// CreateRenderer implements fyne.Widget.
func (t *Tabs) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject { return asObjects(t.chips) },
		layout:  t.lay,
		min:     leastOf(t),
		refresh: func() {
			for _, chip := range t.chips {
				chip.Refresh()
			}
			t.lay(t.Size())
			canvas.Refresh(t)
		},
	}
}

func tabHeight() float32 { return lineHeight(theme.TextSize()) + 2*gap(5) }

// tabChip is one section in the row.
type tabChip struct {
	widget.BaseWidget
	hover
	marked
	tabs *Tabs
}

func newTabChip(t *Tabs) *tabChip {
	c := &tabChip{tabs: t, marked: newMarked(Item{})}
	c.hover.changed = c.Refresh
	c.ExtendBaseWidget(c)
	return c
}

// Tapped also moves the keyboard to the row, so that the keys go on from there.
func (c *tabChip) Tapped(*fyne.PointEvent) {
	focusOn(c.tabs)
	c.tabs.choose(c.tabs.at(c.ID))
}

func (c *tabChip) signSize() float32 { return em(13) }

func (c *tabChip) titleX() float32 { return gap(8) + c.signSize() + gap(6) }

// width has room for the title in bold, so that nothing moves when it is chosen.
func (c *tabChip) width() float32 {
	return c.titleX() + c.boldWidth() + gap(10)
}

// CreateRenderer implements fyne.Widget.
func (c *tabChip) CreateRenderer() fyne.WidgetRenderer {
	c.paint()
	return &parts{
		objects: fixed(c.ground, c.sign.Image, c.title),
		layout:  c.lay,
		min:     func() fyne.Size { return fyne.NewSize(c.titleX()+gap(10), tabHeight()) },
		refresh: func() {
			c.paint()
			c.lay(c.Size())
			canvas.Refresh(c)
		},
	}
}

func (c *tabChip) paint() {
	chosen := c.tabs.chosen == c.ID
	switch {
	case chosen && c.tabs.focused:
		paintBox(c.ground, ColourWash, theme.ColorNamePrimary, 2.5, gap(7))
	case chosen:
		paintBox(c.ground, ColourCard, theme.ColorNamePrimary, 2, gap(7))
	case c.hovered:
		paintBox(c.ground, ColourCard, theme.ColorNameInputBorder, 1, gap(7))
	default:
		paintBox(c.ground, ColourStrip, ColourCardBorder, 1, gap(7))
	}
	c.marked.paint(chosen)
}

func (c *tabChip) lay(size fyne.Size) {
	c.ground.Resize(size)
	side := c.signSize()
	c.sign.place(gap(8), (size.Height-side)/2, side)
	room := fyne.Max(size.Width-c.titleX()-gap(6), 0)
	c.title.Text = fitted(c.Title, c.title.TextSize, c.title.TextStyle, room)
	high := lineHeight(c.title.TextSize)
	place(c.title, c.titleX(), (size.Height-high)/2, room, high)
	c.title.Refresh()
}
