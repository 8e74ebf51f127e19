package strength

import "math"

const (
	// GuthLimit is the volume fraction below which Guth is for (from memory, confirm).
	GuthLimit = 0.2
	// PolymerPoisson is Poisson's ratio of PLA in a material card of FreeCAD
	// (CC-BY-3.0), for a polymer of which nobody knows it.
	PolymerPoisson = 0.36
	// GrainShape is the shape factor of HalpinTsai for grains, and for fibres across.
	GrainShape = 2.0
)

// Elastic is a solid alike in all directions.
type Elastic struct {
	ModulusPa float64 // Young's, above 0
	Poisson   float64 // above -1, below ½
}

func (e Elastic) bulk() float64  { return e.ModulusPa / (3 * (1 - 2*e.Poisson)) }
func (e Elastic) shear() float64 { return e.ModulusPa / (2 * (1 + e.Poisson)) }
func (e Elastic) valid() bool    { return positive(e.ModulusPa) && e.Poisson > -1 && e.Poisson < 0.5 }

// positive reports whether all are finite numbers above 0.
func positive(values ...float64) bool {
	for _, v := range values {
		if !(v > 0) || math.IsInf(v, 1) {
			return false
		}
	}
	return true
}

func isShare(p float64) bool { return p >= 0 && p <= 1 }

// Voigt returns the modulus of phases that stretch alike, side by side:
//
//	E_m·(1 - p) + E_f·p
//
// The moduli are in Pa, above 0; p is the volume fraction of filler from 0 to 1. NaN
// outside.
//
// Source: rule of mixtures.
func Voigt(matrixPa, fillerPa, p float64) float64 {
	if !isShare(p) || !positive(matrixPa, fillerPa) {
		return math.NaN()
	}
	return matrixPa*(1-p) + fillerPa*p
}

// Reuss returns the modulus of phases that bear the same stress, one behind the other:
//
//	1/((1 - p)/E_m + p/E_f)
//
// The moduli are in Pa, above 0; p is the volume fraction of filler from 0 to 1. NaN
// outside. No blend without voids is softer.
//
// Source: rule of mixtures.
func Reuss(matrixPa, fillerPa, p float64) float64 {
	if !isShare(p) || !positive(matrixPa, fillerPa) {
		return math.NaN()
	}
	return 1 / ((1-p)/matrixPa + p/fillerPa)
}

// HashinShtrikman returns the lowest and the highest modulus in Pa of a blend that is
// alike in all directions, whatever the shape of its grains:
//
//	K = 1/((1 - p)/(K_m + k) + p/(K_f + k)) - k,  k = 4·G_r/3
//	G = 1/((1 - p)/(G_m + g) + p/(G_f + g)) - g,  g = G_r·(9K_r + 8G_r)/(6K_r + 12G_r)
//	E = 9KG/(3K + G)
//
// with K = E/(3 - 6ν) and G = E/(2 + 2ν) of each phase; K_r and G_r are the lower ones of
// both for the lowest modulus and the higher ones for the highest. p is the volume
// fraction of filler from 0 to 1. NaN outside, and for a solid that cannot be. Voids of
// a print lower the modulus below both.
//
// Source: Hashin and Shtrikman, J. Mech. Phys. Solids 11 (1963) 127; written as by
// Walpole 1966, which also holds where one phase has the higher K and the other the
// higher G (from memory, confirm).
func HashinShtrikman(matrix, filler Elastic, p float64) (lowPa, highPa float64) {
	if !isShare(p) || !matrix.valid() || !filler.valid() {
		return math.NaN(), math.NaN()
	}
	bulk, shear := [2]float64{matrix.bulk(), filler.bulk()}, [2]float64{matrix.shear(), filler.shear()}
	at := func(k, g float64) float64 {
		bulkPa, shearPa := bulkBound(bulk, p, g), shearBound(shear, p, k, g)
		return 9 * bulkPa * shearPa / (3*bulkPa + shearPa)
	}
	return at(min(bulk[0], bulk[1]), min(shear[0], shear[1])), at(max(bulk[0], bulk[1]), max(shear[0], shear[1]))
}

func bulkBound(bulk [2]float64, p, shearRef float64) float64 {
	return shifted(bulk, p, 4*shearRef/3)
}

func shearBound(shear [2]float64, p, bulkRef, shearRef float64) float64 {
	return shifted(shear, p, shearRef*(9*bulkRef+8*shearRef)/(6*bulkRef+12*shearRef))
}

// shifted is the harmonic mean of two moduli to each of which the same was added.
func shifted(of [2]float64, p, by float64) float64 {
	return 1/((1-p)/(of[0]+by)+p/(of[1]+by)) - by
}

// ModulusBounds are moduli in Pa between which a blend without voids lies.
type ModulusBounds struct {
	ReussPa, LowPa, HighPa, VoigtPa float64 // LowPa and HighPa are those of HashinShtrikman
}

