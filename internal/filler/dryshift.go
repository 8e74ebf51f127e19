package filler

import "math"

// GasConstantJMolK is R (CODATA 2018).
const GasConstantJMolK = 8.31446261815324

// What to take for wet plant powder while there is one log only. The energies
// are least squares over 50 to 80 °C through the rates of coffee grounds in Int.
// J. Chem. Eng. 2022, 2312147, table 3: 38, 46 and 56 kJ/mol in layers of 0.6,
// 1.2 and 1.8 mm, the last without a row whose fit went astray. They are rates
// in thin layers; the same paper gives 8 to 10 kJ/mol for the diffusion of water
// through the layer. A second log at another temperature is worth more than any
// of these. The exponents of the thickness, from the same table between 0.6 and
// 1.8 mm, are 1.26 at 50 °C and 0.72 at 80 °C; diffusion alone would give 2.
const (
	DryingEaJMol          = 38e3
	DryingEaLowJMol       = 38e3
	DryingEaHighJMol      = 56e3
	ThicknessExponent     = 1.0
	ThicknessExponentLow  = 0.7
	ThicknessExponentHigh = 1.3
)

// MaxOrganicK is the temperature above which no oven is proposed for plant
// powder: 105 °C (common practice). Warm heaps of it heat themselves.
const MaxOrganicK = zeroCelsiusK + 105

// ProposedOven holds a temperature that the program proposes down to MaxOrganicK
// for organic powder, and tells whether it had to. It is for proposals: what the
// maker entered or measured is never changed.
func ProposedOven(tempK float64, organic bool) (heldK float64, held bool) {
	if organic && tempK > MaxOrganicK {
		return MaxOrganicK, true
	}
	return tempK, false
}

// RateFactor returns how many times as fast a powder dries at toK as at fromK:
//
//	f = exp(-E_a/R·(1/T' - 1/T))
//
// E_a is the activation energy in J/mol, 0 or above. The factor belongs to the
// rate 1/τ, so that times go with 1/f; a rate k of Page's law goes with f^n. NaN
// for a missing number or a temperature not above 0.
//
// Source: Arrhenius.
func RateFactor(eaJMol, fromK, toK float64) float64 {
	if !(eaJMol >= 0 && fromK > 0 && toK > 0) {
		return math.NaN()
	}
	return math.Exp(eaJMol / GasConstantJMolK * (1/fromK - 1/toK))
}

// ThicknessFactor returns how many times as fast a layer of toM dries as one of
// fromM:
//
//	f = (L'/L)^(-m)
//
// m is ThicknessExponentLow to ThicknessExponentHigh for thin layers in moving
// air, up to 2 where diffusion in the layer rules. Far beyond the thickness
// measured it is an extrapolation. NaN unless both are above 0.
//
// Source: power law, as measured (see DryingEaJMol).
func ThicknessFactor(fromM, toM, exponent float64) float64 {
	if !(fromM > 0 && toM > 0) {
		return math.NaN()
	}
	return math.Pow(toM/fromM, -exponent)
}
