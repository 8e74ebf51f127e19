package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
)

// chainCost is the cost of a usable kilogram.
func (p *chainPlan) chainCost(x []float64, mode regrind) float64 {
	var buffer [mostSteps]filler.Step
	steps := p.fill(buffer[:0], x, mode)
	prices := filler.Prices{WetPerKg: get(x, p.wetPrice), TransportPerKg: get(x, p.transport)}
	for i := range steps {
		if steps[i].EnergyJ > 0 {
			prices.EnergyPerJ = get(x, p.energyPrice)
		}
		if steps[i].LabourS > 0 {
			prices.LabourPerS = get(x, p.labour)
		}
	}
	if p.wet < 0 && p.paysPerRun() {
		return math.NaN() // energy, cost and time are those of a run of unknown size
	}
	return filler.CostPerUsableKg(p.run(x), steps, prices)
}

// paysPerRun reports whether any step has an energy, a cost or a time.
func (p *chainPlan) paysPerRun() bool {
	for i := range p.steps {
		if s := &p.steps[i]; s.energy >= 0 || s.cost >= 0 || s.time >= 0 {
			return true
		}
	}
	return false
}

// run is the wet mass of one run, or 1 kg: while none is given, nothing may be
// paid per run, and then the cost of a kilogram is the same for any mass.
func (p *chainPlan) run(x []float64) float64 {
	if p.wet >= 0 {
		return x[p.wet]
	}
	return 1
}

// energy is that of a step for the whole run: as entered, for drying else that
// of the water that goes, and none otherwise.
func (p *chainPlan) energy(s *stepPlan, x []float64) float64 {
	switch {
	case s.energy >= 0:
		return x[s.energy]
	case s.kind == material.Dry:
		return p.run(x) * p.ovenHeat(s, x)
	}
	return 0
}

// ovenHeat is the energy of a drying step that was not measured, in J per wet kg.
// A powder that comes out wetter takes none.
func (p *chainPlan) ovenHeat(s *stepPlan, x []float64) float64 {
	return p.before(s, x) * math.Max(0, 1-s.once(x)) * x[p.dryingHeat]
}

// chainEnergy is the energy in J per usable kg, of which usable is the yield.
func (p *chainPlan) chainEnergy(x []float64, usable float64) float64 {
	energy := 0.0
	for i := range p.steps {
		s := &p.steps[i]
		switch {
		case s.energy >= 0:
			energy += x[s.energy] / get(x, p.wet)
		case s.kind == material.Dry:
			energy += p.ovenHeat(s, x)
		}
	}
	return energy / usable
}

// energyBasis: the energy of an oven that was not measured is an estimate.
func (p *chainPlan) energyBasis() Basis {
	for i := range p.steps {
		if s := &p.steps[i]; s.kind == material.Dry && s.energy < 0 {
			return Estimated
		}
	}
	return Entered
}

// dryingHeatRange is the energy that a small oven takes for a kilogram of water: the
// heat of evaporation over the share of its energy that goes into it. The
// middle is 2.5 MJ/kg over 0.35.
func dryingHeatRange() (value, low, high float64) {
	return 2.5e6 / 0.35, filler.DryingHeatLowJKg / filler.OvenShareHigh, filler.DryingHeatHighJKg / filler.OvenShareLow
}
