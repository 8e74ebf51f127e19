package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
)

// bases fills in what each figure of a blend rests on by itself; compareBases
// adds what it is compared with.
func (c *compiler) bases(b *blendPlan) {
	amounts := c.amountBasis(b)
	density := c.densityBasis(b)
	strand := density
	if b.measuredDensity >= 0 {
		strand = Measured
	}
	length := weakest(strand, c.basisAt(c.model.set.diameter))
	set := func(basis Basis, figures ...Figure) {
		for _, f := range figures {
			b.basis[f] = basis
		}
	}
	set(density, DensityEstimated, FillerVolumeFraction)
	set(amounts, FillerMassFraction, RegrindShare, FillerFromRegrind, HeatPasses)
	set(strand, Density)
	set(weakest(density, strand), VoidFraction)
	set(weakest(amounts, c.worst(b, moistureOf)), BlendMoisture, WaterFromPellets, WaterFromPowder)
	set(weakest(Entered, amounts), MaterialCostPerKg, CostPerKg, CostPerSpool, ChangeoverCost)
	set(weakest(Entered, amounts, strand), MaterialCostChange, CostChangePerMetre, CostChangeBought,
		BreakEvenFillerPrice, BreakEvenLongRun, SavingPerSpool, ExtraCostPerRun)
	set(weakest(Entered, amounts, length), CostPerMetre)
	set(length, MetresPerKg, RemainingLength)
	set(weakest(Entered, length), LengthPerSpool)
	set(Estimated, FillerMeltFraction,
		MeltFlow, MeltFlowGrains, MeltFlowWater, MeltFlowOil, MeltFlowRegrind, MeltFlowModel, MeltFlowWaterBound)
	c.loadBases(b)
	c.powderBases(b, length)
	c.lineBases(b, strand)
	if b.measuredFlow >= 0 {
		set(Measured, MeltFlow)
		if b.calibratesWater() {
			set(Calibrated, MeltFlowWater)
		}
	}
}

// loadBases fills in those of what the loading is held against.
func (c *compiler) loadBases(b *blendPlan) {
	for _, f := range []Figure{ViscosityRise, MolarMassLoss, PickUpUse, WaterUse, LineMargin, NozzleMargin, TopShare, Modulus, StiffnessKept} {
		b.basis[f] = Estimated
	}
	s := &b.strength
	for d, f := range [directionCount][2]Figure{{StrengthFlat, StrengthKeptFlat}, {StrengthUpright, StrengthKeptUpright}} {
		plain, kept := Estimated, Estimated
		if s.plain[d] >= 0 {
			plain = c.basisAt(s.plain[d])
		}
		if len(s.bond[d].points) > 0 {
			kept = Calibrated
		}
		if !b.filled {
			kept = Measured
		}
		b.basis[f[0]], b.basis[f[1]] = weakest(plain, kept), weakest(plain, kept)
	}
}

// powderBases fills in those of what the bench says of the powders.
func (c *compiler) powderBases(b *blendPlan, length Basis) {
	if b.powder < 0 {
		return
	}
	p := &c.model.powders[b.powder]
	b.basis[PowderMoisture], b.basis[PackingLimit] = c.basisAt(p.moisture), c.basisAt(p.packing)
	b.basis[PreparationYield] = c.basisAt(p.number(numYield))
	b.basis[PreparedCost] = c.basisAt(p.number(numCost))
	b.basis[SizeD10], b.basis[SizeD50], b.basis[SizeD90] = Measured, Measured, Measured
	b.basis[TopSize] = c.basisAt(p.top)
	if run := p.run(); run != nil {
		b.basis[DryingTime] = run.basis()
	}
	if b.target < 0 {
		b.basis[DryingTime] = Estimated // the limit of the polymer decides
	}
	grains := length
	for i := range b.parts {
		if k := b.parts[i].powder; k >= 0 {
			grains = weakest(grains, c.basisAt(c.model.powders[k].grains))
		}
	}
	b.basis[GrainsPerMetre], b.basis[ClogChancePerSpool], b.basis[ClogChancePerPrint] = grains, grains, grains
}

func moistureOf(p *partPlan) at { return p.moisture }

// compareBases lets no comparison be better founded than the strand of the reference.
func (m *Model) compareBases() {
	if m.reference < 0 {
		return
	}
	reference := m.blends[m.reference].basis[Density]
	for i := range m.blends {
		for _, f := range append(comparisonFigures(), BreakEvenLongRun, CostChangeBought) {
			m.blends[i].basis[f] = weakest(m.blends[i].basis[f], reference)
		}
	}
}

func (c *compiler) basisAt(i at) Basis {
	if i < 0 {
		return Entered
	}
	if in := c.model.input(i); in != nil {
		return in.Basis
	}
	return c.model.derived[i].basis
}

// worst is the weakest basis of one property over the parts.
func (c *compiler) worst(b *blendPlan, property func(*partPlan) at) Basis {
	basis := Measured
	for i := range b.parts {
		if place := property(&b.parts[i]); place >= 0 {
			basis = weakest(basis, c.basisAt(place))
		}
	}
	return basis
}

// densityBasis: one material alone is as good as its density; a mix also rests
// on the rule of mixtures without voids, which is an estimate.
func (c *compiler) densityBasis(b *blendPlan) Basis {
	if len(b.parts) > 1 {
		return Estimated
	}
	return c.worst(b, func(p *partPlan) at { return p.density })
}

// amountBasis: parts by volume need the densities to become masses.
func (c *compiler) amountBasis(b *blendPlan) Basis {
	for i := range b.parts {
		if b.parts[i].basis == blend.ByVolume {
			return c.worst(b, func(p *partPlan) at { return p.density })
		}
	}
	return Entered
}

// Sweep is the model of one blend at a row of filler contents, in mass
// fractions, with the reference behind them: what a picture against filler
// content is drawn from. A blend without powder cannot be swept: nil.
func (m *Model) Sweep(blendIndex int, contents []float64) *Model {
	if blendIndex < 0 || blendIndex >= len(m.blends) || !m.blends[blendIndex].filled {
		return nil
	}
	swept := &Model{derived: m.derived, inputs: m.inputs, nominal: m.nominal, powders: m.powders, tests: m.tests, line: m.line, pin: m.pin, set: m.set, most: m.most, limits: m.limits, upTo: m.upTo, axis: m.axis, currency: m.currency, reference: -1}
	for _, content := range contents {
		b := m.blends[blendIndex]
		b.content, b.index, b.isReference, b.kept = content, -1, false, nil
		swept.blends = append(swept.blends, b)
	}
	if m.reference >= 0 {
		swept.reference = len(swept.blends)
		swept.blends = append(swept.blends, m.blends[m.reference])
	}
	return swept
}

// varying lists the inputs that have an uncertainty.
func (m *Model) varying() []int {
	var list []int
	for i := range m.inputs {
		if m.inputs[i].uncertain() && m.inputs[i].only != limitPart {
			list = append(list, i)
		}
	}
	return list
}

func (in *Input) uncertain() bool { return in.UMinus > 0 || in.UPlus > 0 }

// firstPowder is the part that a sweep varies, or -1.
func (m *Model) firstPowder(b *blendPlan) int {
	for i := range b.parts {
		if b.parts[i].kind == material.Filler {
			return i
		}
	}
	return -1
}

// Contents is an even row of n mass fractions from 0 to most.
func Contents(n int, most float64) []float64 {
	row := make([]float64, n)
	for i := range row {
		row[i] = most * float64(i) / math.Max(1, float64(n-1))
	}
	return row
}