// Bounds returns the bounds of the modulus of a blend with the volume fraction p of
// filler, from 0 to 1; NaN outside. ReussPa <= LowPa <= HighPa for all solids. VoigtPa
// is above HighPa where the filler is stiffer by a factor of about 2.5 or more; nearer
// to the polymer, unlike Poisson's ratios can bring it below, as it takes no account of
// them.
//
// Source: Voigt, Reuss and HashinShtrikman; the factor by trial.
func Bounds(matrix, filler Elastic, p float64) ModulusBounds {
	low, high := HashinShtrikman(matrix, filler, p)
	return ModulusBounds{
		ReussPa: Reuss(matrix.ModulusPa, filler.ModulusPa, p), LowPa: low, HighPa: high,
		VoigtPa: Voigt(matrix.ModulusPa, filler.ModulusPa, p),
	}
}

// HalpinTsai returns the modulus in Pa of a blend with grains or aligned fibres:
//
//	E_m·(1 + z·e·p)/(1 - e·p),  e = (E_f/E_m - 1)/(E_f/E_m + z)
//
// z, above 0, is GrainShape for grains and for fibres across, and 2·l/d for fibres of
// length over diameter l/d along. The moduli are in Pa, above 0; p is the volume
// fraction of filler from 0 to 1. NaN outside.
//
// Source: Halpin and Kardos, Polym. Eng. Sci. 16 (1976) 344 (from memory, confirm).
func HalpinTsai(matrixPa, fillerPa, p, shape float64) float64 {
	if !isShare(p) || !positive(matrixPa, fillerPa, shape) {
		return math.NaN()
	}
	e := (fillerPa/matrixPa - 1) / (fillerPa/matrixPa + shape)
	return matrixPa * (1 + shape*e*p) / (1 - e*p)
}

// SphereFactor returns the factor A of LewisNielsen for round grains in a matrix with
// Poisson's ratio ν, above -1 and up to ½:
//
//	(7 - 5ν)/(8 - 10ν)
//
// It is 1.5 at ν = ½, and NaN outside.
//
// Source: Nielsen, after Kerner (from memory, confirm).
func SphereFactor(poisson float64) float64 {
	if !(poisson > -1 && poisson <= 0.5) {
		return math.NaN()
	}
	return (7 - 5*poisson) / (8 - 10*poisson)
}

// LewisNielsen returns the modulus in Pa of a blend with grains that get into each
// other's way:
//
//	E_m·(1 + A·B·p)/(1 - B·ψ·p)
//	B = (E_f/E_m - 1)/(E_f/E_m + A),  ψ = 1 + p·(1 - p_max)/p_max²
//
// A is SphereFactor for round grains, above 0; p_max is the packing limit, above 0 and
// up to 1. The moduli are in Pa, above 0; p is the volume fraction of filler from 0 to
// p_max. NaN outside: no such blend can be.
//
// Source: Lewis and Nielsen, J. Appl. Polym. Sci. 14 (1970) 1449 (from memory, confirm).
func LewisNielsen(matrixPa, fillerPa, p, a, packingLimit float64) float64 {
	if !(p >= 0 && p <= packingLimit && packingLimit <= 1) || !positive(matrixPa, fillerPa, a, packingLimit) {
		return math.NaN()
	}
	b := (fillerPa/matrixPa - 1) / (fillerPa/matrixPa + a)
	psi := 1 + p*(1-packingLimit)/(packingLimit*packingLimit)
	return matrixPa * (1 + a*b*p) / (1 - b*psi*p)
}

// Guth returns the modulus in Pa of a soft matrix with rigid round grains:
//
//	E_m·(1 + 2.5p + 14.1p²)
//
// p is the volume fraction of filler, for which it is below GuthLimit; above, no more
// than the course of its curve. NaN for p outside 0 to 1 and a modulus that is not
// above 0.
//
// Source: Guth, J. Appl. Phys. 16 (1945) 20, for filled rubber (from memory, confirm).
func Guth(matrixPa, p float64) float64 {
	if !isShare(p) || !positive(matrixPa) {
		return math.NaN()
	}
	return matrixPa * (1 + p*(2.5+14.1*p))
}

// FibresInPlane returns the modulus of short fibres that lie at random in a plane, from
// those along and across aligned ones (HalpinTsai), in the same unit:
//
//	3/8·E_along + 5/8·E_across
//
// Source: Tsai and Pagano 1968 (from memory, confirm).
func FibresInPlane(along, across float64) float64 { return (3*along + 5*across) / 8 }

// FibresInSpace returns the modulus of short fibres that lie at random in space, from
// those along and across aligned ones (HalpinTsai), in the same unit:
//
//	1/5·E_along + 4/5·E_across
//
// Source: as FibresInPlane (from memory, confirm).
func FibresInSpace(along, across float64) float64 { return (along + 4*across) / 5 }
