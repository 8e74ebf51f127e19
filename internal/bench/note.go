package bench

import (
	"cmp"
	"slices"
	"strings"

	"fillwright/internal/material"
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
	PaneLine   Pane = "line"
	PaneSpool  Pane = "spool"
	PanePlan   Pane = "plan"
	PaneLimits Pane = "limits"
)

// Panes lists the panes in the order of the work.
func Panes() []Pane {
	return []Pane{PaneFiller, PaneBlend, PaneMelt, PaneLine, PaneSpool, PanePlan, PaneLimits}
}

// Note is something that the maker should know: what, why (with the numbers),
// what to do, and the field where it is done. Its text is the catalogue's
// "note.<ID>", its action "action.<ID>"; for the usual cautions, whose IDs
// begin with "safety_", "safety.<rest of the ID>" and "action.safety".
type Note struct {
	ID       string
	Severity Severity
	Values   map[string]any
	Pane     Pane
	Field    string   // JSON Pointer (RFC 6901) into the document
	Blocks   []Figure // that are not known until this is mended
}

// Message makes a note readable by wording.
func (n Note) Message() (string, map[string]any) {
	if safety, is := strings.CutPrefix(n.ID, "safety_"); is {
		return "safety." + safety, n.Values
	}
	return "note." + n.ID, n.Values
}

// Action is the catalogue ID of what to do; its values are those of the note.
func (n Note) Action() string {
	if strings.HasPrefix(n.ID, "safety_") {
		return "action.safety"
	}
	return "action." + n.ID
}

// notebook collects the notes of one blend.
type notebook struct {
	project   *project.Project
	model     *Model
	index     int
	recipe    *project.Blend
	plan      *blendPlan
	sheet     *BlendSheet
	reference *BlendSheet // nil when there is none

	x        []float64 // the best estimates
	st       state     // of the blend there
	composed bool      // the parts make a whole, so st holds
	powder   int       // first part that is powder and not zero, or -1
	wet      bool      // the parts beside the polymer bring water, or may do so
	notes    []Note
}

func newNotebook(p *project.Project, m *Model, s *Sheet, index int) *notebook {
	n := &notebook{
		project: p, model: m, index: index, recipe: &p.Blends[index], plan: &m.blends[index], sheet: &s.Blends[index],
		x: m.best(), powder: -1,
	}
	if m.reference >= 0 {
		n.reference = &s.Blends[m.reference]
	}
	n.st, n.composed = m.nominalState(n.plan)
	if !n.composed {
		return n
	}
	_, added := pelletAndPowderWater(n.plan, n.x, &n.st)
	n.wet = added != 0
	for i := range n.plan.parts {
		if n.powder < 0 && n.plan.parts[i].kind == material.Filler && n.st.w[i] > 0 {
			n.powder = i
		}
	}
	return n
}

func (n *notebook) add(severity Severity, pane Pane, field, id string, values map[string]any, blocks ...Figure) {
	n.notes = append(n.notes, Note{ID: id, Severity: severity, Values: values, Pane: pane, Field: field, Blocks: blocks})
}

// settle leaves only those figures in each note that really are not known, and
// drops a note for which nothing waits. Whatever is not known for no reason
// that a note gives is named in one last note.
func (n *notebook) settle() {
	known := func(f Figure) bool { return n.sheet.Results[f].Known() || f.Powder() && !n.sheet.Filled }
	explained := map[Figure]bool{}
	var kept []Note
	for _, note := range n.notes {
		waiting := slices.DeleteFunc(slices.Clone(note.Blocks), known)
		if len(waiting) == 0 && len(note.Blocks) > 0 {
			continue
		}
		note.Blocks = waiting
		for _, f := range waiting {
			explained[f] = true
		}
		kept = append(kept, note)
	}
	n.notes = kept
	rest := slices.DeleteFunc(allFigures(), func(f Figure) bool { return known(f) || explained[f] })
	if len(rest) == 0 {
		return
	}
	var names []wording.ID
	for _, f := range rest {
		names = append(names, wording.ID("figure."+f.Key()))
	}
	n.add(Caution, PaneBlend, n.pointer("parts"), "out_of_reach", map[string]any{"Figures": names}, rest...)
}

// has reports whether a note was taken already.
func (n *notebook) has(id string) bool {
	return slices.ContainsFunc(n.notes, func(note Note) bool { return note.ID == id })
}

func (n *notebook) pointer(member string) string { return project.BlendPointer(n.index, member) }

func (n *notebook) amountPointer(part int) string {
	return project.PartPointer(n.index, part, "amount")
}

// propertyPointer is where a property of a part is entered: of regrind its own price and
// moisture, else those of its polymer.
func (n *notebook) propertyPointer(part int, member string) string {
	if body := n.plan.parts[part].body; n.plan.parts[part].regrind != nil && !ownOfRegrind(member) {
		return project.MaterialPointer(body, member)
	}
	return project.MaterialPointer(n.project.MaterialByID(n.recipe.Parts[part].Material), member)
}

func (n *notebook) material(part int) *material.Material {
	return &n.project.Materials[n.project.MaterialByID(n.recipe.Parts[part].Material)]
}

// body is the material whose density and melt hold for a part.
func (n *notebook) body(part int) *material.Material {
	return &n.project.Materials[n.plan.parts[part].body]
}

func (n *notebook) partName(part int) string { return nameOf(n.material(part)) }

// takeNotes fills the notes of every blend and of the project as a whole.
func takeNotes(p *project.Project, m *Model, s *Sheet) {
	for i := range s.Blends {
		n := newNotebook(p, m, s, i)
		n.unfinished()
		n.regrindNotes()
		n.meltNotes()
		n.lineNotes()
		n.blendNotes()
		n.spoolNotes()
		n.powderNotes(s.Powders)
		n.safetyNotes()
		n.settle()
		s.Blends[i].Notes = worstFirst(n.notes)
	}
	s.Notes = worstFirst(slices.Concat(projectNotes(p), flowTestNotes(p, m), looseNotes(p, m, s), planNotes(p, s)))
}

func worstFirst(notes []Note) []Note {
	slices.SortStableFunc(notes, func(a, b Note) int { return cmp.Compare(b.Severity, a.Severity) })
	return notes
}

// number is a value of a note in its display unit.
func number(value float64, unit string, digits int) wording.Number {
	return wording.Number{Value: value, Unit: unit, Digits: digits}
}
