package figure

import (
	"cmp"
	"slices"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

const (
	lawPoints     = 40  // of a fitted law, on the sieves and on either side of them
	belowFinest   = 0.7 // the axis begins at this share of the finest sieve
	beyondLargest = 1.3 // and ends at this multiple of the largest size on it
)

// sizeLaws names the fitted laws.
var sizeLaws = map[string]string{
	"rosin_rammler_line": "picture.sieving.rosin_rammler_line",
	"rosin_rammler":      "picture.sieving.rosin_rammler",
	"log_normal":         "picture.sieving.log_normal",
}

// Sieving shows the share of the powder's mass that passes each sieve, the laws
// fitted to it, and the sizes that matter to the nozzle.
func Sieving(m *material.Material, ps *bench.PowderSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.sieving.title"), Alt: w.Text("picture.sieving.alt"), Empty: w.Text("picture.sieving.empty")}
	if m == nil || ps == nil || !ps.Sieving.Known {
		return p
	}
	passed := passingPoints(m, &ps.Sieving)
	if len(passed) == 0 {
		return p
	}
	panel := Panel{
		X:     Axis{Label: w.Text("picture.sieving.size"), Unit: micrometre, Log: true},
		Y:     Axis{Label: w.Text("picture.sieving.passing"), Unit: "%", Min: 0, Max: 100},
		Marks: sizeMarks(ps, w),
	}
	panel.X.Min, panel.X.Max = sizeSpan(passed, panel.Marks)
	finest, coarsest := passed[0].um, passed[len(passed)-1].um
	for i := range ps.Sieving.Fits {
		if f := &ps.Sieving.Fits[i]; f.Known {
			panel.addLaw(f, i == ps.Sieving.Best, finest, coarsest, i+1)
			p.Legend = append(p.Legend, lawItem(f, i == ps.Sieving.Best, i+1, w))
		}
	}
	panel.addPassing(passed)
	p.Panels = []Panel{panel}
	return p
}

// passing is one sieve with the share that passes it.
type passing struct{ um, percent float64 }

// passingPoints are the sieves with a known passing, fine first.
func passingPoints(m *material.Material, s *bench.SievingSheet) []passing {
	var out []passing
	for i := range min(len(s.Rows), len(m.Powder.Sieving.Sieves)) {
		opening, given := m.Powder.Sieving.Sieves[i].Opening.Estimate()
		if row := &s.Rows[i]; given && row.Known && drawable(1e6*opening.Value, true) && finite(row.PassingPercent) {
			out = append(out, passing{1e6 * opening.Value, row.PassingPercent})
		}
	}
	slices.SortStableFunc(out, func(a, b passing) int { return cmp.Compare(a.um, b.um) })
	return out
}

// sizeMarks are the sizes that decide whether a grain gets through the nozzle.
func sizeMarks(ps *bench.PowderSheet, w *wording.Words) []Mark {
	var marks []Mark
	add := func(known bool, um float64, id string, strong bool) {
		if known && drawable(um, true) {
			marks = append(marks, Mark{X: um, Label: sized(id, um, w), Strong: strong, Dashed: !strong})
		}
	}
	c := &ps.Clogging
	add(c.Critical.Known(), c.Critical.Value, "picture.sieving.critical", true)
	add(ps.Sieving.Top.Known(), ps.Sieving.Top.Value, "picture.sieving.top", false)
	add(c.Nozzle.Known(), 1e3*c.Nozzle.Value, "picture.sieving.bore", false)
	return marks
}

// sizeSpan is an axis that holds every sieve and every mark.
func sizeSpan(passed []passing, marks []Mark) (low, high float64) {
	low, high = passed[0].um, passed[len(passed)-1].um
	for _, m := range marks {
		low, high = min(low, m.X), max(high, m.X)
	}
	return belowFinest * low, beyondLargest * high
}

// addLaw draws a fitted law: whole over the sieves that it was fitted to, dashed beyond them.
func (p *Panel) addLaw(f *bench.SizeFit, best bool, finest, coarsest float64, colour int) {
	width := 1.5
	if best {
		width = 2.5
	}
	for _, part := range []struct {
		low, high float64
		dash      bool
	}{{p.X.Min, finest, true}, {finest, coarsest, false}, {coarsest, p.X.Max, true}} {
		if !(part.high > part.low) {
			continue
		}
		l := Line{X: even(part.low, part.high, lawPoints, true), Colour: colour, Dash: part.dash, Width: width}
		for _, um := range l.X {
			l.Y = append(l.Y, f.Passing(um))
		}
		p.Lines = append(p.Lines, l)
	}
}

// lawItem names a law in the legend, where the lines lie too close for names of their own.
func lawItem(f *bench.SizeFit, best bool, colour int, w *wording.Words) LegendItem {
	text := oneOf(sizeLaws, f.ID, w)
	if best {
		text = w.Say("picture.sieving.best", map[string]any{"Law": text})
	}
	return LegendItem{Text: text, Swatch: SwatchLine, Colour: colour}
}

// addPassing draws the sieves, joined by straight lines on this axis.
func (p *Panel) addPassing(passed []passing) {
	points := Points{Colour: 0}
	for _, s := range passed {
		points.X, points.Y = append(points.X, s.um), append(points.Y, s.percent)
	}
	p.Points = []Points{points}
	p.Lines = append(p.Lines, Line{X: points.X, Y: points.Y, Colour: 0, Width: 1})
}
