package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Capability says how well a process keeps within limits.
type Capability struct {
	Cp, CpLow, CpHigh    float64 // what the spread alone would allow; NaN where a limit is missing
	Cpk, CpkLow, CpkHigh float64 // what spread and mean allow
	Cpl, Cpu             float64 // against the lower and the upper limit; NaN where it is missing
	Below, Above         float64 // shares beyond the limits if the readings are normal
}

// Capable works out the capability of readings of a mean and a standard deviation
// above 0 (with n - 1) against limits; a limit that is missing is infinite.
//
//	Cp  = (U - L)/(6·s)
//	Cpk = min(U - mean, mean - L)/(3·s)
//
// N is the number of independent readings, which need not be whole. The intervals
// hold with 95 %:
//
//	Cp·√(χ²(p; n-1)/(n-1)),  p = 0.025 and 0.975
//	Cpk ± 1.96·√(1/(9·n) + Cpk²/(2·(n-1)))
//
// The first is exact for normal readings, the second an approximation for n above
// about 30. It returns false for fewer than 2 readings, no spread, or limits that
// are reversed or both missing.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6; the second interval
// after Bissell, Applied Statistics 39 (1990) 331 (from memory, confirm).
func Capable(mean, sd, n, low, high float64) (Capability, bool) {
	if !(n >= 2) || !(sd > 0) || !(low < high) || math.IsInf(low, -1) && math.IsInf(high, 1) || !finite(mean+sd+n) {
		return Capability{}, false
	}
	c := Capability{Cp: (high - low) / (6 * sd), Cpl: (mean - low) / (3 * sd), Cpu: (high - mean) / (3 * sd)}
	c.Cpk = min(c.Cpl, c.Cpu)
	c.Below, c.Above = tail(3*c.Cpl), tail(3*c.Cpu)
	if math.IsInf(c.Cp, 1) {
		c.Cp = math.NaN()
	}
	if math.IsInf(c.Cpl, 1) {
		c.Cpl = math.NaN()
	}
	if math.IsInf(c.Cpu, 1) {
		c.Cpu = math.NaN()
	}
	spread := distuv.ChiSquared{K: n - 1}
	c.CpLow = c.Cp * math.Sqrt(spread.Quantile(0.025)/(n-1))
	c.CpHigh = c.Cp * math.Sqrt(spread.Quantile(0.975)/(n-1))
	half := distuv.UnitNormal.Quantile(0.975) * math.Sqrt(1/(9*n)+c.Cpk*c.Cpk/(2*(n-1)))
	c.CpkLow, c.CpkHigh = c.Cpk-half, c.Cpk+half
	return c, true
}

// tail is the share of a normal distribution beyond z standard deviations. Far out
// it keeps its digits, which 1 minus the rest would not.
func tail(z float64) float64 { return 0.5 * math.Erfc(z/math.Sqrt2) }
