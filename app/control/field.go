package control

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
)

// FieldOptions say what a [Field] shows and whom it tells.
type FieldOptions struct {
	// ID is the place of the value in the document, a JSON Pointer.
	ID string
	// Label stands above the entry.
	Label string
	// Hint is shown in the empty entry: the accepted forms.
	Hint string
	// Remark stands muted at the right: an estimate, a source.
	Remark string
	// Text returns the committed text. Optional.
	Text func() string
	// OnCommit takes the typed text; an error, already worded, refuses it. It must not move the focus.
	OnCommit func(text string) error
	// Lines above 1 make a field for text of several lines, at full width.
	Lines int
	// Wide gives the entry the whole width; the remark goes below.
	Wide bool
}

// Field is an entry with its label, a remark and, when the text was refused, the
// reason under it.
type Field struct {
	row
	entry *QuantityEntry
}

// NewField returns a field for a quantity.
func NewField(opts FieldOptions) *Field {
	f := &Field{}
	f.entry = NewQuantityEntry(EntryOptions{
		ID: opts.ID, Label: opts.Label, Hint: opts.Hint,
		Text: opts.Text, OnCommit: opts.OnCommit, Lines: opts.Lines,
	})
	f.wide = opts.Wide || opts.Lines > 1
	f.build(f, opts.Label, opts.Remark, f.entry)
	f.entry.onState = func() { f.showMessage(f.entry.RefusedMessage()) }
	f.entry.onFocus = func(gained bool) {
		if gained {
			f.revealed(f)
		}
	}
	return f
}

// NewTextField returns a field for plain text at full width.
func NewTextField(opts FieldOptions) *Field {
	opts.Wide = true
	return NewField(opts)
}

// NumberOptions say what a field for whole numbers shows and whom it tells.
type NumberOptions struct {
	ID, Label, Hint, Remark string
	Min, Max                int
	// Refusal is said to anything but a whole number from Min to Max.
	Refusal string
	// Number returns the committed number and whether there is one. Optional.
	Number func() (int, bool)
	// OnCommit takes the number.
	OnCommit func(n int) error
	// OnClear takes an emptied field; nil refuses it.
	OnClear func() error
}

// NewNumberField returns a field for a whole number.
func NewNumberField(opts NumberOptions) *Field {
	commit := func(text string) error {
		text = strings.TrimSpace(text)
		if text == "" && opts.OnClear != nil {
			return opts.OnClear()
		}
		n, err := strconv.Atoi(text)
		if err != nil || n < opts.Min || n > opts.Max {
			return errors.New(opts.Refusal)
		}
		if opts.OnCommit == nil {
			return nil
		}
		return opts.OnCommit(n)
	}
	field := FieldOptions{ID: opts.ID, Label: opts.Label, Hint: opts.Hint, Remark: opts.Remark, OnCommit: commit}
	if opts.Number != nil {
		field.Text = func() string {
			if n, ok := opts.Number(); ok {
				return strconv.Itoa(n)
			}
			return ""
		}
	}
	return NewField(field)
}

// Entry is the entry of the field.
func (f *Field) Entry() *QuantityEntry { return f.entry }

// ID is the place of the value in the document.
func (f *Field) ID() string { return f.entry.ID() }

// SetHint replaces the accepted forms shown in the empty entry.
func (f *Field) SetHint(text string) { f.entry.SetPlaceHolder(text) }

// Focus moves the keyboard to the entry.
func (f *Field) Focus() { f.entry.Focus() }

// Highlight frames the entry until the focus leaves it and scrolls to it.
func (f *Field) Highlight() { f.entry.Highlight(); f.revealed(f) }

// Sync shows the committed text again, without taking away unfinished text.
func (f *Field) Sync() { f.entry.Sync() }

// SetCommitted tells the field the text of the document.
func (f *Field) SetCommitted(text string) { f.entry.SetCommitted(text) }

// Commit hands on what was typed.
func (f *Field) Commit() bool { return f.entry.Commit() }

// Uncommitted reports text that differs from the committed one.
func (f *Field) Uncommitted() bool { return f.entry.Uncommitted() }

// Refused reports text that was not accepted.
func (f *Field) Refused() bool { return f.entry.Refused() }

// RefusedText is the text that was not accepted.
func (f *Field) RefusedText() string { return f.entry.RefusedText() }

// RefusedMessage says why the text was not accepted.
func (f *Field) RefusedMessage() string { return f.entry.RefusedMessage() }

// RestoreRefused puts refused text back.
func (f *Field) RestoreRefused(text, message string) { f.entry.RestoreRefused(text, message) }

// Enable lets the field be edited.
func (f *Field) Enable() { f.entry.Enable() }

// Disable shows the field without letting it be edited.
func (f *Field) Disable() { f.entry.Disable() }

// CreateRenderer implements fyne.Widget.
func (f *Field) CreateRenderer() fyne.WidgetRenderer { return f.renderer(f) }
