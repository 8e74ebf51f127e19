package bench

import (
	"math"

	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
)

// flow fills the melt-flow factors: how many times faster this blend flows
// than its own plain polymer on the same line, as grams per time at the same
// stress:
//
//	factor = grains·water·oil
//
// A measured factor replaces the product, and what grains and oil do not
// explain of it is then put down to water where water can cut the chains.
func (m *Model) flow(b *blendPlan, x, y []float64, st *state, s *Scratch) {
	packing, effect := 1.0, get(x, m.set.oilEffect)
	if p := m.pinFor(project.PinGrains, s); finite(p) {
		packing = p
	}
	if p := m.pinFor(project.PinOil, s); finite(p) {
		effect = p
	}
	grains := grainsFactor(b, st, packing)
	oil := melt.OilFactor(effect, oilShare(b, x, st))
	water, bound := m.waterFactor(b, x, st, m.pinFor(project.PinWater, s))
	y[MeltFlowGrains], y[MeltFlowOil] = grains, oil
	y[MeltFlowWater], y[MeltFlowWaterBound] = water, bound
	again := b.throughHeat(x, y, st)
	y[MeltFlow] = grains * water * oil * again
	y[WaterFromPellets], y[WaterFromPowder] = pelletAndPowderWater(b, x, st)
	if b.holdsPowder() {
		y[FillerMeltFraction] = st.mix.phi()
	}
	m.measured(b, x, y, again)
	y[MolarMassLoss] = m.lossToWater(b, x, y, st, m.pinFor(project.PinWater, s))
	m.loadFigures(b, x, y, st, packing)
}

// measured puts a measured factor in the place of the product.
func (m *Model) measured(b *blendPlan, x, y []float64, again float64) {
	if b.measuredFlow < 0 || !math.IsNaN(b.content) {
		return
	}
	y[MeltFlowModel] = y[MeltFlow]
	y[MeltFlow] = x[b.measuredFlow]
	switch pin := m.pin.what; {
	case pin == project.PinGrains:
		y[MeltFlowGrains] = x[b.measuredFlow] / (y[MeltFlowWater] * y[MeltFlowOil] * again)
	case pin == project.PinOil:
		y[MeltFlowOil] = x[b.measuredFlow] / (y[MeltFlowWater] * y[MeltFlowGrains] * again)
	case b.calibratesWater():
		y[MeltFlowWater] = x[b.measuredFlow] / (y[MeltFlowGrains] * y[MeltFlowOil] * again)
	}
}

// calibratesWater reports whether the share of water is found from a measured
// melt flow.
func (b *blendPlan) calibratesWater() bool {
	return b.measuredFlow >= 0 && (b.water == waterKinetic || b.water == waterBound)
}

// meltMix is a blend as a melt: volumes and masses per mass of blend. The
// powder keeps its density, the polymer swells to its melt density.
type meltMix struct {
	volume, powder           float64
	matrixVolume, matrixMass float64
	packed                   float64 // Σ of powder volume times packing limit
}

func mixOf(b *blendPlan, x []float64, st *state) meltMix {
	var mix meltMix
	for i := range b.parts {
		p := &b.parts[i]
		own := p.powderWithin(x)
		switch {
		case p.kind == material.Filler:
			mix.addPowder(st.w[i]/get(x, p.density), get(x, p.packing))
		case p.kind == material.Polymer:
			mix.addMatrix(st.w[i]*(1-own), get(x, p.melt))
			if own != 0 {
				mix.addPowder(st.w[i]*own/get(x, p.regrind.density), get(x, p.regrind.packing))
			}
		default:
			mix.addMatrix(st.w[i], get(x, p.density))
		}
	}
	return mix
}

func (mix *meltMix) addPowder(volume, packing float64) {
	mix.volume += volume
	mix.powder += volume
	mix.packed += volume * packing
}

