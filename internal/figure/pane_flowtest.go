package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// FlowTest shows the rate of each reading of a melt-flow test, beside those of the
// test of the plain polymer that it is held against.
func FlowTest(p *project.Project, s *bench.Sheet, test int, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.flow_test.title"), Alt: w.Text("picture.flow_test.alt"), Empty: w.Text("picture.flow_test.empty")}
	if test < 0 || test >= len(s.FlowTests) {
		return out
	}
	unit := "g/10 min"
	if s.FlowTests[test].Procedure == project.Piston {
		unit = "cm3/10 min"
	}
	panel := Panel{
		X: Axis{Label: w.Text("picture.flow_test.reading"), Min: 0},
		Y: Axis{Label: w.Text("picture.flow_test.rate"), Unit: wording.Unit(unit)},
	}
	panel.addReadings(p, s, test, 1, Disc, w)
	if plain := s.FlowTests[test].Plain; plain >= 0 {
		panel.addReadings(p, s, plain, 0, Square, w)
	}
	for _, points := range panel.Points {
		out.Legend = append(out.Legend, LegendItem{Text: points.Name, Swatch: SwatchPoint, Colour: points.Colour, Marker: points.Marker})
	}
	if len(panel.Points) == 0 {
		return out
	}
	panel.X.Ticks = nil
	out.Panels = []Panel{panel}
	return out
}

// addReadings draws the readings of a test; those that do not count as crosses.
func (p *Panel) addReadings(d *project.Project, s *bench.Sheet, test, colour int, marker Marker, w *wording.Words) {
	points := Points{Name: flowTestName(d, test, w), Colour: colour, Marker: marker}
	for i, row := range s.FlowTests[test].Rows {
		if row.Known && row.Remark.ID == "" {
			points.X, points.Y = append(points.X, float64(i+1)), append(points.Y, row.Rate)
			p.X.Max = max(p.X.Max, float64(i+2))
		}
	}
	if len(points.X) > 0 {
		p.Points = append(p.Points, points)
	}
}

// flowTestName is what a test is called, its number while it has no name.
func flowTestName(p *project.Project, test int, w *wording.Words) string {
	if name := p.Melt.Tests[test].Name; name != "" {
		return name
	}
	return w.Say("pane.melt.test_number", map[string]any{"Number": test + 1})
}
