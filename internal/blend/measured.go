package blend

import "math"

// Voids returns the share of the volume that is empty:
//
//	1 - M/T
//
// T is the theoretical density (Density) and M the measured one, both in the
// same unit and above 0. It is never clipped: a small negative value means that
// a constituent's density is wrong, and below about 1 % nothing is resolved.
// The formula is that of ASTM D2734, but the value is not one by that standard,
// which excludes organic and carbonate powders.
func Voids(theoretical, measured float64) float64 {
	return 1 - measured/theoretical
}

// ImmersionDensity returns the density in kg/m³ of a body that weighs massAirKg
// in air and massImmersedKg in a liquid of density liquidKgM3:
//
//	ρ = m_air·ρ_liquid/(m_air - m_immersed)
//
// The immersed mass is negative for a body that floats and is held under. NaN
// unless m_air > 0 and m_air > m_immersed. Water has 997.5 kg/m³ at 23 °C (from
// memory, confirm).
//
// Source: ISO 1183-1, method A.
func ImmersionDensity(massAirKg, massImmersedKg, liquidKgM3 float64) float64 {
	if !(massAirKg > 0 && massAirKg > massImmersedKg) {
		return math.NaN()
	}
	return massAirKg * liquidKgM3 / (massAirKg - massImmersedKg)
}