func (mix *meltMix) addMatrix(mass, density float64) {
	volume := mass / density
	mix.volume += volume
	mix.matrixVolume += volume
	mix.matrixMass += mass
}

// phi is the volume fraction of powder in the melt.
func (mix *meltMix) phi() float64 { return mix.powder / mix.volume }

// limit is the packing limit; that of several powders is their mean by volume.
func (mix *meltMix) limit() float64 { return mix.packed / mix.powder }

// grainsFactor is the slowing by grains at constant stress, 1 without powder
// and NaN where the melt would not flow at all. packing is what the packing limit is
// multiplied by: 1, or what a measurement settled.
func grainsFactor(b *blendPlan, st *state, packing float64) float64 {
	if !b.holdsPowder() || st.powder == 0 {
		return 1
	}
	mix := &st.mix
	limit := packing * mix.limit()
	if !melt.WillFlow(mix.phi(), limit) {
		return math.NaN()
	}
	return melt.GrainsFactor(melt.MaronPierce(mix.phi(), limit), 1/mix.volume, mix.matrixMass/mix.matrixVolume)
}

// oilShare is the oil over oil and polymer: added oil and what the powder brings.
func oilShare(b *blendPlan, x []float64, st *state) float64 {
	oil := 0.0
	for i := range b.parts {
		if p := &b.parts[i]; p.isOil {
			oil += st.w[i]
		} else {
			oil += p.oilIn(x, st.w[i])
		}
	}
	return melt.OilShare(oil, st.polymer)
}

// waterFactor is what the water of the other parts does to the polymer's molar
// mass, as a melt-flow factor against the same polymer with only the water of
// its own pellets after the same time in the melt; and the bound, against
// chains of which none is cut, if every water molecule of pellets and powder
// cut one bond. rate is the rate of hydrolysis at 210 °C that a measurement settled, NaN
// without one.
func (m *Model) waterFactor(b *blendPlan, x []float64, st *state, rate float64) (factor, bound float64) {
	return m.waterFactorAfter(b, x, st, rate, 1)
}

// waterFactorAfter is waterFactor for a blend that goes through the line several times,
// the plain polymer once, when no water is lost between.
func (m *Model) waterFactorAfter(b *blendPlan, x []float64, st *state, rate, passes float64) (factor, bound float64) {
	own, added := pelletAndPowderWater(b, x, st)
	switch {
	case added == 0:
		return 1, math.NaN()
	case b.water == waterVoids:
		return 1, math.NaN()
	case b.water == waterUnknown:
		return math.NaN(), math.NaN()
	}
	exponent, molarMass := get(x, m.set.exponent), get(x, b.molarMass)
	bound = melt.MolarMassFactor(molarMass, melt.MolarMassBound(molarMass, own+added), exponent)
	if b.water == waterBound {
		return math.NaN(), bound
	}
	temperature, time := get(x, m.set.temperature), m.residence(x, st)
	if math.IsNaN(rate) {
		rate = math.Exp(get(x, m.set.rateLog))
	}
	hydrolysis := melt.HydrolysisRate(rate, temperature)
	thermal := melt.ThermalScissionRate(temperature)
	plain := melt.MolarMassAfter(molarMass, own, hydrolysis, thermal, time)
	filled := melt.MolarMassAfter(molarMass, own+added, hydrolysis, thermal, time*passes)
	return melt.MolarMassFactor(plain, filled, exponent), bound
}

// pelletAndPowderWater is the water per mass of polymer that the pellets and
// that the other parts bring.
func pelletAndPowderWater(b *blendPlan, x []float64, st *state) (own, added float64) {
	for i := range b.parts {
		carried := st.w[i] * waterOf(&b.parts[i], x)
		if b.parts[i].kind == material.Polymer {
			own += carried
		} else {
			added += carried
		}
	}
	if added == 0 {
		return own / st.polymer, 0
	}
	return own / st.polymer, added / st.polymer
}
