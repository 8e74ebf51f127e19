package pane

import (
	"fillwright/app/control"
	"fillwright/internal/bench"
)

// sections are the parts of a pane, of which one is open, and their tabs.
type sections[S ~string] struct {
	section S // that is open
	tabs    *control.Tabs
	list    []sectionTitle[S]
	show    func() // brings the pane up to date
}

// sectionTitle is a part and the catalogue ID of its name.
type sectionTitle[S ~string] struct {
	id    S
	title string
}

// newSections makes the tabs of a pane; the first part is open. What mark tells of a part
// stands beside its name.
func newSections[S ~string](b *base, label string, list []sectionTitle[S], mark func(S) control.Mark, show func()) *sections[S] {
	s := &sections[S]{section: list[0].id, list: list, show: show}
	s.tabs = control.NewTabs(control.TabsOptions{
		Label: label,
		Items: func() (items []control.Item) {
			for _, part := range list {
				m := mark(part.id)
				items = append(items, control.Item{ID: string(part.id), Title: b.text(part.title), Mark: m, MarkText: b.text(markTexts[m])})
			}
			return items
		},
		Chosen:   func() string { return string(s.section) },
		OnChoose: func(id string) { s.open(S(id)) },
	})
	return s
}

// Sections lists the parts of the pane, for pictures of each.
func (s *sections[S]) Sections() []string {
	var list []string
	for _, part := range s.list {
		list = append(list, string(part.id))
	}
	return list
}

// OpenSection shows a part of the pane.
func (s *sections[S]) OpenSection(id string) bool {
	before := s.section
	s.open(S(id))
	return s.section != before
}

func (s *sections[S]) open(section S) {
	if section != s.section {
		s.section = section
		s.show()
	}
}

var markTexts = map[control.Mark]string{
	control.MarkEmpty: "mark.empty", control.MarkFine: "mark.fine",
	control.MarkCaution: "mark.caution", control.MarkStop: "mark.stop",
}

// markOfNotes is the worst note of a part or, without any, whether the part holds
// anything.
func markOfNotes(notes []bench.Note, mine func(bench.Note) bool, holds bool) control.Mark {
	worst := bench.Info
	for _, n := range notes {
		if mine(n) {
			worst = max(worst, n.Severity)
		}
	}
	switch {
	case worst == bench.Stop:
		return control.MarkStop
	case worst == bench.Caution:
		return control.MarkCaution
	case holds:
		return control.MarkFine
	}
	return control.MarkEmpty
}

// markOfPart is the mark of a part of a pane whose notes belong to the part of their field.
func markOfPart[S ~string](b *base, part S, partOf func(place string) S, holds func(S) bool) control.Mark {
	if b.view.Project == nil {
		return control.MarkEmpty
	}
	mine := func(n bench.Note) bool { return n.Pane == b.id && partOf(n.Field) == part }
	return markOfNotes(b.view.Sheet.NotesOf(b.view.Chosen), mine, holds(part))
}
