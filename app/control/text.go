package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Role says what a piece of text is, and with that its colour.
type Role int

// The roles of text.
const (
	Plain  Role = iota
	Muted       // secondary
	Accent      // leads somewhere
	Danger      // refused
)

func (r Role) colour() fyne.ThemeColorName {
	switch r {
	case Muted:
		return theme.ColorNamePlaceHolder
	case Accent:
		return theme.ColorNamePrimary
	case Danger:
		return theme.ColorNameError
	default:
		return theme.ColorNameForeground
	}
}

// Run is a piece of text of one role.
type Run struct {
	Text string
	Role Role
	Bold bool
}

func (r Run) style() fyne.TextStyle { return fyne.TextStyle{Bold: r.Bold} }

// Text shows wrapped text whose parts may differ in role. Unlike the label of
// the toolkit it has no padding of its own and knows its height for a width.
type Text struct {
	widget.BaseWidget
	hosted

	// SizeName is the text size of the theme; plain text when empty.
	SizeName fyne.ThemeSizeName
	// Lines is the most lines shown; the last one ends in an ellipsis. Zero shows all.
	Lines int
	// Alignment of every line; leading by default.
	Alignment fyne.TextAlign

	runs   []Run
	pieces []*canvas.Text
	cache  textCache
}

// keptFlows is how many flows of a text are kept. A layout asks for several widths
// in turn: the least, with and without room for a scroll bar.
const keptFlows = 4

// textCache keeps what was measured of a text at a size.
type textCache struct {
	valid           bool
	size            float32
	words           []word
	natural, height float32 // on one line; of a line
	flows           [keptFlows]textFlow
	next            int // the flow to be replaced
}

// textFlow are the lines of a text at a width.
type textFlow struct {
	valid bool
	width float32
	lines []flowLine
}

// NewText returns text of one role.
func NewText(text string, role Role) *Text {
	return NewRuns(Run{Text: text, Role: role})
}

// NewRuns returns text made of several runs, flowing on in one paragraph.
func NewRuns(runs ...Run) *Text {
	t := &Text{runs: runs}
	t.ExtendBaseWidget(t)
	return t
}

// NewCaption returns small muted text.
func NewCaption(text string) *Text {
	t := NewText(text, Muted)
	t.SizeName = theme.SizeNameCaptionText
	return t
}

// SetText replaces the text and keeps the role and weight of its first run.
func (t *Text) SetText(text string) {
	first := Run{}
	if len(t.runs) > 0 {
		first = t.runs[0]
	}
	first.Text = text
	t.SetRuns(first)
}

// SetRuns replaces all runs.
func (t *Text) SetRuns(runs ...Run) {
	if equalRuns(t.runs, runs) {
		return
	}
	before := t.HeightFor(t.Size().Width)
	t.runs = runs
	t.cache = textCache{}
	t.Refresh()
	if t.Size().Width > 0 && t.HeightFor(t.Size().Width) != before {
		t.settled()
	}
}

// Tell shows a text that need not be there: the widget is hidden while there is
// nothing to say, and what holds it makes room when that changes.
func (t *Text) Tell(text string) {
	if hidden := text == ""; t.Hidden != hidden {
		t.Hidden = hidden
		defer t.settled()
	}
	t.SetText(text)
}

func equalRuns(a, b []Run) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// String returns the text without its roles.
func (t *Text) String() string {
	s := ""
	for _, r := range t.runs {
		s += r.Text
	}
	return s
}

func (t *Text) textSize() float32 {
	if t.SizeName == "" {
		return theme.TextSize()
	}
	return theme.Size(t.SizeName)
}

// known is what was measured of the text, at the size in force.
func (t *Text) known() *textCache {
	c := &t.cache
	if size := t.textSize(); !c.valid || c.size != size {
		all := measured(t.runs, size)
		*c = textCache{valid: true, size: size, words: all, natural: naturalWidth(t.runs, all, size), height: lineHeight(size)}
	}
	return c
}

func (t *Text) flow(width float32) []flowLine {
	c := t.known()
	for i := range c.flows {
		if f := &c.flows[i]; f.valid && f.width == width {
			return f.lines
		}
	}
	lines := flowWords(c.words, c.size, width, t.Lines)
	c.flows[c.next] = textFlow{valid: true, width: width, lines: lines}
	c.next = (c.next + 1) % keptFlows
	return lines
}

// HeightFor returns the height of the text wrapped at a width.
func (t *Text) HeightFor(width float32) float32 {
	if width <= 0 {
		width = t.leastWidth()
	}
	return float32(len(t.flow(width))) * t.known().height
}

// leastWidth leaves room for a dozen letters, or for less text than that.
func (t *Text) leastWidth() float32 {
	c := t.known()
	return fyne.Min(c.natural, c.size*7)
}

// NaturalWidth is the width of the text on one line.
func (t *Text) NaturalWidth() float32 { return t.known().natural }

// AccessibilityLabel implements fyne.Accessible.
func (t *Text) AccessibilityLabel() string { return t.String() }

// AccessibilityRole implements fyne.Accessible.
func (t *Text) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer implements fyne.Widget.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject { return asObjects(t.pieces) },
		layout:  t.lay,
		min: func() fyne.Size {
			return fyne.NewSize(t.leastWidth(), t.HeightFor(t.Size().Width))
		},
		refresh: func() {
			t.lay(t.Size())
			canvas.Refresh(t)
		},
	}
}

// lay shows nothing at no width, as in a window that is being built: every letter
// would get a line of its own.
func (t *Text) lay(size fyne.Size) {
	if size.Width <= 0 {
		t.pieces = t.pieces[:0]
		return
	}
	n, fontSize, height := 0, t.textSize(), t.known().height
	for i, line := range t.flow(size.Width) {
		x := float32(0)
		switch t.Alignment {
		case fyne.TextAlignTrailing:
			x = size.Width - line.width
		case fyne.TextAlignCenter:
			x = (size.Width - line.width) / 2
		}
		for _, piece := range line.pieces {
			c := t.piece(n)
			n++
			c.Text, c.TextSize, c.TextStyle = piece.Text, fontSize, piece.style()
			c.Color = colour(piece.Role.colour())
			place(c, x+piece.x, float32(i)*height, piece.width, height)
			c.Refresh()
		}
	}
	t.pieces = t.pieces[:n]
}

func (t *Text) piece(i int) *canvas.Text {
	if i < len(t.pieces) {
		return t.pieces[i]
	}
	if i < cap(t.pieces) {
		t.pieces = t.pieces[:i+1]
		if t.pieces[i] != nil {
			return t.pieces[i]
		}
		t.pieces[i] = canvas.NewText("", nil)
		return t.pieces[i]
	}
	t.pieces = append(t.pieces, canvas.NewText("", nil))
	return t.pieces[i]
}
