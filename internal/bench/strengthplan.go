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

	counted          []int // strength points of the document that count here
	polymer, powder  at    // moduli
	law              strength.ModulusLaw
	grainShape       float64 // of strength.HalpinTsai
	stiffening       at      // of prints, over what the model says
	polymerD, grainD at      // densities, for the points
}

// The directions as places of arrays.
const (
	flat = iota
	upright
	directionCount
)

// bondPlan is the interaction parameter B of one direction: fitted to points and weighed
// with the usual one of the class of powder, or either alone.
type bondPlan struct {
	usual  at // absent where the class has none
	lower  at // what the usual one is less than that along the layers; absent along them
	points []pointPlan
	noise  at      // what the points disagree by, beyond their ±
	share  float64 // of the usual one beside the points, at the best estimates
	u      float64 // of B at the best estimates, to weigh what follows from it; of its narrower side
}

// pointPlan is a measured strength of a filled blend.
type pointPlan struct {
	mean    at
	content at
	weight  float64
}

// known reports whether anything says how strong the powder leaves the polymer.
func (b *bondPlan) known() bool { return len(b.points) > 0 || b.hasUsual() }

// hasUsual reports whether there is a usual B, from the class or from that along the layers.
func (b *bondPlan) hasUsual() bool { return b.usual >= 0 || b.lower >= 0 }

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
	s.plain[flat] = c.plainStrength(&s, body, project.Flat)
	if s.plain[flat] < 0 {
		s.plain[flat] = of(c, body, "strength", c.project.Materials[body].Strength)
	}
	s.plain[upright] = c.plainStrength(&s, body, project.Upright)
	if s.plain[upright] < 0 {
		s.share = c.place("upright over flat, plain", Estimated, bandInput(strength.UprightShare()))
	}
	if b.powder < 0 {
		return s
	}
	m := c.model.powders[b.powder].material
	powder := &c.project.Materials[m]
	s.grainD = c.model.powders[b.powder].density
	s.powder = of(c, m, "modulus", powder.Modulus)
	band, known := c.grainClass(&s, powder, c.model.powders[b.powder].d50)
	s.stiffening = c.place("stiffening of prints over the model", Estimated, bandInput(stiffening))
	if known {
		s.bond[flat].usual = c.place("bond of "+string(powder.ID), Estimated, bandInput(band))
	}
	c.bonds(&s, body, m)
	return s
}

// Stiffening of prints over that of the model: from the medians and the 5 and 95 % points
// of 70 printed samples of PLA with 20 wt% of wood (3.65, 2.9 and 4.1 GPa), where the plain
// polymer is taken as 3.3 and the model as 4.06 GPa. Organic powders may soften a print.
var stiffening = strength.Band{Likely: 0.5, Low: -0.5, High: 1.05}

// bonds plans the parameter B of both directions. Along the layers the usual one is that of
// the class, across them it is what B along them is, less a shift. Of a class without a band the
// points of a direction stand alone.
func (c *compiler) bonds(s *strengthPlan, body, powder int) {
	for d, direction := range project.Directions() {
		b := &s.bond[d]
		fit := c.points(b, s, d, body, powder, direction)
		usualU := 0.0
		switch {
		case d == upright && s.bond[flat].known() && (len(b.points) == 0 || s.bond[flat].usual >= 0):
			b.lower = c.place("bond across layers, less", Estimated, bandInput(strength.UprightShift()))
			usualU = math.Hypot(s.bond[flat].u, c.narrowU(b.lower))
		case b.usual >= 0:
			usualU = c.narrowU(b.usual)
		}
		c.weigh(s, d, fit, usualU)
	}
}

// weigh settles what the usual B of a direction counts beside that of its points.
func (c *compiler) weigh(s *strengthPlan, d int, fit strength.Fit, usualU float64) {
	b := &s.bond[d]
	if len(b.points) == 0 {
		b.u = usualU
		return
	}
	plainU := math.Abs(fit.ByPlain) * c.plainU(s, d)
	if b.hasUsual() {
		b.share = strength.BandShare(fit.StdU, plainU, usualU, fit.B-s.usualBond(c.model.best(), d))
	}
	b.u = math.Hypot((1-b.share)*math.Hypot(fit.StdU, plainU), b.share*usualU)
}

