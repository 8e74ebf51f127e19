package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// grain derives the densities of grain and heap, and the packing limit.
func (c *compiler) grain(plan *powderPlan) {
	g := &c.project.Materials[plan.material].Powder.Grain
	water := c.waterWhenWeighed(plan, g)
	c.grainDensity(plan, g, water)
	tapped := c.heapDensities(plan, g, water)
	if !tapped || plan.density < 0 {
		return
	}
	dense, density := plan.number(numTapped), plan.density
	c.derive(plan, numPacking, weakest(c.basisAt(dense), c.basisAt(density)), func(x []float64) float64 {
		limit, err := filler.PackingLimit(x[dense], x[density])
		return orNaN(limit, err)
	})
	if !g.PackingSetAside && c.possible(plan, numPacking) {
		plan.packing = plan.number(numPacking)
	}
}

// weighedWater is the water in the powder that went onto the scale and into the
// cylinder, per wet mass. It is a number of its own: that powder need not be as wet
// as the powder of the last run in the oven, or as the card says.
type weighedWater func(x []float64) float64

// waterWhenWeighed places the moisture of the powder that was weighed, which is
// measured as the masses are. Where none is given the powder was weighed dry.
func (c *compiler) waterWhenWeighed(plan *powderPlan, g *material.Grain) weighedWater {
	e, given := g.Moisture.Estimate()
	if !given {
		return func([]float64) float64 { return 0 }
	}
	in := uncertain.Input{Value: e.Value, UMinus: e.StdU, UPlus: e.StdU}
	if e.Value == 0 {
		in.UMinus = 0 // nothing holds less water than none
	}
	moisture := c.place(project.MaterialPointer(plan.material, "powder")+"/grain/moisture", Measured, in)
	return func(x []float64) float64 { return math.Max(0, x[moisture]) }
}

// heapDensities derives the densities of the heap, poured and tapped, and tells
// whether there is a tapped one.
func (c *compiler) heapDensities(plan *powderPlan, g *material.Grain, water weighedWater) (tapped bool) {
	mass := weighed(c, plan, "/grain/heap_mass", g.HeapMass)
	loose := cylinder(c, plan, "/grain/heap_volume", g.HeapVolume)
	dense := cylinder(c, plan, "/grain/tapped_volume", g.TappedVolume)
	if mass < 0 {
		return false
	}
	heap := func(n powderNumber, volume at) {
		if volume < 0 {
			return
		}
		c.derive(plan, n, Measured, func(x []float64) float64 {
			density, err := filler.DryBulkDensity(x[mass], x[volume], water(x))
			return orNaN(density, err)
		})
	}
	heap(numBulk, loose)
	heap(numTapped, dense)
	if loose >= 0 && dense >= 0 { // mass and water cancel
		c.derive(plan, numHausner, Measured, func(x []float64) float64 { return x[loose] / x[dense] })
	}
	return dense >= 0
}

// cylinder places a volume that was read off a measuring cylinder. One that comes
// without ± is known to its last digit: anything within half a unit of it.
func cylinder(c *compiler, plan *powderPlan, below string, q quantity.Of[quantity.Volume]) at {
	e, given := q.Estimate()
	if !given {
		return absent
	}
	u := readTo(q)
	return c.place(project.MaterialPointer(plan.material, "powder")+below, Measured,
		uncertain.Input{Value: e.Value, UMinus: u, UPlus: u})
}

// grainDensity derives the density of the grains from what they displace. It is no
// better founded than the density of the liquid where that was typed.
func (c *compiler) grainDensity(plan *powderPlan, g *material.Grain, water weighedWater) {
	full, powder := weighed(c, plan, "/grain/full", g.Full), weighed(c, plan, "/grain/powder", g.Powder)
	both := weighed(c, plan, "/grain/full_with_powder", g.FullWithPowder)
	density, basis := c.liquid(plan, g)
	if full < 0 || powder < 0 || both < 0 || density == nil {
		return
	}
	c.derive(plan, numDensity, basis, func(x []float64) float64 {
		d := filler.Displacement{
			FilledKg: x[full], PowderKg: x[powder], TogetherKg: x[both],
			LiquidKgM3: density(x), MoistureWet: water(x),
		}
		grain, err := d.GrainDensity()
		return orNaN(grain, err)
	})
	if !g.DensitySetAside && c.possible(plan, numDensity) {
		plan.density = plan.number(numDensity)
	}
}

// liquid is the density of what the grains displace: the one that was typed, or
// that of water as warm as it was; nil while nothing says it.
func (c *compiler) liquid(plan *powderPlan, g *material.Grain) (density func(x []float64) float64, basis Basis) {
	typed := benchInput(c, plan, "/grain/liquid_density", Entered, g.LiquidDensity)
	temperature := benchInput(c, plan, "/grain/liquid_temperature", Measured, g.LiquidTemperature)
	switch {
	case typed >= 0:
		return func(x []float64) float64 { return x[typed] }, c.basisAt(typed)
	case temperature >= 0:
		return func(x []float64) float64 { return filler.WaterDensity(x[temperature]) }, c.basisAt(temperature)
	}
	return nil, Measured
}
