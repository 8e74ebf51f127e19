package bench

import (
	"fmt"
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
)

// stepPlan is one step. Its yield comes from the first that is given: a yield, masses,
// moistures. Of the moistures, what was not entered is that of the drying log.
type stepPlan struct {
	kind                       material.StepKind
	yield, massIn, massOut     at
	moistureIn, moistureOut    at // wet basis
	logIn, logOut              at // of the drying log, dry basis; only for the step that it is the log of
	energy, cost, time, remill at
}

// from names what the yield of a step comes from; empty for nothing. One moisture
// that was entered makes two that are no better than that.
func (s *stepPlan) from() string {
	in, out := s.moistureIn >= 0, s.moistureOut >= 0
	switch {
	case s.yield >= 0:
		return "yield"
	case s.massIn >= 0 && s.massOut >= 0:
		return "masses"
	case in && out, in && s.logOut >= 0, out && s.logIn >= 0:
		return "moistures"
	case s.logIn >= 0 && s.logOut >= 0:
		return "log"
	}
	return ""
}

// missing is the member that completes what was entered of a step: the other one of a
// pair, else the yield.
func (s *stepPlan) missing() string {
	switch {
	case s.massIn >= 0 && s.massOut < 0:
		return "mass_out"
	case s.massOut >= 0 && s.massIn < 0:
		return "mass_in"
	case s.moistureIn >= 0 && s.moistureOut < 0:
		return "moisture_out"
	case s.moistureOut >= 0 && s.moistureIn < 0:
		return "moisture_in"
	}
	return "yield"
}

// entered is the member at which a yield that cannot be, or is odd, is mended.
func (s *stepPlan) entered(x []float64) string {
	switch from := s.from(); {
	case from == "masses" && x[s.massIn] == 0:
		return "mass_in"
	case from == "masses":
		return "mass_out"
	case from == "moistures" && s.moistureOut >= 0:
		return "moisture_out"
	case from == "moistures":
		return "moisture_in"
	}
	return "yield"
}

// gains reports whether more comes out of a step than went in, though nothing is
// added in a step of this kind.
func (s *stepPlan) gains(x []float64) bool {
	switch s.kind {
	case material.Dry, material.Grind, material.Sift:
		return s.once(x) > 1
	}
	return false
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
	case "moistures", "log":
		return filler.DryingYield(wetOf(x, s.moistureIn, s.logIn), wetOf(x, s.moistureOut, s.logOut))
	}
	return math.NaN()
}

// out is the moisture on the wet basis after a step; NaN where it says none.
func (s *stepPlan) out(x []float64) float64 { return wetOf(x, s.moistureOut, s.logOut) }

// wetOf is a moisture on the wet basis: the one that was entered, else that of the
// drying log; NaN for neither.
func wetOf(x []float64, entered, log at) float64 {
	switch {
	case entered >= 0:
		return x[entered]
	case log >= 0:
		return filler.WetBasis(math.Max(0, x[log]))
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

// regroundGain is by how much grinding oversize again raises the yield of a step.
func regroundGain(s *stepPlan, x []float64) float64 {
	share := s.share(x, asEntered)
	if share == 0 {
		return 1
	}
	return filler.RecycleLoad(s.once(x), share)
}

// possible reports whether the yield of a step can be: above 0 and, where oversize is
// ground again, not above 1, for which there is no RecycleLoad.
func (s *stepPlan) possible(x []float64) bool {
	yield := s.once(x) * regroundGain(s, x)
	return finite(yield) && yield > 0
}

// step places the inputs of a step.
func (c *compiler) step(plan *powderPlan, i int, s *material.Step) stepPlan {
	at := func(member string) string { return fmt.Sprintf("/preparation/steps/%d/%s", i, member) }
	return stepPlan{
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
}
