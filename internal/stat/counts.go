package stat

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// PoissonUpper returns the exact one-sided upper bound of the mean number of
// events when n were counted: with that mean, n or fewer turn up with the
// probability 1 - level only,
//
//	μ = χ²_level(2n + 2)/2,  Σ_k≤n e^-μ·μ^k/k! = 1 - level.
//
// n is 0 or more and the level above 0 and below 1; anything else gives NaN.
// For n = 0 it is -ln(1 - level), at 95 % nearly 3. The two bounds at the level
// (1 + c)/2 hold the mean with at least the probability c.
//
// Source: Garwood, Biometrika 28 (1936) 437 (from memory, confirm).
func PoissonUpper(n int, level float64) float64 {
	if n < 0 || !(level > 0 && level < 1) {
		return math.NaN()
	}
	return mathext.GammaIncRegCompInv(float64(n)+1, 1-level)
}

// PoissonLower returns the exact one-sided lower bound of the mean number of
// events when n were counted: with that mean, n or more turn up with the
// probability 1 - level only,
//
//	μ = χ²_(1-level)(2n)/2,  Σ_k≥n e^-μ·μ^k/k! = 1 - level.
//
// n is 0 or more and the level above 0 and below 1; anything else gives NaN.
// For n = 0 it is 0: none seen never says that there must be some.
//
// Source: as for PoissonUpper.
func PoissonLower(n int, level float64) float64 {
	if n < 0 || !(level > 0 && level < 1) {
		return math.NaN()
	}
	if n == 0 {
		return 0
	}
	return mathext.GammaIncRegCompInv(float64(n), level)
}

// PoissonMedian returns the mean number of events for which n or fewer turn up
// as often as more,
//
//	μ = χ²_0.5(2n + 2)/2 ≈ n + 2/3,
//
// an estimate that is not 0 when none was counted (ln 2 then). n below 0 gives
// NaN.
//
// Source: the upper bound at the level 0.5; common practice in counting.
func PoissonMedian(n int) float64 { return PoissonUpper(n, 0.5) }
