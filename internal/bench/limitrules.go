package bench

import (
	"math"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// LimitID names what can limit the filler content of a blend.
type LimitID string

// The limits, in the order in which they are listed while nothing tells them apart.
const (
	LimitClog       LimitID = "clog_chance"
	LimitTopSize    LimitID = "top_size"
	LimitPickUp     LimitID = "pick_up"
	LimitViscosity  LimitID = "viscosity"
	LimitHydrolysis LimitID = "hydrolysis"
	LimitBubbles    LimitID = "bubbles"
	LimitMoisture   LimitID = "moisture"
	LimitFlat       LimitID = "strength_flat"
	LimitUpright    LimitID = "strength_upright"
	LimitStiffness  LimitID = "stiffness"
	LimitBend       LimitID = "bend"
	LimitCost       LimitID = "cost"
	LimitLineHeat   LimitID = "heat_line"
	LimitPrintHeat  LimitID = "heat_nozzle"
)

// limitScale is how a figure is held against what is allowed.
type limitScale uint8

const (
	asRatio  limitScale = iota // figure over threshold
	asEvents                   // the core counts events, the threshold is the chance of at least one
	asChange                   // the figure is a change, the threshold the share that it leads to
	asMargin                   // the figure is what is left, in K, of which leastMarginK must
)

// limitRule is one rule: a figure that must stay at or below what is allowed, or at or
// above it.
type limitRule struct {
	id      LimitID
	figure  Figure
	atLeast bool
	scale   limitScale
	part    evalPartOf
	grows   bool // in proportion to the filler content, where there is little of it
	last    bool // what counts is the largest content that is allowed, whatever lies below it
	field   string
	unit    string
	perSI   float64
	place   at   // of what is allowed; absent where that is nothing but zero
	entered bool // by the maker
	advice  bool // told, but nothing is stopped by it: other rules tell the harm itself
}

// usualLimits are what is allowed while the maker says nothing. Those with a band are
// rules of the trade or our own judgement; the others are choices.
var usualLimits = map[LimitID]uncertain.Input{
	LimitClog:       {Value: 0.05},
	LimitTopSize:    {Value: 0.5}, // own judgement: two grains abreast just fill the bore
	LimitPickUp:     {Value: 1},
	LimitViscosity:  within(1.5, 2, 3),       // own judgement: a line that runs plain polymer notices a factor of 2
	LimitHydrolysis: within(0.1, 0.2, 0.3),   // own judgement: 20 % less molar mass doubles the flow
	LimitBubbles:    within(0.54, 0.7, 0.83), // own judgement: about 500, 1000 and 2000 ppm of water on the polymer
	LimitMoisture:   {Value: 1},
	LimitFlat:       {Value: 0.7},
	LimitUpright:    {Value: 0.7},
	LimitStiffness:  {Value: 0.8},
	LimitCost:       {Value: 1.1},
}

// within is a number with its usual ends, taken as those of 95 %.
func within(low, usual, high float64) uncertain.Input {
	minus, plus := halfWidths(usual, low, high)
	return uncertain.Input{Value: usual, UMinus: minus, UPlus: plus}
}

// limitRules places what the maker allows, and lists the rules.
func (c *compiler) limitRules() []limitRule {
	defer c.placing(limitPart)()
	l := &c.project.Loading
	rules := []limitRule{
		{id: LimitClog, figure: ClogChancePerSpool, scale: asEvents, part: evalBench, grows: true, field: "/loading/clog_chance"},
		{id: LimitTopSize, figure: TopShare, part: evalFlow, field: "/loading/top_share"},
		{id: LimitPickUp, figure: PickUpUse, part: evalLine, grows: true, field: "/loading/pick_up"},
		{id: LimitViscosity, figure: ViscosityRise, part: evalFlow, field: "/loading/viscosity_rise"},
		{id: LimitHydrolysis, figure: MolarMassLoss, part: evalFlow, field: "/loading/molar_mass_loss"},
		{id: LimitBubbles, figure: VapourFraction, part: evalLine, field: "/loading/bubbles"},
		{id: LimitFlat, figure: StrengthKeptFlat, atLeast: true, part: evalStrength, field: "/loading/strength_kept"},
		{id: LimitUpright, figure: StrengthKeptUpright, atLeast: true, part: evalStrength, field: "/loading/strength_kept"},
		{id: LimitStiffness, figure: StiffnessKept, atLeast: true, part: evalStrength, field: "/loading/stiffness_kept"},
		{id: LimitCost, figure: CostChangePerMetre, scale: asChange, part: evalCost, last: true, field: "/loading/cost_share"},
		{id: LimitMoisture, figure: WaterUse, part: evalLine, field: "/loading/water_share"},
		{id: LimitLineHeat, figure: LineMargin, atLeast: true, scale: asMargin, part: evalLine, field: "/melt/temperature"},
		{id: LimitPrintHeat, figure: NozzleMargin, atLeast: true, scale: asMargin, part: evalLine, field: "/print/temperature"},
	}
	threshold(c, &rules[0], l.ClogChance)
	threshold(c, &rules[1], l.TopShare)
	threshold(c, &rules[2], l.PickUp)
	threshold(c, &rules[3], l.ViscosityRise)
	threshold(c, &rules[4], l.MolarMassLoss)
	threshold(c, &rules[5], l.Bubbles)
	threshold(c, &rules[6], l.StrengthKept)
	threshold(c, &rules[7], l.StrengthKept)
	threshold(c, &rules[8], l.StiffnessKept)
	threshold(c, &rules[9], l.CostShare)
	threshold(c, &rules[10], l.WaterShare)
	rules[10].advice = !rules[10].entered // what hydrolysis and bubbles tell is not counted twice unasked
	floor(c, &rules[6], StrengthFlat, "/loading/floor_flat", l.FloorFlat)
	floor(c, &rules[7], StrengthUpright, "/loading/floor_upright", l.FloorUpright)
	rules[11].place, rules[12].place = absent, absent
	return rules
}

// threshold places what is allowed: entered, else usual.
func threshold[D quantity.Dim](c *compiler, r *limitRule, q quantity.Of[D]) {
	r.entered = q.Given()
	r.perSI, r.unit = 100, "%"
	if r.figure == ViscosityRise {
		r.perSI, r.unit = 1, "1"
	}
	r.place = inputOr(c, r.field, q, usualLimits[r.id])
}

// floor takes the place of a share of the plain polymer's strength.
func floor(c *compiler, r *limitRule, f Figure, field string, q quantity.Of[quantity.Pressure]) {
	if place := input(c, field, Entered, q); place >= 0 {
		r.figure, r.field, r.place, r.entered = f, field, place, true
		r.perSI, r.unit = 1e-6, "MPa"
	}
}

// usualMost is the filler content up to which limits are looked for.
const usualMost = 0.3

// mostContent is the end of the axis of filler content, as a mass fraction.
func mostContent(p *project.Project) float64 {
	if e, given := p.Loading.Most.Estimate(); given {
		return e.Value
	}
	return usualMost
}

// leastMarginK is how far line and print nozzle are to stay below the onset of
// decomposition: what an analysis finds in minutes comes earlier in a longer stay (own
// judgement, see melt.HeatMargin for the time in the melt).
const leastMarginK = 10

// Bounds of what a limit is told by, so that sums of it stay finite.
const mostMargin = 50.0

// margin tells by how much a rule is broken: above zero where it is, on the logarithm of
// what is allowed. NaN where it is not known.
func (r *limitRule) margin(x, y []float64) float64 {
	v := y[r.figure]
	if r.scale == asMargin {
		return (leastMarginK - v) / leastMarginK // only its sign counts
	}
	allowed := x[r.place]
	switch r.scale {
	case asEvents:
		allowed = -math.Log1p(-math.Min(allowed, 1-1e-12))
	case asChange:
		v++
	}
	g := math.Log(v / allowed)
	if v <= 0 {
		g = -mostMargin
	}
	if r.atLeast {
		g = -g
	}
	return math.Max(-mostMargin, math.Min(g, mostMargin))
}
