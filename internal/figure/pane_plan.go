package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Trials shows the list of trial spools, a row a day, in the order in which
// they are made.
func Trials(s *bench.Sheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.trials.title"), Alt: w.Text("picture.trials.alt"), Empty: w.Text("picture.trials.empty")}
	if !s.Plan.Known {
		return p
	}
	var panel Panel
	for _, r := range s.Plan.Runs {
		tile := Tile{
			Row: r.Day - 1, Col: r.Slot - 1, Colour: r.Level,
			Text: w.Number(r.Content, 3) + " wt%",
			Sub:  r.Spool,
		}
		if r.Change {
			tile.Sub = w.Say("picture.trials.purge_first", map[string]any{"Spool": r.Spool})
		}
		panel.Tiles = append(panel.Tiles, tile)
	}
	for day := 1; day <= s.Plan.Days; day++ {
		panel.Rows = append(panel.Rows, Row{Label: w.Say("picture.trials.day", map[string]any{"Day": day})})
	}
	p.Panels = []Panel{panel}
	for level, content := range s.Plan.Contents {
		p.Legend = append(p.Legend, LegendItem{Text: w.Number(content, 3) + " wt%", Swatch: SwatchTile, Colour: level})
	}
	return p
}
