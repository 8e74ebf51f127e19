package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// EntryOptions say what a [QuantityEntry] shows and whom it tells.
type EntryOptions struct {
	// ID is the place of the value in the document, a JSON Pointer.
	ID string
	// Label names the entry to a screen reader.
	Label string
	// Hint is shown in the empty entry: the accepted forms.
	Hint string
	// Text returns the committed text; it is asked after each commit and by Sync. Optional.
	Text func() string
	// OnCommit takes the typed text. An error, already worded, refuses it. It runs
	// while the focus moves, so it must not move the focus itself.
	OnCommit func(text string) error
	// Lines above 1 make an entry for text of several lines.
	Lines int
}

// QuantityEntry is an entry that hands on its text when the user is done with
// it: on Enter and when the focus leaves. Text that is refused stays, marked,
// until it is corrected or put back with Escape.
type QuantityEntry struct {
	widget.Entry

	opts      EntryOptions
	committed string
	refused   *Refusal
	focused   bool
	lit       bool

	committing, answered bool

	frame   *canvas.Rectangle
	onState func() // the field around it shows the refusal
	onFocus func(gained bool)
}

// Refusal is text that was not accepted, and why.
type Refusal struct {
	Text    string
	Message string
}

// NewQuantityEntry returns an entry showing the committed text.
func NewQuantityEntry(opts EntryOptions) *QuantityEntry {
	e := &QuantityEntry{opts: opts, frame: newBox()}
	e.ExtendBaseWidget(e)
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	if opts.Lines > 1 {
		e.MultiLine = true
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(opts.Lines)
	}
	e.SetPlaceHolder(opts.Hint)
	e.Sync()
	return e
}

// ID is the place of the value in the document.
func (e *QuantityEntry) ID() string { return e.opts.ID }

// Sync asks for the committed text and shows it as SetCommitted does.
func (e *QuantityEntry) Sync() {
	if e.opts.Text != nil {
		e.SetCommitted(e.opts.Text())
	}
}

// Committed is the text last accepted.
func (e *QuantityEntry) Committed() string { return e.committed }

// SetCommitted tells the entry the text of the document. It never takes away
// what the user is typing, nor refused text while the document stays the same.
func (e *QuantityEntry) SetCommitted(text string) {
	text = hardSpaces.Replace(text)
	if e.committing {
		e.committed, e.answered = text, true
		return
	}
	if text == e.committed {
		return
	}
	typing := e.focused && e.Uncommitted() && (e.refused == nil || e.refused.Text != e.Text)
	e.committed = text
	if typing {
		return
	}
	e.refused = nil
	e.show(text)
	e.changed()
}

// Uncommitted reports text that differs from the committed one.
func (e *QuantityEntry) Uncommitted() bool { return e.Text != e.committed }

// Refused reports text that was not accepted.
func (e *QuantityEntry) Refused() bool { return e.refused != nil }

// RefusedText is the text that was not accepted, as it now stands in the entry; empty when nothing is refused.
func (e *QuantityEntry) RefusedText() string {
	if e.refused == nil {
		return ""
	}
	return e.Text
}

// RefusedMessage says why the text was not accepted.
func (e *QuantityEntry) RefusedMessage() string {
	if e.refused == nil {
		return ""
	}
	return e.refused.Message
}

// RestoreRefused puts refused text back, as after opening a pane anew.
func (e *QuantityEntry) RestoreRefused(text, message string) {
	e.refused = &Refusal{Text: text, Message: message}
	e.show(text)
	e.changed()
}

// Commit hands on what was typed, if it differs. It reports whether nothing is
// left uncommitted.
func (e *QuantityEntry) Commit() bool {
	switch {
	case e.committing:
		return false
	case !e.Uncommitted():
		e.clear()
		return true
	case e.refused != nil && e.refused.Text == e.Text:
		return false
	}
	return e.submit()
}

