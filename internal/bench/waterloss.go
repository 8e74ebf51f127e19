package bench

import (
	"math"

	"fillwright/internal/melt"
	"fillwright/internal/project"
)

// lossToWater is the share of the polymer's molar mass that all water of a blend costs, that
// of the pellets as well as that of the powder, against the same polymer dry after the same
// time at the same temperature. rate is the rate of hydrolysis at 210 °C that a measurement
// settled, NaN without one. NaN where nothing tells what the water does.
func (m *Model) lossToWater(b *blendPlan, x, y []float64, st *state, rate float64) float64 {
	own, added := pelletAndPowderWater(b, x, st)
	test := melt.WaterTest{
		Mn0KgMol: get(x, b.molarMass), Exponent: get(x, m.set.exponent), OwnWater: own, TotalWater: own + added,
		ThermalRate: melt.ThermalScissionRate(get(x, m.set.temperature)), TimeS: m.residence(x, st),
	}
	switch {
	case b.water == waterBound: // no rate is known, nor what heat cuts: only how much of the water reacted is found
		test.ThermalRate, test.TimeS = 0, 1
	case b.water != waterKinetic:
		return math.NaN()
	}
	hydrolysis := math.NaN()
	if m.measuresWater(b) {
		hydrolysis, _ = melt.HydrolysisRateFrom(y[MeltFlowWater], test)
	} else if b.water == waterKinetic {
		if math.IsNaN(rate) {
			rate = math.Exp(get(x, m.set.rateLog))
		}
		hydrolysis = melt.HydrolysisRate(rate, get(x, m.set.temperature))
	}
	return melt.LossToWater(test.Mn0KgMol, own+added, hydrolysis, test.ThermalRate, test.TimeS)
}

// measuresWater reports whether a measured melt flow of the blend itself, as it is, tells
// what its water does.
func (m *Model) measuresWater(b *blendPlan) bool {
	return b.calibratesWater() && math.IsNaN(b.content) && m.pin.what != project.PinGrains && m.pin.what != project.PinOil
}
