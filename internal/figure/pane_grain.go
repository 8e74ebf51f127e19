package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Grain shows the densities of the powder on one axis: as poured, as tapped,
// and that of the grain itself, which the heap fills to the packing limit.
func Grain(ps *bench.PowderSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.grain.title"), Alt: w.Text("picture.grain.alt"), Empty: w.Text("picture.grain.empty")}
	if ps == nil {
		return p
	}
	g := &ps.Grain
	if !g.Bulk.Known() && !g.Tapped.Known() && !g.Density.Known() {
		return p
	}
	poured := Bar{Label: w.Text("picture.grain.poured"), Sub: w.Text("picture.grain.poured_sub"), Colour: 0}
	tapped := Bar{Label: w.Text("picture.grain.tapped"), Sub: w.Text("picture.grain.tapped_sub"), Colour: 1}
	if g.Packing.Known() {
		tapped.Sub = w.Say("picture.grain.packing", map[string]any{"Packing": wording.Number{Value: g.Packing.Value, Unit: "vol%", Digits: 2}})
	}
	solid := Bar{Label: w.Text("picture.grain.solid"), Sub: w.Text("picture.grain.solid_sub"), Colour: 2, Strong: true}
	panel := Panel{X: Axis{Label: w.Text("picture.grain.density"), Unit: "g/cm³"}}
	panel.Bars = []Bar{densityBar(poured, g.Bulk, w), densityBar(tapped, g.Tapped, w), densityBar(solid, g.Density, w)}
	p.Panels = []Panel{panel}
	return p
}

// densityBar counts from zero, with the range of the density at its end.
func densityBar(b Bar, r bench.Result, w *wording.Words) Bar {
	const decimals = 2 // g/cm³; a heap is not known better
	b.Filled = true
	text := w.Fixed(r.Value, decimals)
	if low, high := w.Fixed(r.Low, decimals), w.Fixed(r.High, decimals); low != high {
		text = w.Say("picture.powder.ranged", map[string]any{"Value": text, "Low": low, "High": high})
	}
	return barOf(b, r, text, w)
}
