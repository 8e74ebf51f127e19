package strength

import "math"

// BandShare returns the share λ, from 0 to 1, that the usual band of B keeps beside the B
// that was fitted to points, so that B = (1 - λ)·B_points + λ·B_usual:
//
//	λ = max((1/u_b²)/(1/u_b² + 1/u_f²), (u_p² - u_b²)/(u_p² + u_b²)),
//	u_p² = u_f² + u_m²,  u_b² = max(u_usual², d² - u_p²)
//
// pointsU is u_f, the standard uncertainty of the points' B by their own strengths (Fit.StdU,
// for which 1/u_f² is Σ 1/u_i² where they agree); plainU is u_m, what the plain polymer's
// strength adds to it (Fit.ByPlain times its relative uncertainty); usualU is that of the
// band; apart is d, B_points less B_usual. All are in B, the first three from 0; NaN for
// others. The second term is the least share with which (1 - λ)²·u_p² + λ²·u_b² is at most
// u_b²: points beside a plain polymer that is hardly known must not leave B less certain
// than the band alone. It counts only where u_m² > u_f² + u_b². A band from which points lie
// further than both allow is the wider for it, so that it does not overrule them.
//
// Edges: 0 for points that are exact and for a band without end, 1 for a band without width
// on which the points lie, and for points without end; with all 0 the points stand.
//
// Source: weighted mean by inverse variances; the widening is that of FitB. That a band
// which was judged counts as 95 % of a distribution, and the second term, are own judgement.
func BandShare(pointsU, plainU, usualU, apart float64) float64 {
	if !(pointsU >= 0 && plainU >= 0 && usualU >= 0) || math.IsNaN(apart) {
		return math.NaN()
	}
	all, off := math.Hypot(pointsU, plainU), math.Abs(apart)
	if math.IsInf(all, 1) {
		return 1
	}
	bandU := usualU
	if off > all {
		bandU = math.Max(usualU, math.Sqrt(off-all)*math.Sqrt(off+all))
	}
	switch {
	case all == 0 || math.IsInf(bandU, 1):
		return 0
	case bandU == 0:
		return 1
	}
	return math.Max(shareBeside(pointsU/bandU), (all/bandU-bandU/all)/(all/bandU+bandU/all))
}

// shareBeside is the weight by inverse variance of a number beside one whose uncertainty is
// ratio times its own.
func shareBeside(ratio float64) float64 {
	return 1 / (1 + 1/(ratio*ratio))
}
