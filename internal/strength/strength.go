// Package strength estimates how stiff and how strong a blend is against its plain
// polymer, and how much filler leaves it strong enough; and it fits the one parameter of
// that to broken bars. Pure functions on SI numbers: Pa, m, and fractions from 0 to 1.
// Contents are volume fractions in the solid.
package strength

import "math"

// PukanszkyRatio returns the strength of a blend over that of its plain polymer:
//
//	(1 - p)/(1 + 2.5p)·exp(B·p)
//
// The first factor is the section that is left to bear, B how well the grains hold: below
// 0 for grains that let go or cluster, about 3.5 where few grains change nothing. p is the
// volume fraction of filler from 0 to 1, NaN outside. For brittle polymers the strength
// is that at break, for tough ones that at yield. There is no drawing in it, nor void.
//
// Source: Pukanszky, Composites 21 (1990) 255 (from memory, confirm).
func PukanszkyRatio(p, b float64) float64 {
	if !isShare(p) {
		return math.NaN()
	}
	return math.Exp(logRatio(p, b))
}

// logRatio is taken instead of the product, so that no B overflows at p = 1.
func logRatio(p, b float64) float64 { return math.Log1p(-p) - math.Log1p(2.5*p) + b*p }

// PukanszkyB returns the B of PukanszkyRatio with which a blend has the strength ratio
// that was measured:
//
//	ln(ratio·(1 + 2.5p)/(1 - p))/p
//
// ratio is the strength over that of the plain polymer, above 0; p is the volume fraction
// above 0 and below 1. NaN outside.
//
// Source: inverse of PukanszkyRatio.
func PukanszkyB(ratio, p float64) float64 {
	if !positive(ratio) || !(p > 0 && p < 1) {
		return math.NaN()
	}
	return (math.Log(ratio) - logRatio(p, 0)) / p
}

// NicolaisNarkisLimit is the volume fraction up to which NicolaisNarkis is for.
const NicolaisNarkisLimit = 0.4

// NicolaisNarkis returns the strength of a blend over that of its plain polymer, for
// round grains that do not hold at all:
//
//	1 - 1.21·p^(2/3)
//
// and 0 from p = 0.75131 on. p is the volume fraction of filler, for which it is up to
// NicolaisNarkisLimit; above, no more than the course of its curve. NaN outside 0 to 1.
//
// Source: Nicolais and Narkis, Polym. Eng. Sci. 11 (1971) 194 (from memory, confirm).
func NicolaisNarkis(p float64) float64 {
	if !isShare(p) {
		return math.NaN()
	}
	return math.Max(0, 1-1.21*math.Cbrt(p*p))
}

// HoldingGrains returns the strength in Pa of a blend with grains that hold:
//
//	(σ_a + 0.83·τ_m)·p + σ_a·S·(1 - p)
//
// σ_a is the strength between grain and matrix in Pa, τ_m the shear strength of the
// matrix in Pa, S the stress concentration; all from 0. p is the volume fraction of filler
// from 0 to 1, NaN outside.
//
// Source: Leidner and Woodhams, J. Appl. Polym. Sci. 18 (1974) 1639 (from memory,
// confirm).
func HoldingGrains(adhesionPa, matrixShearPa, concentration, p float64) float64 {
	if !isShare(p) || !(adhesionPa >= 0 && matrixShearPa >= 0 && concentration >= 0) {
		return math.NaN()
	}
	return (adhesionPa+0.83*matrixShearPa)*p + adhesionPa*concentration*(1-p)
}

// LooseGrains returns the strength in Pa of a blend with grains that only rub:
//
//	0.83·P·α·p + k·σ_m·(1 - p)
//
// P is the pressure in Pa with which the matrix has shrunk onto the grains, α the
// friction, k what the stress concentration leaves of the matrix's strength σ_m in Pa;
// all from 0. p is the volume fraction of filler from 0 to 1, NaN outside.
//
// Source: as HoldingGrains (from memory, confirm).
func LooseGrains(pressurePa, friction, left, matrixPa, p float64) float64 {
	if !isShare(p) || !(pressurePa >= 0 && friction >= 0 && left >= 0 && matrixPa >= 0) {
		return math.NaN()
	}
	return 0.83*pressurePa*friction*p + left*matrixPa*(1-p)
}

// CriticalLength returns the length in m that a fibre must have to break before it is
// pulled out:
//
//	σ_f·d/(2τ)
//
// σ_f is the strength of the fibre in Pa, d its diameter in m, τ the shear strength
// between fibre and matrix in Pa; all above 0, NaN else.
//
// Source: Kelly and Tyson, J. Mech. Phys. Solids 13 (1965) 329 (from memory, confirm).
func CriticalLength(fibrePa, diameterM, shearPa float64) float64 {
	if !positive(fibrePa, diameterM, shearPa) {
		return math.NaN()
	}
	return fibrePa * diameterM / (2 * shearPa)
}

// LengthEfficiency returns how much of its strength a fibre lends, from 0 to 1:
//
//	l/(2·l_c) below the critical length l_c,  1 - l_c/(2l) from there on
//
// Both lengths are in the same unit and above 0, NaN else.
//
// Source: as CriticalLength; Bowyer and Bader 1972 (from memory, confirm).
func LengthEfficiency(length, critical float64) float64 {
	switch {
	case !positive(length, critical):
		return math.NaN()
	case length < critical:
		return length / (2 * critical)
	}
	return 1 - critical/(2*length)
}

// KellyTyson returns the strength in Pa of a blend with short fibres:
//
//	η_o·η_l·σ_f·p + σ_m·(1 - p)
//
// η_o is the share that lies along the pull and η_l LengthEfficiency, both from 0 to 1;
// σ_f is the strength of the fibre and σ_m the stress in the matrix when the blend breaks,
// in Pa from 0: below the strength of a matrix that stretches further than the fibres. p
// is the volume fraction of fibres from 0 to 1. NaN outside.
//
// Source: as LengthEfficiency (from memory, confirm).
func KellyTyson(orientation, efficiency, fibrePa, matrixPa, p float64) float64 {
	if !isShare(p) || !isShare(orientation) || !isShare(efficiency) || !(fibrePa >= 0 && matrixPa >= 0) {
		return math.NaN()
	}
	return orientation*efficiency*fibrePa*p + matrixPa*(1-p)
}

// ElongationRatio returns at most what share of the plain polymer's elongation at break
// a blend keeps:
//
//	1 - p^(1/3)
//
// for grains that hold, in a polymer that breaks brittle. It falls steeply from the first
// grains on, so that it says little. p is the volume fraction of filler from 0 to 1, NaN
// outside.
//
// Source: Nielsen, J. Appl. Polym. Sci. 10 (1966) 97 (from memory, confirm).
func ElongationRatio(p float64) float64 {
	if !isShare(p) {
		return math.NaN()
	}
	return 1 - math.Cbrt(p)
}
