package stat

import "math"

// Line is a straight line y = Intercept + Slope·x fitted to points.
type Line struct {
	Intercept, Slope     float64
	InterceptSD, SlopeSD float64 // NaN for two points, which say nothing of the spread
	Covariance           float64 // of intercept and slope; NaN for two points
	RSS                  float64 // residual sum of squares, with weights
	ResidualSD           float64 // of a point of weight 1; NaN for two points
	R2                   float64 // 1 - RSS / sum of squares about the mean; 0 when y does not vary
	DegreesOfFreedom     int     // points less 2

	firstX, firstY float64 // the point from which the means are counted
	meanX, meanY   float64
	weights        float64 // their sum
	spread         float64 // Σ w (x - x̄)²
}

// FitLine finds the straight line of the least weighted sum of squares,
//
//	RSS = Σ w_i·(y_i - a - b·x_i)²,
//
// with the standard deviations that follow from the residuals,
//
//	s²  = RSS/(n - 2),
//	b   = Σ w (x - x̄)(y - ȳ) / S,       SD_b² = s²/S,  S = Σ w (x - x̄)²,
//	a   = ȳ - b·x̄,                      SD_a² = s²·(1/Σw + x̄²/S),
//	cov = -s²·x̄/S.
//
// x is exact, and weights are above zero in the ratio of 1/variance of y; nil
// stands for all alike. Sums run over differences from the first point and then
// from the means, so that points far from zero keep their digits.
//
// It gives ErrBadProblem for lengths that differ, ErrTooFewPoints for fewer than
// two points, ErrBadData for what is not finite or too large to square, and
// ErrSingular when all x are the same.
//
// Source: common practice, as in any textbook of regression.
func FitLine(x, y, weights []float64) (Line, error) {
	if len(x) != len(y) || !fits(weights, len(x)) {
		return Line{}, ErrBadProblem
	}
	if len(x) < 2 {
		return Line{}, ErrTooFewPoints
	}
	p := points{x, y, weights}
	if !p.usable() {
		return Line{}, ErrBadData
	}
	l := p.centre()
	if !p.slope(&l) {
		return Line{}, ErrSingular
	}
	p.spread(&l)
	if !finite(l.Intercept + l.Slope + l.RSS) {
		return Line{}, ErrBadData
	}
	return l, nil
}

// points are what a line is fitted to.
type points struct{ x, y, weights []float64 }

func (p points) weight(i int) float64 {
	if p.weights == nil {
		return 1
	}
	return p.weights[i]
}

func (p points) usable() bool {
	var squares float64
	for i, x := range p.x {
		w, y := p.weight(i), p.y[i]
		if !(w > 0) {
			return false
		}
		squares += w * (x*x + y*y)
	}
	return finite(squares)
}

// centre finds the weighted means, as differences from the first point.
func (p points) centre() Line {
	var weights, x, y Sum
	for i := range p.x {
		w := p.weight(i)
		weights.Add(w)
		x.Add(w * (p.x[i] - p.x[0]))
		y.Add(w * (p.y[i] - p.y[0]))
	}
	total := weights.Value()
	return Line{
		firstX: p.x[0], firstY: p.y[0], meanX: x.Value() / total, meanY: y.Value() / total,
		weights: total, DegreesOfFreedom: len(p.x) - 2,
	}
}

// slope finds slope and intercept. It fails when x does not vary.
func (p points) slope(l *Line) bool {
	var xx, xy Sum
	varies := false
	for i, x := range p.x {
		d := l.aside(x)
		xx.Add(p.weight(i) * d * d)
		xy.Add(p.weight(i) * d * (p.y[i] - l.firstY - l.meanY))
		varies = varies || x != l.firstX
	}
	l.spread = xx.Value()
	if !varies || l.spread == 0 {
		return false
	}
	l.Slope = xy.Value() / l.spread
	l.Intercept = l.At(0)
	return true
}

// spread finds what the residuals say.
func (p points) spread(l *Line) {
	var rss Sum
	for i, x := range p.x {
		r := p.y[i] - l.firstY - l.meanY - l.Slope*l.aside(x)
		rss.Add(p.weight(i) * r * r)
	}
	l.RSS = rss.Value()
	l.R2 = explainedShare(p.y, p.weight, l.RSS)
	l.ResidualSD = math.NaN()
	if l.DegreesOfFreedom > 0 {
		l.ResidualSD = math.Sqrt(l.RSS / float64(l.DegreesOfFreedom))
	}
	l.SlopeSD = l.ResidualSD / math.Sqrt(l.spread)
	l.InterceptSD = l.SDAt(0)
	l.Covariance = l.SlopeSD * l.SlopeSD * l.aside(0)
}

// At returns the value of the line at x.
func (l Line) At(x float64) float64 { return l.firstY + (l.meanY + l.Slope*l.aside(x)) }

// aside is how far x lies from the mean of the points.
func (l Line) aside(x float64) float64 { return x - l.firstX - l.meanX }

// SDAt returns the standard deviation of the value of the line at x,
//
//	s·√(1/Σw + (x - x̄)²/S),
//
// that of the mean of many points there. It is NaN for a line through two
// points.
func (l Line) SDAt(x float64) float64 {
	return math.Hypot(l.ResidualSD/math.Sqrt(l.weights), l.aside(x)*l.SlopeSD)
}
