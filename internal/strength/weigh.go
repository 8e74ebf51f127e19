package strength

import "math"

// BandShare returns the share λ, from 0 to 1, that the usual band of B keeps beside the B
// that was fitted to points, so that B = (1 - λ)·B_points + λ·B_usual:
//
//	λ = max(0, (u_p² - u_b²)/(u_p² + u_b²)),
//	u_p² = u_f² + u_m²,  u_b² = max(u_usual², d² - u_p²)
//
// pointsU is u_f, the standard uncertainty of the points' B by their own strengths
// (Fit.StdU); plainU is u_m, what the plain polymer's strength adds to it (Fit.ByPlain times
// its relative uncertainty); usualU is that of the band; apart is d, B_points less B_usual.
// All are in B, the first three from 0; NaN for others.
//
// It is the least share with which (1 - λ)²·u_p² + λ²·u_b² is no more than u_b²: points that
// are known better than the band stand alone, as what was measured should, and worse ones
// leave B as certain as the band does, never less. A band from which points lie further than
// both allow is the wider for it, so that it does not overrule them.
//
// Edges: 0 for points that are exact and for a band without end, 1 for a band without width
// on which the points lie, and for points without end; with all 0 the points stand.
//
// Source: sum of variances; the widening is that of FitB. That a band which was judged counts
// as 95 % of a distribution, and that what was measured leads, are own judgement.
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
	if all <= bandU {
		return 0
	}
	ratio := bandU / all
	return (1 - ratio) * (1 + ratio) / (1 + ratio*ratio)
}
