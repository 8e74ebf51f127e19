package bench

import (
	"math"

	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/strength"
	"fillwright/internal/uncertain"
)

// points takes the measured strengths of a polymer with a powder in one direction. Their
// weights hold at the best estimates; what the points disagree by beyond their ± is an
// input of its own. It returns their fit at the best estimates.
func (c *compiler) points(b *bondPlan, s *strengthPlan, d, body, powder int, direction project.Direction) (fit strength.Fit) {
	x := c.model.best()
	var measured []strength.Point
	for i := range c.project.Strength.Points {
		pt := &c.project.Strength.Points[i]
		content, is := c.familyPoint(pt, body, powder, direction)
		if !is || content == 0 {
			continue
		}
		in := pointInput(pt)
		plan := pointPlan{mean: c.place(pointPointer(i), Measured, in), content: c.contentOfPoint(i, content)}
		b.points, s.counted = append(b.points, plan), append(s.counted, i)
		x = c.model.best() // longer now
		measured = append(measured, strength.Point{VolumeFraction: s.volumeFraction(x, x[plan.content]), Strength: in.Value, StdU: in.UPlus, Spools: manySpools})
	}
	if len(b.points) == 0 {
		return fit
	}
	fit, weights := strength.FitB(measured, s.plainStrength(x, d)), strength.Weights(measured)
	if !finite(fit.B) {
		b.points = nil
		return fit
	}
	for i := range b.points {
		b.points[i].weight = weights[i]
	}
	if fit.Reduced > 1 { // more than their ± says
		extra := fit.StdU * math.Sqrt(1-1/fit.Reduced)
		b.noise = c.place("bonds that differ, "+string(direction)+" "+string(c.project.Materials[powder].ID), Measured, uncertain.Input{UMinus: extra, UPlus: extra})
	}
	return fit
}

// manySpools has the fit take the ± of a point as it is: pointInput widened that of a
// single spool already.
const manySpools = 2

// contentOfPoint places the filler content of a point.
func (c *compiler) contentOfPoint(i int, content float64) at {
	pointer := pointPointer(i)[:len(pointPointer(i))-len("mean")] + "content"
	if place := input(c, pointer, Entered, c.project.Strength.Points[i].Content); place >= 0 {
		return place
	}
	return c.place(pointer, Entered, uncertain.Input{Value: content})
}

// volumeFraction is that of the powder in the solid, by its mass fraction.
func (s *strengthPlan) volumeFraction(x []float64, content float64) float64 {
	powder := content / get(x, s.grainD)
	return powder / (powder + (1-content)/get(x, s.polymerD))
}

// plainStrength is that of the plain polymer in a direction.
func (s *strengthPlan) plainStrength(x []float64, d int) float64 {
	if d == upright && s.plain[upright] < 0 {
		return get(x, s.plain[flat]) * get(x, s.share)
	}
	return get(x, s.plain[d])
}

// bondOf is the parameter B of a direction: the weighted mean of those of the points and the
// usual one, or what there is of the two.
func (s *strengthPlan) bondOf(x []float64, d int) float64 {
	b := &s.bond[d]
	switch {
	case len(b.points) == 0:
		return s.usualBond(x, d)
	case !b.hasUsual():
		return s.pointsBond(x, d)
	}
	return (1-b.share)*s.pointsBond(x, d) + b.share*s.usualBond(x, d)
}

// usualBond is the parameter B of a direction without points of its own; NaN where nothing
// says it.
func (s *strengthPlan) usualBond(x []float64, d int) float64 {
	b := &s.bond[d]
	if b.lower >= 0 {
		return s.bondOf(x, flat) - x[b.lower]
	}
	return get(x, b.usual)
}

// pointsBond is the weighted mean of the parameters B of the points of a direction.
func (s *strengthPlan) pointsBond(x []float64, d int) float64 {
	b := &s.bond[d]
	sum, plain := 0.0, s.plainStrength(x, d)
	for i := range b.points {
		p := &b.points[i]
		sum += p.weight * strength.PukanszkyB(x[p.mean]/plain, s.volumeFraction(x, x[p.content]))
	}
	if b.noise >= 0 {
		sum += x[b.noise]
	}
	return sum
}

// strengthFigures fills strength and stiffness.
func (b *blendPlan) strengthFigures(x, y []float64, st *state) {
	s := &b.strength
	for d, f := range [directionCount][2]Figure{{StrengthFlat, StrengthKeptFlat}, {StrengthUpright, StrengthKeptUpright}} {
		kept := 1.0
		if st.powder > 0 {
			kept = strength.PukanszkyRatio(st.powderVolume, s.bondOf(x, d))
			y[f[1]] = kept
		}
		y[f[0]] = s.plainStrength(x, d) * kept
	}
	plain := get(x, s.polymer)
	if st.powder == 0 {
		y[Modulus] = plain
		return
	}
	model := s.law.ModulusPa(strength.Grains{
		MatrixPa: plain, MatrixPoisson: strength.PolymerPoisson, FillerPa: get(x, s.powder), PackingLimit: st.mix.limit(), Shape: s.grainShape,
	}, st.powderVolume)
	y[StiffnessKept] = 1 + get(x, s.stiffening)*(model/plain-1)
	y[Modulus] = plain * y[StiffnessKept]
}

// evalStrength computes the figures of strength alone; the others in y are those of the
// same x but for inputs on which only strength and stiffness hang.
func (m *Model) evalStrength(x, y []float64, s *Scratch) {
	x = m.fill(s.full, x)
	for i := range m.blends {
		b := &m.blends[i]
		var st state
		if compose(b, x, s, &st) {
			st.mix = mixOf(b, x, &st)
			b.strengthFigures(x, y[i*FigureCount:(i+1)*FigureCount], &st)
		}
	}
}

// loadFigures fills what the loading of a blend is held against: how much thicker its
// grains make the melt, and how large they are in the nozzle.
func (m *Model) loadFigures(b *blendPlan, x, y []float64, st *state, packing float64) {
	if b.holdsPowder() && st.powder > 0 {
		y[ViscosityRise] = 1
		if limit := packing * st.mix.limit(); melt.WillFlow(st.mix.phi(), limit) {
			y[ViscosityRise] = melt.MaronPierce(st.mix.phi(), limit)
		} else {
			y[ViscosityRise] = math.NaN()
		}
	}
	y[TopShare] = m.topSize(b, x, st) / get(x, m.set.nozzle)
}

// topSize is the largest legal grain of all powders of a blend, those within regrind among
// them; NaN without powder, and while that of one of them is not known.
func (m *Model) topSize(b *blendPlan, x []float64, st *state) float64 {
	top := math.Inf(-1)
	for i := range b.parts {
		if k, share := b.parts[i].grains(x); k >= 0 && st.w[i]*share > 0 {
			top = math.Max(top, get(x, m.powders[k].top))
		}
	}
	if math.IsInf(top, -1) {
		return math.NaN()
	}
	return top
}
