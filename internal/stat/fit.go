package stat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// Fit is a curve fitted to observations. Unless the error was nil, it tells
// where the search stood, and the standard deviations are NaN.
type Fit struct {
	Params []float64
	// SD holds the standard deviations of the parameters: 0 for one that was
	// held, NaN for one that ended on a bound, and NaN for all that were not
	// held when there are no degrees of freedom.
	SD         []float64
	Covariance []float64 // of parameters i and j at i*len(Params)+j; 0 or NaN where SD is
	Residuals  []float64 // observed less fitted, without weights
	RSS        float64   // residual sum of squares, with weights
	ResidualSD float64   // of a point of weight 1; NaN with no degrees of freedom
	R2         float64   // 1 - RSS / sum of squares about the mean; 0 when the observations do not vary

	DegreesOfFreedom int   // points less the parameters that were not held
	Iterations       int   // how often the slopes were taken
	AtBound          []int // parameters that ended on a bound; the others are given as if these were known
	Undetermined     []int // with ErrSingular: parameters that can change without the curve
}

// fit gathers the results where the search stopped, and why it stopped.
func (s *search) fit(stopped error) (Fit, error) {
	n, k := len(s.Observed), len(s.params)
	f := Fit{
		Params: s.params, SD: make([]float64, k), Covariance: make([]float64, k*k),
		Residuals: make([]float64, n), DegreesOfFreedom: n - s.unheld(), Iterations: s.iterations,
	}
	s.residuals(&f)
	if !finite(f.RSS) {
		return Fit{}, ErrBadData
	}
	f.ResidualSD = math.NaN()
	if f.DegreesOfFreedom > 0 {
		f.ResidualSD = math.Sqrt(f.RSS / float64(f.DegreesOfFreedom))
	}
	if s.rank < len(s.free) {
		f.Undetermined = s.undetermined()
		stopped = ErrSingular
	}
	f.AtBound = s.atBound()
	if !s.covariance(&f, stopped == nil) {
		return Fit{}, ErrSingular
	}
	return f, stopped
}

// residuals fills in the residuals and what follows from their sum of squares.
func (s *search) residuals(f *Fit) {
	s.Model(s.params, s.fitted)
	var rss Sum
	for i, y := range s.Observed {
		r := y - s.fitted[i]
		f.Residuals[i] = r
		rss.Add(s.weight(i) * r * r)
	}
	f.RSS = rss.Value()
	f.R2 = explainedShare(s.Observed, s.weight, f.RSS)
}

// explainedShare is the coefficient of determination.
func explainedShare(y []float64, weight func(int) float64, rss float64) float64 {
	var weights, sum, squares Sum
	for i, v := range y {
		weights.Add(weight(i))
		sum.Add(weight(i) * (v - y[0]))
	}
	mean := sum.Value() / weights.Value()
	for i, v := range y {
		d := v - y[0] - mean
		squares.Add(weight(i) * d * d)
	}
	share := 1 - rss/squares.Value()
	if !finite(share) {
		return 0
	}
	return share
}

// covariance fills in the covariance and the standard deviations, which stay
// NaN where they are not known. It says whether those that it computed are
// finite.
func (s *search) covariance(f *Fit, known bool) bool {
	k := len(s.params)
	for i := range k {
		for j := range k {
			if !s.held(i) && !s.held(j) {
				f.Covariance[i*k+j] = math.NaN()
			}
		}
	}
	sum := 0.0
	if known && f.DegreesOfFreedom > 0 {
		free := len(s.free)
		inverse := make([]float64, free*free)
		s.flat.inverseGram(inverse)
		sd := f.ResidualSD / s.unit
		for a, i := range s.free {
			for b, j := range s.free {
				c := sd / s.scale(i) * inverse[a*free+b] * (sd / s.scale(j))
				f.Covariance[i*k+j] = c
				sum += c
			}
		}
	}
	for j := range k {
		f.SD[j] = math.Sqrt(f.Covariance[j*k+j])
	}
	return finite(sum)
}

// atBound lists the parameters that a bound stopped.
func (s *search) atBound() []int {
	var at []int
	for j := range s.params {
		if !s.held(j) && !slices.Contains(s.free, j) {
			at = append(at, j)
		}
	}
	return at
}

// undetermined lists the parameters that take part, by more than a thousandth,
// in a change that the slopes do not see.
func (s *search) undetermined() []int {
	share := make([]float64, len(s.params))
	z := make([]float64, len(s.free))
	for c := s.rank; c < len(s.free); c++ {
		s.flat.null(s.rank, c, z)
		largest := floats.Norm(z, math.Inf(1))
		for a, j := range s.free {
			share[j] = max(share[j], math.Abs(z[a])/largest)
		}
	}
	var loose []int
	for j, v := range share {
		if v > 1e-3 {
			loose = append(loose, j)
		}
	}
	return loose
}

// Interval returns the ends of the two-sided interval of parameter i at a level
// such as 0.95,
//
//	p_i ∓ t·SD_i,
//
// with Student's t for the degrees of freedom. It is NaN where SD is, and is
// not cut at the bounds.
func (f Fit) Interval(i int, level float64) (low, high float64) {
	half := TFactor(level, f.DegreesOfFreedom) * f.SD[i]
	return f.Params[i] - half, f.Params[i] + half
}

// SDOf returns the standard deviation of a quantity that depends on the
// parameters with the slopes g, such as the fitted curve at one place:
//
//	√(gᵀ·C·g)
//
// A slope of 0 leaves its parameter out, so that the result is known wherever
// the covariances that it needs are. It is NaN where they are not.
func (f Fit) SDOf(g []float64) float64 {
	var variance Sum
	for i := range g {
		for j := range g {
			if g[i] != 0 && g[j] != 0 {
				variance.Add(g[i] * g[j] * f.Covariance[i*len(g)+j])
			}
		}
	}
	return math.Sqrt(max(variance.Value(), 0))
}
