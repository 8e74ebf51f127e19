package blend

import "math"

// LooseContent returns the mass fraction of loose powder that brings the filler content
// of a blend to total, where regrind brings powder too. Of the blend as it is, loose is
// the loose powder and bound that within regrind; the rest of the blend keeps its
// proportions:
//
//	f = (total - k)/(1 - k),  k = bound/(1 - loose)
//
// ok is false where total is out of reach: below what the regrind brings alone, or above
// 1. All are mass fractions, from 0 to 1, and loose below 1.
//
// Source: mass balance.
func LooseContent(total, loose, bound float64) (f float64, ok bool) {
	k := bound / (1 - loose)
	f = (total - k) / (1 - k)
	return f, f >= 0 && f <= 1
}

// SteadyPasses returns how often the polymer of a strand has been through the heat on
// average when the share r of every charge is regrind of the charge before, for long:
//
//	Σ n·(1-r)·r^(n-1) = 1/(1 - r)
//
// r is from 0 to below 1; NaN outside.
//
// Source: mean of a geometric distribution.
func SteadyPasses(r float64) float64 {
	if !(r >= 0 && r < 1) {
		return math.NaN()
	}
	return 1 / (1 - r)
}

// ShareBeyond returns the share of the polymer that has been through the heat more than n
// times, when the share r of every charge is regrind of the charge before, for long: r^n.
// r is from 0 to 1, n from 0.
//
// Source: tail of a geometric distribution.
func ShareBeyond(r float64, n int) float64 { return math.Pow(r, float64(n)) }
