package stat

import "math"

// Difference is the difference of two means, and how well it is known.
type Difference struct {
	Value            float64
	SE               float64 // standard error; NaN while the spread is not known
	DegreesOfFreedom float64 // seldom whole, from the smaller n less 1 up; NaN like SE
}

// Welch compares the means of two series of independent readings, whose spreads
// may differ:
//
//	d   = mean_a - mean_b
//	SE² = v_a + v_b,  v = SD²/n
//	ν   = (v_a + v_b)²/(v_a²/(n_a - 1) + v_b²/(n_b - 1))
//
// It returns false, with the difference alone, where nothing tells the spread:
// for a series of a single reading, and for two that do not vary at all. A series
// without readings, such as the zero Summary, makes the difference NaN.
//
// Source: Welch, Biometrika 34 (1947) 28; Satterthwaite, Biometrics Bull. 2
// (1946) 110 (from memory, confirm).
func Welch(a, b Summary) (Difference, bool) {
	d := Difference{Value: a.Mean - b.Mean, SE: math.NaN(), DegreesOfFreedom: math.NaN()}
	if a.N < 1 || b.N < 1 {
		d.Value = math.NaN()
	}
	if a.N < 2 || b.N < 2 {
		return d, false
	}
	se := math.Hypot(a.SD/math.Sqrt(float64(a.N)), b.SD/math.Sqrt(float64(b.N)))
	if !(se > 0) || math.IsInf(se, 1) {
		return d, false
	}
	shareA := a.SD / se * a.SD / se / float64(a.N) // of SE², so that tiny spreads do not vanish
	shareB := b.SD / se * b.SD / se / float64(b.N)
	d.SE = se
	freedom := 1 / (shareA*shareA/float64(a.N-1) + shareB*shareB/float64(b.N-1))
	d.DegreesOfFreedom = max(freedom, float64(min(a.N, b.N)-1)) // rounding must not leave less than 1
	return d, true
}

// HalfWidth returns half the width of the two-sided interval of Student's t at a
// level between 0 and 1, such as 0.95; NaN for any other level and while the
// standard error is not known.
func (d Difference) HalfWidth(level float64) float64 {
	return student(level, d.DegreesOfFreedom) * d.SE
}
