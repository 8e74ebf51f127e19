package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

// wetG is the mass that the picture of the preparation begins with, in g.
const wetG = 1000

// Preparation shows what is left of a wet kilogram after each step of its
// preparation, and in the last row what of it can be used.
func Preparation(m *material.Material, ps *bench.PowderSheet, w *wording.Words) Picture {
	p := Picture{
		Title: w.Text("picture.preparation.title"), Alt: w.Text("picture.preparation.alt"), Empty: w.Text("picture.preparation.empty"),
	}
	if m == nil || ps == nil || len(ps.Preparation.Steps) == 0 {
		return p
	}
	s := &ps.Preparation
	panel := Panel{X: Axis{Label: w.Text("picture.preparation.left"), Unit: "g", Min: 0, Max: wetG}}
	panel.Bars = []Bar{amountBar(Bar{Label: w.Text("picture.preparation.fetched"), Colour: InkMuted}, wetG, grams(wetG, w))}
	for i := range s.Steps {
		bar := stepBar(m.Powder.Preparation.Steps, i, &s.Steps[i], w)
		if bar.Known {
			panel.X.Max = max(panel.X.Max, bar.Likely)
		}
		panel.Bars = append(panel.Bars, bar)
	}
	panel.Bars = append(panel.Bars, usableBar(s, w))
	p.Panels = []Panel{panel}
	return p
}

// amountBar is a bar that counts from zero.
func amountBar(b Bar, value float64, text string) Bar {
	b.Low, b.Likely, b.High, b.Known, b.Filled, b.Text = value, value, value, true, true, text
	return b
}

func grams(g float64, w *wording.Words) string {
	return w.Say("picture.powder.value", map[string]any{"Value": wording.Number{Value: g, Unit: "g"}})
}

// stepBar is one step: its name or, without one, what is done in it.
func stepBar(steps []material.Step, i int, s *bench.StepSheet, w *wording.Words) Bar {
	b := Bar{Colour: 0}
	if i < len(steps) {
		b.Label = kindText(steps[i].Kind, w)
		if steps[i].Name != "" {
			b.Label, b.Sub = steps[i].Name, b.Label
		}
	}
	if !s.Known || !drawable(s.LeftG, false) {
		return unknownBar(b, w)
	}
	if s.Passes > 1 {
		b.Sub = w.Say("picture.preparation.passes", map[string]any{"Passes": wording.Number{Value: s.Passes, Digits: 2}})
	}
	return amountBar(b, s.LeftG, w.Say("picture.preparation.step", map[string]any{
		"Left": wording.Number{Value: s.LeftG, Unit: "g"}, "Yield": wording.Number{Value: s.Yield, Unit: "%", Digits: 2},
	}))
}

// kindText names what is done in a step.
func kindText(k material.StepKind, w *wording.Words) string {
	switch k {
	case material.Wash, material.Extract, material.Dry, material.Grind, material.Sift:
		return w.Text("picture.preparation." + string(k))
	}
	return w.Text("picture.preparation.own_step")
}

// usableBar is what the whole way leaves, with its range.
func usableBar(s *bench.PreparationSheet, w *wording.Words) Bar {
	b := Bar{Label: w.Text("picture.preparation.usable"), Sub: w.Text("picture.preparation.usable_sub"), Colour: 2, Strong: true, Filled: true}
	if !s.Yield.Known() {
		return unknownBar(b, w)
	}
	b = barOf(b, s.Yield, ranged(s.Yield, "%", 2, w), w)
	const perCent = wetG / 100
	b.Low, b.Likely, b.High = perCent*b.Low, perCent*b.Likely, perCent*b.High
	return b
}
