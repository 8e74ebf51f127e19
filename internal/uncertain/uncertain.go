// Package uncertain propagates what is not known exactly through any model
// written as a function from numbers to numbers.
package uncertain

import (
	"math"
	"slices"
)

const badLength = "uncertain: scratch was made for other lengths"

// Steps of the numerical derivative. For inputs known to a per cent or so this
// share of the standard uncertainty is short enough for curvature not to show
// and long enough for rounding not to; an input known much better is stepped by
// the cube root of the rounding unit instead, but never by more than its
// uncertainty.
const (
	stepShare    = 2.5e-4
	stepRelative = 6e-6
)

// Input is one uncertain number: the best estimate and the standard
// uncertainties below and above it (equal for a symmetric one, zero for an
// exact one, never negative).
type Input struct{ Value, UMinus, UPlus float64 }

// Scratch holds the buffers of one model, so that repeated calls do not
// allocate. A Scratch serves one goroutine at a time.
type Scratch struct {
	x, y0, down, up []float64
	near, far       []float64 // the model beside the estimate; near then holds the derivative
	kept            []int     // figures whose contributions are kept
	slopes          []float64 // of the figure kept[k] by input i at i*len(kept)+k
	varied          []Input   // those gone through, and none for the others
}

// NewScratch returns buffers for a model with nx inputs and ny figures, which keep what
// each input adds to each figure.
func NewScratch(nx, ny int) *Scratch {
	all := make([]int, ny)
	for j := range all {
		all[j] = j
	}
	return NewScratchKeeping(nx, ny, all)
}

// NewScratchKeeping is NewScratch for a model of many inputs and figures, of which only
// those kept, in rising order, are asked later what each input adds to them.
func NewScratchKeeping(nx, ny int, kept []int) *Scratch {
	return &Scratch{
		x:      make([]float64, nx),
		y0:     make([]float64, ny),
		down:   make([]float64, ny),
		up:     make([]float64, ny),
		near:   make([]float64, ny),
		far:    make([]float64, ny),
		kept:   kept,
		slopes: make([]float64, nx*len(kept)),
		varied: make([]Input, nx),
	}
}

// FirstOrder returns the figures y0 of a model at the best estimates, and the
// standard uncertainties of each figure downwards and upwards.
//
//	up_j² = Σ_i (c_ji·u_i)²,  c_ji = ∂f_j/∂x_i,
//
// where u_i is the upper uncertainty of the input for c > 0 and the lower one
// for c < 0, and the other way round for down_j. For symmetric inputs both are
// the combined standard uncertainty u_c of the GUM. The inputs are taken as
// independent, and the model as straight over their uncertainties.
//
// f writes every y from x and keeps neither. vary lists the inputs to go
// through, each once; nil stands for all. Inputs without uncertainty cost
// nothing, and one too small to change its number at all counts for nothing. A figure that is NaN stays NaN, with NaN intervals, and a derivative
// that is NaN makes the intervals of that figure alone NaN. The slices returned
// belong to s and hold until its next use. FirstOrder panics if s was made for
// another number of inputs.
//
// Source: JCGM 100:2008 (GUM) 5.1.2 and 5.1.3. The derivatives are central
// differences as in its 5.1.4 NOTE, but over a shorter step, so that they are
// the derivatives of 5.1.2 themselves. An input that can go one way only is
// stepped that way only.
func FirstOrder(f func(x, y []float64), in []Input, vary []int, s *Scratch) (y0, down, up []float64) {
	if len(in) != len(s.x) {
		panic(badLength)
	}
	for i := range in {
		s.x[i] = in[i].Value
	}
	f(s.x, s.y0)
	clear(s.down)
	clear(s.up)
	clear(s.slopes)
	clear(s.varied)
	if vary == nil {
		for i := range in {
			s.vary(f, i, in[i])
		}
	}
	for _, i := range vary {
		s.vary(f, i, in[i])
	}
	for j := range s.y0 {
		s.down[j] = rootUnless(s.y0[j], s.down[j])
		s.up[j] = rootUnless(s.y0[j], s.up[j])
	}
	return s.y0, s.down, s.up
}

// rootUnless returns the root of a sum of squares, and NaN for a figure that is
// not finite.
func rootUnless(y, sum float64) float64 {
	if math.IsNaN(y) || math.IsInf(y, 0) {
		return math.NaN()
	}
	return math.Sqrt(sum)
}

