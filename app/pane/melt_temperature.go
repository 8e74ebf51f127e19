package pane

import (
	"math"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// buildTemperature is the window of temperatures, and how the pellets are dried.
func (p *Melt) buildTemperature() []fyne.CanvasObject {
	p.first = newQuantity(&p.base, "/print/temperature", fieldLook{label: p.text("field.print.temperature"), hint: p.text("hint.print.temperature")},
		func(d *project.Project) *temperature { return &d.Print.Temperature })
	objects := []fyne.CanvasObject{
		section(p.text("pane.melt.window"), p.lines(func() []string { return p.windowWords() }), p.facts(func() []fact { return p.windowFacts() }),
			control.NewCaption(p.text("pane.melt.window_remark"))),
		section(p.text("pane.melt.nozzle"), p.first, control.NewCaption(p.text("pane.melt.nozzle_remark"))),
	}
	for _, i := range polymers(p.view) {
		var fields []fyne.CanvasObject
		for _, member := range meltProperties[sectionTemperature] {
			fields = append(fields, newProperty(&p.base, i, member))
		}
		objects = append(objects, p.named(func() string { return p.materialName(i) }, control.NewPairs(8, fields...)))
	}
	return objects
}

// windowWords say whether the melt is within its window, with the margin in kelvin.
func (p *Melt) windowWords() []string {
	results := p.view.Results()
	if results == nil {
		return []string{p.text("pane.no_blend")}
	}
	w, margin := &results.Melt.Window, results.Result(bench.TemperatureMargin)
	said := map[string]any{"Margin": p.words().Fixed(math.Abs(margin.Value), decimalsOf(margin)) + " K"}
	switch {
	case w.Empty:
		return []string{p.text("pane.melt.window_empty")}
	case !margin.Known():
		return []string{p.text("pane.melt.window_open")}
	case margin.Value < 0:
		return []string{p.words().Say("pane.melt.window_above", said)}
	case margin.Low < 0:
		return []string{p.words().Say("pane.melt.window_near", said)}
	}
	return []string{p.words().Say("pane.melt.window_below", said)}
}

func (p *Melt) windowFacts() []fact {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	w := &results.Melt.Window
	high := ""
	switch {
	case w.HighOf < 0:
	case w.ByOnset:
		high = below(p.words().Say("pane.melt.high_by_onset", map[string]any{"Material": p.partName(w.HighOf), "Margin": digits(w.Margin.Value, "K", 2)}))
	default:
		high = below(p.words().Say("pane.melt.by_range", map[string]any{"Material": p.partName(w.HighOf)}))
	}
	low := ""
	if w.LowOf >= 0 {
		low = below(p.words().Say("pane.melt.by_range", map[string]any{"Material": p.partName(w.LowOf)}))
	}
	return []fact{
		p.factWith("pane.melt.window_low", w.Low, low), p.factWith("pane.melt.window_high", w.High, high),
		p.factWith("figure.temperature_margin", p.result(bench.TemperatureMargin), ""),
		p.factWith("pane.melt.severity", w.Severity, below(p.text("pane.melt.severity_remark"))),
	}
}

// partName is the name of a part of the blend at work.
func (p *Melt) partName(part int) string {
	blend := p.view.Blend()
	if blend == nil || part >= len(blend.Parts) {
		return ""
	}
	return p.materialName(p.view.Project.MaterialByID(blend.Parts[part].Material))
}
