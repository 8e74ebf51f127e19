package stat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Grubbs returns the statistic of Grubbs' test, how far the reading that is farthest from
// the mean is off in standard deviations, and the index of that reading:
//
//	G = max|x_i - mean|/s
//
// It returns false for fewer than 3 readings, and where they do not vary.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
func Grubbs(x []float64) (g float64, index int, ok bool) {
	s, ok := Summarise(x)
	if !ok || s.N < 3 || s.SD == 0 {
		return 0, -1, false
	}
	for i, v := range x {
		if off := math.Abs(v-s.Mean) / s.SD; off > g || i == 0 {
			g, index = off, i
		}
	}
	return g, index, true
}

// GrubbsCritical returns what the statistic of Grubbs exceeds by chance with the
// probability alpha, among n normal readings; two-sided where the odd one may be high
// or low, one-sided where it is known to which side.
//
//	G = (n-1)/√n·√(t²/(n-2+t²)),  t = t(1 - alpha/(2n); n-2), one-sided t(1 - alpha/n; n-2)
//
// N is 3 or more and alpha above 0 and below 1; anything else gives NaN.
//
// Source: as for Grubbs.
func GrubbsCritical(n int, alpha float64, twoSided bool) float64 {
	if n < 3 || !(alpha > 0 && alpha < 1) {
		return math.NaN()
	}
	share := alpha / float64(n)
	if twoSided {
		share /= 2
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile(1 - share)
	return float64(n-1) / math.Sqrt(float64(n)) * math.Sqrt(t*t/(float64(n-2)+t*t))
}

// ESDStep is one step of the generalised test for outliers: the reading farthest off among
// those left, and what its distance exceeds by chance.
type ESDStep struct {
	Index     int // of the reading
	R, Lambda float64
}

// GeneralisedESD looks for up to most outliers among normal readings: one after the other
// the farthest is taken out. The number of outliers is that of the last step whose R exceeds its
// Lambda, also where steps before it do not: a group of outliers hides each of its members.
//
//	R_i = max|x - mean|/s among those left,
//	λ_i = (n-i)·t/√((n-i-1+t²)(n-i+1)),  t = t(1 - alpha/(2(n-i+1)); n-i-1)
//
// It takes fewer steps where fewer than 3 readings would be left, or these do not vary.
// The approximation is good from about 25 readings on, fair from 15.
//
// Source: Rosner, Technometrics 25 (1983) 165, by way of NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.5.17.3.
func GeneralisedESD(x []float64, most int, alpha float64) (steps []ESDStep, outliers int) {
	left := slices.Clone(x)
	index := make([]int, len(x))
	for i := range index {
		index[i] = i
	}
	n := len(x)
	for i := 1; i <= most && len(left) >= 3; i++ {
		r, at, ok := Grubbs(left)
		if !ok {
			break
		}
		p := 1 - alpha/(2*float64(n-i+1))
		t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - i - 1)}.Quantile(p)
		lambda := float64(n-i) * t / math.Sqrt((float64(n-i-1)+t*t)*float64(n-i+1))
		steps = append(steps, ESDStep{Index: index[at], R: r, Lambda: lambda})
		if r > lambda {
			outliers = i
		}
		left, index = slices.Delete(left, at, at+1), slices.Delete(index, at, at+1)
	}
	return steps, outliers
}
