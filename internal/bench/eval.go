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
	known     bool
	density   float64
	costPerKg float64
	making    makingCost
}

// state carries the intermediate numbers of one blend through the steps of the core.
type state struct {
	w, v            []float64
	polymer, powder float64 // mass fractions
	loose           float64 // of the powder, what did not come within regrind
	powderVolume    float64
	density         float64 // measured where given
	measured        bool
	estimate        float64 // by the inverse rule of mixtures
	area            float64
	mix             meltMix
	line            lineState
}

// Eval computes every figure of every blend: y[b*FigureCount+figure], in SI.
// What is derived for the powders stands behind them. A figure that cannot be
// computed is NaN there. It does not allocate.
func (m *Model) Eval(x, y []float64, s *Scratch) {
	s.ref = reference{}
	x = m.fill(s.full, x)
	s.pinned = m.pinned(x, s)
	copy(y[len(m.blends)*FigureCount:], x[:len(m.derived)])
	if r := m.reference; r >= 0 {
		m.evalBlend(&m.blends[r], x, y[r*FigureCount:(r+1)*FigureCount], s)
	}
	for i := range m.blends {
		if i != m.reference {
			m.evalBlend(&m.blends[i], x, y[i*FigureCount:(i+1)*FigureCount], s)
		}
	}
}

// evalLine computes the figures of the line alone; the others in y are those of the same
// x but for inputs on which only figures of the line hang.
func (m *Model) evalLine(x, y []float64, s *Scratch) {
	x = m.fill(s.full, x)
	for i := range m.blends {
		b := &m.blends[i]
		var st state
		if compose(b, x, s, &st) {
			m.toStrand(b, x, &st)
			m.toLine(b, x, &st)
			m.lineFigures(b, x, y[i*FigureCount:(i+1)*FigureCount], &st)
		}
	}
}

// get reads a number; one that was not given is NaN and spoils what depends on it.
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
	m.toLine(b, x, &st)
	m.flow(b, x, y, &st, s)
	m.lineFigures(b, x, y, &st)
	m.bench(b, x, y, &st)
	b.strengthFigures(x, y, &st)
}

// evalReference works out no more of the reference than others are compared with.
func (m *Model) evalReference(b *blendPlan, x, y []float64, s *Scratch) {
	var st state
	if compose(b, x, s, &st) {
		m.strand(b, x, y, &st)
		m.cost(b, x, y, s, &st)
	}
}

