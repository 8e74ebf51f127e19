package filler

import (
	"math"

	"fillwright/internal/stat"
)

// fitRRSBCurve starts from the line, and seeks the least sum of squares over ln
// x' and ln n, which keeps both above 0.
func (s Sieving) fitRRSBCurve() SizeFit {
	start := s.fitRRSBLine()
	if start.Problem != FitFound {
		return SizeFit{Kind: FitRRSBCurve, Problem: start.Problem}
	}
	observed := make([]float64, len(s.Rows))
	for i, row := range s.Rows {
		observed[i] = 100 * row.CumulativeRetained
	}
	found, err := stat.LeastSquares(stat.Problem{
		Model:    s.rrsbPercentages,
		Slopes:   s.rrsbSlopes,
		Observed: observed,
		Start:    []float64{math.Log(start.Size.Value), math.Log(start.Shape.Value)},
	})
	if err != nil {
		return SizeFit{Kind: FitRRSBCurve, Problem: FitDiverging}
	}
	fit := SizeFit{
		Kind:   FitRRSBCurve,
		Size:   around(found.Params[0], found.SD[0], found.DegreesOfFreedom).exponential(),
		Shape:  around(found.Params[1], found.SD[1], found.DegreesOfFreedom).exponential(),
		Sieves: len(s.Rows),
		Exact:  found.DegreesOfFreedom == 0,
	}
	if !fit.Exact {
		fit.R2 = found.R2
	}
	fit.Law = RRSB{fit.Size.Value, fit.Shape.Value}
	fit.Misfit = s.misfit(fit.Law)
	return fit
}

// rrsbPercentages writes 100·R of each sieve; params are ln x' and ln n.
func (s Sieving) rrsbPercentages(params, y []float64) {
	law := RRSB{math.Exp(params[0]), math.Exp(params[1])}
	for i, row := range s.Rows {
		y[i] = 100 * math.Exp(-law.z(row.OpeningM))
	}
}

// rrsbSlopes writes the derivatives of rrsbPercentages: of R = exp(-z) with z =
// (x/x')^n, by ln x' n·z·R and by ln n -z·ln z·R.
func (s Sieving) rrsbSlopes(params []float64, slopes [][]float64) {
	law := RRSB{math.Exp(params[0]), math.Exp(params[1])}
	for i, row := range s.Rows {
		z := law.z(row.OpeningM)
		steep := 0.0
		if z > 0 && z < 745 { // exp(-z) is 0 beyond, and so is the slope
			steep = 100 * z * math.Exp(-z)
		}
		slopes[0][i] = law.Exponent * steep
		slopes[1][i] = 0
		if steep > 0 {
			slopes[1][i] = -math.Log(z) * steep
		}
	}
}
