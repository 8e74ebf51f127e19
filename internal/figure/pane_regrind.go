package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Regrind shows how often the polymer of the strand has been through the heat when as
// much regrind as in the blend at work is fed back for long.
func Regrind(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.regrind.title"), Alt: w.Text("picture.regrind.alt"), Empty: w.Text("picture.regrind.empty")}
	if chosen < 0 || chosen >= len(s.Blends) || !s.Blends[chosen].Regrind.Known {
		return p
	}
	sheet := &s.Blends[chosen].Regrind
	panel := Panel{X: Axis{Label: w.Text("picture.regrind.share"), Unit: "%", Min: 0, Max: 100}}
	for i, share := range sheet.ByPasses {
		passes := i + 1
		bar := Bar{
			Label: w.Say("picture.regrind.passes", map[string]any{"Count": passes}), Colour: 1, Filled: true,
			Low: 100 * share, Likely: 100 * share, High: 100 * share, Known: true, Text: w.Number(100*share, 2) + " %",
		}
		if i == len(sheet.ByPasses)-1 {
			bar.Label = w.Say("picture.regrind.more", map[string]any{"Count": passes})
		}
		if passes > sheet.Most {
			bar.Colour, bar.Sub = 5, w.Text("picture.regrind.beyond")
		}
		panel.Bars = append(panel.Bars, bar)
	}
	p.Panels = []Panel{panel}
	return p
}
