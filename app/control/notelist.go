package control

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Note is one note, already worded.
type Note struct {
	Severity Severity
	Text     string // what, and why
	Action   string // what to do
	Place    string // where it leads; empty when nowhere
}

// NoteList shows notes, worst first, each leading to its place. With the keyboard
// Up and Down walk through the notes, Enter and Space open one.
type NoteList struct {
	widget.BaseWidget
	hosted

	// OnOpen hears the index of a note, as it was handed in.
	OnOpen func(index int)
	// Lines is the most lines of text shown before the list scrolls.
	Lines int
	// Empty is shown when there is no note.
	Empty string

	notes   []Note
	order   []int // indices of notes, worst first
	rows    []*noteRow
	column  *Column
	view    *ScrollColumn
	nothing *Text
	active  int // in order
	set     bool
	focused bool
}

// NewNoteList returns a list that scrolls beyond some lines of text.
func NewNoteList(lines int, onOpen func(index int)) *NoteList {
	l := &NoteList{Lines: lines, OnOpen: onOpen, column: NewColumn(2), nothing: NewText("", Muted)}
	l.view = NewScrollColumn(l.column)
	l.view.Limit = func(float32) float32 {
		return float32(l.Lines) * (lineHeight(theme.TextSize()) + 2*notePad() + gap(2))
	}
	l.ExtendBaseWidget(l)
	return l
}

// SetNotes replaces the notes; they may come in any order.
func (l *NoteList) SetNotes(notes []Note) {
	if l.set && slices.Equal(notes, l.notes) {
		return
	}
	l.notes, l.set = slices.Clone(notes), true
	l.order = l.order[:0]
	for i := range notes {
		l.order = append(l.order, i)
	}
	slices.SortStableFunc(l.order, func(a, b int) int {
		return int(notes[b].Severity) - int(notes[a].Severity)
	})
	l.active = min(l.active, max(len(notes)-1, 0))
	known := map[Note]*noteRow{} // rows that stay as they are need not be laid out anew
	for _, row := range l.rows {
		known[row.note] = row
	}
	l.rows = nil
	objects := make([]fyne.CanvasObject, 0, len(notes)+1)
	for pos, i := range l.order {
		row := known[notes[i]]
		delete(known, notes[i])
		if row == nil {
			row = newNoteRow(l, pos, notes[i])
		}
		row.pos = pos
		l.rows = append(l.rows, row)
		objects = append(objects, row)
	}
	if len(objects) == 0 {
		l.nothing.SetText(l.Empty)
		objects = append(objects, l.nothing)
	}
	l.column.SetObjects(objects...)
	l.Refresh()
	l.settled()
}

// Order returns the indices of the notes as they are shown.
func (l *NoteList) Order() []int { return slices.Clone(l.order) }

func (l *NoteList) setHost(h *host) { l.host = h }

// HeightFor returns the height of the list at a width.
func (l *NoteList) HeightFor(width float32) float32 { return l.view.HeightFor(width) }

func (l *NoteList) leastWidth() float32 { return em(160) }

// CreateRenderer implements fyne.Widget.
func (l *NoteList) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(l.view),
		layout:  func(size fyne.Size) { place(l.view, 0, 0, size.Width, size.Height) },
		min:     leastOf(l),
		refresh: func() {
			l.view.Refresh()
			for _, row := range l.rows {
				row.Refresh()
			}
			canvas.Refresh(l)
		},
	}
}

func (l *NoteList) open(pos int) {
	if pos < 0 || pos >= len(l.order) {
		return
	}
	l.activate(pos)
	if l.OnOpen != nil {
		l.OnOpen(l.order[pos])
	}
}

func (l *NoteList) activate(pos int) {
	if pos < 0 || pos >= len(l.rows) {
		return
	}
	old := l.active
	l.active = pos
	if old < len(l.rows) {
		l.rows[old].Refresh()
	}
	row := l.rows[pos]
	row.Refresh()
	if l.view.scrolled {
		l.view.ShowSpan(row.Position().Y, row.Position().Y+row.Size().Height)
	}
}

