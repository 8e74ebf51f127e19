package melt

import (
	"math"

	"fillwright/internal/stat"
)

// FlowRatio is how many times faster a filled blend flows than its plain
// polymer.
type FlowRatio struct {
	Ratio     float64 // of the geometric means
	LogU      float64 // standard uncertainty of ln Ratio, twice of which covers 95 %; NaN while not known
	Low, High float64 // the interval of 95 %; NaN while not known
}

// Ratio compares measured rates of a filled blend with those of its plain
// polymer: the rates of two melt-flow tests, or grams per time of free strand
// from the same machine at the same settings, which has no other use than this
// ratio. All are above 0 and of one unit.
//
//	ln ratio = mean(ln filled) - mean(ln plain)
//	u        = t_95(ν)·√(SD_f²/n_f + SD_p²/n_p)/2
//
// The SD are those of the logarithms, and ν are Welch's degrees of freedom. The
// spread within each set is all that it sees: a difference of temperature or
// water between the two tests is not in it.
//
// It returns false where no interval can be told: with one rate only in a set,
// the ratio stands alone; likewise where no rate differs from its neighbours, as
// the scale is then too coarse to tell. With an empty set, or a rate that is not
// above 0, the ratio too is NaN.
//
// Source: Welch's interval on the logarithm, since what flows is above 0; see
// stat.Welch.
func Ratio(filled, plain []float64) (FlowRatio, bool) {
	unknown := FlowRatio{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	f, okFilled := stat.Summarise(logarithms(filled))
	p, okPlain := stat.Summarise(logarithms(plain))
	if !okFilled || !okPlain {
		return unknown, false
	}
	difference, ok := stat.Welch(f, p)
	half := difference.HalfWidth(confidence)
	r := FlowRatio{
		Ratio: math.Exp(difference.Value),
		LogU:  half / coverage,
		Low:   math.Exp(difference.Value - half),
		High:  math.Exp(difference.Value + half),
	}
	return r, ok
}

// logarithms are not numbers for what is not above 0.
func logarithms(rates []float64) []float64 {
	logs := make([]float64, len(rates))
	for i, r := range rates {
		logs[i] = math.Log(r)
	}
	return logs
}
