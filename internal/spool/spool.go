// Package spool relates mass, length and diameter of a strand, and how it lies
// on a spool. Pure functions on SI numbers: m, m², kg, kg/m³.
package spool

import "math"

// Area returns the cross-section in m² of a round strand: π·d²/4.
func Area(diameterM float64) float64 { return AreaFromMeanSquare(diameterM * diameterM) }

// AreaFromMeanSquare returns the mean cross-section in m² of a strand from the
// mean of its squared diameter in m², which is more than the square of the mean
// when the diameter varies. For readings on two axes take the mean of their
// products: an oval has π·d1·d2/4.
func AreaFromMeanSquare(meanSquareDiameterM2 float64) float64 {
	return math.Pi / 4 * meanSquareDiameterM2
}

// Length returns the length in m of strand of the given mass:
//
//	L = m/(ρ·π/4·mean(d²))
//
// Density and mean square are above 0.
//
// Source: volume of a cylinder.
func Length(massKg, densityKgM3, meanSquareDiameterM2 float64) float64 {
	return massKg / (densityKgM3 * AreaFromMeanSquare(meanSquareDiameterM2))
}

// Density returns the density in kg/m³ of a strand from a weighed length of it:
//
//	ρ = m/(L·π/4·mean(d²))
//
// Length and mean square are above 0. Voids count as strand.
//
// Source: volume of a cylinder.
func Density(massKg, lengthM, meanSquareDiameterM2 float64) float64 {
	return massKg / (lengthM * AreaFromMeanSquare(meanSquareDiameterM2))
}

// Remaining returns the length in m that is left on a spool that weighs grossKg
// and emptyKg without strand. Negative when it weighs less than an empty one:
// then the empty mass is wrong, and nothing is clipped to hide it.
func Remaining(grossKg, emptyKg, densityKgM3, meanSquareDiameterM2 float64) float64 {
	return Length(grossKg-emptyKg, densityKgM3, meanSquareDiameterM2)
}

// Capacity returns the length in m of strand of cross-section areaM2 that a
// spool takes:
//
//	L = k·π/4·(D_o² - D_i²)·W/A
//
// D_o is the outer diameter of the winding, D_i that of the core and W the
// width between the flanges, all in m. The packing k is the share of the
// winding that is strand: 0.785 square, 0.907 hexagonal, in practice 0.70 to
// 0.75 level-wound and 0.60 random (from memory, confirm).
//
// Source: volume of a ring.
func Capacity(packing, outerM, innerM, widthM, areaM2 float64) float64 {
	return packing * math.Pi / 4 * (outerM - innerM) * (outerM + innerM) * widthM / areaM2
}

// CoreStrain returns the strain of the outermost fibre of a strand of diameter
// d wound on a core of diameter D:
//
//	ε = d/(D + d)
//
// Pure elastic bending.
func CoreStrain(dM, coreM float64) float64 { return dM / (coreM + dM) }

// LengthRange returns the exact interval of Length when mass, density and
// diameter each lie anywhere between their low and high ends, above 0: the
// least mass at the highest density and diameter, and the reverse.
func LengthRange(massLow, massHigh, rhoLow, rhoHigh, dLow, dHigh float64) (low, high float64) {
	return Length(massLow, rhoHigh, dHigh*dHigh), Length(massHigh, rhoLow, dLow*dLow)
}