// narrowU is the standard uncertainty of an input on its narrower side. Bands count by it, so
// that points leave neither side of one less certain.
func (c *compiler) narrowU(place at) float64 {
	in := c.model.input(place)
	return math.Min(in.UMinus, in.UPlus)
}

// wideU is that on its wider side.
func (c *compiler) wideU(place at) float64 {
	in := c.model.input(place)
	return math.Max(in.UMinus, in.UPlus)
}

// plainU is the relative standard uncertainty of the plain polymer's strength; 0 while none
// is known.
func (c *compiler) plainU(s *strengthPlan, d int) float64 {
	u, x := 0.0, c.model.best()
	places := []at{s.plain[d]}
	if d == upright && s.plain[upright] < 0 {
		places = []at{s.plain[flat], s.share}
	}
	for _, place := range places {
		if place >= 0 && x[place] > 0 {
			u = math.Hypot(u, c.wideU(place)/x[place])
		}
	}
	return u
}

// bandInput is a number of which a usual value and two ends are known; the ends are taken
// as those of 95 %.
func bandInput(b strength.Band) uncertain.Input {
	minus, plus := halfWidths(b.Likely, b.Low, b.High)
	return uncertain.Input{Value: b.Likely, UMinus: minus, UPlus: plus}
}

// littleOil is the mass fraction of oil up to which a powder of plants counts as wood flour,
// and not as oily (own judgement).
const littleOil = 0.005

// grainClass takes the law of the modulus for a powder, and returns the band of the
// parameter B; false where its class has none. Of a mineral of unknown size the grains
// count as coarse.
func (c *compiler) grainClass(s *strengthPlan, m *material.Material, d50 at) (strength.Band, bool) {
	class := strength.Other
	switch m.Class {
	case material.Organic:
		class = strength.OilyOrganic
		if oil, given := m.OilContent.Estimate(); given && oil.Value <= littleOil {
			class = strength.WoodFlour
		}
	case material.Shell, material.Mineral:
		class = strength.Mineral
	case material.Fibre:
		class = strength.Fibre
	}
	usual, known := class.Defaults()
	s.law, s.grainShape = usual.Modulus, usual.Shape.Likely
	if class == strength.Mineral && d50 >= 0 {
		if band, sized := strength.MineralB(c.model.best()[d50]); sized {
			usual.B = band
		}
	}
	return usual.B, known
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
	if blend < 0 || blend >= len(p.Blends) {
		return -1
	}
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
	bars := barsOf(pt)
	u := bars.Uncertainty()
	return uncertain.Input{Value: bars.Strength, UMinus: u, UPlus: u}
}

// barsOf is a point without its filler content.
func barsOf(pt *project.StrengthPoint) strength.Point {
	e, _ := pt.Mean.Estimate()
	return strength.Point{Strength: e.Value, StdU: e.StdU, Spools: pt.Spools}
}

// StandInMPa returns the ± (k = 2) in MPa that counts for the mean of a point entered without
// one: the usual spread between spools, over the root of their number. It returns false for
// one with its own.
func StandInMPa(pt *project.StrengthPoint) (around float64, stands bool) {
	bars := barsOf(pt)
	if bars.StdU != 0 || !pt.Mean.Given() {
		return 0, false
	}
	return coverage * bars.Uncertainty() * 1e-6, true
}

// CountedPoints lists the strength points of the document that count for a blend: those of
// its polymer, plain or with its powder.
func (m *Model) CountedPoints(blend int) []int { return m.blends[blend].strength.counted }

// plainStrength is what bars of the plain polymer were measured to: the weighted mean of
// the points without powder, which is known the worse the more they disagree; absent without
// any.
func (c *compiler) plainStrength(s *strengthPlan, body int, direction project.Direction) at {
	var broken []strength.Point
	first := -1
	for i := range c.project.Strength.Points {
		pt := &c.project.Strength.Points[i]
		if content, is := c.familyPoint(pt, body, -1, direction); is && content == 0 {
			broken, s.counted = append(broken, barsOf(pt)), append(s.counted, i)
			if first < 0 {
				first = i
			}
		}
	}
	if first < 0 {
		return absent
	}
	mean, u := strength.Mean(broken)
	return c.place(pointPointer(first), Measured, uncertain.Input{Value: mean, UMinus: u, UPlus: u})
}
