package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/spool"
)

// reference holds what the other blends are compared with. Costs are per volume
// of strand: at one diameter that compares metres, and the diameter cancels.
type reference struct {
	known         bool
	density       float64
	costPerKg     float64
	costPerM3     float64
	strandPerM3   float64 // without the purge
	materialPerM3 float64
}

// state carries the intermediate numbers of one blend through the steps of the core.
type state struct {
	w, v            []float64
	polymer, powder float64 // mass fractions
	powderVolume    float64
	density         float64 // measured where given
	estimate        float64 // by the inverse rule of mixtures
	area            float64
}

// Eval computes every figure of every blend: y[b*FigureCount+figure], in SI.
// A figure that cannot be computed is NaN there. It does not allocate.
func (m *Model) Eval(x, y []float64, s *Scratch) {
	s.ref = reference{}
	if r := m.reference; r >= 0 {
		m.evalBlend(&m.blends[r], x, y[r*FigureCount:(r+1)*FigureCount], s)
	}
	for i := range m.blends {
		if i != m.reference {
			m.evalBlend(&m.blends[i], x, y[i*FigureCount:(i+1)*FigureCount], s)
		}
	}
}

// get reads an input; one that was not given is NaN and spoils what depends on it.
func get(x []float64, i at) float64 {
	if i < 0 {
		return math.NaN()
	}
	return x[i]
}

func (m *Model) evalBlend(b *blendPlan, x, y []float64, s *Scratch) {
	for i := range y {
		y[i] = math.NaN()
	}
	var st state
	if !compose(b, x, s, &st) {
		return
	}
	m.strand(b, x, y, &st)
	m.cost(b, x, y, s, &st)
	m.flow(b, x, y, &st)
}

// fillAmounts writes the recipe at x into the scratch.
func (b *blendPlan) fillAmounts(x []float64, s *Scratch) {
	for i := range b.parts {
		p := &b.parts[i]
		s.density[i] = get(x, p.density)
		s.amounts[i] = blend.Amount{Basis: p.basis, DensityKgM3: s.density[i], Polymer: p.kind == material.Polymer}
		if p.basis != blend.Balance {
			s.amounts[i].Value = get(x, p.amount)
		}
		s.filler[i] = p.kind == material.Filler
	}
}

// compose turns the amounts into mass and volume fractions. Whether they make a
// whole was settled at the best estimates; beside them, sums that are a little
// off are scaled, so that an amount with an uncertainty can be varied.
func compose(b *blendPlan, x []float64, s *Scratch, st *state) bool {
	if b.unset >= 0 || b.problem != blend.OK {
		return false
	}
	n := len(b.parts)
	b.fillAmounts(x, s)
	amounts, w, rho := s.amounts[:n], s.w[:n], s.density[:n]
	switch _, problem := blend.MassFractions(w, amounts); problem {
	case blend.OK, blend.SumNotWhole, blend.OverFull:
	default:
		return false
	}
	if !math.IsNaN(b.content) && !blend.SetFillerContent(w, w, s.filler[:n], b.content) {
		return false
	}
	blend.VolumeFractions(s.v[:n], w, rho)
	st.w, st.v = w, s.v[:n]
	for i := range b.parts {
		switch b.parts[i].kind {
		case material.Polymer:
			st.polymer += w[i]
		case material.Filler:
			st.powder += w[i]
			st.powderVolume += st.v[i]
		}
	}
	st.estimate = blend.Density(w, rho)
	return true
}

// strand fills the figures of composition, density and length.
func (m *Model) strand(b *blendPlan, x, y []float64, st *state) {
	y[FillerMassFraction] = st.powder
	y[FillerVolumeFraction] = st.powderVolume
	y[BlendMoisture] = moisture(b, x, st)
	y[DensityEstimated] = st.estimate
	st.density = st.estimate
	if b.measuredDensity >= 0 && math.IsNaN(b.content) {
		st.density = x[b.measuredDensity]
		y[VoidFraction] = blend.Voids(st.estimate, st.density)
	}
	y[Density] = st.density
	diameter := get(x, m.set.diameter)
	st.area = spool.Area(diameter)
	y[MetresPerKg] = spool.Length(1, st.density, diameter*diameter)
	y[LengthPerSpool] = spool.Length(get(x, m.set.netMass), st.density, diameter*diameter)
	if m.set.weighed >= 0 && m.set.emptyMass >= 0 {
		y[RemainingLength] = spool.Remaining(x[m.set.weighed], x[m.set.emptyMass], st.density, diameter*diameter)
	}
}

