package strength

import "math"

const (
	// risesFromStart is the B from which the first grains do not weaken.
	risesFromStart = 3.5
	// everFalls is the B up to which the ratio falls at every content: there, at p =
	// 0.3, its slope is 0.
	everFalls = 20.0 / 7
)

// PukanszkyLimit returns the largest volume fraction of filler, up to most, before the
// strength falls below a ratio of the plain polymer's. From 0 to it, PukanszkyRatio is
// not below the ratio. It is most where the strength does not fall below, as at a ratio
// of 0.
//
// B decides on the course. Up to 20/7 the strength falls at every content. From there to
// 3.5 it falls, rises and falls; what lies behind the first crossing is not asked for,
// because a blend with less filler would be too weak. From 3.5 on it rises first. So a
// ratio above 1 can be kept from 3.5 on only, and not by the first grains: then it is the
// end of the stretch over which the ratio is kept, and 0 where there is none.
//
// The ratio is any number, B any finite one, most above 0 and up to 1. NaN outside.
//
// Source: inverse of PukanszkyRatio by bisection, between its turns in closed form:
//
//	2.5·B·p² - 1.5·B·p + 3.5 - B = 0
func PukanszkyLimit(ratio, b, most float64) float64 {
	if math.IsNaN(ratio+b) || math.IsInf(b, 0) || !(most > 0 && most <= 1) {
		return math.NaN()
	}
	if ratio <= 0 {
		return most
	}
	if ratio > 1 && b < risesFromStart {
		return 0
	}
	kept := func(p float64) bool { return logRatio(p, b) >= math.Log(ratio) }
	dip, peak := turns(b)
	dip, peak = min(dip, most), min(peak, most)
	switch {
	case ratio <= 1 && !kept(dip):
		return lastKept(kept, 0, dip)
	case !kept(peak):
		return 0
	case kept(most):
		return most
	}
	return lastKept(kept, peak, most)
}

// turns returns the contents at which the ratio has its dip and its peak: 0 for the dip
// where it rises at once, and 1 for both where it only falls.
func turns(b float64) (dip, peak float64) {
	if b <= everFalls {
		return 1, 1
	}
	// The roots over B, so that a large B does not overflow; and rounding must not move
	// the peak to 1, where nothing is left to bear.
	root := math.Sqrt(max(0, 12.25-35/b))
	return max(0, (1.5-root)/5), min((1.5+root)/5, math.Nextafter(1, 0))
}

// lastKept halves the range from a content that is kept to one that is not, and returns
// the last one that is.
func lastKept(kept func(p float64) bool, low, high float64) float64 {
	for range 60 {
		if mid := low + (high-low)/2; kept(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
