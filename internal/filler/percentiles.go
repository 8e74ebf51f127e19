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
	LowM  float64 // finer of the two sieves that bracket it; 0 below the finest
	HighM float64 // coarser of the two; +Inf above the coarsest
	Where SizeWhere
}

// Percentile returns the size D_p below which the share p of the mass lies,
// 0 < p < 1, with passing P taken as straight over ln x between two sieves:
//
//	ln D_p = ln x1 + (p - P1)/(P2 - P1)·(ln x2 - ln x1)
//
// All that was measured is that D_p lies between LowM and HighM. It never
// leaves the range of the sieves. Where no mass lies between two sieves and p
// falls on that level, SizeM is the finer end and the bracket holds both.
// False without rows and for any other p.
//
// Source: common practice.
func (s Sieving) Percentile(p float64) (SizePercentile, bool) {
	if len(s.Rows) == 0 || !(p > 0 && p < 1) {
		return SizePercentile{}, false
	}
	finest, coarsest := s.Rows[len(s.Rows)-1], s.Rows[0]
	if p < finest.Passing {
		return SizePercentile{finest.OpeningM, 0, finest.OpeningM, BelowFinest}, true
	}
	if p > coarsest.Passing {
		return SizePercentile{coarsest.OpeningM, coarsest.OpeningM, math.Inf(1), AboveCoarsest}, true
	}
	// passing falls along the rows
	n := len(s.Rows)
	atMost := s.Rows[sort.Search(n, func(i int) bool { return s.Rows[i].Passing <= p })]
	atLeast := s.Rows[sort.Search(n, func(i int) bool { return s.Rows[i].Passing < p })-1]
	if atLeast.Passing == p {
		return SizePercentile{atLeast.OpeningM, atLeast.OpeningM, atMost.OpeningM, Between}, true
	}
	low, high := atMost.OpeningM, atLeast.OpeningM
	share := (p - atMost.Passing) / (atLeast.Passing - atMost.Passing)
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
