package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Cost shows cost and density against the filler content of the chosen blend,
// with every blend of the project marked. A blend without powder borrows the
// curve of the first one that has some.
func Cost(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	p := Picture{SharedX: true, Empty: w.Text("picture.cost.empty")}
	swept := filledBlend(s, chosen)
	if swept < 0 {
		return p
	}
	most := mostContent(s)
	costFigure, title := bench.CostPerMetre, "picture.cost.title"
	if !s.Blends[swept].Result(costFigure).Known() {
		costFigure, title = bench.MaterialCostPerKg, "picture.cost.title_materials"
	}
	curves := s.Model.ContentSweep(swept, most/100, costFigure, bench.Density)
	if len(curves) == 0 || (len(curves[0].X) < 2 && len(curves[1].X) < 2) {
		return p
	}
	p.Title, p.Alt = w.Text(title), w.Text("picture.cost.alt")
	perMetre := costFigure == bench.CostPerMetre
	cost := curvePanel(curves[0], 0, most)
	cost.Y.Label, cost.Y.Unit = w.Text("picture.cost.per_kg"), wording.Unit(s.Currency+"/kg")
	if perMetre {
		scalePanel(&cost, 100)
		cost.Y.Label, cost.Y.Unit = w.Text("picture.cost.per_length"), wording.Unit(s.Currency+"/100 m")
		if s.Reference >= 0 {
			if r := s.Blends[s.Reference].Result(costFigure); r.Known() {
				cost.Levels = []Level{{Y: r.Value * 100, Label: s.Blends[s.Reference].Name, Dashed: true}}
			}
		}
	}
	density := curvePanel(curves[1], 1, most)
	density.Y.Label, density.Y.Unit = w.Text("figure.density"), "g/cm³"
	density.X.Label, density.X.Unit = powderName(s, swept), "wt%"
	marks := contentMarks(s, chosen)
	for _, panel := range []Panel{cost, density} {
		if len(panel.Lines) > 0 {
			panel.Marks = marks
			p.Panels = append(p.Panels, panel)
		}
	}
	last := &p.Panels[len(p.Panels)-1]
	last.X = density.X
	return p
}

// filledBlend is the chosen blend when it holds powder, else the first that does.
func filledBlend(s *bench.Sheet, chosen int) int {
	if chosen >= 0 && chosen < len(s.Blends) && s.Model.Filled(chosen) {
		return chosen
	}
	for i := range s.Blends {
		if s.Model.Filled(i) {
			return i
		}
	}
	return -1
}

// mostContent is the right end of the axis: half as much again as the fullest
// blend holds, at least 20 wt%, in steps of 5.
func mostContent(s *bench.Sheet) float64 {
	most := 20.0
	for i := range s.Blends {
		if r := s.Blends[i].Result(bench.FillerMassFraction); r.Known() {
			most = math.Max(most, r.Value*1.5)
		}
	}
	return math.Min(90, math.Ceil(most/5)*5)
}

// curvePanel draws one curve with its band over the filler content.
func curvePanel(c bench.Curve, colour int, most float64) Panel {
	panel := Panel{X: Axis{Min: 0, Max: most}}
	if len(c.X) < 2 {
		return panel
	}
	panel.Bands = []Band{{X: c.X, Low: c.Low, High: c.High, Colour: colour}}
	panel.Lines = []Line{{X: c.X, Y: c.Y, Colour: colour}}
	return panel
}

// scalePanel multiplies all Y of a panel by a factor.
func scalePanel(p *Panel, by float64) {
	scale := func(v []float64) {
		for i := range v {
			v[i] *= by
		}
	}
	for i := range p.Bands {
		scale(p.Bands[i].Low)
		scale(p.Bands[i].High)
	}
	for i := range p.Lines {
		scale(p.Lines[i].Y)
	}
}

// contentMarks marks the blends at their filler content.
func contentMarks(s *bench.Sheet, chosen int) []Mark {
	var marks []Mark
	for i := range s.Blends {
		if r := s.Blends[i].Result(bench.FillerMassFraction); r.Known() {
			marks = append(marks, Mark{X: r.Value, Label: s.Blends[i].Name, Dashed: true, Strong: i == chosen})
		}
	}
	return marks
}

// powderName names the powder that a sweep varies.
func powderName(s *bench.Sheet, swept int) string {
	part := s.Model.FirstPowder(swept)
	if rows := s.Blends[swept].Batch.Rows; part >= 0 && part < len(rows) {
		return rows[part].Name
	}
	return ""
}
