// Package stat holds the statistics that gonum lacks or does differently.
package stat

import "math"

// Summary describes a series of readings in the order in which they were taken.
type Summary struct {
	N          int
	Mean       float64
	SD         float64 // with n-1; 0 for a single reading, which says nothing of the spread
	MeanSquare float64 // mean of the squares
	Min, Max   float64
	Lag1       float64 // autocorrelation of neighbours, -1 to 1; 0 when the readings do not vary
	Effective  float64 // number of independent readings that say as much of the mean, 1 to N
}

// Summarise describes the readings x, which may have any sign and unit.
//
//	SD²       = Σ(x_i - mean)²/(n-1)
//	Lag1      = Σ(x_i - mean)(x_i+1 - mean) / Σ(x_i - mean)²
//	Effective = n·(1 - Lag1)/(1 + Lag1), held between 1 and n
//
// The sums run over differences from the first reading, then from the mean, so
// that readings that differ in their last digits only keep them. It returns
// false for no readings and for any that is not finite or too large to square.
//
// Source: two-pass algorithm with correction, Chan, Golub and LeVeque, The
// American Statistician 37 (1983) 242 (from memory, confirm); the effective
// number is that of a first-order autoregressive series.
func Summarise(x []float64) (Summary, bool) {
	if len(x) == 0 {
		return Summary{}, false
	}
	n := float64(len(x))
	s := Summary{N: len(x), Mean: mean(x), Min: x[0], Max: x[0], Effective: n}
	var sum, squares, products, total Sum
	var before float64
	for i, v := range x {
		d := v - s.Mean
		sum.Add(d)
		squares.Add(d * d)
		if i > 0 {
			products.Add(d * before)
		}
		before = d
		total.Add(v * v)
		s.Min = min(s.Min, v)
		s.Max = max(s.Max, v)
	}
	spread := max(squares.Value()-sum.Value()*sum.Value()/n, 0)
	s.MeanSquare = total.Value() / n
	if len(x) > 1 {
		s.SD = math.Sqrt(spread / (n - 1))
	}
	if s.Min < s.Max {
		s.Lag1 = products.Value() / spread
		s.Effective = min(max(n*(1-s.Lag1)/(1+s.Lag1), 1), n)
	}
	if !finite(s.Mean + s.SD + s.MeanSquare + s.Lag1) {
		return Summary{}, false
	}
	return s, true
}

// mean adds up differences from the first value, so that large values that
// differ little do not lose their digits.
func mean(x []float64) float64 {
	var sum Sum
	for _, v := range x {
		sum.Add(v - x[0])
	}
	return x[0] + sum.Value()/float64(len(x))
}

// Sum is a sum that keeps what rounding would lose of each term
// (Neumaier, Z. Angew. Math. Mech. 54 (1974) 39).
type Sum struct{ sum, lost float64 }

// Add takes a term.
func (a *Sum) Add(v float64) {
	t := a.sum + v
	if math.Abs(a.sum) >= math.Abs(v) {
		a.lost += (a.sum - t) + v
	} else {
		a.lost += (v - t) + a.sum
	}
	a.sum = t
}

// Value is the sum so far.
func (a *Sum) Value() float64 { return a.sum + a.lost }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
