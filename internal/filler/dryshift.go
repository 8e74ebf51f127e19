package filler

import (
	"errors"
	"math"

	"fillwright/internal/stat"
)

// GasConstantJMolK is R (CODATA 2018).
const GasConstantJMolK = 8.31446261815324

// What to take for wet plant powder while there is one log only. The energies
// are least squares over 50 to 80 °C through the rates of coffee grounds in Int.
// J. Chem. Eng. 2022, 2312147, table 3: 38, 46 and 56 kJ/mol in layers of 0.6,
// 1.2 and 1.8 mm, the last without a row whose fit went astray. They are rates
// in thin layers; the same paper gives 8 to 10 kJ/mol for the diffusion of water
// through the layer, which is why the low end is there. A second log at another
// temperature is worth more than any of these. The exponents of the thickness, from the same table between 0.6 and
// 1.8 mm, are 1.26 at 50 °C and 0.72 at 80 °C; diffusion alone would give 2.
const (
	DryingEaJMol          = 38e3
	DryingEaLowJMol       = 10e3
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
// measured it is an extrapolation. NaN unless both are above 0, and for a missing
// exponent.
//
// Source: power law, as measured (see DryingEaJMol).
func ThicknessFactor(fromM, toM, exponent float64) float64 {
	if !(fromM > 0 && toM > 0) || math.IsNaN(exponent) {
		return math.NaN()
	}
	return math.Pow(toM/fromM, -exponent)
}

// Refusals of FitArrhenius.
var (
	ErrTooFewTemperatures = errors.New("filler: rates at two temperatures are needed at least")
	ErrBadRate            = errors.New("filler: a rate or temperature is not above 0")
)

// RateAt is a drying rate at a temperature: 1/τ of a curve, or k of Lewis's law,
// in any unit that all rates share.
type RateAt struct{ TempK, Rate float64 }

// Arrhenius is an activation energy fitted to rates.
type Arrhenius struct {
	EaJMol    float64 // negative where rates fall with temperature, which no drying does
	LogFactor float64 // ln of the rate at 1/T = 0, in the unit of the rates
	U         float64 // standard uncertainty of EaJMol
	Low, High float64 // its 95 % interval (Student)
	Known     bool    // U, Low and High are known: three rates at least
}

// FitArrhenius fits the activation energy by least squares of ln k over 1/T:
//
//	ln k = ln k_0 - E_a/(R·T)
//
// Rates at two temperatures give it without an interval. The errors are
// ErrTooFewTemperatures and ErrBadRate.
//
// Source: Arrhenius.
func FitArrhenius(points []RateAt) (Arrhenius, error) {
	inverse, logs := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		if !positive(p.TempK) || !positive(p.Rate) {
			return Arrhenius{}, ErrBadRate
		}
		inverse[i], logs[i] = 1/(GasConstantJMolK*p.TempK), math.Log(p.Rate)
	}
	line, err := stat.FitLine(inverse, logs, nil)
	switch {
	case errors.Is(err, stat.ErrBadData): // too far from any temperature to square
		return Arrhenius{}, ErrBadRate
	case err != nil:
		return Arrhenius{}, ErrTooFewTemperatures
	}
	a := Arrhenius{EaJMol: -line.Slope, LogFactor: line.Intercept}
	if a.Known = line.DegreesOfFreedom > 0; a.Known {
		half := stat.TFactor(0.95, line.DegreesOfFreedom) * line.SlopeSD
		a.U, a.Low, a.High = line.SlopeSD, a.EaJMol-half, a.EaJMol+half
	}
	return a, nil
}

// RateAt returns the rate at tempK, in the unit of the rates fitted.
func (a Arrhenius) RateAt(tempK float64) float64 {
	return math.Exp(a.LogFactor - a.EaJMol/(GasConstantJMolK*tempK))
}
