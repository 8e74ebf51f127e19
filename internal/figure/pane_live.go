package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// LiveTrace shows the last minutes of a log that is being written, with the tolerance and
// the newest alarms.
func LiveTrace(s *bench.LiveSheet, axis trace.Axis, asked bench.TraceAsked, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.live.title"), Alt: w.Text("picture.live.alt"), Empty: w.Text("picture.live.empty")}
	if s == nil || len(s.Live.At) < 2 {
		return p
	}
	x, last := Axis{Label: w.Text("picture.trace.reading")}, s.Live.At[len(s.Live.At)-1]
	factor := 1.0
	switch axis {
	case trace.BySecond:
		x, factor = Axis{Label: w.Text("picture.live.ago"), Unit: "min"}, 1.0/60
	case trace.ByMetre:
		x = Axis{Label: w.Text("picture.trace.along"), Unit: "m"}
	}
	line := Strip{}
	for i, at := range s.Live.At {
		d := s.Live.D[i] * 1e3
		line.X, line.Low, line.High = append(line.X, (at-last)*factor), append(line.Low, d), append(line.High, d)
	}
	panel := Panel{X: x, Y: Axis{Label: w.Text("picture.trace.diameter"), Unit: "mm"}, Strips: []Strip{line}}
	panel.X.Min, panel.X.Max = line.X[0], math.Max(0, line.X[0]+1e-9)
	panel.addTolerance(asked, w)
	for _, a := range s.Live.Alarms {
		if at := (a.At - last) * factor; at >= panel.X.Min && len(panel.Marks) < mostTraceMarks {
			panel.Marks = append(panel.Marks, Mark{X: at, Label: w.Text("trace.alarm." + string(a.Kind)), Dashed: true})
		}
	}
	p.Panels = []Panel{panel}
	return p
}
