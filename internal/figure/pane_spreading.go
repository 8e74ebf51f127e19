package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Spreading shows the content of powder of each blend above what whole pellets and
// the pellets as entered carry, on one axis.
func Spreading(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.spreading.title"), Alt: w.Text("picture.spreading.alt"), Empty: w.Text("picture.spreading.empty")}
	if chosen < 0 || chosen >= len(s.Blends) || !s.Blends[chosen].Result(bench.PickUpLimit).Known() {
		return p
	}
	b := &s.Blends[chosen]
	panel := Panel{X: Axis{Label: w.Text("picture.spreading.content"), Unit: "wt%", Min: 0}}
	add := func(label, sub string, r bench.Result, colour int, filled, strong bool) {
		bar := barOf(Bar{Label: label, Sub: w.Text(sub), Colour: colour, Filled: filled, Strong: strong}, r, percentOf(r, w), w)
		panel.Bars = append(panel.Bars, bar)
		panel.X.Max = max(panel.X.Max, 1.15*bar.High)
	}
	add(w.Text("picture.spreading.whole"), "picture.spreading.whole_sub", b.Result(bench.PickUpLimitWhole), 0, false, false)
	if whole, entered := b.Result(bench.PickUpLimitWhole), b.Result(bench.PickUpLimit); whole != entered { // part of them is ground
		add(w.Text("picture.spreading.entered"), "picture.spreading.entered_sub", entered, 1, false, true)
	}
	for i := range s.Blends {
		if content := s.Blends[i].Loose(); s.Blends[i].Filled && s.Blends[i].Powder == b.Powder && content.Known() {
			add(s.Blends[i].Name, "picture.spreading.blend_sub", content, 2, true, i == chosen)
		}
	}
	p.Panels = []Panel{panel}
	return p
}

// percentOf writes a share in wt%.
func percentOf(r bench.Result, w *wording.Words) string {
	if !r.Known() {
		return ""
	}
	return w.Number(r.Value, 2) + " wt%"
}
