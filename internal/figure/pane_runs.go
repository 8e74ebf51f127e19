package figure

import (
	"slices"

	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// eventNames are the kinds of event.
var eventNames = map[project.EventKind]string{
	project.NewMaterial: "event.new_material", project.ColourStable: "event.colour_stable", project.WindingBegun: "event.winding",
	project.LumpSeen: "event.lump", project.StrandBroke: "event.break", project.ScreenChange: "event.screen",
	project.Adjusted: "event.adjusted", project.Stopped: "event.stopped", project.OtherEvent: "event.else",
}

// EventName is what a kind of event is called.
func EventName(kind project.EventKind, w *wording.Words) string { return w.Text(eventNames[kind]) }

// RunLog shows the events of one run over its time, a row for each kind.
func RunLog(p *project.Project, run int, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.run_log.title"), Alt: w.Text("picture.run_log.alt"), Empty: w.Text("picture.run_log.empty")}
	if run < 0 || run >= len(p.Line.Runs) {
		return out
	}
	kinds := project.EventKinds()
	slices.Reverse(kinds) // the first one on top
	panel := Panel{
		X: Axis{Label: w.Text("picture.run_log.time"), Unit: "min", Min: 0, Max: 1},
		Y: Axis{Min: -0.7, Max: float64(len(kinds)) - 0.3},
	}
	for i, kind := range kinds {
		panel.Y.Ticks = append(panel.Y.Ticks, Tick{Value: float64(i), Label: EventName(kind, w)})
	}
	points := Points{Name: w.Text("picture.run_log.title"), Marker: Disc}
	for _, e := range p.Line.Runs[run].Events {
		t, given := e.Time.Estimate()
		row := slices.Index(kinds, e.Kind)
		if !given || row < 0 {
			continue
		}
		points.X, points.Y = append(points.X, t.Value/60), append(points.Y, float64(row))
		points.Labels = append(points.Labels, e.Text)
		panel.X.Max = max(panel.X.Max, 1.1*t.Value/60)
	}
	if len(points.X) == 0 {
		return out
	}
	panel.Points = []Points{points}
	out.Panels = []Panel{panel}
	return out
}
