package pane

import (
	"fillwright/app/control"
	"fillwright/internal/bench"
)

// markFor is the worst note of a part of a pane, of the project or of the blend at
// work, or, without any, whether anything was entered there.
func markFor(v View, pane bench.Pane, mine func(place string) bool, holds bool) control.Mark {
	notes := v.Sheet.Notes
	if results := v.Results(); results != nil {
		notes = append(append([]bench.Note(nil), notes...), results.Notes...)
	}
	worst := bench.Info
	for _, n := range notes {
		if n.Pane == pane && mine(n.Field) {
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
