package filler

import (
	"math"

	"fillwright/internal/stat"
)

// Weighing is one row of a drying log: the net mass of the powder, tares taken
// off, timeS after it went into the oven.
type Weighing struct{ TimeS, MassKg float64 }

// DryingLaw is the form of a drying curve.
type DryingLaw int

// Lewis and Page are the laws; Lewis is Page with n = 1.
const (
	Lewis DryingLaw = iota
	Page
)

// TimeToRatio returns the time in s after which the share ratio of the water is
// still to go by Page's law, MR = exp(-(t/τ)^n):
//
//	t = τ·(-ln MR)^(1/n)
//
// MR = (M - M_e)/(M_0 - M_e), with moistures on dry basis, or masses instead, is
// above 0 to 1. τ is in s and above 0, n above 0 (1: Lewis). In the usual form of
// the law, MR = exp(-k·t^n), k is τ^-n. NaN outside.
//
// Source: Page 1949 (from memory, confirm).
func TimeToRatio(ratio, tauS, n float64) float64 {
	if !(ratio > 0 && ratio <= 1 && tauS > 0 && n > 0) {
		return math.NaN()
	}
	if ratio == 1 {
		return 0 // not -0
	}
	return tauS * math.Pow(-math.Log(ratio), 1/n)
}

// atInitial and those below it are the places of the four parameters in
// DryingCurve.Covariance.
const (
	atInitial = iota
	atFinal
	atLogTau
	atExponent
	curveParameters
)

// DryingCurve is a drying law fitted to a log:
//
//	m(t) = m_e + (m_0 - m_e)·exp(-(t/τ)^n)
type DryingCurve struct {
	Law       DryingLaw
	InitialKg float64 // m_0, at t = 0
	FinalKg   float64 // m_e, which the mass tends to: dry mass and the water that stays
	LogTauS   float64 // ln of τ in s
	Exponent  float64 // n; 1 for Lewis

	// Covariance of m_0, m_e, ln τ and n, in this order. Nought for those that
	// were not fitted, and all nought without degrees of freedom. +Inf for the
	// variance of one that ended on an end of its range.
	Covariance       [curveParameters][curveParameters]float64
	DegreesOfFreedom int // rows less fitted parameters; 0: an interval is not known

	ResidualsKg  []float64 // row less curve, in the order of the rows given
	ResidualSDKg float64   // with the degrees of freedom; 0 without any
	RMSKg        float64   // with the number of rows
	LastS        float64   // time of the last row: beyond it the curve is an extrapolation

	FinalGiven  bool // m_e was given, not fitted
	OpenEnd     bool // m_e is not determined by the rows, see FitDrying: weigh on
	ExponentEnd bool // n sits on an end of its range, so that the law does not fit

	student float64 // Student's factor of 95 %, kept for bands of many points; 0: not kept
}

// CurveValue is a number read from a fitted curve. The interval is that of 95 %
// (Student); where it is not known, U, Low and High are 0.
type CurveValue struct {
	Value     float64
	U         float64 // standard uncertainty
	Low, High float64
	Known     bool // U, Low and High are known
}

// gradient is the derivative of a number by the four parameters.
type gradient [curveParameters]float64

// uncertainty returns the root of gᵀ·C·g.
func (c *DryingCurve) uncertainty(g gradient) float64 {
	var sum float64
	for i, gi := range g {
		if gi == 0 {
			continue // a given parameter has no part, whatever its derivative
		}
		for j, gj := range g {
			if gj != 0 {
				sum += gi * c.Covariance[i][j] * gj
			}
		}
	}
	return math.Sqrt(max(sum, 0)) // rounding may leave less than nought
}

// linear is a value whose interval is symmetric.
func (c *DryingCurve) linear(value float64, g gradient) CurveValue {
	u := c.uncertainty(g)
	half := c.factor95() * u
	return c.settled(CurveValue{Value: value, U: u, Low: value - half, High: value + half})
}

// logarithmic is a value above 0 whose interval is symmetric on its logarithm,
// of which g is the derivative.
func (c *DryingCurve) logarithmic(value float64, g gradient) CurveValue {
	u := c.uncertainty(g)
	factor := math.Exp(c.factor95() * u)
	return c.settled(CurveValue{Value: value, U: value * u, Low: value / factor, High: value * factor})
}

// factor95 is Student's factor of a 95 % interval.
func (c *DryingCurve) factor95() float64 {
	if c.student > 0 {
		return c.student
	}
	return stat.TFactor(0.95, c.DegreesOfFreedom)
}

// settled drops an interval that is not known or has no end.
func (c *DryingCurve) settled(v CurveValue) CurveValue {
	if c.DegreesOfFreedom < 1 || math.IsNaN(v.U+v.Low+v.High) || math.IsInf(v.U+v.Low+v.High, 0) {
		return CurveValue{Value: v.Value}
	}
	v.Known = true
	return v
}

// TauS returns the time constant τ in s, with its interval on the logarithm.
func (c *DryingCurve) TauS() CurveValue {
	return c.logarithmic(math.Exp(c.LogTauS), gradient{atLogTau: 1})
}

// ExponentN returns n with its interval; Known and without width for Lewis.
func (c *DryingCurve) ExponentN() CurveValue {
	return c.linear(c.Exponent, gradient{atExponent: 1})
}

// Final returns m_e in kg with its interval.
func (c *DryingCurve) Final() CurveValue { return c.linear(c.FinalKg, gradient{atFinal: 1}) }

// Rate returns k = τ^-n, per unit of time to the power n, with its interval on
// the logarithm. unitS is the unit of time in s: 1 gives k in s^-n, 60 in min^-n.
// While n is free, the interval of k depends much on the unit; that of τ does
// not.
func (c *DryingCurve) Rate(unitS float64) CurveValue {
	logTau := c.LogTauS - math.Log(unitS)
	return c.logarithmic(math.Exp(-c.Exponent*logTau), gradient{atLogTau: -c.Exponent, atExponent: -logTau})
}

// at returns the mass in kg on the curve after timeS, 0 or above, and its
// derivatives.
func (c *DryingCurve) at(timeS float64) (float64, gradient) {
	share, byLogTau, byExponent := pageShare(math.Log(timeS)-c.LogTauS, c.Exponent)
	water := c.InitialKg - c.FinalKg
	return c.FinalKg + water*share, gradient{share, 1 - share, water * byLogTau, water * byExponent}
}

// pageShare returns exp(-x^n) and its derivatives by ln τ and n, for the
// logarithm of x = t/τ.
func pageShare(logX, n float64) (share, byLogTau, byExponent float64) {
	z := math.Exp(n * logX)
	share = math.Exp(-z)
	if z == 0 || share == 0 { // both derivatives end at 0, however large the logarithm or z
		return share, 0, 0
	}
	return share, share * n * z, -share * z * logX
}
