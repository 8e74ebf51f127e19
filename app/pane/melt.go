package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Melt is the pane of the melt: why it runs faster or slower.
type Melt struct {
	base
	column  *control.Column
	split   *control.Split
	verdict *control.Text
	key     string
	first   *control.Field
}

// NewMelt makes the pane.
func NewMelt(desk Desk) *Melt {
	p := &Melt{base: base{desk: desk}, column: control.NewColumn(8)}
	p.verdict = control.NewText("", control.Plain)
	picture := p.newPicture(func(v View) figure.Picture { return figure.Flow(v.Sheet, v.Chosen, desk.Words()) })
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// ID names the pane.
func (p *Melt) ID() bench.Pane { return bench.PaneMelt }

// Object is what the window shows.
func (p *Melt) Object() fyne.CanvasObject { return p.split }

// Start focuses the melt temperature.
func (p *Melt) Start() {
	if p.first != nil {
		p.first.Focus()
	}
}

// Show brings the pane up to date.
func (p *Melt) Show(v View) {
	p.view = v
	if key := p.keyOf(v); key != p.key {
		p.key = key
		p.rebuild(p.build)
	}
	p.verdict.SetText(p.sentence())
	p.refresh()
}

// keyOf changes when other inputs are needed: another blend or polymer.
func (p *Melt) keyOf(v View) string {
	return fmt.Sprint(v.Chosen, mainPolymer(v), v.Project.Currency, len(v.Project.Blends))
}

// mainPolymer is the place in the project of the first polymer of the blend at
// work, or -1.
func mainPolymer(v View) int {
	if blend := v.Blend(); blend != nil {
		for _, part := range blend.Parts {
			if i := v.Project.MaterialByID(part.Material); i >= 0 && v.Project.Materials[i].Kind == material.Polymer {
				return i
			}
		}
	}
	return -1
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
		sections = append(sections, section(p.view.Blend().Name, p.verdict, measured))
	}
	if i := mainPolymer(p.view); i >= 0 {
		objects := []fyne.CanvasObject{newClass(&p.base, i)}
		for _, member := range []string{"moisture", "moisture_limit", "melt_density", "melt_range", "molar_mass"} {
			objects = append(objects, newProperty(&p.base, i, member))
		}
		sections = append(sections, section(p.view.Project.Materials[i].Name, objects...))
	}
	p.column.SetObjects(sections...)
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
