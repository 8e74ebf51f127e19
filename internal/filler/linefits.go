package filler

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"fillwright/internal/stat"
)

// leastProbit and mostProbit are the shares of mass beyond which a probit is too far
// out for a weighed sieve.
const (
	leastProbit = 0.005
	mostProbit  = 0.995
)

// confidence is that of the intervals of parameters.
const confidence = 0.95

// curvePoints are sieves on scales on which a law is a straight line.
type curvePoints struct{ x, y, weights []float64 }

// add takes a sieve in.
func (c *curvePoints) add(x, y, weight float64) {
	c.x, c.y, c.weights = append(c.x, x), append(c.y, y), append(c.weights, weight)
}

// fitRRSBLine fits the line of RRSB; see FitSizes.
func (s Sieving) fitRRSBLine() SizeFit {
	var points curvePoints
	for _, row := range s.Rows {
		if row.Passing > 0 && row.Passing < 1 {
			points.add(math.Log(row.OpeningM), math.Log(minusLogRetained(row)), 1)
		}
	}
	fit, slope := points.fit(FitRRSBLine)
	if fit.Problem != FitFound {
		return fit
	}
	fit.Shape = slope.exponential()
	fit.Law = RRSB{fit.Size.Value, fit.Shape.Value}
	fit.Misfit = s.misfit(fit.Law)
	return fit
}

// minusLogRetained is -ln R, from whichever of R and 1 - R kept more digits.
func minusLogRetained(row SieveRow) float64 {
	if row.Passing < 0.5 {
		return -math.Log1p(-row.Passing)
	}
	return -math.Log(row.CumulativeRetained)
}

// fitLogNormal fits the line of the log-normal; see FitSizes.
func (s Sieving) fitLogNormal() SizeFit {
	var points curvePoints
	for i, row := range s.Rows {
		if row.Passing < leastProbit || row.Passing > mostProbit {
			continue
		}
		if weight := s.massAbout(i); weight > 0 {
			points.add(math.Log(row.OpeningM), mathext.NormalQuantile(row.Passing), weight)
		}
	}
	fit, slope := points.fit(FitLogNormal)
	if fit.Problem != FitFound {
		return fit
	}
	// the slope is 1/ln GSD
	spread := SizeParameter{-slope.Value, slope.SD, -slope.High, -slope.Low}.exponential()
	fit.Shape = spread.exponential()
	fit.Law = LogNormal{fit.Size.Value, fit.Shape.Value}
	fit.Misfit = s.misfit(fit.Law)
	return fit
}

// massAbout is the mean of the fractions on a sieve and on the next finer one
// or in the pan: what lies in the two intervals that meet at its opening.
func (s Sieving) massAbout(i int) float64 {
	below := s.Rows[i].Passing
	if i+1 < len(s.Rows) {
		below = s.Rows[i+1].Retained
	}
	return (s.Rows[i].Retained + below) / 2
}

// fit fits the line, which crosses y = 0 at the logarithm of the size. It also
// gives the logarithm of its slope.
func (c curvePoints) fit(kind SizeFitKind) (SizeFit, SizeParameter) {
	if len(c.x) < 2 {
		return SizeFit{Kind: kind, Problem: FitTooFew}, SizeParameter{}
	}
	line, err := stat.FitLine(c.x, c.y, c.weights)
	if err != nil || !(line.Slope > 0) {
		return SizeFit{Kind: kind, Problem: FitFlat}, SizeParameter{}
	}
	crossing := -line.Intercept / line.Slope
	fit := SizeFit{
		Kind:   kind,
		Size:   around(crossing, line.SDAt(crossing)/line.Slope, line.DegreesOfFreedom).exponential(),
		Sieves: len(c.x),
		Exact:  line.DegreesOfFreedom == 0,
	}
	if !fit.Exact {
		fit.R2 = line.R2
	}
	return fit, around(math.Log(line.Slope), line.SlopeSD/line.Slope, line.DegreesOfFreedom)
}

// around gives a value its interval. Without degrees of freedom nothing is
// known of it.
func around(value, sd float64, freedom int) SizeParameter {
	if freedom < 1 {
		return SizeParameter{value, 0, value, value}
	}
	reach := stat.TFactor(confidence, freedom) * sd
	return SizeParameter{value, sd, value - reach, value + reach}
}

// exponential is e to the parameter, its standard deviation to first order.
func (p SizeParameter) exponential() SizeParameter {
	value := math.Exp(p.Value)
	return SizeParameter{value, value * p.SD, math.Exp(p.Low), math.Exp(p.High)}
}

// misfit is the root mean square of fitted less measured passing.
func (s Sieving) misfit(law SizeLaw) float64 {
	sum := 0.0
	for _, row := range s.Rows {
		off := law.Passing(row.OpeningM) - row.Passing
		sum += off * off
	}
	return math.Sqrt(sum / float64(len(s.Rows)))
}
