package stat

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// manyFreedoms is from where on the expansion about the normal distribution is
// good to ten digits, and the inverse beta function begins to lose them.
const manyFreedoms = 1000

// TFactor returns the factor of Student's t for a two-sided interval: the
// estimate lies within t standard deviations of the true value with the
// probability level,
//
//	P(|T| ≤ t) = level,
//
// for a level above 0 and below 1, such as 0.95, and at least one degree of
// freedom. It is NaN for anything else, since nothing is known then. It keeps
// ten digits for levels up to 0.9999.
//
// Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964),
// 26.7.1 by the incomplete beta function and, for more than 1000 degrees of
// freedom, the expansion 26.7.5 (from memory, confirm).
func TFactor(level float64, degreesOfFreedom int) float64 {
	return student(level, float64(degreesOfFreedom))
}

// student is TFactor for degrees of freedom that need not be whole.
func student(level, freedom float64) float64 {
	if !(level > 0 && level < 1 && freedom >= 1) {
		return math.NaN()
	}
	switch {
	case freedom > manyFreedoms:
		return nearNormal(math.Sqrt2*math.Erfcinv(1-level), freedom)
	case level < 0.5:
		x := mathext.InvRegIncBeta(0.5, freedom/2, level) // t²/(ν + t²)
		return math.Sqrt(freedom * x / (1 - x))
	default:
		x := mathext.InvRegIncBeta(freedom/2, 0.5, 1-level) // ν/(ν + t²)
		return math.Sqrt(freedom * (1 - x) / x)
	}
}

// nearNormal expands Student's t about the normal quantile z.
func nearNormal(z, freedom float64) float64 {
	q := z * z
	g1 := z * (q + 1) / 4
	g2 := z * ((5*q+16)*q + 3) / 96
	g3 := z * (((3*q+19)*q+17)*q - 15) / 384
	return z + (g1+(g2+g3/freedom)/freedom)/freedom
}