func (e *QuantityEntry) submit() bool {
	text := e.Text
	var err error
	if e.opts.OnCommit != nil {
		e.committing, e.answered = true, false
		err = e.opts.OnCommit(text)
		e.committing = false
	}
	if err != nil {
		e.refused = &Refusal{Text: text, Message: err.Error()}
		e.changed()
		return false
	}
	if !e.answered {
		e.committed = text
	}
	if e.opts.Text != nil {
		e.committed = hardSpaces.Replace(e.opts.Text())
	}
	e.answered = false
	e.refused = nil
	e.show(e.committed)
	e.changed()
	return true
}

// Restore puts the committed text back.
func (e *QuantityEntry) Restore() {
	e.show(e.committed)
	e.clear()
}

func (e *QuantityEntry) clear() {
	if e.refused != nil {
		e.refused = nil
		e.changed()
	}
}

// show replaces the text and keeps the caret. Setting even the same text would wipe
// the undo of the entry, so that is left out.
func (e *QuantityEntry) show(text string) {
	if e.Text == text {
		return
	}
	atEnd := e.CursorColumn >= len([]rune(e.Text))
	e.SetText(text)
	if atEnd && !e.MultiLine {
		e.CursorColumn = len([]rune(text))
		e.Refresh()
	}
}

func (e *QuantityEntry) changed() {
	e.paintFrame()
	if e.onState != nil {
		e.onState()
	}
}

// Focus moves the keyboard to the entry.
func (e *QuantityEntry) Focus() { focusOn(e) }

// Highlight frames the entry until the focus leaves it, to lead the eye to it.
func (e *QuantityEntry) Highlight() {
	e.lit = true
	e.paintFrame()
}

// Highlighted reports a frame set by Highlight.
func (e *QuantityEntry) Highlighted() bool { return e.lit }

// FocusGained implements fyne.Focusable. The text is selected so that typing
// replaces it, unless there is something unfinished to be corrected.
func (e *QuantityEntry) FocusGained() {
	e.focused = true
	e.Entry.FocusGained()
	if !e.Uncommitted() && !e.MultiLine {
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	if e.onFocus != nil {
		e.onFocus(true)
	}
}

// FocusLost implements fyne.Focusable.
func (e *QuantityEntry) FocusLost() {
	e.focused, e.lit = false, false
	e.Entry.FocusLost()
	e.Commit()
	e.paintFrame()
	if e.onFocus != nil {
		e.onFocus(false)
	}
}

// AcceptsTab lets Tab move on even from an entry of several lines.
func (e *QuantityEntry) AcceptsTab() bool { return false }

// TypedKey implements fyne.Focusable.
func (e *QuantityEntry) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyEscape:
		e.Restore()
		return
	case fyne.KeyReturn, fyne.KeyEnter:
		if e.MultiLine {
			break
		}
		// Enter asks again even for the same text: what it depends on may have changed.
		if e.Uncommitted() && !e.committing {
			e.submit()
		} else {
			e.Commit()
		}
		return
	}
	e.Entry.TypedKey(ev)
}

// AccessibilityLabel implements fyne.Accessible.
func (e *QuantityEntry) AccessibilityLabel() string { return e.opts.Label + ": " + e.Text }

// AccessibilityRole implements fyne.Accessible.
func (e *QuantityEntry) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// CreateRenderer implements fyne.Widget: the entry of the toolkit with a frame on top.
func (e *QuantityEntry) CreateRenderer() fyne.WidgetRenderer {
	return &framed{WidgetRenderer: e.Entry.CreateRenderer(), entry: e}
}

func (e *QuantityEntry) paintFrame() {
	switch {
	case e.refused != nil:
		paintBox(e.frame, "", theme.ColorNameError, 2, radius())
	case e.lit:
		paintBox(e.frame, "", theme.ColorNamePrimary, 2.5, radius())
	default:
		paintBox(e.frame, "", "", 0, radius())
	}
}

type framed struct {
	fyne.WidgetRenderer
	entry *QuantityEntry
}

func (f *framed) Layout(size fyne.Size) {
	f.WidgetRenderer.Layout(size)
	f.entry.frame.Resize(size)
}

func (f *framed) Objects() []fyne.CanvasObject {
	base := f.WidgetRenderer.Objects()
	return append(base[:len(base):len(base)], f.entry.frame)
}

func (f *framed) Refresh() {
	f.WidgetRenderer.Refresh()
	f.entry.paintFrame()
}