// fillAmounts writes the recipe at x into the scratch.
func (b *blendPlan) fillAmounts(x []float64, s *Scratch) {
	for i := range b.parts {
		p := &b.parts[i]
		s.density[i] = p.solid(x)
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
	if !math.IsNaN(b.content) {
		loose, ok := b.loose(x, w)
		if !ok || !blend.SetFillerContent(w, w, s.filler[:n], loose) {
			return false
		}
	}
	blend.VolumeFractions(s.v[:n], w, rho)
	st.w, st.v = w, s.v[:n]
	for i := range b.parts {
		switch b.parts[i].kind {
		case material.Polymer:
			p := &b.parts[i]
			own := p.powderWithin(x)
			st.polymer += w[i] * (1 - own)
			if own != 0 {
				st.powder += w[i] * own
				st.powderVolume += st.v[i] * own * rho[i] / get(x, p.regrind.density)
			}
		case material.Filler:
			st.powder += w[i]
			st.loose += w[i]
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
	m.toStrand(b, x, st)
	if st.measured {
		y[VoidFraction] = blend.Voids(st.estimate, st.density)
	}
	y[Density] = st.density
	diameter := get(x, m.set.diameter)
	y[MetresPerKg] = spool.Length(1, st.density, diameter*diameter)
	y[LengthPerSpool] = spool.Length(get(x, m.set.netMass), st.density, diameter*diameter)
	if m.set.weighed >= 0 && m.set.emptyMass >= 0 {
		y[RemainingLength] = spool.Remaining(x[m.set.weighed], x[m.set.emptyMass], st.density, diameter*diameter)
	}
}

// toStrand finds density and section of the strand. A measured density stands for the
// content it was measured at only.
func (m *Model) toStrand(b *blendPlan, x []float64, st *state) {
	st.density = st.estimate
	if b.measuredDensity >= 0 && math.IsNaN(b.content) {
		st.density, st.measured = x[b.measuredDensity], true
	}
	st.area = spool.Area(get(x, m.set.diameter))
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

// makingCost is what making a blend costs: what every kilogram of strand costs
// by itself, and what is paid once per run, however long it is.
type makingCost struct {
	processed float64 // a kilogram through the line: materials, power and labour
	running   float64 // a kilogram of strand, with its scrap and wear
	purge     float64 // one change of material
	run       float64 // one run: start-up, purge and extra time
	charge    float64 // kilograms through the line per kilogram of strand, this run
	rest      float64 // materials but the powders, per kilogram of blend
	materials float64
}

// making computes the cost of making from
//
//	processed = materials + (power·price of energy + labour)/throughput
//	running   = processed/(1 - scrap) + wear
//	run       = processed·(start-up + purge)/(1 - scrap) + extra time·labour
//
// Wear and extra time are those of powder; the reference needs no purge.
func (m *Model) making(b *blendPlan, x []float64, st *state, target float64) makingCost {
	c := &m.set
	var k makingCost
	k.materials, k.rest = materialCost(b, x, st)
	k.processed = k.materials + m.conversion(x)
	scrap, lost := get(x, c.scrap), get(x, c.startUp)
	if !b.isReference {
		k.purge = k.processed * blend.Charge(0, get(x, c.purge), scrap)
		lost += get(x, c.purge)
	}
	k.running = k.processed * blend.Charge(1, 0, scrap)
	k.run = k.processed * blend.Charge(0, lost, scrap)
	k.charge = blend.Charge(target, lost, scrap) / target
	if b.filled {
		k.running += get(x, c.wear)
		k.run += get(x, c.extraTime) * get(x, c.labour)
	}
	return k
}

// conversion is power and labour per kilogram through the line.
func (m *Model) conversion(x []float64) float64 {
	c := &m.set
	return (get(x, c.power)*get(x, c.energyPrice) + get(x, c.labour)) / get(x, c.throughput)
}

// cost fills the figures of cost. All per kilogram of strand, target being the
// mass on all spools of the run:
//
//	cost per kg = running + run/target
func (m *Model) cost(b *blendPlan, x, y []float64, s *Scratch, st *state) {
	c := &m.set
	mass := get(x, c.netMass)
	target := c.spools * mass
	k := m.making(b, x, st, target)
	perKg := k.running + k.run/target
	y[MaterialCostPerKg] = k.materials
	y[ChangeoverCost] = k.purge
	y[CostPerKg] = perKg
	y[CostPerMetre] = blend.CostPerMetre(perKg, st.density, st.area)
	y[CostPerSpool] = perKg*mass + get(x, c.emptySpool)
	if b.isReference {
		s.ref = reference{known: true, density: st.density, costPerKg: perKg, making: k}
	}
	if !s.ref.known {
		return
	}
	m.compare(b, x, y, s, st, &k)
}

// compare holds the cost of a blend against that of the reference, at the same
// volume of strand, which is the same length. A run of n spools costs
//
//	extra per run - n·saving per spool
//
// more than the same length of the reference out of a run of as many spools,
// so that n spools pay exactly when a metre of them costs less.
func (m *Model) compare(b *blendPlan, x, y []float64, s *Scratch, st *state, k *makingCost) {
	c, ref := &m.set, &s.ref
	mass := get(x, c.netMass)
	perKg := ref.density / st.density // of the reference, as long as a kilogram of the blend
	y[MaterialCostChange] = k.materials/(ref.making.materials*perKg) - 1
	y[CostChangePerMetre] = y[CostPerKg]/(ref.costPerKg*perKg) - 1
	y[SavingPerSpool] = (ref.making.running*perKg - k.running) * mass
	y[ExtraCostPerRun] = k.run - ref.making.run*perKg
	if c.boughtPrice >= 0 && c.bought >= 0 {
		bought := x[c.boughtPrice] / x[c.bought] * perKg
		y[CostChangeBought] = (y[CostPerKg]+get(x, c.emptySpool)/mass)/bought - 1
	}
	if b.filled {
		m.breakEven(x, y, s, st, k)
	}
}

// breakEven is the price of powder at which a metre costs what the reference
// costs, in this run and in a long one, where what is paid once counts for
// nothing.
func (m *Model) breakEven(x, y []float64, s *Scratch, st *state, k *makingCost) {
	c, ref := &m.set, &s.ref
	price := func(referencePerKg, charge, extra float64) float64 {
		return blend.BreakEvenPrice(referencePerKg, ref.density, st.density,
			st.loose, (k.rest+m.conversion(x))*charge, extra, charge)
	}
	wear := get(x, c.wear)
	extraWork := get(x, c.extraTime) * get(x, c.labour)
	y[BreakEvenLongRun] = price(ref.making.running, blend.Charge(1, 0, get(x, c.scrap)), wear)
	y[BreakEvenFillerPrice] = price(ref.costPerKg, k.charge, wear+extraWork/(c.spools*get(x, c.netMass)))
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
