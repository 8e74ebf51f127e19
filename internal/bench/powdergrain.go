package bench

import (
	"fillwright/internal/filler"
	"fillwright/internal/material"
)

// grain derives the densities of grain and heap, and the packing limit.
func (c *compiler) grain(plan *powderPlan) {
	g := &c.project.Materials[plan.material].Powder.Grain
	c.grainDensity(plan, g)
	mass := weighed(c, plan, "/grain/heap_mass", g.HeapMass)
	volume := benchInput(c, plan, "/grain/heap_volume", Measured, g.HeapVolume)
	tapped := benchInput(c, plan, "/grain/tapped_volume", Measured, g.TappedVolume)
	heap := func(n powderNumber, volume at) {
		if mass >= 0 && volume >= 0 {
			c.derive(plan, n, Measured, func(x []float64) float64 {
				density, err := filler.DryBulkDensity(x[mass], x[volume], plan.damp(x))
				return orNaN(density, err)
			})
		}
	}
	heap(numBulk, volume)
	heap(numTapped, tapped)
	if mass < 0 || tapped < 0 {
		return
	}
	bulk, dense, density := plan.number(numBulk), plan.number(numTapped), plan.density
	c.derive(plan, numHausner, Measured, func(x []float64) float64 { return x[dense] / x[bulk] })
	if density < 0 {
		return
	}
	c.derive(plan, numPacking, weakest(Measured, c.basisAt(density)), func(x []float64) float64 {
		packing, err := filler.PackingOf(x[dense], 0, x[density])
		return orNaN(packing.Limit, err)
	})
	if !g.PackingSetAside && c.possible(plan, numPacking) {
		plan.packing = plan.number(numPacking)
	}
}

func (c *compiler) grainDensity(plan *powderPlan, g *material.Grain) {
	full, powder := weighed(c, plan, "/grain/full", g.Full), weighed(c, plan, "/grain/powder", g.Powder)
	both := weighed(c, plan, "/grain/full_with_powder", g.FullWithPowder)
	liquid := benchInput(c, plan, "/grain/liquid_density", Entered, g.LiquidDensity)
	temperature := benchInput(c, plan, "/grain/liquid_temperature", Measured, g.LiquidTemperature)
	if full < 0 || powder < 0 || both < 0 || liquid < 0 && temperature < 0 {
		return
	}
	c.derive(plan, numDensity, Measured, func(x []float64) float64 {
		d := filler.Displacement{FilledKg: x[full], PowderKg: x[powder], TogetherKg: x[both], MoistureWet: plan.damp(x)}
		if liquid >= 0 {
			d.LiquidKgM3 = x[liquid]
		} else {
			d.LiquidKgM3 = filler.WaterDensity(x[temperature])
		}
		density, err := d.GrainDensity()
		return orNaN(density, err)
	})
	if !g.DensitySetAside && c.possible(plan, numDensity) {
		plan.density = plan.number(numDensity)
	}
}
