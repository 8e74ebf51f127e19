package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Limits shows up to which filler content each limit lets a blend go: certainly, likely and
// at most, what stops first on top, with the blends of the same powder marked.
func Limits(s *bench.Sheet, chosen int, limit bench.LimitID, w *wording.Words) Picture {
	sheet := s.Limits(chosen)
	answer := w.Say(sheet.Words()[0].Message())
	p := Picture{Title: w.Text("picture.limits.title"), Alt: w.Text("picture.limits.alt") + " " + answer, Empty: answer}
	if !sheet.Known {
		return p
	}
	panel := Panel{X: Axis{Label: w.Text("picture.limits.content"), Unit: "wt%", Min: 0, Max: sheet.Most}, Marks: powderMarks(s, chosen, sheet.Most, w)}
	binding := sheet.Binding()
	for i := range sheet.Limits {
		l := &sheet.Limits[i]
		bar := limitBar(l, sheet.Most, w)
		bar.Strong, bar.Chosen = l == binding, l.ID == limit
		if bar.Strong {
			bar.Colour = 1
		}
		panel.Bars = append(panel.Bars, bar)
	}
	p.Panels = []Panel{panel}
	return p
}

// limitBar is one limit as a bar.
func limitBar(l *bench.Limit, most float64, w *wording.Words) Bar {
	bar := Bar{Label: w.Text(string(l.Name())), Sub: LimitAllows(l, w), Reach: true, Open: l.Open, From: l.From}
	if l.Advice {
		bar.Label = w.Text("limit_content.advice") // nothing is stopped by it
	}
	switch l.State {
	case bench.LimitUnknown, bench.LimitIdle:
		bar.Sub = w.Text("limit_state." + string(l.State))
		return bar
	case bench.LimitTested:
		bar.Rest = true
	}
	bar.Text = LimitContent(l, most, w)
	bar.Known, bar.Low, bar.Likely, bar.High = true, l.Allowed.Low, l.Allowed.Value, l.Allowed.High
	return bar
}

// LimitContent is the filler content that a limit allows, which is known, in a few words:
// "> 30 wt%" where the axis ends before it stops anything.
func LimitContent(l *bench.Limit, most float64, w *wording.Words) string {
	id, content := "limit_content.binds", l.Allowed.Value
	switch {
	case l.State == bench.LimitTested:
		id = "limit_content.tested"
	case l.State == bench.LimitFree:
		id, content = "limit_content.free", most
	case l.Hardly():
		id, content = "limit_content.hardly", bench.PracticallyNone
	}
	return w.Say(id, map[string]any{"Value": wording.Number{Value: content, Unit: "wt%", Digits: 2}})
}

// LimitAllows says in a few words what a limit allows: "≤ 5 % per spool".
func LimitAllows(l *bench.Limit, w *wording.Words) string {
	id := "limit_allows." + string(l.ID)
	if l.Threshold.Unit == "MPa" {
		id = "limit_allows.floor"
	}
	unit := l.Threshold.Unit
	if unit == "1" {
		unit = ""
	}
	return w.Say(id, map[string]any{"Value": wording.Number{Value: l.Threshold.Value, Unit: unit, Digits: 3}})
}

// powderMarks marks the blends with the powder of the chosen one at their filler content. One
// that holds more than the axis shows is marked at its end, with an arrow to its content.
func powderMarks(s *bench.Sheet, chosen int, most float64, w *wording.Words) []Mark {
	var marks []Mark
	for i := range s.Blends {
		b := &s.Blends[i]
		r := b.Result(bench.FillerMassFraction)
		if !b.Filled || b.Powder != s.Blends[chosen].Powder || !r.Known() {
			continue
		}
		m := Mark{X: math.Max(r.Value, 0), Label: b.Name, Dashed: true, Strong: i == chosen}
		if r.Value > most*(1+1e-9) {
			m.X, m.Label = most, w.Say("picture.limits.beyond", map[string]any{"Blend": b.Name, "Content": wording.Number{Value: r.Value, Unit: "wt%", Digits: 3}})
		}
		marks = append(marks, m)
	}
	return marks
}
