package filler

import (
	"errors"
	"math"

	"fillwright/internal/stat"
)

// ErrTooFewRatios is given when fewer than two moisture ratios at different
// times can be used.
var ErrTooFewRatios = errors.New("filler: two moisture ratios between 0 and 1 are needed at least")

// PageLine is Page's law in its usual form, MR = exp(-k·t^n), fitted as a
// straight line.
type PageLine struct {
	Rate         float64 // k, per unit of the times to the power n
	Exponent     float64 // n
	RateLogU     float64 // standard uncertainty of ln k; 0 for two points
	ExponentU    float64 // standard uncertainty of n; 0 for two points
	PointsUsed   int
	PointsUnused []int // indices of the points that have no place on the line
}

// FitPageLine fits Page's law to moisture ratios by least squares of
//
//	ln(-ln MR) = ln k + n·ln t
//
// times are above 0 in any unit, and ratios between 0 and 1; points elsewhere,
// such as the one at the start, have no place on the line and are listed. The
// line gives much weight to the points near the start and the end, and needs the
// final mass beforehand: it is for holding a log against published fits, and
// FitDrying for everything else. The error is ErrTooFewRatios. It panics if the
// lengths differ.
//
// Source: common practice of thin-layer drying.
func FitPageLine(times, ratios []float64) (PageLine, error) {
	if len(times) != len(ratios) {
		panic("filler: times and ratios differ in length")
	}
	var l PageLine
	var x, y []float64
	for i, t := range times {
		if !positive(t) || !(ratios[i] > 0 && ratios[i] < 1) {
			l.PointsUnused = append(l.PointsUnused, i)
			continue
		}
		x, y = append(x, math.Log(t)), append(y, math.Log(-math.Log(ratios[i])))
	}
	line, err := stat.FitLine(x, y, nil)
	if err != nil {
		return PageLine{}, ErrTooFewRatios
	}
	l.Rate, l.Exponent, l.PointsUsed = math.Exp(line.Intercept), line.Slope, len(x)
	if line.DegreesOfFreedom > 0 {
		l.RateLogU, l.ExponentU = line.InterceptSD, line.SlopeSD
	}
	return l, nil
}
