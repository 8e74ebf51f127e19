package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// washoutNames are the laws of washout.
var washoutNames = map[bench.WashoutModel]string{
	bench.WashoutPlug: "washout.plug_mixed", bench.WashoutScrew: "washout.pinto_tadmor", bench.WashoutPipe: "washout.laminar_pipe",
}

// WashoutName is what a law of washout is called.
func WashoutName(law bench.WashoutModel, w *wording.Words) string { return w.Text(washoutNames[law]) }

const washoutPoints = 121

// Changes shows the share of new material in the strand over the time after a change,
// by the law in front, and by the others dashed.
func Changes(p *project.Project, s *bench.Sheet, chosen int, front bench.WashoutModel, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.changes.title"), Alt: w.Text("picture.changes.alt"), Empty: w.Text("picture.changes.empty")}
	if chosen < 0 || chosen >= len(s.Blends) {
		return out
	}
	b := &s.Blends[chosen]
	last := b.Result(bench.PurgeTime999)
	if !last.Known() {
		return out
	}
	until := 1.1 * last.Value
	panel := Panel{
		X: Axis{Label: w.Text("picture.changes.time"), Unit: "min", Min: 0, Max: until},
		Y: Axis{Label: w.Text("picture.changes.fresh"), Unit: "%", Min: 0, Max: 100},
	}
	for i, model := range bench.WashoutModels() {
		x, y := b.Line.Washout(model, washoutPoints, until)
		if len(x) == 0 {
			return out
		}
		line := Line{X: x, Y: y, Colour: i, Dash: model != front, Width: 1.5}
		item := LegendItem{Text: WashoutName(model, w), Swatch: SwatchDash, Colour: i}
		if model == front {
			line.Width, item.Swatch = 3, SwatchLine
		}
		panel.Lines, out.Legend = append(panel.Lines, line), append(out.Legend, item)
	}
	panel.purgeMarks(b, front, w)
	if samples := samplesOf(p, until); len(samples.X) > 0 {
		samples.Name, samples.Colour = w.Text("picture.changes.samples"), 3
		panel.Points = []Points{samples}
		out.Legend = append(out.Legend, LegendItem{Text: samples.Name, Swatch: SwatchPoint, Colour: 3})
	}
	out.Panels = []Panel{panel}
	return out
}

// purgeMarks are the moments at which 95, 99 and 99.9 % are new, by the law in front.
func (p *Panel) purgeMarks(b *bench.BlendSheet, front bench.WashoutModel, w *wording.Words) {
	for _, purge := range b.Line.Purges {
		if purge.Model != front {
			continue
		}
		for _, m := range []struct {
			at     bench.Result
			label  string
			strong bool
		}{
			{purge.T95, "95 %", false},
			{purge.T99, w.Say("picture.changes.wind", map[string]any{"Time": wording.Number{Value: purge.T99.Value, Unit: "min", Digits: 3}}), true},
			{purge.T999, w.Number(99.9, 3) + " %", false},
		} {
			if m.at.Known() && m.at.Value <= p.X.Max {
				p.Marks = append(p.Marks, Mark{X: m.at.Value, Label: m.label, Dashed: !m.strong, Strong: m.strong})
			}
		}
	}
}

// samplesOf are the samples of a change up to a time in minutes.
func samplesOf(p *project.Project, until float64) Points {
	var points Points
	for _, s := range p.Line.Changes.Samples {
		if t, given := s.Time.Estimate(); given && s.New.Given() && t.Value/60 <= until {
			points.X, points.Y = append(points.X, t.Value/60), append(points.Y, 100*s.New.SI())
		}
	}
	return points
}
