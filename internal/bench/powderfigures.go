package bench

import (
	"errors"
	"math"
	"slices"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// powderAt is the place among the powders of a material, or -1.
func (m *Model) powderAt(materialIndex int) int {
	return slices.IndexFunc(m.powders, func(p powderPlan) bool { return p.material == materialIndex })
}

// powderOf is the first powder of a blend; nil for none.
func (m *Model) powderOf(blendIndex int) *powderPlan {
	if at := m.blends[blendIndex].powder; at >= 0 {
		return &m.powders[at]
	}
	return nil
}

// powderMaterial is the material of the first powder of a blend, or -1.
func (m *Model) powderMaterial(blendIndex int) int {
	if plan := m.powderOf(blendIndex); plan != nil {
		return plan.material
	}
	return -1
}

// bench fills the figures that come from the bench of the powders. Sizes,
// moisture and preparation are those of the first powder, grains those of all.
// The chance of clogging is left as the number of grains to expect.
func (m *Model) bench(b *blendPlan, x, y []float64, st *state) {
	if b.powder < 0 {
		return
	}
	p := &m.powders[b.powder]
	y[PowderMoisture] = get(x, p.moisture)
	y[PackingLimit] = get(x, p.packing)
	y[PreparationYield] = x[p.number(numYield)]
	y[PreparedCost] = x[p.number(numCost)]
	y[SizeD10], y[SizeD50], y[SizeD90], y[TopSize] = get(x, p.d10), get(x, p.d50), get(x, p.d90), get(x, p.top)
	if !b.noTimes {
		y[DryingTime] = m.dryingTime(b, x, st)
	}
	m.grainFigures(b, x, y, st)
}

// grainFigures counts the grains that are too large for the nozzle.
func (m *Model) grainFigures(b *blendPlan, x, y []float64, st *state) {
	if b.powder < 0 {
		return
	}
	grains := 0.0 // per kg of strand
	for i := range b.parts {
		if k, share := b.parts[i].grains(x); k >= 0 && st.w[i] > 0 {
			grains += st.w[i] * share * get(x, m.powders[k].grains)
		}
	}
	y[GrainsPerMetre] = grains * st.density * st.area
	y[ClogChancePerSpool] = grains * get(x, m.set.netMass)
	if m.set.printMass >= 0 {
		y[ClogChancePerPrint] = grains * x[m.set.printMass]
	}
}

// dryingOf plans how long the first powder of a blend must dry: the target, and
// what the time to it may be off by.
func (c *compiler) dryingOf(b *blendPlan, recipe *project.Blend) {
	b.target, b.timeNoise, b.limit = absent, absent, math.NaN()
	for i := range b.parts {
		if b.powder < 0 && b.parts[i].kind == material.Filler {
			b.powder = b.parts[i].powder
		}
	}
	if b.main >= 0 {
		m := &c.project.Materials[b.parts[b.main].body]
		if limit, given := m.MoistureLimit.Estimate(); given {
			b.limit = limit.Low // of a range, the polymer that stands least
		}
	}
	if b.powder < 0 {
		return
	}
	plan := &c.model.powders[b.powder]
	b.target = plan.target
	run := plan.run()
	if run == nil {
		return
	}
	x := c.model.best()
	var st state
	s := &Scratch{}
	*s = *(&Model{most: len(b.parts)}).NewScratch()
	composed := compose(b, x, s, &st)
	if !composed && b.target < 0 {
		return
	}
	time, err := run.timeTo(filler.DryBasis(c.model.targetMoisture(b, x, &st)))
	if err == nil && time.Known && time.Value > 0 {
		minus, plus := halfWidths(0, math.Log(time.Low/time.Value), math.Log(time.High/time.Value))
		b.timeNoise = c.place("drying curve for "+string(recipe.ID), Measured, uncertain.Input{UMinus: minus, UPlus: plus})
	}
}

// run is the log that the powder went through, if it has a curve.
func (p *powderPlan) run() *dryRun {
	if p.bench.used < 0 || !p.bench.runs[p.bench.used].tells() {
		return nil
	}
	return &p.bench.runs[p.bench.used]
}

// targetMoisture is the moisture to which the powder of a blend should be
// dried, on the wet basis: the maker's own, or what leaves the polymer within
// its limit. NaN while neither is known.
func (m *Model) targetMoisture(b *blendPlan, x []float64, st *state) float64 {
	if b.target >= 0 {
		return x[b.target]
	}
	return limitMoisture(b, x, st)
}

// limitMoisture is the moisture of the powder that leaves the polymer within its
// limit; NaN while that is not known.
func limitMoisture(b *blendPlan, x []float64, st *state) float64 {
	return filler.TargetMoisture(b.limit, knownPelletWater(b, x, st), st.polymer, st.loose)
}

// knownPelletWater is the water per mass of polymer that those pellets bring that were
// measured; of others a note of its own is taken.
func knownPelletWater(b *blendPlan, x []float64, st *state) (own float64) {
	for i := range b.parts {
		if p := &b.parts[i]; p.kind == material.Polymer && p.moisture >= 0 {
			own += st.w[i] * waterOf(p, x) / st.polymer
		}
	}
	return own
}

// dryingTime is the time from the start of the log to the target; NaN where the
// oven cannot reach it, or may not.
func (m *Model) dryingTime(b *blendPlan, x []float64, st *state) float64 {
	run := m.powders[b.powder].run()
	if run == nil {
		return math.NaN()
	}
	time := run.timeOnly(filler.DryBasis(m.targetMoisture(b, x, st)))
	if b.timeNoise < 0 {
		return time
	}
	return time * math.Exp(x[b.timeNoise])
}

// dryingUses tells what the target of a blend asks of the oven of its powder: of the
// run that the powder went through, and of every run.
// time is the figure, which knows the ± of the target too.
func (m *Model) dryingUses(p *project.Project, blendIndex int, time Result) (used DryingUse, runs []DryingUse) {
	b := &m.blends[blendIndex]
	if b.powder < 0 {
		return DryingUse{}, nil
	}
	plan := &m.powders[b.powder]
	used, target := m.dryingTarget(b)
	for i := range plan.bench.runs {
		u := used
		if finite(target) && plan.bench.runs[i].tells() {
			u.of(plan, i, &p.Materials[plan.material], filler.DryBasis(target))
		}
		runs = append(runs, u)
	}
	if i := plan.bench.used; i >= 0 {
		if u := &runs[i]; u.Time.Known() && time.Known() {
			u.told(time, plan.bench.runs[i].lastS)
		}
		used = runs[i]
	}
	return used, runs
}

// dryingTarget is the moisture that the powder of a blend must come down to, wet
// basis; NaN while nothing says it.
func (m *Model) dryingTarget(b *blendPlan) (u DryingUse, target float64) {
	target = math.NaN()
	if st, composed := m.nominalState(b); composed || b.target >= 0 {
		target = m.targetMoisture(b, m.best(), &st)
	}
	if finite(target) {
		u.Target, u.TargetFrom = exactly(target*100, "%", Estimated), "limit"
		if b.target >= 0 {
			u.Target, u.TargetFrom = exactly(target*100, "%", Entered), "entered"
		}
	}
	return u, target
}

// of fills in the times of one run.
func (u *DryingUse) of(plan *powderPlan, index int, m *material.Material, targetDry float64) {
	run := &plan.bench.runs[index]
	time, err := run.timeTo(targetDry)
	switch {
	case errors.Is(err, errDoubtful):
		u.Doubtful = true
	case err != nil:
		u.Beyond = true
	default:
		u.Extrapolated = time.Value > run.lastS
		u.told(timeResult(time, run.basis()), run.lastS)
	}
	u.shift(plan, index, m, targetDry)
}

// told takes a time from the start of a run, and what is left of it from the last
// weighing on.
func (u *DryingUse) told(time Result, lastS float64) {
	left := func(hours float64) float64 { return max(0, hours-lastS/3600) }
	u.Time, u.Left = time, newResult(left(time.Value), left(time.Low), left(time.High), "h", time.Basis)
	if !time.Known() {
		u.Left = Result{Unit: "h"}
	}
}

// timeResult is a time of a curve in hours; a target that was below at the start
// takes none.
func timeResult(t filler.CurveValue, basis Basis) Result {
	if t.Value == 0 {
		return exactly(0, "h", basis)
	}
	return curveResult(t, 1.0/3600, "h", basis)
}

// fetch is the wet mass that a batch needs of its first powder: its dry powder with
// the water that it has when it leaves the last step, over the yield of the
// preparation. What it takes up from the air later was not fetched.
func fetch(m *Model, s *Sheet, blendIndex int) Result {
	unknown := Result{Unit: "kg"}
	b := &m.blends[blendIndex]
	if b.powder < 0 {
		return unknown
	}
	wet := s.Powders[b.powder].Preparation.WetPerUsable
	rows := s.Blends[blendIndex].Batch.Rows
	first := m.firstPowder(b)
	if !wet.Known() || first >= len(rows) || !rows[first].HasWeigh || rows[first].DryG <= 0 {
		return unknown
	}
	kg := rows[first].DryG / 1000 / (1 - m.powders[b.powder].leaving(m.best()))
	return newResult(kg*wet.Value, kg*wet.Low, kg*wet.High, "kg", wet.Basis)
}
