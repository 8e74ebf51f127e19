package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Rail lists the panes in the order of the work, each with a mark. With the
// keyboard Up and Down choose.
type Rail struct {
	widget.BaseWidget

	// OnSelect hears the pane chosen by the user.
	OnSelect func(id string)

	ground  *canvas.Rectangle
	edge    *canvas.Rectangle
	lines   []*railLine
	footer  *Text
	chosen  string
	focused bool
}

// NewRail returns a rail of panes.
func NewRail(onSelect func(id string), items ...Item) *Rail {
	r := &Rail{OnSelect: onSelect, ground: newBox(), edge: newBox(), footer: NewCaption("")}
	r.ExtendBaseWidget(r)
	r.SetItems(items...)
	return r
}

// SetItems replaces the panes.
func (r *Rail) SetItems(items ...Item) {
	r.lines = r.lines[:0]
	for _, item := range items {
		r.lines = append(r.lines, newRailLine(r, item))
	}
	if r.at(r.chosen) < 0 && len(items) > 0 {
		r.chosen = items[0].ID
	}
	r.Refresh()
}

// SetMark changes the mark of a pane.
func (r *Rail) SetMark(id string, mark Mark, words string) {
	i := r.at(id)
	if i < 0 {
		return
	}
	line := r.lines[i]
	if line.Mark == mark && line.MarkText == words {
		return
	}
	line.Mark, line.MarkText = mark, words
	line.Refresh()
}

// SetFooter replaces the text at the foot: "2 cautions".
func (r *Rail) SetFooter(text string) {
	r.footer.SetText(text)
	r.Refresh()
}

// Select shows a pane as chosen, without calling OnSelect.
func (r *Rail) Select(id string) {
	if r.at(id) < 0 || id == r.chosen {
		return
	}
	r.chosen = id
	r.Refresh()
}

// Selected is the pane chosen.
func (r *Rail) Selected() string { return r.chosen }

func (r *Rail) at(id string) int {
	for i, line := range r.lines {
		if line.ID == id {
			return i
		}
	}
	return -1
}

func (r *Rail) choose(i int) {
	if i < 0 || i >= len(r.lines) {
		return
	}
	id := r.lines[i].ID
	if id == r.chosen {
		return
	}
	r.Select(id)
	if r.OnSelect != nil {
		r.OnSelect(id)
	}
}

// FocusGained implements fyne.Focusable.
func (r *Rail) FocusGained() { r.focused = true; r.Refresh() }

// FocusLost implements fyne.Focusable.
func (r *Rail) FocusLost() { r.focused = false; r.Refresh() }

// TypedRune implements fyne.Focusable.
func (r *Rail) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (r *Rail) TypedKey(ev *fyne.KeyEvent) {
	now := r.at(r.chosen)
	switch ev.Name {
	case fyne.KeyUp:
		r.choose(now - 1)
	case fyne.KeyDown:
		r.choose(now + 1)
	case fyne.KeyHome, fyne.KeyPageUp:
		r.choose(0)
	case fyne.KeyEnd, fyne.KeyPageDown:
		r.choose(len(r.lines) - 1)
	}
}

// CreateRenderer implements fyne.Widget.
func (r *Rail) CreateRenderer() fyne.WidgetRenderer {
	r.paint()
	return &parts{
		objects: func() []fyne.CanvasObject {
			objects := append([]fyne.CanvasObject{r.ground, r.edge}, asObjects(r.lines)...)
			return append(objects, r.footer)
		},
		layout: r.lay,
		min:    r.minSize,
		refresh: func() {
			r.paint()
			for _, line := range r.lines {
				line.Refresh()
			}
			r.lay(r.Size())
			canvas.Refresh(r)
		},
	}
}

func (r *Rail) paint() {
	paintBox(r.ground, ColourRail, "", 0, 0)
	paintBox(r.edge, ColourCardBorder, "", 0, 0)
}

func (r *Rail) minSize() fyne.Size {
	width, height := em(118), gap(16)
	for _, line := range r.lines {
		size := line.MinSize()
		width = fyne.Max(width, size.Width+2*gap(8))
		height += size.Height + gap(4)
	}
	if r.footer.String() != "" {
		height += r.footer.HeightFor(width-2*gap(16)) + gap(12)
	}
	return fyne.NewSize(width, height)
}

func (r *Rail) lay(size fyne.Size) {
	r.ground.Resize(size)
	place(r.edge, size.Width-1, 0, 1, size.Height)
	y := gap(10)
	for _, line := range r.lines {
		h := line.MinSize().Height
		place(line, gap(8), y, size.Width-2*gap(8), h)
		y += h + gap(4)
	}
	width := size.Width - 2*gap(16)
	h := r.footer.HeightFor(width)
	place(r.footer, gap(16), fyne.Max(size.Height-h-gap(14), y), width, h)
}

// railLine is one pane in the rail.
type railLine struct {
	widget.BaseWidget
	hover
	marked
	rail *Rail
}

func newRailLine(r *Rail, item Item) *railLine {
	l := &railLine{rail: r, marked: newMarked(item)}
	l.hover.changed = l.Refresh
	l.ExtendBaseWidget(l)
	return l
}

// Tapped also moves the keyboard to the rail, so that the keys go on from there.
func (l *railLine) Tapped(*fyne.PointEvent) {
	focusOn(l.rail)
	l.rail.choose(l.rail.at(l.ID))
}

func (l *railLine) CreateRenderer() fyne.WidgetRenderer {
	l.paint()
	return &parts{
		objects: fixed(l.ground, l.sign.Image, l.title),
		layout:  l.lay,
		min: func() fyne.Size {
			return fyne.NewSize(l.titleX()+l.boldWidth()+gap(10), lineHeight(theme.TextSize())+2*gap(8))
		},
		refresh: func() {
			l.paint()
			l.lay(l.Size())
			canvas.Refresh(l)
		},
	}
}

func (l *railLine) titleX() float32 { return gap(9) + em(15) + gap(9) }

func (l *railLine) paint() {
	chosen := l.rail.chosen == l.ID
	switch {
	case chosen && l.rail.focused:
		paintBox(l.ground, ColourCard, theme.ColorNamePrimary, 2.5, gap(6))
	case chosen:
		paintBox(l.ground, ColourCard, theme.ColorNamePrimary, 1.5, gap(6))
	case l.hovered:
		paintBox(l.ground, theme.ColorNameHover, "", 0, gap(6))
	default:
		paintBox(l.ground, "", "", 0, gap(6))
	}
	l.marked.paint(chosen)
	l.title.Refresh()
}

func (l *railLine) lay(size fyne.Size) {
	l.ground.Resize(size)
	side := em(15)
	l.sign.place(gap(9), (size.Height-side)/2, side)
	h := l.title.MinSize().Height
	place(l.title, l.titleX(), (size.Height-h)/2, size.Width-l.titleX(), h)
}
