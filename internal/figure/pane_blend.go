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
	if len(curves) == 0 {
		return p
	}
	p.Title, p.Alt = w.Text(title), w.Text("picture.cost.alt")
	marks := contentMarks(s, chosen)
	for _, panel := range []Panel{
		costPanel(s, curves[0], costFigure, most, w),
		densityPanel(curves[1], most, w),
	} {
		if len(panel.Lines) == 0 {
			continue
		}
		panel.X.Label, panel.X.Unit = powderName(s, swept), "wt%"
		panel.Marks = marks
		p.Panels = append(p.Panels, panel)
	}
	return p
}

// costPanel shows the cost by length, with the reference as a level; while the
// costs of making are not known, that of the materials by mass.
func costPanel(s *bench.Sheet, c bench.Curve, f bench.Figure, most float64, w *wording.Words) Panel {
	panel := curvePanel(c, 0, most)
	if f != bench.CostPerMetre {
		panel.Y.Label, panel.Y.Unit = w.Text("picture.cost.per_kg"), wording.Unit(s.Currency+"/kg")
		return panel
	}
	scalePanel(&panel, 100)
	panel.Y.Label, panel.Y.Unit = w.Text("picture.cost.per_length"), wording.Unit(s.Currency+"/100 m")
	if s.Reference >= 0 {
		if r := s.Blends[s.Reference].Result(f); r.Known() {
			panel.Levels = []Level{{Y: r.Value * 100, Label: s.Blends[s.Reference].Name, Dashed: true}}
		}
	}
	return panel
}

func densityPanel(c bench.Curve, most float64, w *wording.Words) Panel {
	panel := curvePanel(c, 1, most)
	panel.Y.Label, panel.Y.Unit = w.Text("figure.density"), "g/cm³"
	return panel
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
