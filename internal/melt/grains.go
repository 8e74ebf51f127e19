// Package melt works out melt-flow tests, and estimates how a blend flows against
// its plain polymer: thickening by grains, chain scission by water and heat, and
// thinning by oil, each also the other way round from a measurement. Pure
// functions on SI numbers: K, s, kg/mol, kg/m³, and fractions from 0 to 1.
package melt

import "math"

// FlowLimit is the share of the packing limit above which no model holds and
// the mix is said not to flow.
const FlowLimit = 0.9

// Einstein returns the relative viscosity of few, far spheres, 1 + 2.5φ. φ is
// the volume fraction in the melt; below about 0.02.
//
// Source: Einstein 1906, corrected 1911 (from memory, confirm).
func Einstein(phi float64) float64 { return 1 + 2.5*phi }

// Batchelor returns the relative viscosity 1 + 2.5φ + 6.2φ², below φ of about
// 0.1.
//
// Source: Batchelor 1977 (from memory, confirm).
func Batchelor(phi float64) float64 { return 1 + phi*(2.5+6.2*phi) }

// Guth returns the relative viscosity 1 + 2.5φ + 14.1φ², below φ of about 0.2.
//
// Source: Guth, J. Appl. Phys. 16 (1945) 20 (from memory, confirm).
func Guth(phi float64) float64 { return 1 + phi*(2.5+14.1*phi) }

// Thomas returns the relative viscosity 1 + 2.5φ + 10.05φ² + 0.00273·exp(16.6φ)
// of suspended spheres, up to φ of about 0.6. At φ = 0 it is 1.00273, as
// published.
//
// Source: Thomas, J. Colloid Sci. 20 (1965) 267 (from memory, confirm).
func Thomas(phi float64) float64 {
	return 1 + phi*(2.5+10.05*phi) + 0.00273*math.Exp(16.6*phi)
}

// Mooney returns the relative viscosity exp(2.5φ/(1 - φ/φmax)). φmax is the
// packing limit, above 0; +Inf from φ = φmax on.
//
// Source: Mooney, J. Colloid Sci. 6 (1951) 162 (from memory, confirm).
func Mooney(phi, phiMax float64) float64 {
	if !(phi < phiMax) {
		return full(phi, phiMax)
	}
	return math.Exp(2.5 * phi / (1 - phi/phiMax))
}

// KriegerDougherty returns the relative viscosity (1 - φ/φmax)^(-2.5·φmax).
// φmax is the packing limit, above 0; +Inf from φ = φmax on.
//
// Source: Krieger and Dougherty, Trans. Soc. Rheol. 3 (1959) 137 (from memory,
// confirm).
func KriegerDougherty(phi, phiMax float64) float64 {
	if !(phi < phiMax) {
		return full(phi, phiMax)
	}
	return math.Pow(1-phi/phiMax, -2.5*phiMax)
}

// MaronPierce returns the relative viscosity (1 - φ/φmax)^-2 at equal shear
// stress, which makes it the one to use for a melt flow test. φ is the volume
// fraction in the melt and φmax the packing limit, above 0: 0.68 for smooth
// spheres, 0.44 for rough irregular grains, FibrePackingLimit for fibres, about
// 0.50 for wood, grounds and shell flour. Holds above a shear stress of 1 kPa, up
// to φ of 0.9·φmax (WillFlow); +Inf from φ = φmax on. Slip at the wall can make
// highly filled wood mixes flow better than this.
//
// Source: Kitano, Kataoka and Shirota, Rheol. Acta 20 (1981) 207; the form is
// that of Maron and Pierce 1956. Packing limits from memory, confirm.
func MaronPierce(phi, phiMax float64) float64 {
	if !(phi < phiMax) {
		return full(phi, phiMax)
	}
	free := 1 - phi/phiMax
	return 1 / (free * free)
}

