package strength

import "math"

// ModulusLaw is one of the laws for the modulus of a blend with grains.
type ModulusLaw string

// The laws.
const (
	HalpinTsaiLaw   ModulusLaw = "halpin_tsai"
	LewisNielsenLaw ModulusLaw = "lewis_nielsen"
	GuthLaw         ModulusLaw = "guth"
)

// Grains is what the laws know of a blend. A law leaves aside what it does not use.
type Grains struct {
	MatrixPa      float64
	MatrixPoisson float64 // LewisNielsenLaw
	FillerPa      float64 // all but GuthLaw
	PackingLimit  float64 // LewisNielsenLaw
	Shape         float64 // HalpinTsaiLaw
}

// ModulusPa returns the modulus in Pa of a blend with the volume fraction p of filler by
// a law; NaN where the law has no meaning, and for one that is not known.
//
// Source: HalpinTsai, LewisNielsen with SphereFactor, Guth.
func (l ModulusLaw) ModulusPa(g Grains, p float64) float64 {
	switch l {
	case HalpinTsaiLaw:
		return HalpinTsai(g.MatrixPa, g.FillerPa, p, g.Shape)
	case LewisNielsenLaw:
		return LewisNielsen(g.MatrixPa, g.FillerPa, p, SphereFactor(g.MatrixPoisson), g.PackingLimit)
	case GuthLaw:
		return Guth(g.MatrixPa, p)
	}
	return math.NaN()
}

// Valid reports whether a law is for a volume fraction p with a packing limit: from 0 up
// to the limit, and for GuthLaw below GuthLimit.
func (l ModulusLaw) Valid(p, packingLimit float64) bool {
	switch l {
	case HalpinTsaiLaw, LewisNielsenLaw:
		return p >= 0 && p <= packingLimit
	case GuthLaw:
		return p >= 0 && p < GuthLimit
	}
	return false
}
