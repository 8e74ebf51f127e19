package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// pairRows is how many limits of each state the picture before and after shows.
const pairRows = 6

// LimitsPair shows the limits of a blend as it is above those that it would have: the first
// of each, with the same axis.
func LimitsPair(s *bench.Sheet, chosen int, before, then *bench.LimitSheet, w *wording.Words) Picture {
	now := Limits(s.WithLimitSheet(before), chosen, "", w)
	if len(now.Panels) == 0 || !then.Known {
		return now
	}
	after := Limits(s.WithLimitSheet(then), chosen, "", w)
	picture := Picture{Title: w.Text("picture.limits_pair.title"), Alt: w.Text("picture.limits_pair.alt"), Empty: now.Empty}
	for i, p := range []Picture{now, after} {
		panel := p.Panels[0]
		panel.X.Label = w.Text([]string{"picture.limits_pair.now", "picture.limits_pair.then"}[i])
		panel.Bars = panel.Bars[:min(pairRows, len(panel.Bars))]
		for j := range panel.Bars {
			panel.Bars[j].Chosen = false
		}
		picture.Panels = append(picture.Panels, panel)
	}
	return picture
}
