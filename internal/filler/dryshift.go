package filler

import (
	"errors"
	"math"

	"fillwright/internal/stat"
)

// GasConstantJMolK is R (CODATA 2018).
const GasConstantJMolK = 8.31446261815324

// DryingEaJMol and those below it are what to take for wet plant powder while there
// is one log only. The energies are least squares over 50 to 80 °C through the rates
// of coffee grounds in Int. J. Chem. Eng. 2022, 2312147, table 3: 38, 46 and 56
// kJ/mol in layers of 0.6, 1.2 and 1.8 mm, the last without a row whose fit went
// astray. They are rates in thin layers; the same paper gives 8 to 10 kJ/mol for the
// diffusion of water through the layer, which is why the low end is there. A second
// log at another temperature is worth more than any of these. The exponents of the
// thickness, from the same table between 0.6 and 1.8 mm, are 1.26 at 50 °C and 0.72
// at 80 °C; diffusion alone would give 2.
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

// ErrTooFewTemperatures and ErrBadRate are the refusals of FitArrhenius.
var (
	ErrTooFewTemperatures = errors.New("filler: rates at two temperatures are needed at least")
	ErrBadRate            = errors.New("filler: a rate or temperature is not above 0")
)

// RateAt is a drying rate at a temperature: 1/τ of a curve, or k of Lewis's law,
// in any unit that all rates share.
type RateAt struct {
	TempK, Rate float64
	ULogRate    float64 // standard uncertainty of ln Rate, 0 or above
	UTempK      float64 // standard uncertainty of TempK, 0 or above
}

// usable tells whether a rate can be fitted.
func (r RateAt) usable() bool {
	return positive(r.TempK) && positive(r.Rate) && r.ULogRate >= 0 && r.UTempK >= 0
}

// Arrhenius is an activation energy fitted to rates.
type Arrhenius struct {
	EaJMol    float64 // negative where rates fall with temperature, which no drying does
	U         float64 // standard uncertainty of EaJMol
	Low, High float64 // its 95 % interval
	Known     bool    // U, Low and High are known
}

// FitArrhenius fits the activation energy by least squares of ln k over x =
// 1/(R·T), all rates alike:
//
//	ln k = ln k_0 - E_a·x
//	u²   = Σ c_i²·(u(ln k_i)² + (E_a·u(T_i)/(R·T_i²))²),  c_i = (x_i - x̄)/Σ (x_j - x̄)²
//
// k is a rate in any unit, T its temperature in K, both above 0, R is
// GasConstantJMolK. The interval is 2·u either way, what the uncertainties of the
// rates and of the temperatures come to, taken as independent; for three rates and
// more that of their scatter about the line (Student), where it is wider. Rates at
// two temperatures that all stand without an uncertainty give no interval. The
// errors are ErrTooFewTemperatures and ErrBadRate, the latter also for an
// uncertainty that is missing or negative.
//
// Source: Arrhenius; propagation of the first order, u(T) as what ln k moves by
// with it.
func FitArrhenius(points []RateAt) (Arrhenius, error) {
	inverse, logs := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		if !p.usable() {
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
	a := Arrhenius{EaJMol: -line.Slope}
	a.U = propagated(points, inverse, a.EaJMol)
	half := 2 * a.U
	if line.DegreesOfFreedom > 0 {
		a.U = max(a.U, line.SlopeSD)
		half = max(half, stat.TFactor(0.95, line.DegreesOfFreedom)*line.SlopeSD)
	}
	a.Low, a.High = a.EaJMol-half, a.EaJMol+half
	a.Known = a.U > 0 || line.DegreesOfFreedom > 0
	if !a.Known {
		a.Low, a.High = 0, 0
	}
	return a, nil
}

// propagated is what the uncertainties of rates and temperatures come to in the
// activation energy, as in FitArrhenius.
func propagated(points []RateAt, inverse []float64, eaJMol float64) float64 {
	mean, spread, sum := 0.0, 0.0, 0.0
	for _, x := range inverse {
		mean += x / float64(len(inverse))
	}
	for i, p := range points {
		aside := inverse[i] - mean
		spread += aside * aside
		sum += math.Pow(aside*math.Hypot(p.ULogRate, eaJMol*inverse[i]*p.UTempK/p.TempK), 2)
	}
	return math.Sqrt(sum) / spread
}
