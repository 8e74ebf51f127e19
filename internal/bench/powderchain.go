package bench

import (
	"fmt"
	"math"

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

// stepPlan is one step. Its yield comes from the first that is given.
type stepPlan struct {
	kind                       material.StepKind
	yield, massIn, massOut     at
	moistureIn, moistureOut    at // wet basis
	logIn, logOut              at // of the drying log, dry basis
	energy, cost, time, remill at
}

// from names what the yield of a step comes from; empty for nothing.
func (s *stepPlan) from() string {
	switch {
	case s.yield >= 0:
		return "yield"
	case s.massIn >= 0 && s.massOut >= 0:
		return "masses"
	case s.moistureIn >= 0 && s.moistureOut >= 0:
		return "moistures"
	case s.logIn >= 0 && s.logOut >= 0:
		return "log"
	}
	return ""
}

// basis is that of the yield of a step in one go.
func (s *stepPlan) basis() Basis {
	switch s.from() {
	case "yield", "moistures":
		return Entered
	}
	return Measured
}

// once is the yield of a step in one go, NaN where nothing says it.
func (s *stepPlan) once(x []float64) float64 {
	switch s.from() {
	case "yield":
		return x[s.yield]
	case "masses":
		return x[s.massOut] / x[s.massIn]
	case "moistures":
		return filler.DryingYield(x[s.moistureIn], x[s.moistureOut])
	case "log":
		return filler.DryingYield(filler.WetBasis(x[s.logIn]), filler.WetBasis(x[s.logOut]))
	}
	return math.NaN()
}

// regrind says how much of the oversize is ground again.
type regrind int

const (
	asEntered regrind = iota
	noneAgain
	allAgain
)

// share is the part of the oversize of a step that is ground again.
func (s *stepPlan) share(x []float64, mode regrind) float64 {
	switch {
	case s.kind != material.Sift || mode == noneAgain:
		return 0
	case mode == allAgain:
		return 1
	case s.remill < 0:
		return 0
	}
	return x[s.remill]
}

// fill writes the steps at x into steps, and returns them with how much more
// passes mill and sieve than was entered.
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

// regroundGain is by how much grinding oversize again raises the yield of a step.
func regroundGain(s *stepPlan, x []float64) float64 {
	share := s.share(x, asEntered)
	if share == 0 {
		return 1
	}
	return filler.RecycleLoad(s.once(x), share)
}

// possible reports whether anything comes out of a step, and no more than went in
// where oversize is ground again.
func (s *stepPlan) possible(x []float64) bool {
	yield := s.once(x) * regroundGain(s, x)
	return finite(yield) && yield > 0
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
// step: that of the last step that says one, else that which it had when it was used.
func (plan *powderPlan) leaving(x []float64) float64 {
	if chain := plan.bench.chain; chain != nil {
		for i := len(chain.steps) - 1; i >= 0; i-- {
			if out := chain.steps[i].out(x); finite(out) {
				return out
			}
		}
	}
	return plan.damp(x)
}

// out is the moisture on the wet basis after a step; NaN where it says none.
func (s *stepPlan) out(x []float64) float64 {
	switch {
	case s.moistureOut >= 0:
		return x[s.moistureOut]
	case s.from() == "log":
		return filler.WetBasis(math.Max(0, x[s.logOut]))
	}
	return math.NaN()
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
	if chain.wet < 0 {
		chain.wet = chain.steps[0].massIn // what went into the first step is what was fetched
	}
	return chain
}

func (c *compiler) step(plan *powderPlan, i int, s *material.Step) stepPlan {
	at := func(member string) string { return fmt.Sprintf("/preparation/steps/%d/%s", i, member) }
	step := stepPlan{
		kind:        s.Kind,
		yield:       benchInput(c, plan, at("yield"), Entered, s.Yield),
		massIn:      weighed(c, plan, at("mass_in"), s.MassIn),
		massOut:     weighed(c, plan, at("mass_out"), s.MassOut),
		moistureIn:  benchInput(c, plan, at("moisture_in"), Entered, s.MoistureIn),
		moistureOut: benchInput(c, plan, at("moisture_out"), Entered, s.MoistureOut),
		logIn:       absent, logOut: absent,
		energy: benchInput(c, plan, at("energy"), Entered, s.Energy),
		cost:   benchInput(c, plan, at("cost"), Entered, s.Cost),
		time:   benchInput(c, plan, at("time"), Entered, s.Time),
		remill: benchInput(c, plan, at("recycled"), Entered, s.Recycled),
	}
	if s.Kind == material.Dry {
		step.logIn, step.logOut = plan.firstDry, plan.lastDry
	}
	return step
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
