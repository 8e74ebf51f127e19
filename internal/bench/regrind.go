package bench

import (
	"math"
	"strings"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// regrindPlan is what a part of a blend holds that has been through the heat before.
type regrindPlan struct {
	content  at  // powder in it, mass fraction; absent while not given
	powder   int // its place among the powders of the model; -1 for none
	density  at  // of that powder
	packing  at
	oil      at
	oilKnown float64

	heatCapacity at // of that powder
	passes       float64
	drift        at // of the melt flow by one pass
}

// What stands in while nothing was entered. The share and the passes are common practice,
// the drift is from memory of measurements on polyesters and PP: both to be confirmed.
const (
	usualRegrindShare  = 0.25
	usualRegrindPasses = 3
	usualDriftLow      = 1.0
	usualDrift         = 1.2
	usualDriftHigh     = 1.5
)

// regrind plans what is in a part that is regrind; nil for a fresh one.
func (c *compiler) regrind(m int) *regrindPlan {
	r := &c.project.Materials[m].Regrind
	if !r.Is() {
		return nil
	}
	place := func(member string) string { return regrindPlace(m, member) }
	plan := &regrindPlan{
		content: absent, powder: -1, density: absent, packing: absent, oil: absent, heatCapacity: absent,
		passes: float64(r.Heats()),
		drift: inputOr(c, place("drift"), r.Drift,
			uncertain.Input{Value: usualDrift, UMinus: (usualDrift - usualDriftLow) / coverage, UPlus: (usualDriftHigh - usualDrift) / coverage}),
	}
	filler := c.project.MaterialByID(r.Filler)
	if r.Filler == "" || filler < 0 {
		return plan
	}
	plan.content = input(c, place("content"), Entered, r.Content)
	plan.powder = c.model.powderAt(filler)
	bench := &c.model.powders[plan.powder]
	plan.density, plan.packing = bench.density, bench.packing
	plan.oil, plan.oilKnown = oilOf(c, filler)
	c.only = linePart
	plan.heatCapacity = of(c, filler, "heat_capacity", c.project.Materials[filler].HeatCapacity)
	c.only = anyPart
	return plan
}

// bodyOf is the material whose density and melt hold for a part: of regrind its polymer.
func (c *compiler) bodyOf(m int) int {
	if r := &c.project.Materials[m].Regrind; r.Is() {
		return c.project.MaterialByID(r.Polymer)
	}
	return m
}

// powderShare is the mass fraction of powder in a part.
func (p *partPlan) powderShare(x []float64) float64 {
	if p.kind == material.Filler {
		return 1
	}
	return p.powderWithin(x)
}

// powderWithin is the mass fraction of powder that a part holds within regrind.
func (p *partPlan) powderWithin(x []float64) float64 {
	if p.regrind == nil || p.regrind.powder < 0 {
		return 0
	}
	return get(x, p.regrind.content)
}

// solid is the density of a part: of regrind that of its polymer with the powder in it.
func (p *partPlan) solid(x []float64) float64 {
	own := p.powderWithin(x)
	if own == 0 {
		return get(x, p.density)
	}
	return 1 / (own/get(x, p.regrind.density) + (1-own)/get(x, p.density))
}

// loose is the content of loose powder that brings a blend to the filler content at which
// it is swept; false where its regrind brings more than that.
func (b *blendPlan) loose(x, w []float64) (content float64, ok bool) {
	loose, bound := 0.0, 0.0
	for i := range b.parts {
		if b.parts[i].kind == material.Filler {
			loose += w[i]
		}
		bound += w[i] * b.parts[i].powderWithin(x)
	}
	if bound == 0 {
		return b.content, true
	}
	return blend.LooseContent(b.content, loose, bound)
}

// regrindFactor is what the regrind in a blend does to its melt flow.
func regrindFactor(b *blendPlan, x []float64, st *state) float64 {
	factor := 1.0
	for i := range b.parts {
		if p := &b.parts[i]; p.regrind != nil && st.w[i] > 0 {
			share := st.w[i] * (1 - p.powderWithin(x)) / st.polymer
			factor *= melt.RegrindFactor(share, p.regrind.passes, get(x, p.regrind.drift))
		}
	}
	return factor
}

// throughHeat fills the figures of the regrind in a blend, and returns what it does to
// the melt flow: 1 without any.
func (b *blendPlan) throughHeat(x, y []float64, st *state) float64 {
	share, passes := 0.0, 1.0 // of the polymer through the heat on average, this time included
	for i := range b.parts {
		if p := &b.parts[i]; p.regrind != nil {
			share += st.w[i]
			passes += st.w[i] * (1 - p.powderWithin(x)) / st.polymer * p.regrind.passes
		}
	}
	if share == 0 {
		return 1
	}
	y[RegrindShare], y[FillerFromRegrind], y[HeatPasses] = share, st.powder-st.loose, passes
	y[MeltFlowRegrind] = regrindFactor(b, x, st)
	return y[MeltFlowRegrind]
}

// holdsPowder reports whether any part of a blend is powder or holds some.
func (b *blendPlan) holdsPowder() bool {
	if b.filled {
		return true
	}
	for i := range b.parts {
		if r := b.parts[i].regrind; r != nil && r.powder >= 0 {
			return true
		}
	}
	return false
}

// oilIn is the oil that the powder of a part brings.
func (p *partPlan) oilIn(x []float64, w float64) float64 {
	oil, known := p.oil, p.oilKnown
	if r := p.regrind; r != nil && r.powder >= 0 {
		oil, known = r.oil, r.oilKnown
	}
	share := w * p.powderShare(x)
	switch {
	case share == 0:
		return 0
	case oil >= 0:
		return share * x[oil]
	}
	return share * known
}

// oilOf is the oil content of a material, and what it holds while none is entered: plant
// matter may hold oil, so not given is not zero; the others hold none.
func oilOf(c *compiler, m int) (place at, otherwise float64) {
	mat := &c.project.Materials[m]
	place = of(c, m, "oil_content", mat.OilContent)
	if mat.Kind == material.Filler && (mat.Class == material.Organic || mat.Class == "") {
		otherwise = math.NaN()
	}
	return place, otherwise
}

// grains is the powder of a part whose grains come into the strand, and its share of the
// part; -1 for none.
func (p *partPlan) grains(x []float64) (powder int, share float64) {
	if p.regrind != nil && p.regrind.powder >= 0 {
		return p.regrind.powder, p.powderWithin(x)
	}
	return p.powder, 1
}

// shareOf is the mass fraction of a powder in a blend, what came within regrind included.
func (b *blendPlan) shareOf(powder int, x []float64, st *state) float64 {
	all := 0.0
	for i := range b.parts {
		if k, share := b.parts[i].grains(x); k == powder {
			all += st.w[i] * share
		}
	}
	return all
}

// ownOfRegrind reports whether regrind has a property of its own, and not that of its
// polymer.
func ownOfRegrind(member string) bool {
	switch member {
	case "price", "moisture", "name", "class":
		return true
	}
	return strings.HasPrefix(member, "regrind")
}

func regrindPlace(m int, member string) string {
	return project.MaterialPointer(m, "regrind") + "/" + member
}
