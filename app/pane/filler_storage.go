package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// buildStorage is the air that the dry powder lies in, and what it takes up.
func (p *Filler) buildStorage(i int) []fyne.CanvasObject {
	open := benchField(p, i, "/storage/open_time", func(d *material.Powder) *quantity.Of[quantity.Duration] { return &d.Storage.OpenTime })
	p.first = open
	return []fyne.CanvasObject{
		section(p.text("pane.filler.store"), control.NewPairs(8, open,
			benchField(p, i, "/storage/humidity", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Storage.Humidity }),
			benchField(p, i, "/storage/temperature", func(d *material.Powder) *quantity.Of[quantity.Temperature] { return &d.Storage.Temperature }),
			benchField(p, i, "/storage/uptake_time", func(d *material.Powder) *quantity.Of[quantity.Duration] { return &d.Storage.UptakeTime })),
			p.lines(func() []string { return p.storeOpen(i) }), p.facts(func() []fact { return p.storeFacts(i) })),
		section(p.text("pane.filler.isotherm"), control.NewCaption(p.text("pane.filler.isotherm_remark")), control.NewPairs(8,
			benchField(p, i, "/storage/equilibrium", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Storage.Equilibrium }),
			benchField(p, i, "/storage/monolayer", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Storage.Monolayer }),
			benchField(p, i, "/storage/gab_c", func(d *material.Powder) *quantity.Of[quantity.Factor] { return &d.Storage.GABC }),
			benchField(p, i, "/storage/gab_k", func(d *material.Powder) *quantity.Of[quantity.Factor] { return &d.Storage.GABK }))),
	}
}

// equilibriumTexts say what an equilibrium moisture rests on.
var equilibriumTexts = map[string]string{
	"measured": "pane.filler.equilibrium_measured", "gab": "pane.filler.equilibrium_gab", "wood": "pane.filler.equilibrium_wood",
}

// storeOpen says what is missing while nothing tells what the powder takes up.
func (p *Filler) storeOpen(i int) []string {
	if sheet := p.sheet(i); sheet != nil && !sheet.Storage.Equilibrium.Known() {
		return []string{p.text("pane.filler.equilibrium_open")}
	}
	return nil
}

func (p *Filler) storeFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	s := &sheet.Storage
	var facts []fact
	if from, known := equilibriumTexts[s.From]; known {
		facts = p.moistures("equilibrium", s.Equilibrium, s.EquilibriumDry, below(p.text(from)))
	}
	used := ""
	if fed, is := sheet.Fed("moisture"); is && fed.Used {
		used = below(p.text("pane.filler.after_used"))
	}
	return append(facts, p.fact("pane.filler.uptake", s.Uptake), p.factWith("pane.filler.after", s.After, used))
}
