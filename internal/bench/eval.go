package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/spool"
)

// reference holds what the other blends are compared with.
type reference struct {
	known              bool
	density            float64
	costPerKg          float64
	costPerMetre       float64
	strandCostPerMetre float64
	materialPerMetre   float64
}

// state carries the intermediate numbers of one blend through the steps of the core.
type state struct {
	w, v            []float64
	polymer, powder float64 // mass fractions
	powderVolume    float64
	density         float64 // measured where given
	estimate        float64 // by the inverse rule of mixtures
	area            float64
	lengthPerSpool  float64
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

// compose turns the amounts into mass and volume fractions.
func compose(b *blendPlan, x []float64, s *Scratch, st *state) bool {
	n := len(b.parts)
	amounts, w, rho := s.amounts[:n], s.w[:n], s.density[:n]
	for i := range b.parts {
		p := &b.parts[i]
		rho[i] = get(x, p.density)
		amounts[i] = blend.Amount{Basis: p.basis, DensityKgM3: rho[i], Polymer: p.kind == material.Polymer}
		if p.amount >= 0 {
			amounts[i].Value = x[p.amount]
		}
		s.filler[i] = p.kind == material.Filler
	}
	if _, problem := blend.MassFractions(w, amounts); problem != blend.OK {
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
	st.lengthPerSpool = y[MetresPerKg] * get(x, m.set.netMass)
	y[LengthPerSpool] = st.lengthPerSpool
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
// because it is paid once per run and not per spool.
func (m *Model) cost(b *blendPlan, x, y []float64, s *Scratch, st *state) {
	c := &m.set
	materials, rest := 0.0, 0.0
	for i := range b.parts {
		share := st.w[i] * get(x, b.parts[i].price)
		materials += share
		if b.parts[i].kind != material.Filler {
			rest += share
		}
	}
	perMetre := st.density * st.area
	y[MaterialCostPerKg] = materials

	target := c.spools * get(x, c.netMass)
	keep := 1 - get(x, c.scrap)
	conversion := (get(x, c.power)*get(x, c.energyPrice) + get(x, c.labour)) / get(x, c.throughput)
	extra := 0.0
	if b.filled {
		extra = get(x, c.wear) + get(x, c.extraTime)*get(x, c.labour)/target
	}
	strandFactor := blend.Charge(target, get(x, c.startUp), 1-keep) / target
	strand := (materials+conversion)*strandFactor + extra
	changeover := 0.0
	if !b.isReference {
		changeover = get(x, c.purge) / keep * (materials + conversion)
	}
	y[ChangeoverCost] = changeover
	y[CostPerKg] = strand + changeover/target
	y[CostPerMetre] = y[CostPerKg] * perMetre
	y[CostPerSpool] = y[CostPerKg]*get(x, c.netMass) + get(x, c.emptySpool)
	if c.boughtPrice >= 0 && c.bought >= 0 && s.ref.known {
		bought := (x[c.boughtPrice] / x[c.bought]) * s.ref.density * st.area
		y[CostChangeBought] = (y[CostPerKg]+get(x, c.emptySpool)/get(x, c.netMass))*perMetre/bought - 1
	}
	if b.isReference {
		s.ref = reference{
			known: true, density: st.density, costPerKg: y[CostPerKg], costPerMetre: y[CostPerMetre],
			strandCostPerMetre: strand * perMetre, materialPerMetre: materials * perMetre,
		}
	}
	if !s.ref.known {
		return
	}
	y[MaterialCostChange] = materials*perMetre/s.ref.materialPerMetre - 1
	y[CostChangePerMetre] = y[CostPerMetre]/s.ref.costPerMetre - 1
	y[SavingPerSpool] = (s.ref.strandCostPerMetre - strand*perMetre) * st.lengthPerSpool
	if b.filled {
		breakEven := func(factor float64) float64 {
			return blend.BreakEvenPrice(s.ref.costPerKg, s.ref.density, st.density,
				st.powder, rest*factor, conversion*factor+extra, factor)
		}
		y[BreakEvenLongRun] = breakEven(strandFactor)
		y[BreakEvenFillerPrice] = breakEven(strandFactor + m.purgeFactor(b, x, target, keep))
	}
}

// purgeFactor is the purged mass, scrap included, per mass of strand.
func (m *Model) purgeFactor(b *blendPlan, x []float64, target, keep float64) float64 {
	if b.isReference {
		return 0
	}
	return get(x, m.set.purge) / keep / target
}

// flow fills the melt-flow factors: how many times faster this blend flows
// than its own plain polymer on the same line, as grams per time at the same
// stress.
func (m *Model) flow(b *blendPlan, x, y []float64, st *state) {
	grains := grainsFactor(b, x, st)
	oil := melt.OilFactor(get(x, m.set.oilEffect), oilShare(b, x, st))
	water, bound := m.waterFactor(b, x, st)
	y[MeltFlowGrains], y[MeltFlowOil] = grains, oil
	y[MeltFlowWater], y[MeltFlowWaterBound] = water, bound
	y[MeltFlow] = grains * water * oil
	if b.measuredFlow < 0 || !math.IsNaN(b.content) {
		return
	}
	y[MeltFlowModel] = y[MeltFlow]
	y[MeltFlow] = x[b.measuredFlow]
	if b.water == waterKinetic || b.water == waterBound {
		y[MeltFlowWater] = x[b.measuredFlow] / (grains * oil)
	}
}

// grainsFactor is the slowing by grains at constant stress, 1 without powder
// and NaN where the melt would not flow at all.
func grainsFactor(b *blendPlan, x []float64, st *state) float64 {
	if !b.filled || st.powder == 0 {
		return 1
	}
	volume, powder, matrixVolume, matrixMass, packing := 0.0, 0.0, 0.0, 0.0, 0.0
	for i := range b.parts {
		p := &b.parts[i]
		rho := get(x, p.density)
		if p.kind == material.Polymer {
			rho = get(x, p.melt)
		}
		part := st.w[i] / rho
		volume += part
		if p.kind == material.Filler {
			powder += part
			packing += part * get(x, p.packing)
		} else {
			matrixVolume += part
			matrixMass += st.w[i]
		}
	}
	phi, limit := powder/volume, packing/powder
	if !melt.WillFlow(phi, limit) {
		return math.NaN()
	}
	return melt.GrainsFactor(melt.MaronPierce(phi, limit), 1/volume, matrixMass/matrixVolume)
}

// oilShare is the oil over oil and polymer: added oil and what the powder brings.
func oilShare(b *blendPlan, x []float64, st *state) float64 {
	oil := 0.0
	for i := range b.parts {
		p := &b.parts[i]
		switch {
		case p.isOil:
			oil += st.w[i]
		case p.kind == material.Filler && p.oil >= 0:
			oil += st.w[i] * x[p.oil]
		case p.kind == material.Filler:
			oil += st.w[i] * p.oilKnown
		}
	}
	return melt.OilShare(oil, st.polymer)
}

// waterFactor is what the water of the powder does to the polymer's molar
// mass, as a melt-flow factor against the same polymer with only the water of
// its own pellets, and the bound if every water molecule cut one bond.
func (m *Model) waterFactor(b *blendPlan, x []float64, st *state) (factor, bound float64) {
	if b.main < 0 || b.water == waterUnknown {
		return math.NaN(), math.NaN()
	}
	if b.water == waterVoids {
		return 1, math.NaN()
	}
	own, added := pelletAndPowderWater(b, x, st)
	exponent, molarMass := get(x, m.set.exponent), get(x, b.molarMass)
	bound = melt.MolarMassFactor(molarMass, melt.MolarMassBound(molarMass, own+added), exponent)
	if !b.filled || added == 0 {
		return 1, bound
	}
	if b.water == waterBound {
		return math.NaN(), bound
	}
	temperature, time := get(x, m.set.temperature), get(x, m.set.residence)
	hydrolysis := melt.HydrolysisRate(math.Exp(get(x, m.set.rateLog)), temperature)
	thermal := melt.ThermalScissionRate(temperature)
	plain := melt.MolarMassAfter(molarMass, own, hydrolysis, thermal, time)
	filled := melt.MolarMassAfter(molarMass, own+added, hydrolysis, thermal, time)
	return melt.MolarMassFactor(plain, filled, exponent), bound
}

// pelletAndPowderWater is the water per mass of polymer that the pellets and
// that the other parts bring.
func pelletAndPowderWater(b *blendPlan, x []float64, st *state) (own, added float64) {
	for i := range b.parts {
		carried := st.w[i] * waterOf(&b.parts[i], x) / st.polymer
		if b.parts[i].kind == material.Polymer {
			own += carried
		} else {
			added += carried
		}
	}
	return own, added
}
