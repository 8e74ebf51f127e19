package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Length shows how the metres on a full spool hang on the diameter of the
// strand, with the tolerance marked.
func Length(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.length.title"), Alt: w.Text("picture.length.alt"), Empty: w.Text("picture.length.empty")}
	mean := s.Model.Diameter()
	if chosen < 0 || chosen >= len(s.Blends) || !mean.Known() {
		return picture
	}
	nominal, half, limited := tolerance(p, mean.Value)
	low := min(nominal-2*half, mean.Low-half/2)
	high := max(nominal+2*half, mean.High+half/2)
	curve, ok := s.Model.LengthCurve(chosen, max(low, nominal/2), high)
	if !ok {
		return picture
	}
	panel := Panel{
		X:     Axis{Label: w.Text("picture.length.diameter"), Unit: "mm", Min: curve.X[0], Max: curve.X[len(curve.X)-1]},
		Y:     Axis{Label: w.Text("figure.length_per_spool"), Unit: "m"},
		Bands: []Band{{X: curve.X, Low: curve.Low, High: curve.High}},
		Lines: []Line{{X: curve.X, Y: curve.Y}},
	}
	if limited {
		panel.Marks = append(panel.Marks,
			Mark{X: nominal - half, Label: w.Text("picture.length.thinnest"), Dashed: true},
			Mark{X: nominal + half, Label: w.Text("picture.length.thickest"), Dashed: true})
	}
	if r := s.Blends[chosen].Result(bench.LengthPerSpool); r.Known() {
		panel.Points = []Points{{
			Name: s.Blends[chosen].Name, X: []float64{mean.Value}, Y: []float64{r.Value},
			LowErr: []float64{r.Value - r.Low}, HighErr: []float64{r.High - r.Value},
			Labels: []string{s.Blends[chosen].Name}, Colour: 3,
		}}
	}
	picture.Panels = []Panel{panel}
	return picture
}

// tolerance is the nominal diameter and the half width that the maker accepts,
// in mm; limited is false where none was given and a usual one spans the axis.
func tolerance(p *project.Project, mean float64) (nominal, half float64, limited bool) {
	const usualMM = 0.05
	nominal, half = mean, usualMM
	if e, ok := p.Spool.Diameter.Estimate(); ok {
		nominal = e.Value * 1e3
	}
	if e, ok := p.Spool.Tolerance.Estimate(); ok && e.Value > 0 {
		half, limited = e.Value*1e3, true
	}
	return nominal, half, limited
}
