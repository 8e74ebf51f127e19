package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Flow shows the reasons why a blend flows faster or slower than the
// plain polymer, and what comes of them together, as ranges on one axis.
func Flow(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.flow.title"), Alt: w.Text("picture.flow.alt"), Empty: w.Text("picture.flow.empty")}
	if chosen < 0 || chosen >= len(s.Blends) || !s.Blends[chosen].Result(bench.Density).Known() {
		return p
	}
	b := &s.Blends[chosen]
	net := b.Result(bench.MeltFlow)
	panel := Panel{X: Axis{Label: w.Text("picture.flow.axis"), Log: true, Prefix: "×"}}
	panel.Bars = []Bar{
		flowBar(b.Result(bench.MeltFlowGrains), w, "grains", 0),
		flowBar(b.Result(bench.MeltFlowWater), w, "water", 1),
		flowBar(b.Result(bench.MeltFlowOil), w, "oil", 2),
	}
	if again := b.Result(bench.MeltFlowRegrind); again.Known() {
		panel.Bars = append(panel.Bars, flowBar(again, w, "regrind", 5))
	}
	if net.Known() && net.Basis == bench.Measured {
		model := b.Result(bench.MeltFlowModel)
		if model.Known() {
			panel.Bars = append(panel.Bars, flowBar(model, w, "model", 3))
		}
		panel.Bars = append(panel.Bars, flowBar(net, w, "measured", 4))
	} else {
		panel.Bars = append(panel.Bars, flowBar(net, w, "together", 3))
		if net.Basis == bench.Calibrated {
			panel.Bars[len(panel.Bars)-1].Sub = w.Text("picture.flow.together_calibrated")
		}
	}
	panel.Bars[len(panel.Bars)-1].Strong = true
	panel.X.Min, panel.X.Max = flowSpan(panel.Bars)
	panel.Marks = []Mark{{X: 1, Label: w.Text("picture.flow.plain"), Dashed: true}}
	p.Panels = []Panel{panel}
	return p
}

// flowBar is one reason as a bar.
func flowBar(r bench.Result, w *wording.Words, id string, colour int) Bar {
	bar := Bar{Label: w.Text("picture.flow." + id), Sub: w.Text("picture.flow." + id + "_sub"), Colour: colour}
	if !r.Known() {
		bar.Text = w.Text("picture.not_known")
		return bar
	}
	bar.Low, bar.Likely, bar.High, bar.Known = r.Low, r.Value, r.High, true
	bar.Text = "×" + w.Number(r.Value, 2)
	if low, high := w.Number(r.Low, 2), w.Number(r.High, 2); low != high {
		bar.Text += " " + w.Say("pane.interval", map[string]any{"Low": low, "High": high})
	}
	return bar
}

// flowSpan is an axis that holds every bar and the plain polymer in it, at
// least a factor of two to either side.
func flowSpan(bars []Bar) (low, high float64) {
	low, high = 0.5, 2
	for _, b := range bars {
		if b.Known {
			low, high = min(low, b.Low*0.9), max(high, b.High*1.1)
		}
	}
	return max(low, 1e-3), min(high, 1e4)
}
