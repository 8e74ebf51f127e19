package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// buildGrain is the density of grain and heap.
func (p *Filler) buildGrain(i int) []fyne.CanvasObject {
	mass := func(below string, at func(*material.Grain) *quantity.Of[quantity.Mass]) *control.Field {
		return benchField(p, i, "/grain/"+below, func(d *material.Powder) *quantity.Of[quantity.Mass] { return at(&d.Grain) })
	}
	volume := func(below string, at func(*material.Grain) *quantity.Of[quantity.Volume]) *control.Field {
		return benchField(p, i, "/grain/"+below, func(d *material.Powder) *quantity.Of[quantity.Volume] { return at(&d.Grain) })
	}
	full := mass("full", func(g *material.Grain) *quantity.Of[quantity.Mass] { return &g.Full })
	p.first = full
	return []fyne.CanvasObject{
		section(p.text("pane.filler.displacement"), control.NewCaption(p.text("pane.filler.displacement_remark")), control.NewPairs(8, full,
			mass("powder", func(g *material.Grain) *quantity.Of[quantity.Mass] { return &g.Powder }),
			mass("full_with_powder", func(g *material.Grain) *quantity.Of[quantity.Mass] { return &g.FullWithPowder }),
			benchField(p, i, "/grain/moisture", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Grain.Moisture }),
			benchField(p, i, "/grain/liquid_temperature", func(d *material.Powder) *quantity.Of[quantity.Temperature] { return &d.Grain.LiquidTemperature }),
			benchField(p, i, "/grain/liquid_density", func(d *material.Powder) *quantity.Of[quantity.Density] { return &d.Grain.LiquidDensity })),
			p.facts(func() []fact {
				if sheet := p.sheet(i); sheet != nil {
					return []fact{p.fact("pane.filler.grain_density", sheet.Grain.Density)}
				}
				return nil
			}),
			p.useBox(i, "/grain/density_set_aside", "pane.filler.use_density", func(d *material.Powder) *bool { return &d.Grain.DensitySetAside })),
		section(p.text("pane.filler.heap"), control.NewCaption(p.text("pane.filler.heap_remark")), control.NewPairs(8,
			mass("heap_mass", func(g *material.Grain) *quantity.Of[quantity.Mass] { return &g.HeapMass }),
			volume("heap_volume", func(g *material.Grain) *quantity.Of[quantity.Volume] { return &g.HeapVolume }),
			volume("tapped_volume", func(g *material.Grain) *quantity.Of[quantity.Volume] { return &g.TappedVolume })),
			p.facts(func() []fact { return p.heapFacts(i) }),
			p.useBox(i, "/grain/packing_set_aside", "pane.filler.use_packing", func(d *material.Powder) *bool { return &d.Grain.PackingSetAside })),
	}
}

func (p *Filler) heapFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	g := &sheet.Grain
	return []fact{
		p.fact("pane.filler.poured", g.Bulk), p.fact("pane.filler.tapped", g.Tapped),
		p.factWith("pane.filler.packing", g.Packing, below(p.text("pane.filler.packing_of"))), p.factWith("pane.filler.hausner", g.Hausner, below(p.text("pane.filler.hausner_of"))),
	}
}
