package melt

import "math"

// PackingLimitFrom returns the packing limit with which MaronPierce explains a
// measured GrainsFactor:
//
//	r = √(factor·ρ_matrix/ρ_blend),  φmax = φ/(1 - r)
//
// factor is that of the mass rate of blend over matrix, with nothing in it but
// the grains; φ is the volume fraction in the melt, and the densities are those
// of GrainsFactor, above 0. It returns false where grains alone cannot be the
// reason: for a blend that flows as well as its matrix or better, and for one
// that flows so well that it would take a packing limit above 1, or so badly that
// φ is above 0.9·φmax (WillFlow); and without grains.
//
// Source: inverse of GrainsFactor and MaronPierce.
func PackingLimitFrom(factor, phi, meltDensityBlend, meltDensityMatrix float64) (phiMax float64, ok bool) {
	if !(factor > 0 && phi > 0 && meltDensityBlend > 0 && meltDensityMatrix > 0) {
		return math.NaN(), false
	}
	root := math.Sqrt(factor * meltDensityMatrix / meltDensityBlend)
	phiMax = phi / (1 - root)
	if !(root < 1 && phiMax <= 1 && WillFlow(phi, phiMax)) {
		return math.NaN(), false
	}
	return phiMax, true
}

// OilEffectFrom returns the exponent with which OilFactor explains a measured
// factor with nothing in it but the oil:
//
//	k = ln(factor)/x
//
// It is below 0 for an oil that thickens. oilShare is x (OilShare), above 0 and up
// to 1, and factor above 0; it returns false for anything else.
//
// Source: inverse of OilFactor.
func OilEffectFrom(factor, oilShare float64) (kOil float64, ok bool) {
	kOil = math.Log(factor) / oilShare
	if !(oilShare > 0 && oilShare <= 1) || math.IsNaN(kOil) || math.IsInf(kOil, 0) {
		return math.NaN(), false
	}
	return kOil, true
}

// WaterTest says under what conditions water was let cut chains: a filled blend
// against its plain polymer, both as long at the same temperature in the melt.
type WaterTest struct {
	Mn0KgMol    float64 // number-average molar mass before, above 0
	Exponent    float64 // of MolarMassFactor, above 0
	OwnWater    float64 // per mass of polymer, what the pellets brought: in both melts; from 0
	TotalWater  float64 // per mass of polymer, in the filled blend; above OwnWater
	ThermalRate float64 // see ThermalScissionRate, in mol/(kg s), from 0
	TimeS       float64 // above 0
}

// HydrolysisRateFrom returns the rate in 1/s with which MolarMassAfter and
// MolarMassFactor explain a measured factor, of the filled blend over its plain
// polymer, with nothing in it but the water:
//
//	q = factor^(1/a),  c = 1/Mn0 + k_t·t
//	X = c·(q - 1)/((W_total - q·W_own)/M_water),  k = -ln(1 - X)/t
//
// X is the share of the water that has reacted, the same in both melts. To carry
// the rate to K210's temperature, divide it by HydrolysisRate(1, tempK).
//
// It returns false where water cannot be the reason: for a factor below 1, and
// for one that takes all the water or more. A factor of 1 is a rate of 0. It
// returns false too for conditions outside their ranges.
//
// Source: inverse of MolarMassAfter for two contents of water.
func HydrolysisRateFrom(factor float64, test WaterTest) (rate float64, ok bool) {
	if !test.usable() || !(factor >= 1) {
		return math.NaN(), false
	}
	q1 := math.Expm1(math.Log(factor) / test.Exponent) // q - 1, which is small for most water
	cuts := (1/test.Mn0KgMol + test.ThermalRate*test.TimeS) * q1
	most := (test.TotalWater - test.OwnWater - q1*test.OwnWater) / WaterMolarMassKgMol
	if !(cuts < most) {
		return math.NaN(), false
	}
	return -math.Log1p(-cuts/most) / test.TimeS, true
}

func (t WaterTest) usable() bool {
	return t.Mn0KgMol > 0 && t.Exponent > 0 && t.OwnWater >= 0 && t.TotalWater > t.OwnWater &&
		t.ThermalRate >= 0 && t.TimeS > 0
}
