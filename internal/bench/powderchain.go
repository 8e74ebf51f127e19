package bench

import (
	"fillwright/internal/filler"
	"fillwright/internal/material"
)

// mostSteps is the longest preparation that a project can hold.
const mostSteps = 50

// chainPlan is the preparation of a powder as the core sees it.
type chainPlan struct {
	wet, wetPrice, transport at
	energyPrice, labour      at
	steps                    []stepPlan
	dryingHeat               at // J of the oven per kg of water that it removes
}

// fill writes the steps at x into steps. Where more or less oversize is ground again
// than was entered, energy and work of mill and sieve go with what passes them.
func (p *chainPlan) fill(steps []filler.Step, x []float64, mode regrind) []filler.Step {
	steps = steps[:0]
	load := 1.0
	for i := range p.steps {
		s := &p.steps[i]
		step := filler.Step{Yield: s.once(x), Recycled: s.share(x, mode), EnergyJ: p.energy(s, x)}
		if s.cost >= 0 {
			step.Cost = x[s.cost]
		}
		if s.time >= 0 {
			step.LabourS = x[s.time]
		}
		if entered := s.share(x, asEntered); step.Recycled != entered {
			load *= filler.RecycleLoad(step.Yield, step.Recycled) / filler.RecycleLoad(step.Yield, entered)
		}
		steps = append(steps, step)
	}
	if load != 1 {
		for i := range steps {
			if kind := p.steps[i].kind; kind == material.Grind || kind == material.Sift {
				steps[i].EnergyJ *= load
				steps[i].LabourS *= load
			}
		}
	}
	return steps
}

// before is the mass that reaches a step per wet mass.
func (p *chainPlan) before(to *stepPlan, x []float64) float64 {
	mass := 1.0
	for i := range p.steps {
		s := &p.steps[i]
		if s == to {
			break
		}
		mass *= s.once(x) * regroundGain(s, x)
	}
	return mass
}

// chainYield is usable mass per wet mass.
func (p *chainPlan) chainYield(x []float64, mode regrind) float64 {
	var buffer [mostSteps]filler.Step
	return filler.ChainYield(p.fill(buffer[:0], x, mode))
}

// yieldBasis is that of chainYield.
func (p *chainPlan) yieldBasis(mode regrind) Basis {
	basis := Measured
	for i := range p.steps {
		s := &p.steps[i]
		basis = weakest(basis, s.basis())
		if mode == asEntered && s.kind == material.Sift && s.remill >= 0 {
			basis = weakest(basis, Entered)
		}
	}
	return basis
}

// chainWater is the water that drying removes per usable mass, of which usable is
// the yield.
func (p *chainPlan) chainWater(x []float64, usable float64) float64 {
	water := 0.0
	for i := range p.steps {
		if s := &p.steps[i]; s.kind == material.Dry {
			water += p.before(s, x) * (1 - s.once(x))
		}
	}
	return water / usable
}

// preparation derives what the chain of preparation comes to.
func (c *compiler) preparation(plan *powderPlan) {
	prep := &c.project.Materials[plan.material].Powder.Preparation
	if len(prep.Steps) == 0 {
		return
	}
	chain := c.chain(plan, prep)
	plan.bench.chain = chain
	yields := map[powderNumber]regrind{numYield: asEntered, numYieldOnce: noneAgain, numYieldAgain: allAgain}
	for n, mode := range yields {
		c.derive(plan, n, chain.yieldBasis(mode), func(x []float64) float64 { return chain.chainYield(x, mode) })
	}
	usable, basis := plan.number(numYield), chain.yieldBasis(asEntered)
	c.derive(plan, numWetPerUsable, basis, func(x []float64) float64 { return 1 / x[usable] })
	c.derive(plan, numWater, basis, func(x []float64) float64 { return chain.chainWater(x, x[usable]) })
	c.derive(plan, numEnergy, chain.energyBasis(), func(x []float64) float64 { return chain.chainEnergy(x, x[usable]) })
	for n, mode := range map[powderNumber]regrind{numCost: asEntered, numCostOnce: noneAgain, numCostAgain: allAgain} {
		c.derive(plan, n, weakest(Entered, chain.energyBasis()), func(x []float64) float64 { return chain.chainCost(x, mode) })
	}
	cost := plan.number(numCost)
	c.derive(plan, numCostDry, weakest(Entered, chain.energyBasis()), func(x []float64) float64 {
		return x[cost] / (1 - plan.leaving(x))
	})
	if !prep.SetAside && c.possible(plan, numCostDry) {
		plan.price = plan.number(numCostDry)
	}
}

// leaving is the moisture on the wet basis of the powder as it comes off the last
// step: that after the last step that says one, which grinding, sieving and steps of
// the maker's own keep. Where washing, extraction or a drying that tells no moisture
// comes behind it nobody knows it, and that with which the powder is used stands in.
func (plan *powderPlan) leaving(x []float64) float64 {
	chain := plan.bench.chain
	if chain == nil {
		return plan.damp(x)
	}
	for i := len(chain.steps) - 1; i >= 0; i-- {
		s := &chain.steps[i]
		if out := s.out(x); finite(out) {
			return out
		}
		if s.kind == material.Wash || s.kind == material.Extract || s.kind == material.Dry {
			break
		}
	}
	return plan.damp(x)
}

// chain places the inputs of a preparation.
func (c *compiler) chain(plan *powderPlan, prep *material.Preparation) *chainPlan {
	heat, low, high := dryingHeatRange()
	minus, plus := halfWidths(heat, low, high)
	chain := &chainPlan{
		wet:         weighed(c, plan, "/preparation/wet_mass", prep.WetMass),
		wetPrice:    benchInput(c, plan, "/preparation/wet_price", Entered, prep.WetPrice),
		transport:   benchInput(c, plan, "/preparation/transport", Entered, prep.Transport),
		energyPrice: input(c, "/cost/energy_price", Entered, c.project.Cost.EnergyPrice),
		labour:      input(c, "/cost/labour", Entered, c.project.Cost.Labour),
		dryingHeat:  c.constant(plan, "drying heat", heat, minus, plus),
	}
	for i := range prep.Steps {
		chain.steps = append(chain.steps, c.step(plan, i, &prep.Steps[i]))
	}
	chain.takeLog(plan)
	if chain.wet < 0 {
		chain.wet = chain.steps[0].massIn // what went into the first step is what was fetched
	}
	return chain
}

// takeLog gives the drying log to the last drying step that lacks a yield, masses or
// one of its moistures: the log is of one stay in the oven, and what an earlier step
// dried is not in it.
func (p *chainPlan) takeLog(plan *powderPlan) {
	for i := len(p.steps) - 1; i >= 0; i-- {
		if s := &p.steps[i]; s.kind == material.Dry && s.from() == "" {
			s.logIn, s.logOut = plan.firstDry, plan.lastDry
			return
		}
	}
}

// sheets tells what each step does, for the table.
func (p *chainPlan) sheets(x []float64) []StepSheet {
	list := make([]StepSheet, len(p.steps))
	left := 1000.0 // g of a wet kilogram
	for i := range p.steps {
		s := &p.steps[i]
		once := s.once(x)
		list[i] = StepSheet{From: s.from(), Passes: 1}
		if share := s.share(x, asEntered); share > 0 {
			list[i].Passes = filler.RecycleLoad(once, share)
		}
		yield := once * list[i].Passes
		left *= yield
		if !finite(left) {
			list[i].Passes = 1
			continue
		}
		list[i].Known, list[i].Yield, list[i].LeftG = true, yield*100, left
	}
	return list
}
