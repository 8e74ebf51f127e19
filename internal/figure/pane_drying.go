package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

const (
	dryingPoints   = 80   // of the fitted curve
	dryingRoom     = 1.1  // how far it goes beyond the last thing that it leads to
	dryingFarthest = 10.0 // times the log: a target beyond that would shrink the log to a spot
)

// Drying shows how one run in the oven dries the powder: what was weighed, the
// fitted curve with its band, and when it reaches the target; use is that of the run. Below it stands
// what is left between the two. A run whose moisture is not known shows its mass.
func Drying(ps *bench.PowderSheet, run int, use bench.DryingUse, w *wording.Words) Picture {
	p := Picture{
		SharedX: true, Title: w.Text("picture.drying.title"), Alt: w.Text("picture.drying.alt"), Empty: w.Text("picture.drying.empty"),
	}
	if ps == nil || run < 0 || run >= len(ps.Drying.Runs) {
		return p
	}
	r := &ps.Drying.Runs[run]
	main := moisturePanel(r, use, w)
	if main.empty() {
		main = netMassPanel(r, w)
		p.Title, p.Alt = w.Text("picture.drying.title_mass"), w.Text("picture.drying.alt_mass")
	}
	if main.empty() {
		p.Title, p.Alt = w.Text("picture.drying.title"), w.Text("picture.drying.alt")
		return p
	}
	main.Marks = dryingMarks(r, use, w)
	p.Panels = []Panel{main}
	if rest, some := residualPanel(r, w); some {
		rest.X, rest.Marks = main.X, main.Marks
		p.Panels = append(p.Panels, rest)
	}
	return p
}

// empty says whether a panel has neither lines nor points.
func (p *Panel) empty() bool { return len(p.Lines) == 0 && len(p.Points) == 0 }

// hours is the axis below both panels.
func hours(w *wording.Words) Axis { return Axis{Label: w.Text("picture.drying.time"), Unit: "h"} }

// moisturePanel shows the moisture on the wet basis over time.
func moisturePanel(r *bench.RunSheet, use bench.DryingUse, w *wording.Words) Panel {
	panel := Panel{X: hours(w), Y: Axis{Label: w.Text("picture.drying.moisture"), Unit: "%"}}
	panel.addFit(r, use, w)
	panel.addWeighed(r, func(row *bench.DryingRow) (float64, bool) { return row.WetPercent, row.HasMoisture })
	if panel.empty() {
		return panel
	}
	panel.addMoistureLevels(r, use, w)
	panel.spreadMoisture()
	return panel
}

// addMoistureLevels draws the target, whose label chooses its place first, and what the oven cannot go below.
func (p *Panel) addMoistureLevels(r *bench.RunSheet, use bench.DryingUse, w *wording.Words) {
	if use.Target.Known() {
		id := "picture.drying.target"
		switch {
		case use.Beyond:
			id = "picture.drying.target_beyond"
		case use.TargetFrom == "limit":
			id = "picture.drying.target_limit"
		}
		p.Levels = append(p.Levels, Level{Y: use.Target.Value, Dashed: true, Strong: true, Label: percentText(id, use.Target, w)})
	}
	if r.Floor.Known() {
		p.Levels = append(p.Levels, Level{Y: r.Floor.Value, Dashed: true, Label: percentText("picture.drying.floor", r.Floor, w)})
	}
}

// wideMoisture is the ratio of the highest moisture to the lowest from which an
// even axis would press target and floor into one line.
const wideMoisture = 12.0

// spreadMoisture makes the axis logarithmic where the moistures span much, and
// keeps the band where there is moisture.
func (p *Panel) spreadMoisture() {
	all := extent{}
	for _, l := range p.Lines {
		all.add(l.Y...)
	}
	for _, s := range p.Points {
		all.add(s.Y...)
	}
	for _, l := range p.Levels {
		all.add(l.Y)
	}
	least := 0.0
	if all.low > tinest && all.high > wideMoisture*all.low {
		p.Y.Log = true
		p.Y.Min, p.Y.Max = roundedLog(0.6*all.low, all.high)
		least = p.Y.Min / 2
	}
	for _, b := range p.Bands {
		for i := range b.Low {
			b.Low[i], b.High[i] = max(b.Low[i], least), max(b.High[i], least)
		}
	}
}

