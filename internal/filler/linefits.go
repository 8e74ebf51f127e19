package filler

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// straight is a line through points, by its slope and where it crosses y = 0.
type straight struct {
	slope, slopeSD       float64
	crossing, crossingSD float64
	r2                   float64
	freedom              int
}

// lineThrough fits at least two points by weighted least squares.
func lineThrough(points []fitPoint) straight {
	var w, x, y float64
	for _, p := range points {
		w += p.weight
		x += p.weight * p.x
		y += p.weight * p.y
	}
	x, y = x/w, y/w
	var sxx, sxy, syy float64
	for _, p := range points {
		sxx += p.weight * (p.x - x) * (p.x - x)
		sxy += p.weight * (p.x - x) * (p.y - y)
		syy += p.weight * (p.y - y) * (p.y - y)
	}
	line := straight{slope: sxy / sxx, freedom: len(points) - 2}
	line.crossing = x - y/line.slope
	if line.freedom == 0 {
		return line
	}
	var off float64
	for _, p := range points {
		d := p.y - y - line.slope*(p.x-x)
		off += p.weight * d * d
	}
	line.r2 = 1 - off/syy
	variance := off / float64(line.freedom)
	line.slopeSD = math.Sqrt(variance / sxx)
	line.crossingSD = math.Sqrt(variance/w+variance/sxx*square(y/line.slope)) / line.slope
	return line
}

// logSlope is the logarithm of the slope with its interval, which keeps the
// slope above 0.
func (l straight) logSlope() SizeParameter {
	return around(math.Log(l.slope), l.slopeSD/l.slope, l.freedom)
}

// around gives a value its interval at 95 % by Student's t.
func around(value, sd float64, freedom int) SizeParameter {
	if freedom < 1 {
		return SizeParameter{value, 0, value, value}
	}
	reach := sd * distuv.StudentsT{Sigma: 1, Nu: float64(freedom)}.Quantile(0.975)
	return SizeParameter{value, sd, value - reach, value + reach}
}

// exponential is e to the parameter, its standard deviation to first order.
func (p SizeParameter) exponential() SizeParameter {
	value := math.Exp(p.Value)
	return SizeParameter{value, value * p.SD, math.Exp(p.Low), math.Exp(p.High)}
}

func square(x float64) float64 { return x * x }

// fitRRSBCurve starts from the line, and seeks the smallest sum of squares over
// ln x' and ln n, which keeps both above 0.
func (s Sieving) fitRRSBCurve() SizeFit {
	start := s.fitRRSBLine()
	if start.Problem != FitFound {
		return SizeFit{Kind: FitRRSBCurve, Problem: start.Problem}
	}
	at := [2]float64{math.Log(start.Size.Value), math.Log(start.Shape.Value)}
	sum, jtj, jtr := s.rrsbSquares(at)
	damping := 1e-3
	for range 200 {
		a, b, d := jtj[0]*(1+damping), jtj[1], jtj[2]*(1+damping)
		det := a*d - b*b
		step := [2]float64{(d*jtr[0] - b*jtr[1]) / det, (a*jtr[1] - b*jtr[0]) / det}
		next := [2]float64{at[0] + step[0], at[1] + step[1]}
		nextSum, nextJTJ, nextJTR := s.rrsbSquares(next)
		if nextSum <= sum {
			small := math.Hypot(step[0], step[1]) < 1e-12
			at, sum, jtj, jtr = next, nextSum, nextJTJ, nextJTR
			damping /= 10
			if small {
				break
			}
			continue
		}
		damping *= 10
	}
	_ = sum
	return SizeFit{Kind: FitRRSBCurve, Law: RRSB{math.Exp(at[0]), math.Exp(at[1])}}
}

func (s Sieving) rrsbSquares(at [2]float64) (sum float64, jtj [3]float64, jtr [2]float64) {
	law := RRSB{math.Exp(at[0]), math.Exp(at[1])}
	for _, row := range s.Rows {
		z := law.z(row.OpeningM)
		fitted := math.Exp(-z)
		off := 100 * (row.CumulativeRetained - fitted)
		j0 := 100 * law.Exponent * z * fitted
		j1 := 0.0
		if z > 0 {
			j1 = -100 * z * math.Log(z) * fitted
		}
		sum += off * off
		jtj[0] += j0 * j0
		jtj[1] += j0 * j1
		jtj[2] += j1 * j1
		jtr[0] += j0 * off
		jtr[1] += j1 * off
	}
	return sum, jtj, jtr
}
