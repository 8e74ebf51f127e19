package bench

import (
	"fmt"
	"math"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/strength"
	"fillwright/internal/uncertain"
)

// strengthPlan is what the strength and stiffness of a blend follow from.
type strengthPlan struct {
	plain [directionCount]at // strength of the plain polymer; absent: see share
	share at                 // upright over flat, where the plain polymer was not broken upright
	bond  [directionCount]bondPlan

	polymer, powder  at // moduli
	class            strength.Class
	stiffening       at // of prints, over what the model says
	polymerD, grainD at // densities, for the points
}

// The directions as places of arrays.
const (
	flat = iota
	upright
	directionCount
)

// bondPlan is the interaction parameter B of one direction: fitted to points, else the
// usual one of the class of powder.
type bondPlan struct {
	usual  at // absent where the class has none
	lower  at // what it is less than that along the layers; absent where it has its own
	points []pointPlan
	noise  at // what the points disagree by, beyond their ±
}

// pointPlan is a measured strength of a filled blend.
type pointPlan struct {
	mean    at
	content at
	weight  float64
}

// known reports whether anything says how strong the powder leaves the polymer.
func (b *bondPlan) known() bool { return len(b.points) > 0 || b.usual >= 0 }

// strengthOf plans strength and stiffness of a blend: by its main polymer and its first
// powder.
func (c *compiler) strengthOf(b *blendPlan) strengthPlan {
	s := strengthPlan{
		plain: [directionCount]at{absent, absent}, share: absent, polymer: absent, powder: absent,
		stiffening: absent, polymerD: absent, grainD: absent,
	}
	for d := range s.bond {
		s.bond[d] = bondPlan{usual: absent, lower: absent, noise: absent}
	}
	if b.main < 0 {
		return s
	}
	defer c.placing(strengthPart)()
	body := b.parts[b.main].body
	s.polymerD = b.parts[b.main].density
	s.polymer = of(c, body, "modulus", c.project.Materials[body].Modulus)
	s.plain[flat] = c.plainStrength(body, project.Flat)
	if s.plain[flat] < 0 {
		s.plain[flat] = of(c, body, "strength", c.project.Materials[body].Strength)
	}
	s.plain[upright] = c.plainStrength(body, project.Upright)
	if s.plain[upright] < 0 {
		s.share = c.place("upright over flat, plain", Estimated, bandInput(strength.UprightShare, strength.UprightShareLow, strength.UprightShareHigh))
	}
	if b.powder < 0 {
		return s
	}
	m := c.model.powders[b.powder].material
	powder := &c.project.Materials[m]
	s.grainD = c.model.powders[b.powder].density
	s.powder = of(c, m, "modulus", powder.Modulus)
	s.class = strengthClass(powder, c.model, b.powder)
	s.stiffening = c.place("stiffening of prints over the model", Estimated, bandInput(stiffeningUsual, stiffeningLow, stiffeningHigh))
	c.bonds(&s, body, m)
	return s
}

// Stiffening of prints over that of the model: from the medians and the 5 and 95 % points
// of 70 printed samples of PLA with 20 wt% of wood (3.65, 2.9 and 4.1 GPa), where the plain
// polymer is taken as 3.3 and the model as 4.06 GPa. Organic powders may soften a print.
const (
	stiffeningLow, stiffeningUsual, stiffeningHigh = -0.5, 0.5, 1.05
)

// bonds plans the parameter B of both directions.
func (c *compiler) bonds(s *strengthPlan, body, powder int) {
	if band, there := strength.BandOf(s.class); there {
		name := "bond of " + string(c.project.Materials[powder].ID)
		s.bond[flat].usual = c.place(name, Estimated, bandInput(band.B, band.Low, band.High))
	}
	for d, direction := range project.Directions() {
		c.points(&s.bond[d], s, d, body, powder, direction)
	}
	if len(s.bond[upright].points) == 0 && s.bond[flat].known() {
		s.bond[upright].usual = s.bond[flat].usual
		s.bond[upright].lower = c.place("bond across layers, less", Estimated,
			bandInput(strength.UprightShift, strength.UprightShiftLow, strength.UprightShiftHigh))
	}
}

