package blend

import "math"

// MaxSpools is where SpoolsToPay stops counting.
const MaxSpools = 1_000_000

// CostPerKg returns the cost of the materials in one kg of blend, Σ w_i·c_i,
// from the prices per kg and the mass fractions. It panics if the lengths
// differ.
//
// Source: definition.
func CostPerKg(prices, w []float64) float64 {
	if len(prices) != len(w) {
		panic(badLength)
	}
	var sum float64
	for i, w := range w {
		if w != 0 { // a part that is not used needs no price
			sum += w * prices[i]
		}
	}
	return sum
}

// CostPerMetre returns the cost of one metre of strand with cross-section
// areaM2: c·ρ·A.
//
// Source: definition.
func CostPerMetre(costPerKg, densityKgM3, areaM2 float64) float64 {
	return costPerKg * densityKgM3 * areaM2
}

// BreakEvenPrice returns the price per kg of powder at which the filled strand
// costs the same per metre as the reference:
//
//	c = (C_ref·ρ_ref/ρ - rest - δ)/(w·F)
//
// C_ref is what the reference costs per kg of strand, all included, ρ_ref and ρ
// the densities of reference and blend in kg/m³, w the powder content (above 0,
// up to 1), rest the cost of all other parts and of conversion per kg of
// strand, losses included, δ the extra conversion cost per kg and F the charge
// over the strand made (lossFactor, from 1). Negative: the powder cannot pay at
// any price. NaN unless w and F are above 0.
//
// Source: both costs per metre set equal.
func BreakEvenPrice(referenceCostPerKg, referenceDensity, blendDensity, w, restPerKg, delta, lossFactor float64) float64 {
	if !(w > 0 && lossFactor > 0) {
		return math.NaN()
	}
	return (referenceCostPerKg*referenceDensity/blendDensity - restPerKg - delta) / (w * lossFactor)
}

// BreakEvenPriceSimple is BreakEvenPrice for powder in one polymer without
// losses:
//
//	c = c_m·ρ_m/ρ_f - δ/w
//
// c_m is the polymer's price per kg, ρ_m and ρ_f the densities of polymer and
// powder, δ the extra conversion cost per kg and w the powder content, from 0
// to 1. Without δ it does not depend on w: a powder must be cheaper than the
// polymer by volume. NaN when δ is not 0 and w is not above 0.
//
// Source: the identity 1/ρ = w/ρ_f + (1-w)/ρ_m put into BreakEvenPrice.
func BreakEvenPriceSimple(polymerPrice, polymerDensity, fillerDensity, w, delta float64) float64 {
	return polymerPrice*polymerDensity/fillerDensity - perPowder(delta, w)
}

// BreakEvenPriceByMass is BreakEvenPriceSimple for equal cost per kg instead of
// per metre: c = c_m - δ/w. A second view only: strand is used by volume.
func BreakEvenPriceByMass(polymerPrice, w, delta float64) float64 {
	return polymerPrice - perPowder(delta, w)
}

// perPowder spreads a cost per kg of blend over the powder in it.
func perPowder(delta, w float64) float64 {
	if delta == 0 {
		return 0
	}
	if !(w > 0) {
		return math.NaN()
	}
	return delta / w
}

// SpoolsToPay returns the smallest number of spools, made in a row, whose
// savings exceed what the change of material costs. ok is false, and spools 0,
// when a spool saves nothing or more than MaxSpools would be needed. A cost of
// nothing or less is paid by the first spool.
//
// A cost that is a whole number of savings up to rounding is not yet exceeded
// by that number.
func SpoolsToPay(savingPerSpool, changeoverCost float64) (spools int, ok bool) {
	if !(savingPerSpool > 0) {
		return 0, false
	}
	const rounding = 1e-12
	n := math.Floor(changeoverCost/savingPerSpool*(1+rounding)) + 1
	if !(n <= MaxSpools) {
		return 0, false
	}
	return max(int(max(n, 1)), 1), true
}
