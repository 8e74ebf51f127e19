package bench

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Severity orders notes.
type Severity uint8

// The severities, from "good to know" to "do not go on".
const (
	Info Severity = iota
	Caution
	Stop
)

// String is the name used in files.
func (s Severity) String() string { return [...]string{"info", "caution", "stop"}[s] }

// Pane names the place in the window that a note belongs to.
type Pane string

// The panes, in the order of the work.
const (
	PaneFiller Pane = "filler"
	PaneBlend  Pane = "blend"
	PaneMelt   Pane = "melt"
	PaneSpool  Pane = "spool"
	PanePlan   Pane = "plan"
)

// Panes lists the panes in the order of the work.
func Panes() []Pane { return []Pane{PaneFiller, PaneBlend, PaneMelt, PaneSpool, PanePlan} }

// Note is something that the maker should know: what, why (with the numbers),
// what to do, and the field where it is done. Its text is the catalogue's
// "note.<ID>", its action "note.<ID>.action".
type Note struct {
	ID       string
	Severity Severity
	Values   map[string]any
	Pane     Pane
	Field    string // JSON Pointer; "" for the whole project
	Blocks   []Figure
}

// Message makes a note readable by wording.
func (n Note) Message() (string, map[string]any) {
	if safety, is := strings.CutPrefix(n.ID, "safety_"); is {
		return "safety." + safety, n.Values
	}
	return "note." + n.ID, n.Values
}

// Action is the catalogue ID of what to do, with the values of the note.
func (n Note) Action() string {
	if strings.HasPrefix(n.ID, "safety_") {
		return "action.safety"
	}
	return "action." + n.ID
}

// notebook collects the notes of one blend.
type notebook struct {
	project *project.Project
	model   *Model
	index   int
	recipe  *project.Blend
	plan    *blendPlan
	sheet   *BlendSheet
	notes   []Note
}

func (n *notebook) add(severity Severity, pane Pane, field, id string, values map[string]any, blocks ...Figure) {
	n.notes = append(n.notes, Note{ID: id, Severity: severity, Values: values, Pane: pane, Field: field, Blocks: blocks})
}

// explained reports whether a note already says why this figure is missing.
func (n *notebook) explained(f Figure) bool {
	return slices.ContainsFunc(n.notes, func(note Note) bool { return slices.Contains(note.Blocks, f) })
}

func (n *notebook) pointer(member string) string {
	return fmt.Sprintf("/blends/%d/%s", n.index, member)
}

func (n *notebook) amountPointer(part int) string {
	return fmt.Sprintf("/blends/%d/parts/%d/amount", n.index, part)
}

// takeNotes fills the notes of every blend and of the project as a whole.
func takeNotes(p *project.Project, m *Model, s *Sheet) {
	for i := range s.Blends {
		n := &notebook{project: p, model: m, index: i, recipe: &p.Blends[i], plan: &m.blends[i], sheet: &s.Blends[i]}
		n.unfinished()
		n.blendNotes()
		n.meltNotes()
		n.spoolNotes()
		n.safetyNotes()
		s.Blends[i].Notes = worstFirst(n.notes)
	}
	s.Notes = worstFirst(append(projectNotes(p), planNotes(p, s)...))
}

func worstFirst(notes []Note) []Note {
	slices.SortStableFunc(notes, func(a, b Note) int { return cmp.Compare(b.Severity, a.Severity) })
	return notes
}

// number is a value of a note in its display unit.
func number(value float64, unit string, digits int) wording.Number {
	return wording.Number{Value: value, Unit: unit, Digits: digits}
}