// moisture is the water of all parts over the mass of the damp blend.
func moisture(b *blendPlan, x []float64, st *state) float64 {
	water := 0.0
	for i := range b.parts {
		water += st.w[i] * waterOf(&b.parts[i], x)
	}
	return blend.DryToWet(water)
}

// waterOf is the water that a part carries per dry mass. An additive without a
// moisture is taken as free of water: oils and waxes hold next to none.
func waterOf(p *partPlan, x []float64) float64 {
	if p.moisture < 0 && p.kind == material.Additive {
		return 0
	}
	return blend.WetToDry(get(x, p.moisture))
}

// cost fills the figures of cost. The strand itself carries start-up, scrap,
// power, labour and wear; the purge of a change of material is kept apart,
// because it is paid once per run and not per spool:
//
//	strand = (materials + conversion)·charge/target + extra
//	cost   = strand + changeover/target
//	conversion = (power·price of energy + labour)/throughput
//	extra  = wear + extra time·labour/target, for blends with powder only
//
// all per kg of strand, target being the mass on all spools of the run. The
// reference runs without a change of material.
func (m *Model) cost(b *blendPlan, x, y []float64, s *Scratch, st *state) {
	c := &m.set
	materials, rest := materialCost(b, x, st)
	target := c.spools * get(x, c.netMass)
	scrap := get(x, c.scrap)
	conversion := (get(x, c.power)*get(x, c.energyPrice) + get(x, c.labour)) / get(x, c.throughput)
	extra := 0.0
	if b.filled {
		extra = get(x, c.wear) + get(x, c.extraTime)*get(x, c.labour)/target
	}
	perStrand := blend.Charge(target, get(x, c.startUp), scrap) / target
	strand := (materials+conversion)*perStrand + extra
	purged, changeover := 0.0, 0.0
	if !b.isReference {
		purged = blend.Charge(0, get(x, c.purge), scrap)
		changeover = (materials + conversion) * purged
	}
	perKg := strand + changeover/target

	y[MaterialCostPerKg] = materials
	y[ChangeoverCost] = changeover
	y[CostPerKg] = perKg
	y[CostPerMetre] = blend.CostPerMetre(perKg, st.density, st.area)
	y[CostPerSpool] = perKg*get(x, c.netMass) + get(x, c.emptySpool)
	if b.isReference {
		s.ref = reference{
			known: true, density: st.density, costPerKg: perKg,
			costPerM3: perKg * st.density, strandPerM3: strand * st.density, materialPerM3: materials * st.density,
		}
	}
	if !s.ref.known {
		return
	}
	y[MaterialCostChange] = materials*st.density/s.ref.materialPerM3 - 1
	y[CostChangePerMetre] = perKg*st.density/s.ref.costPerM3 - 1
	y[SavingPerSpool] = (s.ref.strandPerM3/st.density - strand) * get(x, c.netMass)
	if c.boughtPrice >= 0 && c.bought >= 0 {
		bought := x[c.boughtPrice] / x[c.bought] * s.ref.density
		y[CostChangeBought] = (perKg+get(x, c.emptySpool)/get(x, c.netMass))*st.density/bought - 1
	}
	if b.filled {
		breakEven := func(factor float64) float64 {
			return blend.BreakEvenPrice(s.ref.costPerKg, s.ref.density, st.density,
				st.powder, (rest+conversion)*factor, extra, factor)
		}
		y[BreakEvenLongRun] = breakEven(perStrand)
		y[BreakEvenFillerPrice] = breakEven(perStrand + purged/target)
	}
}

// materialCost is the cost of all materials per kg of blend, and that of all
// but the powders.
func materialCost(b *blendPlan, x []float64, st *state) (all, rest float64) {
	for i := range b.parts {
		share := st.w[i] * get(x, b.parts[i].price)
		all += share
		if b.parts[i].kind != material.Filler {
			rest += share
		}
	}
	return all, rest
}
