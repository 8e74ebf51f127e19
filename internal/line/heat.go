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

// fibreShapes are shape factors of fibres that lie in all directions, by their length
// over diameter.
var fibreShapes = []struct{ aspect, shape float64 }{
	{1, SphereShape}, {2, 1.58}, {4, 2.08}, {6, 2.8}, {10, 4.93}, {15, 8.38},
}

// FibreShape returns the shape factor for LewisNielsenConductivity of fibres that lie
// in all directions, from their length over diameter, 1 to 15; straight lines between
// the values of the table; NaN outside. At 1 it is that of spheres.
//
// Source: table of Nielsen 1974, doi 10.1021/i160049a004 (from memory, confirm).
func FibreShape(aspectRatio float64) float64 {
	for i := range fibreShapes[1:] {
		a, b := fibreShapes[i], fibreShapes[i+1]
		if aspectRatio >= a.aspect && aspectRatio <= b.aspect {
			return a.shape + (b.shape-a.shape)*(aspectRatio-a.aspect)/(b.aspect-a.aspect)
		}
	}
	return math.NaN()
}

// LewisNielsenConductivity returns the heat conductivity of a filled strand without
// pores:
//
//	k = k_m·(1 + A·B·φ)/(1 - B·ψ·φ)
//	B = (k_f/k_m - 1)/(k_f/k_m + A),  ψ = 1 + φ·(1 - φmax)/φmax²
//
// φ is the volume fraction, from 0 to below φmax, the packing limit; NaN outside. A is
// SphereShape, or FibreShape for longer grains, whose packing limit is lower, too. Measured prints lie below: they have pores.
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
