package figure

import (
	"fmt"
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// TemperatureWindow shows what each part of a blend says about the melt temperature, the
// window that is left, and the temperatures that are set.
func TemperatureWindow(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.window.title"), Alt: w.Text("picture.window.alt"), Empty: w.Text("picture.window.empty")}
	if chosen < 0 || chosen >= len(s.Blends) {
		return out
	}
	panel := Panel{X: Axis{Label: w.Text("picture.window.temperature"), Unit: "°C"}}
	for _, part := range p.Blends[chosen].Parts {
		panel.addHeat(&p.Materials[p.MaterialByID(part.Material)], &s.Blends[chosen].Melt.Window, w)
	}
	if len(panel.Bars) == 0 {
		return out
	}
	window := &s.Blends[chosen].Melt.Window
	if window.Low.Known() && window.High.Known() && !window.Empty {
		panel.Bars = append(panel.Bars, heatBar(w.Text("picture.window.window"), w.Text("picture.window.window_sub"), window.Low.Value, window.High.Value, 3, w))
		panel.Bars[len(panel.Bars)-1].Strong = true
	}
	panel.heatMarks(p, s.Blends[chosen].Result(bench.TemperatureMargin), w)
	panel.spanHeat()
	out.Panels = []Panel{panel}
	if curve, known := flowPanel(&s.Blends[chosen], panel.X, w); known {
		out.Panels = append(out.Panels, curve)
	}
	return out
}

// flowPanel is the melt flow rate over the temperature, by the law of viscosity of its
// polymer scaled to the rate of the blend, which is marked.
func flowPanel(b *bench.BlendSheet, x Axis, w *wording.Words) (Panel, bool) {
	const points = 40
	rate := b.Result(bench.MeltFlowRate)
	celsius, rates := b.Melt.Flow(points)
	if len(rates) == 0 || !rate.Known() || !b.Melt.RateAt.Known() {
		return Panel{}, false
	}
	scaled := func(by float64) []float64 {
		list := make([]float64, len(rates))
		for i := range rates {
			list[i] = rates[i] * by / rate.Value
		}
		return list
	}
	return Panel{
		Share: 0.9, Spare: true,
		X:     Axis{Label: x.Label, Unit: x.Unit, Min: celsius[0], Max: celsius[len(celsius)-1]},
		Y:     Axis{Label: w.Say("picture.window.rate", map[string]any{"Load": wording.Number{Value: b.Melt.RateLoad.Value, Unit: b.Melt.RateLoad.Unit}}), Unit: wording.Unit(rate.Unit), Log: true},
		Bands: []Band{{X: celsius, Low: scaled(rate.Low), High: scaled(rate.High)}},
		Lines: []Line{{X: celsius, Y: rates}},
		Points: []Points{{
			Name: b.Name, X: []float64{b.Melt.RateAt.Value}, Y: []float64{rate.Value},
			LowErr: []float64{rate.Value - rate.Low}, HighErr: []float64{rate.High - rate.Value}, Colour: 3,
		}},
	}, true
}

const kelvin = 273.15

// addHeat adds what one material says: its usual ranges, and its onset less the margin.
func (p *Panel) addHeat(m *material.Material, window *bench.WindowSheet, w *wording.Words) {
	name := m.Name
	if name == "" {
		name = string(m.ID)
	}
	if r, given := m.MeltRange.Estimate(); given && m.Kind == material.Polymer && r.High > r.Low {
		p.Bars = append(p.Bars, heatBar(name, w.Text("picture.window.melt"), r.Low-kelvin, r.High-kelvin, 0, w))
	}
	if r, given := m.PrintRange.Estimate(); given && m.Kind == material.Polymer && r.High > r.Low {
		p.Bars = append(p.Bars, heatBar(name, w.Text("picture.window.print"), r.Low-kelvin, r.High-kelvin, 1, w))
	}
	if onset, given := m.Onset.Estimate(); given && window.Margin.Known() && onset.Low-kelvin < mostOnset {
		low := onset.Low - kelvin - window.Margin.Value
		p.Bars = append(p.Bars, heatBar(name, w.Text("picture.window.onset"), low, onset.Low-kelvin, 2, w))
	}
}

// mostOnset leaves out onsets that are far from any melt, in °C.
const mostOnset = 350

// heatBar is a range of temperatures, of which none is the likely one.
func heatBar(label, sub string, low, high float64, colour int, w *wording.Words) Bar {
	return Bar{
		Label: label, Sub: sub, Low: low, High: high, Likely: math.NaN(), Known: true, Colour: colour,
		Text: fmt.Sprintf("%s–%s °C", w.Fixed(low, 0), w.Fixed(high, 0)),
	}
}

// heatMarks are the temperatures that are set: of melt, with its margin, zones and nozzle.
func (p *Panel) heatMarks(d *project.Project, margin bench.Result, w *wording.Words) {
	if e, given := d.Melt.Temperature.Estimate(); given {
		p.Marks = append(p.Marks, Mark{X: e.Value - kelvin, Label: meltLabel(margin, w), Strong: true})
	}
	p.zoneMarks(d.Line.Zones, w)
	if e, given := d.Print.Temperature.Estimate(); given {
		p.Marks = append(p.Marks, Mark{X: e.Value - kelvin, Label: w.Text("picture.window.set_nozzle"), Dashed: true})
	}
}

// meltLabel names the mark of the melt temperature, with what is left to the upper end
// of the window.
func meltLabel(margin bench.Result, w *wording.Words) string {
	if !margin.Known() {
		return w.Text("picture.window.set_melt")
	}
	id := "picture.window.set_melt_below"
	if margin.Value < 0 {
		id = "picture.window.set_melt_above"
	}
	return w.Say(id, map[string]any{"Margin": w.Fixed(math.Abs(margin.Value), 0) + " K"})
}

// zoneMarks are the set points of the zones, one for those that are set alike.
func (p *Panel) zoneMarks(zones []quantity.Of[quantity.Temperature], w *wording.Words) {
	var set []float64
	numbers := map[float64][]int{}
	for i, zone := range zones {
		e, given := zone.Estimate()
		if !given {
			continue
		}
		if numbers[e.Value] == nil {
			set = append(set, e.Value)
		}
		numbers[e.Value] = append(numbers[e.Value], i+1)
	}
	for _, temperature := range set {
		label := w.Say("picture.window.set_zones", map[string]any{"Count": len(numbers[temperature]), "Zones": numbers[temperature]})
		p.Marks = append(p.Marks, Mark{X: temperature - kelvin, Label: label, Dashed: true})
	}
}

// spanHeat lets the axis hold every bar and mark.
func (p *Panel) spanHeat() {
	low, high := p.Bars[0].Low, p.Bars[0].High
	for _, b := range p.Bars {
		low, high = min(low, b.Low), max(high, b.High)
	}
	for _, m := range p.Marks {
		low, high = min(low, m.X), max(high, m.X)
	}
	p.X.Min, p.X.Max = low-5, high+5
}