// vary adds the squared contributions of input i to the sums in down and up.
func (s *Scratch) vary(f func(x, y []float64), i int, in Input) {
	if in.UMinus == 0 && in.UPlus == 0 {
		return
	}
	s.slope(f, i, in)
	for j, c := range s.near {
		minus, plus := squaresOf(c, in)
		s.down[j] += minus
		s.up[j] += plus
	}
	for k, j := range s.kept {
		s.slopes[i*len(s.kept)+k] = s.near[j]
	}
	s.varied[i] = in
}

// squaresOf is what an input adds to the squared uncertainty downwards and upwards of a
// figure that has the slope c by it.
func squaresOf(c float64, in Input) (down, up float64) {
	down, up = c*in.UMinus, c*in.UPlus
	if c < 0 {
		down, up = up, down
	}
	return down * down, up * up
}

// slope leaves the derivatives by input i in near, and x as it was. A side on which
// the uncertainty does not even change the number counts as none.
func (s *Scratch) slope(f func(x, y []float64), i int, in Input) {
	x, minus, plus := in.Value, in.UMinus, in.UPlus
	down, up := x-step(x, minus)/2 != x, x+step(x, plus)/2 != x
	switch {
	case !down && !up:
		clear(s.near)
	case !down:
		s.oneSided(f, i, x, step(x, plus)/2)
	case !up:
		s.oneSided(f, i, x, -step(x, minus)/2)
	default:
		h := step(x, min(minus, plus))
		below, above := x-h, x+h
		s.x[i] = above
		f(s.x, s.near)
		s.x[i] = below
		f(s.x, s.far)
		width := above - below // as rounded, not 2h
		for j := range s.near {
			s.near[j] = (s.near[j] - s.far[j]) / width
		}
	}
	s.x[i] = x
}

// oneSided is the difference of second order over x, x+h and x+2h.
func (s *Scratch) oneSided(f func(x, y []float64), i int, x, h float64) {
	next := x + h
	h = next - x // as rounded
	s.x[i] = next
	f(s.x, s.near)
	s.x[i] = x + 2*h
	f(s.x, s.far)
	for j := range s.near {
		s.near[j] = (4*(s.near[j]-s.y0[j]) - (s.far[j] - s.y0[j])) / (2 * h)
	}
}

func step(x, u float64) float64 {
	return min(max(stepShare*u, stepRelative*math.Abs(x)), u)
}

// Contribution returns what input i adds to the squared uncertainty of figure j
// in the last call of FirstOrder: the mean of what it adds downwards and
// upwards. Zero for an input that was not varied, NaN for a figure that is not kept.
func (s *Scratch) Contribution(j, i int) float64 {
	k, kept := slices.BinarySearch(s.kept, j)
	if !kept {
		return math.NaN()
	}
	minus, plus := squaresOf(s.slopes[i*len(s.kept)+k], s.varied[i])
	return (minus + plus) / 2
}

// Share returns the contribution of input i to figure j as a share of all, from
// 0 to 1: the input with the largest is the one to measure better. It is 0
// where the figure has no uncertainty or none that is known.
func (s *Scratch) Share(j, i int) float64 {
	all := (s.down[j]*s.down[j] + s.up[j]*s.up[j]) / 2
	if !(all > 0) {
		return 0
	}
	return s.Contribution(j, i) / all
}

// Covariance returns the covariance of the figures j and k in the last call of
// FirstOrder, in the product of their units.
//
//	u(y_j, y_k) = Σ_i c_ji·c_ki·u_i²,  u_i² = ½·(u₋² + u₊²)
//
// It is NaN for a figure that is not kept, or where a derivative is not known. That of a
// figure with itself is the mean of its two squared uncertainties.
//
// Source: JCGM 100:2008 (GUM) F.1.2.3 and H.2.3.
func (s *Scratch) Covariance(j, k int) float64 {
	a, kept := slices.BinarySearch(s.kept, j)
	b, also := slices.BinarySearch(s.kept, k)
	if !kept || !also {
		return math.NaN()
	}
	var sum float64
	for i, in := range s.varied {
		row := s.slopes[i*len(s.kept):]
		sum += row[a] * row[b] * (in.UMinus*in.UMinus + in.UPlus*in.UPlus) / 2
	}
	return sum
}

// Correlation returns the covariance of the figures j and k over their uncertainties,
// from −1 to 1; 0 where one has none, NaN where Covariance is.
//
// Source: JCGM 100:2008 (GUM) 5.2.2.
func (s *Scratch) Correlation(j, k int) float64 {
	both := s.Covariance(j, k)
	scale := math.Sqrt(s.Covariance(j, j)) * math.Sqrt(s.Covariance(k, k))
	if scale == 0 {
		return 0
	}
	return min(max(both/scale, -1), 1)
}
