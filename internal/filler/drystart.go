package filler

import "math"

// scaledLog is a drying log in units of its own: times per time of the last row,
// masses above the least one per range of them. So a fit sees the same numbers
// for milligrams in minutes and tonnes in days.
type scaledLog struct {
	logTime []float64 // ln of time, -Inf at the start, 0 for the last row
	mass    []float64 // 0 to 1
	least   float64   // least m_e that is possible, or m_e itself where it is given
	given   bool
}

// guess is a curve in the units of a scaledLog.
type guess struct {
	initial, final float64
	logTau, n      float64
	squares        float64 // sum over the rows looked at
}

// start returns the best of a coarse grid over ln τ and n. The two masses follow
// from each pair by linear least squares, so that they need no guess of their
// own. Of a long log only some rows are looked at. It returns false when no pair
// gives a mass that falls.
func (l *scaledLog) start(law DryingLaw) (guess, bool) {
	const most, cells = 48, 12
	exponents := []float64{0.3, 0.5, 0.8, 1.2, 1.8, 2.8}
	if law == Lewis {
		exponents = []float64{1}
	}
	some := *l
	some.logTime, some.mass = thin(l.logTime, most), thin(l.mass, most)
	first := 0.0 // earliest time after the start
	for _, lt := range some.logTime {
		if !math.IsInf(lt, -1) {
			first = min(first, lt)
		}
	}
	low, high := first-2, 3.0 // τ from an eighth of the first time to 20 times the last
	share := make([]float64, len(some.mass))
	best := guess{squares: math.Inf(1)}
	for k := range cells + 1 {
		logTau := low + (high-low)*float64(k)/cells
		for _, n := range exponents {
			if g := some.masses(share, logTau, n); g.initial > g.final && g.squares < best.squares {
				best = g
			}
		}
	}
	return best, !math.IsInf(best.squares, 1)
}

// thin takes at most the given number of values, evenly, the first and last
// among them.
func thin(x []float64, most int) []float64 {
	if len(x) <= most {
		return x
	}
	out := make([]float64, most)
	for k := range out {
		out[k] = x[k*(len(x)-1)/(most-1)]
	}
	return out
}

// masses fits m_0 and m_e for one pair of ln τ and n. Where m_e is given, or
// would come out as less than is possible, m_0 alone is fitted.
func (l *scaledLog) masses(share []float64, logTau, n float64) guess {
	g := guess{logTau: logTau, n: n, final: l.least}
	var sumS, sumM, sumSS, sumSM float64
	for i, lt := range l.logTime {
		s := math.Exp(-math.Exp(n * (lt - logTau)))
		share[i] = s
		sumS += s
		sumM += l.mass[i]
		sumSS += s * s
		sumSM += s * l.mass[i]
	}
	count := float64(len(share))
	water := 0.0
	if square := sumSS - sumS*sumS/count; !l.given && square > 1e-9 {
		water = (sumSM - sumS*sumM/count) / square
		g.final = (sumM - water*sumS) / count
	}
	if (l.given || g.final < l.least) && sumSS > 0 {
		g.final = l.least
		water = (sumSM - g.final*sumS) / sumSS
	}
	g.initial = g.final + water
	for i, s := range share {
		r := l.mass[i] - g.final - water*s
		g.squares += r * r
	}
	return g
}
