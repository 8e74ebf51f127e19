package bench

import (
	"math"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// powderNumber names a number that is derived for each powder from its bench.
// A later one may read earlier ones.
type powderNumber int

const (
	numEquilibrium powderNumber = iota // moisture in equilibrium with the store, dry basis
	numMoisture                        // as the powder goes into the line, wet basis
	numDensity                         // of the grain
	numBulk
	numTapped
	numHausner
	numPacking
	numYield
	numYieldOnce  // nothing ground again
	numYieldAgain // all oversize ground again
	numWetPerUsable
	numWater  // removed per usable mass
	numEnergy // J per usable kg
	numCost   // per usable kg
	numCostOnce
	numCostAgain
	numCostDry // per kg of dry powder
	powderNumbers
)

// powderPlan is one powder as the core sees it.
type powderPlan struct {
	material int
	first    at // of its derived numbers
	bench    powderBench

	// start reads the moisture on the wet basis before storage; nil while nothing
	// says it.
	start func(x []float64) float64

	// What Blend and Melt use: a derived number, or the property of the card.
	moisture, density, packing, price at
	bulk                              at // as poured
	finer                             at // share of its mass below the adhesion size

	firstDry, lastDry  at // moistures at the ends of the drying log, dry basis
	nowDry             at // lastDry, unless the maker sets it aside
	d10, d50, d90, top at
	grains             at // above the critical size, per kg of dry powder
	target             at // entered moisture to dry to
}

func (p *powderPlan) number(n powderNumber) at { return p.first + at(n) }

// powders plans every filler of the project. It runs before any other input is
// placed, because the derived numbers stand in front.
func (c *compiler) powders() {
	for i := range c.project.Materials {
		if c.project.Materials[i].Kind == material.Filler {
			first := at(len(c.model.derived))
			c.model.powders = append(c.model.powders, powderPlan{material: i, first: first})
			c.model.derived = append(c.model.derived, make([]derivation, powderNumbers)...)
		}
	}
	for k := range c.model.powders {
		c.powder(&c.model.powders[k])
	}
}

func (c *compiler) powder(plan *powderPlan) {
	m := &c.project.Materials[plan.material]
	plan.bench = newPowderBench(c.project, plan.material)
	plan.moisture = moistureInput(c, plan.material, m.Moisture)
	plan.density = of(c, plan.material, "density", m.Density)
	plan.packing = of(c, plan.material, "packing_limit", m.PackingLimit)
	plan.price = of(c, plan.material, "price", m.Price)
	plan.target = benchInput(c, plan, "/drying/target", Entered, m.Powder.Drying.Target)
	c.drying(plan)
	plan.start = plan.startMoisture()
	c.storage(plan)
	c.grain(plan)
	c.preparation(plan)
	c.sieving(plan)
	c.onPellets(plan)
	c.clogging(plan)
}

// derive sets one of the numbers of a powder.
func (c *compiler) derive(plan *powderPlan, n powderNumber, basis Basis, of func(x []float64) float64) {
	c.model.derived[plan.number(n)] = derivation{basis, of}
}

// benchInput places a quantity of a powder's bench.
func benchInput[D quantity.Dim](c *compiler, plan *powderPlan, below string, basis Basis, q quantity.Of[D]) at {
	return input(c, project.MaterialPointer(plan.material, "powder")+below, basis, q)
}

// weighed places a mass from the bench. One that comes without ± has that of
// the scale: anything within its smallest step.
func weighed(c *compiler, plan *powderPlan, below string, q quantity.Of[quantity.Mass]) at {
	e, given := q.Estimate()
	if !given {
		return absent
	}
	u := e.StdU
	if step, known := scaleStep(c.project).Estimate(); known && u == 0 {
		u = step.Value / math.Sqrt(12)
	}
	return c.place(project.MaterialPointer(plan.material, "powder")+below, Measured,
		uncertain.Input{Value: e.Value, UMinus: u, UPlus: u})
}

// constant places a number of the models that has an uncertainty of its own.
func (c *compiler) constant(plan *powderPlan, name string, value, uMinus, uPlus float64) at {
	pointer := name + " of " + string(c.project.Materials[plan.material].ID)
	return c.place(pointer, Estimated, uncertain.Input{Value: value, UMinus: uMinus, UPlus: uPlus})
}

// halfWidths are the standard uncertainties that make the interval of a value
// just low to high.
func halfWidths(value, low, high float64) (minus, plus float64) {
	return math.Max(0, value-low) / coverage, math.Max(0, high-value) / coverage
}

// damp is the moisture of the powder before storage, 0 while none is known.
func (plan *powderPlan) damp(x []float64) float64 {
	if plan.start == nil {
		return 0
	}
	moisture := plan.start(x)
	if !finite(moisture) {
		return 0
	}
	return moisture
}

// possible reports whether a derived number can be computed at the best
// estimates. One that cannot leaves the property of the card in its place, with
// a note that says why.
func (c *compiler) possible(plan *powderPlan, n powderNumber) bool {
	return finite(c.model.best()[plan.number(n)])
}

func orNaN(value float64, err error) float64 {
	if err != nil {
		return math.NaN()
	}
	return value
}
