package filler

import "math"

// DryBasis turns moisture on wet basis (water per wet mass) into moisture on dry
// basis (water per dry mass):
//
//	M_db = M_wb/(1 - M_wb)
//
// M_wb runs from 0 to below 1; NaN outside.
//
// Source: definition.
func DryBasis(wet float64) float64 {
	if !(wet >= 0 && wet < 1) {
		return math.NaN()
	}
	return wet / (1 - wet)
}

// WetBasis turns moisture on dry basis into moisture on wet basis:
//
//	M_wb = M_db/(1 + M_db)
//
// M_db is 0 or above; NaN below.
//
// Source: definition.
func WetBasis(dry float64) float64 {
	if !(dry >= 0) {
		return math.NaN()
	}
	if math.IsInf(dry, 1) {
		return 1
	}
	return dry / (1 + dry)
}

// MoistureOf returns the moisture, on dry basis, of powder that weighs massKg
// and of which dryKg is known to be dry mass:
//
//	M = m/m_d - 1
//
// Use it where there is no drying log: one weighing after heating until nothing
// is lost any more (common practice: 103 to 105 °C) gives the dry mass. It is
// never clipped: below 0 the dry mass is wrong, or the powder lost more than
// water. NaN unless both masses are above 0.
//
// Source: definition.
func MoistureOf(massKg, dryKg float64) float64 {
	if !(massKg > 0 && dryKg > 0) {
		return math.NaN()
	}
	return (massKg - dryKg) / dryKg
}

// TargetMoisture returns the moisture, on wet basis, to which the powder must be
// dried so that the polymer takes no more water than it can stand:
//
//	M_db = max(0, limit - own)·p/f,   M_wb = M_db/(1 + M_db)
//
// limit is the water that the polymer stands and own the water that it brings
// itself, both per mass of polymer; p and f are the mass fractions of polymer
// and dry powder in the blend, f above 0. All water of the powder is taken to
// reach the polymer. 0 when the polymer alone uses up the limit: no drying of
// the powder is enough then. NaN where a number is missing, negative, or f is 0.
//
// Source: balance of water.
func TargetMoisture(limit, own, polymerFraction, powderFraction float64) float64 {
	if !(limit >= 0 && own >= 0 && polymerFraction >= 0 && powderFraction > 0) {
		return math.NaN()
	}
	return WetBasis(max(0, limit-own) * polymerFraction / powderFraction)
}
