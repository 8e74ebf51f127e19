package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/strength"
	"fillwright/internal/wording"
)

// strengthSide is one direction in which a bar is pulled.
type strengthSide struct {
	direction  project.Direction
	name       string // catalogue ID
	curve      string // that of the name beside points
	mpa, kept  bench.Figure
	limit      bench.LimitID
	colour     int
	marker     Marker
	floorTitle string // catalogue ID
}

var strengthSides = []strengthSide{
	{project.Flat, "direction.flat", "picture.strength.curve_flat", bench.StrengthFlat, bench.StrengthKeptFlat, bench.LimitFlat, 0, Disc, "picture.strength.floor_flat"},
	{project.Upright, "direction.upright", "picture.strength.curve_upright", bench.StrengthUpright, bench.StrengthKeptUpright, bench.LimitUpright, 1, Triangle, "picture.strength.floor_upright"},
}

// Strength shows the strength of both directions over the filler content, with the points
// that were measured and the least that is wanted. Where the plain polymer's strength is
// not known, that which is kept of it.
func Strength(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.strength.title"), Alt: w.Text("picture.strength.alt"), Empty: w.Text("picture.strength.empty")}
	sheet := s.Limits(chosen)
	if !sheet.Known {
		picture.Empty = w.Say(sheet.Words()[0].Message())
		return picture
	}
	panel := Panel{
		X: Axis{Label: w.Text("picture.limits.content"), Unit: "wt%", Min: 0, Max: sheet.Most},
		Y: Axis{Label: w.Text("picture.strength.strength"), Unit: "MPa"}, Marks: powderMarks(s, chosen, sheet.Most, w),
	}
	curves := s.Model.ContentSweep(chosen, sheet.Most/100, bench.StrengthFlat, bench.StrengthUpright)
	inMPa := len(curves) == 2 && len(curves[0].X)+len(curves[1].X) > 0
	if !inMPa {
		picture.Title, panel.Y = w.Text("picture.strength.title_kept"), Axis{Label: w.Text("picture.strength.kept"), Unit: "%"}
		curves = s.Model.ContentSweep(chosen, sheet.Most/100, bench.StrengthKeptFlat, bench.StrengthKeptUpright)
	}
	for i := range min(len(curves), len(strengthSides)) {
		if !inMPa {
			curves[i] = fromPlain(curves[i])
		}
		panel.addStrength(curves[i], &strengthSides[i], w)
		panel.addFloor(sheet, curves[i], &strengthSides[i], inMPa, w)
	}
	if inMPa {
		panel.addStrengthPoints(p, s, chosen, w)
	}
	if len(panel.Points) > 0 {
		panel.nameCurves(w)
	}
	if len(panel.Lines) == 0 {
		return picture
	}
	panel.Y.Max = highest(&panel)
	picture.Panels = []Panel{panel}
	return picture
}

// fromPlain begins a curve of what is kept with the plain polymer, which keeps all.
func fromPlain(c bench.Curve) bench.Curve {
	if len(c.X) == 0 || c.X[0] == 0 {
		return c
	}
	from := func(first float64, rest []float64) []float64 { return append([]float64{first}, rest...) }
	return bench.Curve{X: from(0, c.X), Y: from(100, c.Y), Low: from(100, c.Low), High: from(100, c.High), Unit: c.Unit}
}

// addStrength adds the curve of one direction with its band.
func (p *Panel) addStrength(c bench.Curve, side *strengthSide, w *wording.Words) {
	if len(c.X) < 2 {
		return
	}
	p.Bands = append(p.Bands, Band{X: c.X, Low: c.Low, High: c.High, Colour: side.colour})
	p.Lines = append(p.Lines, Line{Name: w.Text(side.name), X: c.X, Y: c.Y, Colour: side.colour, Dash: side.direction == project.Upright})
}

// nameCurves says of the lines that they are curves, where bars were measured beside them.
func (p *Panel) nameCurves(w *wording.Words) {
	for i := range p.Lines {
		for j := range strengthSides {
			if side := &strengthSides[j]; p.Lines[i].Colour == side.colour {
				p.Lines[i].Name = w.Text(side.curve)
			}
		}
	}
}

// addFloor adds the least strength that is wanted in one direction.
func (p *Panel) addFloor(sheet *bench.LimitSheet, c bench.Curve, side *strengthSide, inMPa bool, w *wording.Words) {
	for i := range sheet.Limits {
		l := &sheet.Limits[i]
		if l.ID != side.limit || !l.Threshold.Known() || len(c.Y) == 0 {
			continue
		}
		level := l.Threshold.Value
		switch isFloor := l.Threshold.Unit == "MPa"; {
		case inMPa && !isFloor:
			level *= c.Y[0] / 100 // of the plain polymer, which the curve begins with
		case isFloor && !inMPa:
			continue
		}
		p.Levels = append(p.Levels, Level{Y: level, Label: w.Text(side.floorTitle), Dashed: true})
	}
}

// addStrengthPoints adds what bars of the plain polymer and of blends with the same powder
// broke at, with the ± with which each counts.
func (p *Panel) addStrengthPoints(doc *project.Project, s *bench.Sheet, chosen int, w *wording.Words) {
	for i := range strengthSides {
		side := &strengthSides[i]
		points := Points{Name: w.Text(side.name), Colour: side.colour, Marker: side.marker}
		for _, j := range s.Model.CountedPoints(chosen) {
			pt := &doc.Strength.Points[j]
			blend := doc.BlendByID(pt.Blend)
			mean, given := pt.Mean.Estimate()
			if !given || blend < 0 || pt.Direction != side.direction {
				continue
			}
			content, known := pointContent(pt, &s.Blends[blend])
			if !known || content > p.X.Max {
				continue
			}
			around := 2e-6 * strength.Point{Strength: mean.Value, StdU: mean.StdU, Spools: pt.Spools}.Uncertainty()
			points.X, points.Y = append(points.X, content), append(points.Y, mean.Value*1e-6)
			points.Labels = append(points.Labels, w.Say("picture.strength.measured", map[string]any{"Value": wording.Number{Value: mean.Value * 1e-6, Unit: "MPa", Digits: 3}}))
			points.LowErr, points.HighErr = append(points.LowErr, around), append(points.HighErr, around)
		}
		if len(points.X) > 0 {
			p.Points = append(p.Points, points)
		}
	}
}

// pointContent is the filler content of a point in wt%: entered, else that of its blend.
func pointContent(pt *project.StrengthPoint, b *bench.BlendSheet) (content float64, known bool) {
	if pt.Content.Given() {
		return 100 * pt.Content.SI(), true
	}
	r := b.Result(bench.FillerMassFraction)
	return r.Value, r.Known()
}

// highest is a round number above all curves, bands, levels and points of a panel, so that
// its Y axis can begin at zero.
func highest(p *Panel) float64 {
	most := 0.0
	for i := range p.Bands {
		for _, v := range p.Bands[i].High {
			most = math.Max(most, v)
		}
	}
	for _, l := range p.Levels {
		most = math.Max(most, l.Y)
	}
	for i := range p.Points {
		for j, v := range p.Points[i].Y {
			most = math.Max(most, v+p.Points[i].HighErr[j])
		}
	}
	return 1.05 * most
}
