package control

import (
	"slices"

	"fyne.io/fyne/v2"
)

// Committer is a control that may hold text not yet handed on.
type Committer interface {
	// Commit hands on what was typed and reports whether nothing is left over.
	Commit() bool
	// Uncommitted reports text that differs from the committed one.
	Uncommitted() bool
}

// Input is a control for one place of the document.
type Input interface {
	fyne.CanvasObject
	Committer
	// ID is the place in the document, a JSON Pointer.
	ID() string
	// Focus moves the keyboard to the control.
	Focus()
	// Highlight frames the control until the focus leaves it.
	Highlight()
	// Sync shows the committed value again, without taking away unfinished text.
	Sync()
	Refused() bool
	RefusedText() string
	RefusedMessage() string
	RestoreRefused(text, message string)
}

var (
	_ Input = (*Field)(nil)
	_ Input = (*SelectField)(nil)
	_ Input = (*CheckField)(nil)
	_ Input = (*QuantityEntry)(nil)
)

// CommitFocused hands on what is being typed and takes the focus from the entry.
// The window calls it before save, undo, run and a change of pane, as the focus
// of an entry that is hidden never leaves it by itself. The focus of other
// controls stays, so that the rail can be walked with the keys. It reports
// whether nothing was refused.
func CommitFocused(c fyne.Canvas) bool {
	entry, ok := c.Focused().(Committer)
	if !ok {
		return true
	}
	done := entry.Commit()
	c.Unfocus()
	return done
}

// typing is an entry with an undo of its own.
type typing interface {
	Uncommitted() bool
	Undo()
	Redo()
}

// UndoTyping undoes the last typing in the focused entry. It reports false when no
// entry holds uncommitted text; undo then belongs to the document.
func UndoTyping(c fyne.Canvas) bool {
	e, ok := c.Focused().(typing)
	if !ok || !e.Uncommitted() {
		return false
	}
	e.Undo()
	return true
}

// RedoTyping is the counterpart of UndoTyping.
func RedoTyping(c fyne.Canvas) bool {
	e, ok := c.Focused().(typing)
	if !ok || !e.Uncommitted() {
		return false
	}
	e.Redo()
	return true
}

// Inputs keeps the inputs of a pane by their place in the document.
type Inputs struct {
	order []Input
	byID  map[string]Input
}

// Add registers inputs. A later input of the same place replaces the earlier one.
func (s *Inputs) Add(inputs ...Input) {
	if s.byID == nil {
		s.byID = map[string]Input{}
	}
	for _, in := range inputs {
		if old, known := s.byID[in.ID()]; known {
			s.order = slices.DeleteFunc(s.order, func(o Input) bool { return o == old })
		}
		s.order = append(s.order, in)
		s.byID[in.ID()] = in
	}
}

// Clear forgets all inputs.
func (s *Inputs) Clear() { s.order, s.byID = nil, nil }

// At returns the input of a place, nil when there is none.
func (s *Inputs) At(id string) Input { return s.byID[id] }

// Lead highlights and focuses the input of a place and reports whether it is here.
func (s *Inputs) Lead(id string) bool {
	in := s.At(id)
	if in == nil {
		return false
	}
	in.Focus()
	in.Highlight()
	return true
}

// Sync shows the committed values again.
func (s *Inputs) Sync() {
	for _, in := range s.order {
		in.Sync()
	}
}

// Refused returns all refused texts by place.
func (s *Inputs) Refused() map[string]Refusal {
	out := map[string]Refusal{}
	for id, in := range s.byID {
		if in.Refused() {
			out[id] = Refusal{Text: in.RefusedText(), Message: in.RefusedMessage()}
		}
	}
	return out
}

// RestoreRefused puts refused texts back after a pane was built anew.
func (s *Inputs) RestoreRefused(all map[string]Refusal) {
	for id, r := range all {
		if in := s.At(id); in != nil {
			in.RestoreRefused(r.Text, r.Message)
		}
	}
}