func percentText(id string, r bench.Result, w *wording.Words) string {
	return w.Say(id, map[string]any{"Moisture": wording.Number{Value: r.Value, Unit: "%", Digits: 2}})
}

// addFit draws the fitted curve, dashed where it goes beyond the log.
func (p *Panel) addFit(r *bench.RunSheet, use bench.DryingUse, w *wording.Words) {
	until := r.LastH
	if use.Time.Known() && !use.Beyond {
		until = min(max(until, use.Time.Value), dryingFarthest*r.LastH)
	}
	if !(until > 0) || !drawable(until, false) {
		return
	}
	until *= dryingRoom
	x, y, low, high := r.Sample(dryingPoints, until)
	if len(x) == 0 {
		return
	}
	within := 0 // samples inside the log; the first one after it joins the two lines
	for within < len(x)-1 && x[within] < r.LastH {
		within++
	}
	p.X.Min, p.X.Max = 0, until
	p.Bands = []Band{{X: x, Low: low, High: high}}
	p.Lines = []Line{
		{X: x[:within+1], Y: y[:within+1]},
		{X: x[within:], Y: y[within:], Dash: true, Name: w.Text("picture.drying.fitted")},
	}
}

// addWeighed draws one point for each weighing that has the number.
func (p *Panel) addWeighed(r *bench.RunSheet, number func(*bench.DryingRow) (float64, bool)) {
	var points Points
	for i := range r.Rows {
		row := &r.Rows[i]
		if v, ok := number(row); ok && row.Known && finite(v) && finite(row.TimeH) {
			points.X, points.Y = append(points.X, row.TimeH), append(points.Y, v)
		}
	}
	if len(points.X) > 0 {
		p.Points = []Points{points}
	}
}

// netMassPanel shows the net mass over time, for a run of which nobody knows the dry mass.
func netMassPanel(r *bench.RunSheet, w *wording.Words) Panel {
	panel := Panel{X: hours(w), Y: Axis{Label: w.Text("picture.drying.net_mass"), Unit: "g"}}
	panel.addWeighed(r, func(row *bench.DryingRow) (float64, bool) { return row.NetG, true })
	if panel.X.Max = dryingRoom * r.LastH; !(panel.X.Max > 0) || !drawable(panel.X.Max, false) {
		panel.X.Max = 1 // one weighing, when it went in
	}
	return panel
}

// dryingMarks are the last weighing, with the time that is left, and the time of the target.
func dryingMarks(r *bench.RunSheet, use bench.DryingUse, w *wording.Words) []Mark {
	var marks []Mark
	reached := use.Left.Known() && use.Left.Value <= 0
	if r.LastH > 0 {
		label := w.Text("picture.drying.last")
		switch {
		case reached:
			label = w.Text("picture.drying.last_reached")
		case use.Left.Known():
			left := wording.Number{Value: use.Left.Value, Unit: "h", Digits: 2}
			label = w.Say("picture.drying.last_left", map[string]any{"Left": left})
		}
		marks = append(marks, Mark{X: r.LastH, Label: label, Dashed: true})
	}
	if use.Time.Known() && !use.Beyond && use.Time.Value >= 0 {
		label := w.Say("picture.drying.target_at", map[string]any{"Time": ranged(use.Time, "h", 2, w)})
		marks = append(marks, Mark{X: use.Time.Value, Label: label, Strong: true})
	}
	return marks
}

// residualPanel shows what was weighed less what the fit says, around zero.
func residualPanel(r *bench.RunSheet, w *wording.Words) (Panel, bool) {
	panel := Panel{
		X: hours(w), Y: Axis{Label: w.Text("picture.drying.residual"), Unit: "g"}, Share: 0.35, Spare: true,
		Levels: []Level{{Y: 0}},
	}
	panel.addWeighed(r, func(row *bench.DryingRow) (float64, bool) { return row.ResidualG, row.HasResidual })
	if panel.empty() {
		return panel, false
	}
	most := 0.0
	for _, y := range panel.Points[0].Y {
		most = math.Max(most, 1.25*math.Abs(y))
	}
	panel.Y.Min, panel.Y.Max = -most, most
	return panel, true
}
