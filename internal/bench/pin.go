package bench

import (
	"math"

	"fillwright/internal/melt"
	"fillwright/internal/project"
)

// pinPlan says which part of the melt-flow model a measurement settles, and the blend
// whose measurement it is; nil for none.
type pinPlan struct {
	what project.Pin
	from *blendPlan
}

// pinPlan finds the measurement that settles the model: that of the blend which is
// named, else of the first blend that has one.
func (c *compiler) pinPlan() pinPlan {
	plan := pinPlan{what: c.project.Melt.Pin}
	if plan.what == "" {
		return plan
	}
	for i := range c.model.blends {
		b := &c.model.blends[i]
		named := c.project.Melt.PinBlend
		if b.measuredFlow >= 0 && b.filled && (named == "" || named == b.id) {
			plan.from = b
			break
		}
	}
	return plan
}

// pinned is the number that settles the model: the rate of hydrolysis at 210 °C, the
// packing limit over that of the powder, or the effect of oil; NaN without a
// measurement, or with one that this part of the model cannot explain.
func (m *Model) pinned(x []float64, s *Scratch) float64 {
	b := m.pin.from
	if b == nil {
		return math.NaN()
	}
	var st state
	if !compose(b, x, s, &st) {
		return math.NaN()
	}
	m.toLine(b, x, &st)
	measured := x[b.measuredFlow] / regrindFactor(b, x, &st)
	grains, oil := grainsFactor(b, &st, 1), melt.OilFactor(get(x, m.set.oilEffect), oilShare(b, x, &st))
	water, _ := m.waterFactor(b, x, &st, math.NaN())
	switch m.pin.what {
	case project.PinGrains:
		mix := &st.mix
		limit, ok := melt.PackingLimitFrom(measured/(water*oil), mix.phi(), 1/mix.volume, mix.matrixMass/mix.matrixVolume)
		return orUnknown(limit/mix.limit(), ok)
	case project.PinOil:
		effect, ok := melt.OilEffectFrom(measured/(water*grains), oilShare(b, x, &st))
		return orUnknown(effect, ok)
	}
	if b.water != waterKinetic {
		return math.NaN()
	}
	own, added := pelletAndPowderWater(b, x, &st)
	temperature := get(x, m.set.temperature)
	rate, ok := melt.HydrolysisRateFrom(measured/(grains*oil), melt.WaterTest{
		Mn0KgMol: get(x, b.molarMass), Exponent: get(x, m.set.exponent), OwnWater: own, TotalWater: own + added,
		ThermalRate: melt.ThermalScissionRate(temperature), TimeS: m.residence(x, &st),
	})
	return orUnknown(rate/melt.HydrolysisRate(1, temperature), ok)
}

func orUnknown(v float64, ok bool) float64 {
	if !ok {
		return math.NaN()
	}
	return v
}

// pinFor is the pinned number if it settles this part of the model, else NaN.
func (m *Model) pinFor(what project.Pin, s *Scratch) float64 {
	if m.pin.what != what {
		return math.NaN()
	}
	return s.pinned
}

// pinFigures are the figures of the parts that can be settled.
var pinFigures = map[project.Pin]Figure{
	project.PinWater: MeltFlowWater, project.PinGrains: MeltFlowGrains, project.PinOil: MeltFlowOil,
}

// pinBases says what rests on the measurement that settles the model.
func (m *Model) pinBases() {
	if m.pin.from == nil {
		return
	}
	settled := finite(m.pinned(m.best(), m.NewScratch()))
	for i := range m.blends {
		b := &m.blends[i]
		if b.measuredFlow >= 0 && m.pin.what != project.PinWater {
			b.basis[MeltFlowWater], b.basis[pinFigures[m.pin.what]] = Estimated, Calibrated
		}
		if b.measuredFlow < 0 && settled && b.filled {
			b.basis[MeltFlow], b.basis[pinFigures[m.pin.what]] = Calibrated, Calibrated
		}
	}
}