// FocusGained implements fyne.Focusable.
func (l *NoteList) FocusGained() { l.focused = true; l.revealed(l); l.activate(l.active) }

// FocusLost implements fyne.Focusable.
func (l *NoteList) FocusLost() { l.focused = false; l.Refresh() }

// TypedRune implements fyne.Focusable.
func (l *NoteList) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (l *NoteList) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyUp:
		l.activate(l.active - 1)
	case fyne.KeyDown:
		l.activate(l.active + 1)
	case fyne.KeyHome:
		l.activate(0)
	case fyne.KeyEnd:
		l.activate(len(l.rows) - 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		l.open(l.active)
	}
}

// Disabled reports a list without notes, which the tab order then skips.
func (l *NoteList) Disabled() bool { return len(l.rows) == 0 }

// Enable implements fyne.Disableable; it has no effect.
func (l *NoteList) Enable() {}

// Disable implements fyne.Disableable; it has no effect.
func (l *NoteList) Disable() {}

func notePad() float32 { return gap(2) }

// noteRow is one note of the list.
type noteRow struct {
	widget.BaseWidget
	list   *NoteList
	pos    int
	note   Note
	ground *canvas.Rectangle
	sign   *sign
	text   *Text
	hover
}

func newNoteRow(l *NoteList, pos int, n Note) *noteRow {
	r := &noteRow{list: l, pos: pos, note: n, ground: newBox(), sign: newSign(n.Severity.icon())}
	runs := []Run{{Text: n.Text}}
	if n.Action != "" {
		runs = append(runs, Run{Text: " " + n.Action})
	}
	if n.Place != "" {
		runs = append(runs, Run{Text: " " + arrow + " " + n.Place, Role: Accent})
	}
	r.text = NewRuns(runs...)
	r.hover.changed = r.Refresh
	r.ExtendBaseWidget(r)
	return r
}

func (r *noteRow) signSize() float32 { return em(15) }

func (r *noteRow) textX() float32 { return gap(6) + r.signSize() + gap(8) }

func (r *noteRow) HeightFor(width float32) float32 {
	return fyne.Max(r.text.HeightFor(width-r.textX()-gap(6)), r.signSize()) + 2*notePad()
}

func (r *noteRow) AccessibilityLabel() string { return r.text.String() }

func (r *noteRow) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleLink }

// Tapped moves the keyboard to the list first; opening a note may move it on.
func (r *noteRow) Tapped(*fyne.PointEvent) {
	focusOn(r.list)
	r.list.open(r.pos)
}

func (r *noteRow) Cursor() desktop.Cursor {
	if r.note.Place == "" {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

func (r *noteRow) leastWidth() float32 { return em(140) }

func (r *noteRow) CreateRenderer() fyne.WidgetRenderer {
	r.paint()
	return &parts{
		objects: fixed(r.ground, r.sign.Image, r.text),
		layout:  r.lay,
		min:     leastOf(r),
		refresh: func() {
			r.paint()
			r.lay(r.Size())
			canvas.Refresh(r)
		},
	}
}

func (r *noteRow) paint() {
	fill, stroke := fyne.ThemeColorName(""), fyne.ThemeColorName("")
	if r.hovered && r.note.Place != "" {
		fill = theme.ColorNameHover
	}
	if r.list.focused && r.list.active == r.pos {
		fill, stroke = ColourWash, theme.ColorNamePrimary
	}
	paintBox(r.ground, fill, stroke, 1, radius())
	r.sign.Refresh()
}

func (r *noteRow) lay(size fyne.Size) {
	r.ground.Resize(size)
	side := r.signSize()
	first := lineHeight(theme.TextSize())
	r.sign.place(gap(6), notePad()+(first-side)/2, side)
	place(r.text, r.textX(), notePad(), fyne.Max(size.Width-r.textX()-gap(6), 0), size.Height-2*notePad())
}