// bandInput is a number of which a usual value and two ends are known; the ends are taken
// as those of 95 %.
func bandInput(usual, low, high float64) uncertain.Input {
	minus, plus := halfWidths(usual, low, high)
	return uncertain.Input{Value: usual, UMinus: minus, UPlus: plus}
}

// strengthClass is how the band of the parameter B is found for a powder.
func strengthClass(m *material.Material, model *Model, powder int) strength.Class {
	const oily = 0.02 // mass fraction of oil from which a powder counts as oily (own judgement)
	d50M := math.NaN()
	if p := model.powders[powder].d50; p >= 0 {
		d50M = model.best()[p]
	}
	switch m.Class {
	case material.Organic:
		if oil, given := m.OilContent.Estimate(); given && oil.Value < oily {
			return strength.Lignocellulose
		}
		return strength.OilyOrganic
	case material.Shell, material.Mineral:
		return strength.MineralOf(d50M)
	}
	return strength.NoClass
}

// familyPoint reports whether a point is of bars of this polymer and powder in a
// direction, and the filler content that they had.
func (c *compiler) familyPoint(pt *project.StrengthPoint, body, powder int, direction project.Direction) (content float64, is bool) {
	i := c.project.BlendByID(pt.Blend)
	if i < 0 || pt.Direction != direction || !pt.Mean.Given() {
		return 0, false
	}
	main := mainPart(c.project, i)
	if main < 0 || c.bodyOf(c.project.MaterialByID(c.project.Blends[i].Parts[main].Material)) != body {
		return 0, false
	}
	content, known := c.pointContent(pt, i)
	if !known {
		return 0, false
	}
	if content == 0 {
		return 0, true
	}
	first := firstPowderOf(c.project, i)
	return content, first >= 0 && first == powder
}

// pointContent is the filler content that was entered with a point, else that of the
// recipe where it is told by weight.
func (c *compiler) pointContent(pt *project.StrengthPoint, blend int) (content float64, known bool) {
	if pt.Content.Given() {
		return pt.Content.SI(), true
	}
	content = c.recipeContent(blend)
	return content, finite(content)
}

// firstPowderOf is the material of the first powder of a recipe, or -1.
func firstPowderOf(p *project.Project, blend int) int {
	for _, part := range p.Blends[blend].Parts {
		if i := p.MaterialByID(part.Material); p.Materials[i].Kind == material.Filler {
			return i
		}
	}
	return -1
}

// pointPointer is where the mean of a point was entered.
func pointPointer(i int) string { return fmt.Sprintf("/strength/points/%d/mean", i) }

// pointInput is the mean strength of a point; its ± is widened where one spool must stand
// for all.
func pointInput(pt *project.StrengthPoint) uncertain.Input {
	e, _ := pt.Mean.Estimate()
	u := strength.PointU(e.Value, e.StdU, pt.Spools)
	return uncertain.Input{Value: e.Value, UMinus: u, UPlus: u}
}

// plainStrength is what bars of the plain polymer were measured to: the weighted mean of
// the points without powder; absent without any.
func (c *compiler) plainStrength(body int, direction project.Direction) at {
	var inputs []uncertain.Input
	first := -1
	for i := range c.project.Strength.Points {
		pt := &c.project.Strength.Points[i]
		if content, is := c.familyPoint(pt, body, -1, direction); is && content == 0 {
			inputs = append(inputs, pointInput(pt))
			if first < 0 {
				first = i
			}
		}
	}
	if first < 0 {
		return absent
	}
	mean, u := weightedMean(inputs)
	return c.place(pointPointer(first), Measured, uncertain.Input{Value: mean, UMinus: u, UPlus: u})
}

// weightedMean is that of values by the inverse of their variances, with its standard
// uncertainty; of exact values it is the plain mean.
func weightedMean(inputs []uncertain.Input) (mean, u float64) {
	sum, weights := 0.0, 0.0
	for _, in := range inputs {
		w := 1.0
		if in.UPlus > 0 {
			w = 1 / (in.UPlus * in.UPlus)
		}
		sum, weights = sum+w*in.Value, weights+w
	}
	if inputs[0].UPlus > 0 {
		u = 1 / math.Sqrt(weights)
	}
	return sum / weights, u
}
