package filler

import "math"

// DryingHeatLowJKg and DryingHeatHighJKg are the heat to dry a powder, in J per kg of
// water: evaporation, and warming up powder and water. OvenShareLow and OvenShareHigh
// are the share of its energy that a small oven brings into the water (all from
// memory, confirm).
const (
	DryingHeatLowJKg  = 2.4e6
	DryingHeatHighJKg = 2.6e6
	OvenShareLow      = 0.2
	OvenShareHigh     = 0.5
)

// Step is one step of the preparation of a batch: washing, drying, grinding,
// sieving and so on.
type Step struct {
	Yield    float64 // mass that leaves per mass that enters, above 0; above 1 where the powder takes up water
	Recycled float64 // share of what a sieve holds back that goes through again, 0 to 1; 0 for other steps
	Cost     float64 // what the step costs for this batch besides energy and time, in the maker's currency
	EnergyJ  float64 // energy for this batch
	LabourS  float64 // hands-on time for this batch
}

// yield is the mass that leaves per mass that enters, once what is sent back has
// gone through again.
func (s Step) yield() float64 {
	if s.Recycled == 0 {
		if !positive(s.Yield) {
			return math.NaN()
		}
		return s.Yield
	}
	return RecycledYield(s.Yield, s.Recycled)
}

// ChainYield returns the usable mass per mass of wet stuff that goes into a
// chain of steps, the product of their yields. 1 for no steps; NaN where a yield
// is not above 0, or a share sent back is outside 0 to 1.
//
// Source: balance of mass.
func ChainYield(steps []Step) float64 {
	y := 1.0
	for i := range steps {
		y *= steps[i].yield()
	}
	return y
}

// DryingYield returns the mass of powder that drying leaves per mass of wet
// powder:
//
//	Y = (1 - M_0)/(1 - M_1)
//
// M_0 and M_1 are the moistures before and after, on wet basis, from 0 to below
// 1. Above 1 for powder that takes up water. NaN outside.
//
// Source: balance of dry mass.
func DryingYield(wetBefore, wetAfter float64) float64 {
	if !(wetBefore >= 0 && wetBefore < 1 && wetAfter >= 0 && wetAfter < 1) {
		return math.NaN()
	}
	return (1 - wetBefore) / (1 - wetAfter)
}

// RecycledYield returns the yield of a sieving of which the share r of the
// oversize is ground and sieved again, and again:
//
//	Y = y/(1 - (1 - y)·r)
//
// y is the share that passes in one go, above 0 to 1, r 0 to 1. 1 when all is
// sent back, however little passes at a time. NaN outside.
//
// Source: geometric series.
func RecycledYield(y, r float64) float64 { return y * RecycleLoad(y, r) }

// RecycleLoad returns the mass that passes the mill and the sieve per mass that
// comes fresh, when the share r of the oversize is sent back:
//
//	L = 1/(1 - (1 - y)·r)
//
// with y and r as in RecycledYield; at least 1. NaN outside.
//
// Source: geometric series.
func RecycleLoad(y, r float64) float64 {
	if !(y > 0 && y <= 1 && r >= 0 && r <= 1) {
		return math.NaN()
	}
	return 1 / (1 - (1-y)*r)
}

// Prices are what a preparation is paid with, in the maker's currency.
type Prices struct {
	WetPerKg       float64 // the stuff as fetched
	TransportPerKg float64 // of the stuff as fetched
	EnergyPerJ     float64
	LabourPerS     float64
}

// CostPerUsableKg returns the cost of one kg of usable powder of a batch of
// wetKg that goes through the steps:
//
//	c = (m_wet·(p + t) + Σ(cost + E·p_E + time·p_L))/(m_wet·Y)
//
// NaN unless the usable mass is above 0, and where ChainYield is.
//
// Source: sum of costs over usable mass.
func CostPerUsableKg(wetKg float64, steps []Step, p Prices) float64 {
	usable := wetKg * ChainYield(steps)
	if !positive(usable) {
		return math.NaN()
	}
	cost := wetKg * (p.WetPerKg + p.TransportPerKg)
	for i := range steps {
		s := &steps[i]
		cost += s.Cost + s.EnergyJ*p.EnergyPerJ + s.LabourS*p.LabourPerS
	}
	return cost / usable
}
