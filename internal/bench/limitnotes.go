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
	return worstFirst(slices.Concat(s.limitNotes(blend), s.Blends[blend].Notes))
}

// limitNotes says that a blend holds more than its limits likely allow, and which of them
// stops it first, or that it costs too much for so little powder.
func (s *Sheet) limitNotes(blend int) []Note {
	limits := s.Limits(blend)
	note := func(id string, values map[string]any) []Note {
		values["Blend"], values["Content"] = s.Blends[blend].Name, number(limits.Content.Value, "wt%", 3)
		return []Note{{ID: id, Severity: Caution, Pane: PaneLimits, Values: values}} // of the picture, and of no field
	}
	switch {
	case !limits.Known:
		return nil
	case limits.over():
		return note("over_the_limits", map[string]any{"Least": limits.contentWords(limits.Least.Value), "First": limits.first().Said()})
	case limits.below() != nil:
		return note("below_the_limits", map[string]any{"From": number(limits.below().From, "wt%", 2)})
	}
	return nil
}
