package stat

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// firstDamping is tried in turn. The first is fast; but where its long steps
// drive a parameter to where it has no influence, shorter ones often do not.
var firstDamping = []float64{1e-3, 1e2, 1e4}

const (
	roundOff    = 0x1p-52
	mostDamping = 1e20 // steps are below rounding long before
	leastRatio  = 1e-4 // of the fall that a step must bring to that which it promises

	// How near the minimum the search ends, as the share of the residuals that
	// the parameters could still explain. The loose one, that of Bates and
	// Watts, counts where rounding in the model allows no step downhill.
	offsetTight = 1e-10
	offsetLoose = 1e-3
	fitLoose    = 1e-9 // the same as a share of the observations, for exact data
)

// search is a descent to the least sum of squares. Residuals and slopes are
// weighted, and in a unit in which the largest observation is about 1. Nothing
// is allocated after newSearch.
type search struct {
	Problem
	root   []float64 // √weight, over that unit
	unit   float64
	length float64 // of the weighted observations, for what rounding leaves

	params, trial, before  []float64
	fitted                 []float64
	residual, nextResidual []float64
	rss, nextRSS           float64

	slopes    [][]float64
	beside    []float64 // the model beside the parameters, for differences
	norm      []float64 // of the slopes by each parameter
	largest   []float64 // the largest norm so far
	change    []float64 // of the curve, that a step promises
	z, dz     []float64 // steps of the free parameters, in units of their scale
	free      []int     // the parameters that move in this iteration
	flat      triangle  // the slopes by these, each of length 1
	damped    triangle
	rank      int
	tolerance float64

	offset          float64 // length of the residuals that the parameters could explain
	damping, growth float64
	iterations      int
}

func newSearch(p Problem) *search {
	n, k := len(p.Observed), len(p.Start)
	s := &search{
		Problem: p,
		root:    make([]float64, n), params: slices.Clone(p.Start),
		trial: slices.Clone(p.Start), before: make([]float64, k),
		fitted: make([]float64, n), residual: make([]float64, n), nextResidual: make([]float64, n),
		slopes: make([][]float64, k), beside: make([]float64, n),
		norm: make([]float64, k), largest: make([]float64, k),
		change: make([]float64, n), z: make([]float64, k), dz: make([]float64, k), free: make([]int, 0, k),
		flat: newTriangle(n, k), damped: newTriangle(2*k, k),
		tolerance: 1e-8,
	}
	if p.Slopes != nil {
		s.tolerance = 1e-13
	}
	if s.MaxIterations == 0 {
		s.MaxIterations = defaultIterations
	}
	all := make([]float64, n*k)
	for j := range s.slopes {
		s.slopes[j] = all[j*n : (j+1)*n]
	}
	s.weigh()
	return s
}

// weigh fills root. The unit is a power of two, so that it rounds nothing.
func (s *search) weigh() {
	largest := 0.0
	for i, y := range s.Observed {
		s.root[i] = math.Sqrt(s.weight(i))
		largest = max(largest, s.root[i]*math.Abs(y))
	}
	s.unit = 1
	if largest > 0 {
		_, exponent := math.Frexp(largest)
		s.unit = math.Ldexp(1, max(exponent, -1000))
	}
	var squares float64
	for i, y := range s.Observed {
		s.root[i] /= s.unit
		squares += s.root[i] * y * s.root[i] * y
	}
	s.length = math.Sqrt(squares)
	if s.length == 0 {
		s.length = 1
	}
}

// run searches from the start until one of the searches succeeds.
func (s *search) run() error {
	var err error
	for _, s.damping = range firstDamping {
		err = s.once()
		if err == nil && s.rank == len(s.free) || errors.Is(err, ErrBadStart) {
			return err
		}
	}
	return err
}

// once searches from the start until nothing can be gained.
func (s *search) once() error {
	clear(s.norm)
	clear(s.largest)
	copy(s.trial, s.Start)
	s.growth, s.iterations = 2, 0
	if !s.evaluate() || !s.accept() {
		return ErrBadStart
	}
	for s.iterations < s.MaxIterations {
		if s.explained() {
			return nil
		}
		if s.settled() {
			return s.polish()
		}
		if !s.descend() {
			return s.stalled()
		}
		if !s.accept() {
			return ErrNotConverged
		}
	}
	return ErrNotConverged
}

