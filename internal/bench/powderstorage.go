package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// woodSpread is how far other plant powders may be from wood in what they take
// up from the air, either way (own judgement: alike within a few points).
const woodSpread = 0.25

// storage derives the moisture with which the powder goes into the line: that
// at the end of drying, or the one on its card, and what it takes up when it is
// left open.
func (c *compiler) storage(plan *powderPlan) {
	s := &c.project.Materials[plan.material].Powder.Storage
	open := benchInput(c, plan, "/storage/open_time", Entered, s.OpenTime)
	c.equilibrium(plan, s)
	start, basis := plan.start, c.basisAt(plan.nowDry)
	if plan.nowDry < 0 {
		basis = c.basisAt(plan.moisture)
	}
	switch {
	case start == nil:
	case !leftOpen(s):
		if plan.nowDry >= 0 {
			c.derive(plan, numMoisture, basis, func(x []float64) float64 { return start(x) })
			plan.moisture = plan.number(numMoisture)
		}
	case !c.possible(plan, numEquilibrium): // nobody knows what it took up
		c.derive(plan, numMoisture, basis, func([]float64) float64 { return math.NaN() })
		plan.moisture = plan.number(numMoisture)
	default:
		equilibrium := plan.number(numEquilibrium)
		left, of := c.uptakeLeft(plan, s, open)
		c.derive(plan, numMoisture, weakest(basis, c.basisAt(equilibrium), of), func(x []float64) float64 {
			return filler.WetBasis(filler.Reuptake(filler.DryBasis(start(x)), x[equilibrium], left(x)))
		})
		plan.moisture = plan.number(numMoisture)
	}
}

// startMoisture is that at the end of the drying log, or on the card.
func (plan *powderPlan) startMoisture() func(x []float64) float64 {
	now, card := plan.nowDry, plan.moisture
	switch {
	case now >= 0:
		return func(x []float64) float64 { return filler.WetBasis(math.Max(0, x[now])) }
	case card >= 0:
		return func(x []float64) float64 { return math.Max(0, x[card]) }
	}
	return nil
}

// leftOpen reports whether the powder lay in the air for any time.
func leftOpen(s *material.Storage) bool { return s.OpenTime.Given() && s.OpenTime.SI() > 0 }

// uptakeLeft is the share of the way to equilibrium that the powder still has to go,
// with its basis. Where the usual range stands in for the time constant, what is not
// known is how much more or less than its middle leaves: the ends of that are those of
// the range, which a straight line in the time constant would miss. A side that is
// next to nothing beside the other is left out, for it would only shorten the step of
// the derivative until nothing but rounding shows.
func (c *compiler) uptakeLeft(plan *powderPlan, s *material.Storage, open at) (left func(x []float64) float64, basis Basis) {
	if s.UptakeTime.Given() {
		i := benchInput(c, plan, "/storage/uptake_time", Entered, s.UptakeTime)
		return func(x []float64) float64 { return filler.UptakeLeft(x[open], x[i]) }, Entered
	}
	time := s.OpenTime.SI()
	middle := filler.UptakeLeft(time, math.Sqrt(filler.UptakeFastS*filler.UptakeSlowS))
	minus, plus := halfWidths(middle, filler.UptakeLeft(time, filler.UptakeFastS), filler.UptakeLeft(time, filler.UptakeSlowS))
	if minus < 1e-4*plus {
		minus = 0
	}
	i := c.constant(plan, "uptake", 0, minus, plus)
	return func(x []float64) float64 { return math.Pow(middle+x[i], x[open]/time) }, Estimated
}

// equilibrium derives what the powder holds in the air of the store: measured,
// by the maker's own GAB parameters, or as wood does.
func (c *compiler) equilibrium(plan *powderPlan, s *material.Storage) {
	humidity := benchInput(c, plan, "/storage/humidity", Entered, s.Humidity)
	temperature := benchInput(c, plan, "/storage/temperature", Entered, s.Temperature)
	measured := benchInput(c, plan, "/storage/equilibrium", Measured, s.Equilibrium)
	layer := benchInput(c, plan, "/storage/monolayer", Entered, s.Monolayer)
	gabC, gabK := benchInput(c, plan, "/storage/gab_c", Entered, s.GABC), benchInput(c, plan, "/storage/gab_k", Entered, s.GABK)
	switch equilibriumFrom(c.project, plan.material) {
	case "measured":
		c.derive(plan, numEquilibrium, Measured, func(x []float64) float64 { return filler.DryBasis(x[measured]) })
	case "gab":
		c.derive(plan, numEquilibrium, Calibrated, func(x []float64) float64 {
			return filler.GAB{Monolayer: x[layer], C: x[gabC], K: x[gabK]}.Moisture(x[humidity])
		})
	case "wood":
		spread := c.constant(plan, "sorption against wood", 1, woodSpread/coverage, woodSpread/coverage)
		c.derive(plan, numEquilibrium, Estimated, func(x []float64) float64 {
			return x[spread] * filler.WoodMoisture(x[temperature], x[humidity])
		})
	}
}

// equilibriumFrom says what the equilibrium moisture of a powder rests on.
func equilibriumFrom(p *project.Project, index int) string {
	m := &p.Materials[index]
	s := &m.Powder.Storage
	switch {
	case s.Equilibrium.Given():
		return "measured"
	case s.Monolayer.Given() && s.GABC.Given() && s.GABK.Given() && s.Humidity.Given():
		return "gab"
	case likeWood(m) && s.Humidity.Given() && s.Temperature.Given() && filler.WoodMoistureKnown(s.Temperature.SI()):
		return "wood"
	}
	return ""
}

// likeWood reports whether wood stands in for a powder where nobody measured what it
// holds: plant powder, and powder of which no class is given, since most is.
func likeWood(m *material.Material) bool { return m.Class == material.Organic || m.Class == "" }
