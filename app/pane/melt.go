package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Melt is the pane of the melt: why it runs faster or slower.
type Melt struct {
	base
	verdict *control.Text
	facts   *control.Text
	right   beside
}

// NewMelt makes the pane.
func NewMelt(desk Desk) *Melt {
	p := &Melt{base: newBase(bench.PaneMelt, desk)}
	p.verdict = control.NewText("", control.Plain)
	picture := p.newPicture(func(v View) figure.Picture { return figure.Flow(v.Sheet, v.Chosen, desk.Words()) })
	p.facts = control.NewText("", control.Plain)
	basis := control.NewCard(p.text("pane.melt.basis"), "", p.facts)
	p.right = newBeside(control.NewCard("", "", picture), basis)
	p.split = control.NewSplit(p.column, p.right.Column)
	return p
}

// Show brings the pane up to date.
func (p *Melt) Show(v View) {
	p.take(v, p.keyOf(v), p.build)
	p.verdict.SetText(p.sentence())
	p.facts.SetText(p.factsText())
	p.refresh()
}

// keyOf changes when other inputs are needed: another blend or other polymers.
func (p *Melt) keyOf(v View) string {
	key := fmt.Sprint(v.Chosen, v.Project.Currency, polymers(v), p.desk.TextScale())
	if blend := v.Blend(); blend != nil {
		key += string(blend.ID)
	}
	return key
}

// polymers are the places in the project of the polymers of the blend at work.
func polymers(v View) []int {
	blend := v.Blend()
	if blend == nil {
		return nil
	}
	var list []int
	for _, part := range blend.Parts {
		if i := v.Project.MaterialByID(part.Material); i >= 0 && v.Project.Materials[i].Kind == material.Polymer {
			list = append(list, i)
		}
	}
	return list
}

func (p *Melt) build() {
	p.first = newQuantity(&p.base, "/melt/temperature", fieldLook{},
		func(d *project.Project) *quantity.Of[quantity.Temperature] { return &d.Melt.Temperature })
	sections := []fyne.CanvasObject{
		section(p.text("pane.melt.conditions"), p.first,
			newQuantity(&p.base, "/melt/residence", fieldLook{remark: p.text("pane.melt.residence_remark")},
				func(d *project.Project) *quantity.Of[quantity.Duration] { return &d.Melt.Residence })),
	}
	if chosen := p.view.Chosen; p.view.Blend() != nil {
		place := fmt.Sprintf("/blends/%d/measured_flow", chosen)
		measured := newQuantity(&p.base, place, fieldLook{label: p.text("field.blend.measured_flow"), remark: p.text("pane.melt.measured_remark")},
			func(d *project.Project) *quantity.Of[quantity.Factor] { return &d.Blends[chosen].MeasuredFlow })
		sections = append(sections, p.named(func() string { return p.view.Blend().Name }, p.verdict, measured))
	}
	for _, i := range polymers(p.view) {
		objects := []fyne.CanvasObject{newClass(&p.base, i)}
		for _, member := range []string{"moisture", "moisture_limit", "melt_density", "melt_range", "molar_mass"} {
			objects = append(objects, newProperty(&p.base, i, member))
		}
		sections = append(sections, p.named(func() string { return p.materialName(i) }, objects...))
	}
	p.column.SetObjects(p.right.place(p.desk.TextScale(), sections)...)
}

// sentence says in words what the melt does: the first note about it.
func (p *Melt) sentence() string {
	results := p.view.Results()
	if results == nil {
		return p.text("pane.no_blend")
	}
	for _, n := range results.Notes {
		if n.Pane == bench.PaneMelt && n.Severity != bench.Info || n.ID == "melt_measured" {
			return p.words().Say(n.Message())
		}
	}
	for _, n := range results.Notes {
		switch n.ID {
		case "melt_grains_dominate", "melt_water_dominates", "melt_oil_dominates":
			return p.words().Say(n.Message())
		}
	}
	return p.text("pane.melt.plain")
}

// factsText says what the estimate rests on, a line each, as far as it is known.
func (p *Melt) factsText() string {
	results := p.view.Results()
	if results == nil {
		return ""
	}
	var lines []string
	say := func(id string, f bench.Figure) {
		r := results.Result(f)
		if !r.Known() {
			return
		}
		lines = append(lines, p.words().Say(id, map[string]any{"Value": p.withInterval(r)}))
	}
	say("pane.melt.fact_powder", bench.FillerMeltFraction)
	say("pane.melt.fact_water_powder", bench.WaterFromPowder)
	say("pane.melt.fact_water_pellets", bench.WaterFromPellets)
	if r := results.Result(bench.MeltFlowWaterBound); r.Known() {
		lines = append(lines, p.words().Say("pane.melt.fact_bound", map[string]any{"Factor": wording.Number{Value: r.Value, Digits: 2}}))
	}
	if len(lines) == 0 {
		return p.text("pane.melt.fact_none")
	}
	return strings.Join(lines, "\n")
}
