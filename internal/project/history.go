package project

import (
	"reflect"
)

// History holds a project, everything it was before, and what was undone. Edit
// is the only way to change the project. A History belongs to one goroutine.
type History struct {
	states    []state // oldest first
	at        int     // the current one
	bytes     int     // of all states
	maxBytes  int
	saved     int // revision of the state in the file; no state may have it any more
	last      int // newest revision given out
	listeners []*listener
	busy      bool // an edit or a notification is running
}

// state is one snapshot: the project, and the edit that made it.
type state struct {
	project  Project
	revision int
	bytes    int
	label    string // what the edit did, for the menu
	place    string // where it was made, for undo to lead back to
}

type listener struct{ changed func() }

// NewHistory starts with p, which counts as saved. p must be valid. Older states
// are dropped when all together exceed maxBytes, but one step back always stays.
func NewHistory(p Project, maxBytes int) *History {
	p = Clone(p)
	if b := tidy(&p); b != nil {
		panic(b)
	}
	if err := Validate(&p); err != nil {
		panic(err)
	}
	h := &History{maxBytes: maxBytes}
	h.push(p, "", "")
	h.MarkSaved()
	return h
}

// Project returns a copy of the current project.
func (h *History) Project() Project { return Clone(*h.Peek()) }

// Peek returns the current project to read. It must not be written to, and
// stays as it is when the history moves on.
func (h *History) Peek() *Project { return &h.states[h.at].project }

// Edit runs fn on a copy of the project, validates the copy and makes it the
// current one, then notifies once. When fn fails or leaves something broken
// behind, nothing changes. An edit that changes nothing is not remembered. The
// label says what it does; place says where, and comes back from Undo.
func (h *History) Edit(label, place string, fn func(*Project) error) error {
	next, err := h.try(fn)
	if err != nil {
		return err
	}
	if reflect.DeepEqual(next, *h.Peek()) {
		return nil
	}
	for _, undone := range h.states[h.at+1:] {
		h.bytes -= undone.bytes
	}
	clear(h.states[h.at+1:]) // let go of their memory
	h.states = h.states[:h.at+1]
	h.push(next, label, place)
	h.notify()
	return nil
}

// try returns what fn makes of the project.
func (h *History) try(fn func(*Project) error) (Project, error) {
	h.mustBeIdle()
	h.busy = true
	defer func() { h.busy = false }()
	draft := h.Project()
	if err := fn(&draft); err != nil {
		return Project{}, err
	}
	next := Clone(draft) // fn may still hold the draft, or lists that it put in
	if b := tidy(&next); b != nil {
		return Project{}, b
	}
	if err := Validate(&next); err != nil {
		return Project{}, err
	}
	return next, nil
}

// push makes p the current state and drops the oldest ones that do not fit.
func (h *History) push(p Project, label, place string) {
	h.last++
	h.states = append(h.states, state{
		project: p, revision: h.last, bytes: sizeOf(&p), label: label, place: place,
	})
	h.at = len(h.states) - 1
	h.bytes += h.states[h.at].bytes
	drop := 0
	for h.bytes > h.maxBytes && h.at-drop > 1 {
		h.bytes -= h.states[drop].bytes
		drop++
	}
	if drop > 0 {
		h.states = append([]state(nil), h.states[drop:]...)
		h.at -= drop
	}
}

// CanUndo reports whether there is an edit to undo.
func (h *History) CanUndo() bool { return h.at > 0 }

// CanRedo reports whether there is an undone edit.
func (h *History) CanRedo() bool { return h.at < len(h.states)-1 }

// UndoLabel returns the label of the edit that Undo would undo, or "".
func (h *History) UndoLabel() string {
	if !h.CanUndo() {
		return ""
	}
	return h.states[h.at].label
}

// RedoLabel returns the label of the edit that Redo would bring back, or "".
func (h *History) RedoLabel() string {
	if !h.CanRedo() {
		return ""
	}
	return h.states[h.at+1].label
}

// Undo goes one edit back, notifies once, and returns what was undone and where
// it had been made. ok is false when there was nothing to undo.
func (h *History) Undo() (label, place string, ok bool) {
	h.mustBeIdle()
	if !h.CanUndo() {
		return "", "", false
	}
	undone := h.states[h.at]
	h.at--
	h.notify()
	return undone.label, undone.place, true
}

// Redo brings the edit back that was undone last, notifies once, and returns
// what it was and where.
func (h *History) Redo() (label, place string, ok bool) {
	h.mustBeIdle()
	if !h.CanRedo() {
		return "", "", false
	}
	h.at++
	redone := h.states[h.at]
	h.notify()
	return redone.label, redone.place, true
}

// Revision names the current state. Each edit gets a new number, and a state
// that comes back by undo or redo has its old one, so equal revisions hold equal
// projects: work started for one revision fits it whenever it is current.
func (h *History) Revision() int { return h.states[h.at].revision }

// MarkSaved says that the current state is in the file. It does not notify.
func (h *History) MarkSaved() { h.saved = h.Revision() }

// Dirty reports whether the current state differs from the saved one. It is
// not after an undo that leads back to it.
func (h *History) Dirty() bool { return h.Revision() != h.saved }

// OnChange calls changed after every edit, undo and redo that changed the
// project, until cancel is called. Listeners must not edit, undo or redo.
func (h *History) OnChange(changed func()) (cancel func()) {
	l := &listener{changed: changed}
	h.listeners = append(h.listeners, l)
	return func() { l.changed = nil }
}

func (h *History) notify() {
	h.busy = true
	defer func() { h.busy = false }()
	live := h.listeners[:0:0]
	for _, l := range h.listeners {
		if l.changed != nil {
			live = append(live, l)
		}
	}
	h.listeners = live
	for _, l := range live {
		if l.changed != nil { // an earlier listener may have cancelled this one
			l.changed()
		}
	}
}

// mustBeIdle refuses edits from within an edit or a listener: the others would
// see states out of order.
func (h *History) mustBeIdle() {
	if h.busy {
		panic("project: edit, undo or redo from within an edit or a listener")
	}
}
