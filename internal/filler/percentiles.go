package filler

import (
	"math"
	"sort"
)

// SizeWhere says where a percentile lies against the sieves that were used.
type SizeWhere int

// Between and those below it are where a percentile may lie.
const (
	Between       SizeWhere = iota // between two sieves, or on one
	BelowFinest                    // smaller than the finest opening: nothing more is known
	AboveCoarsest                  // larger than the coarsest opening: nothing more is known
)

// SizePercentile is a size below which a share of the mass lies, as far as
// sieves tell.
type SizePercentile struct {
	SizeM float64 // interpolated; outside the sieves the opening that bounds it
	LowM  float64 // finer of the two sieves that bracket it, see Percentile; 0 below the finest
	HighM float64 // coarser of the two; +Inf above the coarsest
	Where SizeWhere
}

// onSieve is how far a share may be from that of a sieve and still fall on it.
const onSieve = 1e-9

// Percentile returns the size D_p below which the share p of the mass lies,
// 0 < p < 1, with passing P taken as straight over ln x between two sieves:
//
//	ln D_p = ln x1 + (p - P1)/(P2 - P1)·(ln x2 - ln x1)
//
// All that was measured is that D_p lies between LowM and HighM. It never
// leaves the range of the sieves. Where p falls on a sieve (within 1e-9), SizeM is
// its opening, and the bracket the next finer and the next coarser sieve, between
// which a hair less or more would be; at an end of the stack it is the sieve itself
// on that side. Of sieves without mass between them SizeM is the finest. False
// without rows and for any other p.
//
// Source: common practice.
func (s Sieving) Percentile(p float64) (SizePercentile, bool) {
	n := len(s.Rows)
	if n == 0 || !(p > 0 && p < 1) {
		return SizePercentile{}, false
	}
	// passing falls along the rows: above are more than p, from below on less
	above := sort.Search(n, func(i int) bool { return s.Rows[i].Passing <= p+onSieve }) - 1
	below := sort.Search(n, func(i int) bool { return s.Rows[i].Passing < p-onSieve })
	finest, coarsest := s.Rows[n-1], s.Rows[0]
	switch {
	case below-above > 1: // sieves between them: p falls on those
		return SizePercentile{s.Rows[below-1].OpeningM, s.Rows[min(below, n-1)].OpeningM, s.Rows[max(above, 0)].OpeningM, Between}, true
	case below == n:
		return SizePercentile{finest.OpeningM, 0, finest.OpeningM, BelowFinest}, true
	case above < 0:
		return SizePercentile{coarsest.OpeningM, coarsest.OpeningM, math.Inf(1), AboveCoarsest}, true
	}
	low, high := s.Rows[below].OpeningM, s.Rows[above].OpeningM
	share := (p - s.Rows[below].Passing) / (s.Rows[above].Passing - s.Rows[below].Passing)
	size := min(max(low*math.Pow(high/low, share), low), high)
	return SizePercentile{size, low, high, Between}, true
}

// Span returns (D90 - D10)/D50. False where one of the three lies outside the
// sieves.
func (s Sieving) Span() (float64, bool) {
	var d [3]float64
	for i, p := range [3]float64{0.1, 0.5, 0.9} {
		at, ok := s.Percentile(p)
		if !ok || at.Where != Between {
			return 0, false
		}
		d[i] = at.SizeM
	}
	return (d[2] - d[0]) / d[1], true
}
