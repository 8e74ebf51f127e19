package stat

import (
	"errors"
	"math"
)

// Why a least-squares fit was refused or stopped. They tell callers apart what
// to say, with errors.Is; their texts are for developers.
var (
	ErrBadProblem   = errors.New("stat: lengths, bounds or functions of the problem do not fit together")
	ErrBadData      = errors.New("stat: an observation is not finite or too large to square, or a weight is not above zero")
	ErrBadStart     = errors.New("stat: the start is not finite, outside the bounds, or the model is not finite there")
	ErrTooFewPoints = errors.New("stat: fewer points than parameters")
	ErrSingular     = errors.New("stat: the points do not determine the parameters")
	ErrNotConverged = errors.New("stat: the search did not settle on a minimum")
)

// Problem is a curve with unknown parameters, and observations to fit it to.
// What the curve depends on beside the parameters, such as the time of each
// point, is the model's own affair.
type Problem struct {
	// Model writes what the curve says for every point. It keeps neither slice
	// and leaves params alone.
	Model func(params, y []float64)
	// Slopes writes slopes[j][i], the derivative of point i by parameter j. It
	// may be nil: then central differences take its place, which cost two calls
	// of Model for each parameter and hold about ten digits.
	Slopes func(params []float64, slopes [][]float64)

	Observed []float64
	Weights  []float64 // above zero, in the ratio of 1/variance; nil for all alike

	Start        []float64
	Lower, Upper []float64 // bounds, which may be infinite; nil for none; equal to hold a parameter

	MaxIterations int // of one search, of which there are at most three; 0 stands for 300
}

const defaultIterations = 300

// LeastSquares finds the parameters p of the least weighted sum of squares,
//
//	RSS = Σ w_i·(y_i - f_i(p))²,
//
// and their covariance
//
//	C = s²·(JᵀWJ)⁻¹,  s² = RSS/(n - p),  J_ij = ∂f_i/∂p_j,
//
// which takes the weights as ratios and the curve as straight over the
// intervals. The minimum is the one that lies downhill from the start.
//
// It gives ErrBadProblem, ErrBadData, ErrBadStart or ErrTooFewPoints before it
// searches. It gives ErrSingular when the slopes at the end depend on each
// other to about 8 digits, or 13 with Slopes given: a parameter without any
// influence is the simplest case. A little short of that, the rounding of
// differences may keep the search from settling: ErrNotConverged. A parameter
// that runs away without end comes out as either. As many points as parameters
// give a fit whose intervals are not known. A parameter that starts at 0 is
// taken to be of size 1 for the differences.
//
// Source: Levenberg, Quart. Appl. Math. 2 (1944) 164 and Marquardt, J. SIAM 11
// (1963) 431, with the scaling of Moré, Lecture Notes in Mathematics 630 (1978)
// 105, the damping of Nielsen, report IMM-REP-1999-05, and the relative offset
// of Bates and Watts, Technometrics 23 (1981) 179 as the measure of the way
// left (all from memory, confirm). It is code of our own because gonum has no
// such method, and no Go module that is kept up gives the intervals too.
func LeastSquares(p Problem) (Fit, error) {
	if err := p.check(); err != nil {
		return Fit{}, err
	}
	s := newSearch(p)
	err := s.run()
	if errors.Is(err, ErrBadStart) {
		return Fit{}, err
	}
	return s.fit(err)
}

func (p Problem) check() error {
	n, k := len(p.Observed), len(p.Start)
	if p.Model == nil || k == 0 || p.MaxIterations < 0 ||
		!fits(p.Weights, n) || !fits(p.Lower, k) || !fits(p.Upper, k) || !p.boundsInOrder() {
		return ErrBadProblem
	}
	if n < p.unheld() {
		return ErrTooFewPoints
	}
	if n == 0 || !p.dataUsable() {
		return ErrBadData
	}
	for j, v := range p.Start {
		if !finite(v) || v < p.lower(j) || v > p.upper(j) {
			return ErrBadStart
		}
	}
	return nil
}

// fits says whether an optional slice is absent or of the length that it needs.
func fits(x []float64, n int) bool { return x == nil || len(x) == n }

func (p Problem) boundsInOrder() bool {
	for j := range p.Start {
		if !(p.lower(j) <= p.upper(j)) { // NaN is out of order too
			return false
		}
	}
	return true
}

func (p Problem) dataUsable() bool {
	var squares float64
	for i, y := range p.Observed {
		w := p.weight(i)
		if !(w > 0) || !finite(w) {
			return false
		}
		squares += w * y * y
	}
	return finite(squares)
}

// unheld counts the parameters that may move.
func (p Problem) unheld() int {
	count := 0
	for j := range p.Start {
		if !p.held(j) {
			count++
		}
	}
	return count
}

func (p Problem) held(j int) bool { return p.lower(j) == p.upper(j) }

func (p Problem) weight(i int) float64 {
	if p.Weights == nil {
		return 1
	}
	return p.Weights[i]
}

func (p Problem) lower(j int) float64 {
	if p.Lower == nil {
		return math.Inf(-1)
	}
	return p.Lower[j]
}

func (p Problem) upper(j int) float64 {
	if p.Upper == nil {
		return math.Inf(1)
	}
	return p.Upper[j]
}
