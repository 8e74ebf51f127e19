package filler

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// SizeLaw is a distribution of grain size by mass that reaches from 0 to any
// size. Beyond the sieves it was fitted to it is an extrapolation.
type SizeLaw interface {
	// Passing returns the mass fraction of grains below sizeM; 0 for a size of 0 or less.
	Passing(sizeM float64) float64
	// Quantile returns the size in m below which the mass fraction p lies, 0 < p < 1;
	// 0 for p of 0 or less and +Inf for 1 or more.
	Quantile(p float64) float64
	// Sauter returns the size in m of the grain that has the same surface per
	// volume as the powder, D32 = 1/∫q3(x)/x dx; false where that integral diverges.
	Sauter() (float64, bool)
	// NumberBetween returns the number of grains above sizeM per kg of powder that
	// went through something that keeps back all grains above topM, +Inf for
	// nothing of the kind:
	//
	//	N = ∫_x^top q3(y)/(ρ·k_v·y³) dy / P(top)
	//
	// q3 is the density of the distribution by mass and P(top) the mass that went
	// through. 0 when topM is at most sizeM.
	NumberBetween(sizeM, topM float64, g Grain) float64
}

// LogNormal is a distribution of grain mass that is normal over the logarithm
// of size.
type LogNormal struct {
	MedianM float64 // x50, above 0
	GSD     float64 // geometric standard deviation D84/D50, above 1
}

// s is ln GSD.
func (l LogNormal) s() float64 { return math.Log(l.GSD) }

// Passing returns Φ(ln(x/x50)/ln GSD).
func (l LogNormal) Passing(sizeM float64) float64 {
	if !(sizeM > 0) {
		return 0
	}
	return normalCDF(math.Log(sizeM/l.MedianM) / l.s())
}

// Quantile returns x50·GSD^z, with z the standard normal quantile of p.
func (l LogNormal) Quantile(p float64) float64 {
	switch {
	case !(p > 0):
		return 0
	case p >= 1:
		return math.Inf(1)
	}
	return l.MedianM * math.Exp(l.s()*mathext.NormalQuantile(p))
}

// Sauter returns x50·exp(-s²/2), s = ln GSD; it always exists.
//
// Source: Hatch and Choate, J. Franklin Inst. 207 (1929) 369 (from memory,
// confirm).
func (l LogNormal) Sauter() (float64, bool) { return l.MedianM * math.Exp(-l.s()*l.s()/2), true }

// RRSB is the distribution of Rosin, Rammler, Sperling and Bennett, also called
// Weibull's: R(x) = exp(-(x/x')^n) of the mass is above size x.
type RRSB struct {
	SizeM    float64 // x', where 1/e = 36.8 % is above; above 0
	Exponent float64 // n, above 0; the larger the narrower
}

// Passing returns 1 - exp(-(x/x')^n).
func (l RRSB) Passing(sizeM float64) float64 {
	if !(sizeM > 0) {
		return 0
	}
	return -math.Expm1(-l.z(sizeM))
}

// z is (x/x')^n, which is -ln R.
func (l RRSB) z(sizeM float64) float64 { return math.Pow(sizeM/l.SizeM, l.Exponent) }

// Quantile returns x'·(-ln(1 - p))^(1/n).
func (l RRSB) Quantile(p float64) float64 {
	switch {
	case !(p > 0):
		return 0
	case p >= 1:
		return math.Inf(1)
	}
	return l.SizeM * math.Pow(-math.Log1p(-p), 1/l.Exponent)
}

// Sauter returns x'/Γ(1 - 1/n). It exists for n above 1 only: otherwise the
// law has so much dust that its surface has no end.
func (l RRSB) Sauter() (float64, bool) {
	if !(l.Exponent > 1) {
		return 0, false
	}
	return l.SizeM / math.Gamma(1-1/l.Exponent), true
}

// normalCDF is Φ.
func normalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
