package line

import "math"

// HeatToMelt returns the heat in J/kg that brings a kilogram from fromK to toK:
//
//	q = c_p·(T - T_0) + x·Δh
//
// c_p in J/(kg K) is the mean by mass over the parts, Δh the heat of melting in J/kg
// and x the share, by mass, of what melts with it.
//
// Source: conservation of energy.
func HeatToMelt(capacityJKgK, fromK, toK, meltingShare, meltingJKg float64) float64 {
	return capacityJKgK*(toK-fromK) + meltingShare*meltingJKg
}

// mostMaxwell is the largest volume fraction that MaxwellConductivity is for.
const mostMaxwell = 0.25

// MaxwellConductivity returns the heat conductivity of spheres, far apart, in a
// matrix:
//
//	k = k_m·(k_f + 2k_m + 2φ·(k_f - k_m))/(k_f + 2k_m - φ·(k_f - k_m))
//
// φ is the volume fraction, from 0 to below 0.25; NaN outside.
//
// Source: Maxwell 1873.
func MaxwellConductivity(matrix, filler, phi float64) float64 {
	if !(phi >= 0 && phi < mostMaxwell) {
		return math.NaN()
	}
	return matrix * (filler + 2*matrix + 2*phi*(filler-matrix)) / (filler + 2*matrix - phi*(filler-matrix))
}

// SphereShape is the shape factor of spheres for LewisNielsenConductivity.
const SphereShape = 1.5

// LewisNielsenConductivity returns the heat conductivity of a filled strand without
// pores:
//
//	k = k_m·(1 + A·B·φ)/(1 - B·ψ·φ)
//	B = (k_f/k_m - 1)/(k_f/k_m + A),  ψ = 1 + φ·(1 - φmax)/φmax²
//
// φ is the volume fraction, from 0 to below φmax, the packing limit; NaN outside. A is
// SphereShape, or more for longer grains. Measured prints lie below: they have pores.
//
// Source: Lewis and Nielsen 1970 in the form of Nielsen 1974, doi
// 10.1021/i160049a004 (from memory, confirm).
func LewisNielsenConductivity(matrix, filler, phi, packing, shape float64) float64 {
	if !(phi >= 0 && phi < packing && packing <= 1) {
		return math.NaN()
	}
	ratio := filler / matrix
	b := (ratio - 1) / (ratio + shape)
	psi := 1 + phi*(1-packing)/(packing*packing)
	return matrix * (1 + shape*b*phi) / (1 - b*psi*phi)
}