// full is the relative viscosity at and beyond the packing limit, NaN when
// either of them is.
func full(phi, phiMax float64) float64 {
	if math.IsNaN(phi) || math.IsNaN(phiMax) {
		return math.NaN()
	}
	return math.Inf(1)
}

// Packing limits of grains for MaronPierce, which FibrePackingLimit continues
// (Kitano, Kataoka and Shirota 1981; from memory, confirm).
const (
	SmoothPackingLimit = 0.68 // smooth spheres
	RoughPackingLimit  = 0.44 // rough irregular grains
)

// FibrePackingLimit returns the packing limit of short fibres for MaronPierce,
// 0.54 - 0.0125·a, at a length over diameter a from 6 to 27; NaN outside.
//
// Source: Kitano, Kataoka and Shirota 1981 (from memory, confirm).
func FibrePackingLimit(aspectRatio float64) float64 {
	if !(aspectRatio >= 6 && aspectRatio <= 27) {
		return math.NaN()
	}
	return 0.54 - 0.0125*aspectRatio
}

// ThickeningLaw is one of the laws for the relative viscosity, to be shown beside
// the others.
type ThickeningLaw struct {
	ID        string
	Relative  func(phi, phiMax float64) float64
	UsesLimit bool    // whether the packing limit counts
	HighPhi   float64 // largest volume fraction that it is for; 1 where only the packing limit ends it
}

// ThickeningLaws returns the laws that are known here, the plainest first. The
// last one, MaronPierce, is the one that estimates rest on; for what stress each
// of the others holds is open.
func ThickeningLaws() []ThickeningLaw {
	plain := func(f func(phi float64) float64) func(phi, phiMax float64) float64 {
		return func(phi, _ float64) float64 { return f(phi) }
	}
	return []ThickeningLaw{
		{"einstein", plain(Einstein), false, 0.02},
		{"batchelor", plain(Batchelor), false, 0.1},
		{"guth", plain(Guth), false, 0.2},
		{"thomas", plain(Thomas), false, 0.6},
		{"mooney", Mooney, true, 1},
		{"krieger_dougherty", KriegerDougherty, true, 1},
		{"maron_pierce", MaronPierce, true, 1},
	}
}

// Highest returns the largest volume fraction that the law is for with the packing
// limit φmax: the lower one of HighPhi and 0.9·φmax (WillFlow). While the limit is not
// known (NaN) that is HighPhi for a law that uses none, and NaN for the others.
func (l ThickeningLaw) Highest(phiMax float64) float64 {
	if math.IsNaN(phiMax) && !l.UsesLimit {
		return l.HighPhi
	}
	return math.Min(l.HighPhi, FlowLimit*phiMax)
}

// Valid reports whether the law is for a volume fraction φ from 0 with the
// packing limit φmax: up to Highest. A limit that is not known (NaN) rules out the
// laws that use one, and not the others. What a law says outside is no more than the
// course of its curve.
func (l ThickeningLaw) Valid(phi, phiMax float64) bool {
	return phi >= 0 && phi <= l.Highest(phiMax)
}

// WillFlow reports whether φ is low enough for a mix to flow at all, and for
// MaronPierce to hold: φ <= 0.9·φmax.
func WillFlow(phi, phiMax float64) bool { return phi <= FlowLimit*phiMax }

// GrainsFactor returns by what factor the grains change the melt mass-flow
// rate:
//
//	(1/η_r)·ρ/ρ_matrix
//
// η_r is the relative viscosity at equal shear stress (from 1; +Inf gives 0),
// and the densities are those of blend and matrix as melts, in the same unit:
// the test weighs what comes out. For the volume rate take both densities
// equal.
//
// Source: a melt flow test runs at constant shear stress, 19.7 kPa at 2.16 kg
// (ISO 1133-1).
func GrainsFactor(relativeViscosity, meltDensityBlend, meltDensityMatrix float64) float64 {
	return meltDensityBlend / (meltDensityMatrix * relativeViscosity)
}
