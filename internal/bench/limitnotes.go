package bench

import "slices"

// NotesOf are the notes of a blend and of the project as a whole, with what its limits say.
func (s *Sheet) NotesOf(blend int) []Note {
	if blend < 0 || blend >= len(s.Blends) {
		return slices.Clone(s.Notes)
	}
	return slices.Concat(s.BlendNotes(blend), s.Notes)
}

// BlendNotes are those of a blend, worst first, with what its limits say. Limits are worked
// out when they are first asked for, so their notes do not stand among those of the sheet.
func (s *Sheet) BlendNotes(blend int) []Note {
	return worstFirst(slices.Concat(s.Blends[blend].Notes, s.limitNotes(blend)))
}

// limitNotes says that a blend holds more than its limits likely allow, and which of them
// stops it first.
func (s *Sheet) limitNotes(blend int) []Note {
	limits := s.Limits(blend)
	if !limits.Known || !limits.over() {
		return nil
	}
	return []Note{{
		ID: "over_the_limits", Severity: Caution, Pane: PaneLimits, // of the picture, and of no field
		Values: map[string]any{
			"Blend": s.Blends[blend].Name, "Content": number(limits.Content.Value, "wt%", 3), "Least": limits.contentWords(limits.Least.Value), "First": limits.first().Said(),
		},
	}}
}