// evaluate computes the residuals at trial and says whether they are finite.
func (s *search) evaluate() bool {
	s.Model(s.trial, s.fitted)
	sum := 0.0
	for i, y := range s.Observed {
		r := s.root[i] * (y - s.fitted[i])
		s.nextResidual[i] = r
		sum += r * r
	}
	s.nextRSS = sum
	return finite(sum)
}

// accept moves to trial, and takes the slopes there.
func (s *search) accept() bool {
	copy(s.params, s.trial)
	s.residual, s.nextResidual = s.nextResidual, s.residual
	s.rss = s.nextRSS
	s.iterations++
	if !s.differentiate() {
		return false
	}
	s.release()
	s.project()
	return true
}

// release finds the parameters that may move: not those held, nor those on a
// bound beyond which the sum of squares falls.
func (s *search) release() {
	s.free = s.free[:0]
	for j, p := range s.params {
		if s.held(j) {
			continue
		}
		downhill := floats.Dot(s.slopes[j], s.residual)
		if p <= s.lower(j) && downhill < 0 || p >= s.upper(j) && downhill > 0 {
			continue
		}
		s.free = append(s.free, j)
	}
}

// project splits the residuals into what the free parameters could explain, as
// far as their slopes are independent, and the rest.
func (s *search) project() {
	t := &s.flat
	t.reset(len(s.Observed), len(s.free))
	for c, j := range s.free {
		floats.ScaleTo(t.column(c), 1/s.scale(j), s.slopes[j])
	}
	copy(t.right, s.residual)
	t.reduce()
	s.rank = t.rank(s.tolerance)
	s.offset = floats.Norm(t.right[:s.rank], 2)
}

// scale is the length to which the slopes by a parameter are normed.
func (s *search) scale(j int) float64 {
	if s.norm[j] > 0 {
		return s.norm[j]
	}
	return 1
}

// explained says whether the parameters explain all that they can.
func (s *search) explained() bool {
	return s.offset <= max(offsetTight*math.Sqrt(s.rss), 4*roundOff*s.length)
}

// settled says whether what is left to gain is below what rounding lets show
// in the sum of squares.
func (s *search) settled() bool {
	r := math.Sqrt(s.rss)
	return s.offset*s.offset <= 1e-13*r*max(r, s.length)
}

// stalled judges a place from which no step leads downhill.
func (s *search) stalled() error {
	if s.offset <= max(offsetLoose*math.Sqrt(s.rss), fitLoose*s.length) {
		return nil
	}
	return ErrNotConverged
}

// polish goes on with plain Gauss-Newton steps for as long as the offset
// shrinks; the sum of squares no longer tells better from worse.
func (s *search) polish() error {
	for s.iterations < s.MaxIterations && !s.explained() {
		last := s.offset
		copy(s.before, s.params)
		s.flat.solve(s.rank, s.z)
		s.try()
		if !s.evaluate() {
			return nil
		}
		if !s.accept() || s.offset > 0.9*last {
			return s.goBack(last)
		}
	}
	return nil
}

// goBack returns from a step that was none to the better.
func (s *search) goBack(offset float64) error {
	if s.offset <= offset {
		return nil
	}
	copy(s.trial, s.before)
	if !s.evaluate() || !s.accept() {
		return ErrNotConverged
	}
	return nil
}

// descend finds a damped step from params to trial that lowers the sum of
// squares. It fails when there is none that rounding leaves.
func (s *search) descend() bool {
	for s.damping < mostDamping {
		s.dampedStep()
		if !s.try() {
			return false
		}
		expected := s.expected()
		if expected > 0 && s.evaluate() {
			if ratio := s.gained() / expected; ratio > leastRatio {
				s.damping *= max(1.0/3, 1-math.Pow(2*ratio-1, 3))
				s.damping = max(s.damping, 1e-20)
				s.growth = 2
				return true
			}
		}
		s.damping *= s.growth
		s.growth *= 2
	}
	return false
}
