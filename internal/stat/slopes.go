package stat

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// The step of a difference balances the curvature of the model against its
// rounding: h³ = roundOff·reach·size², where size is the way over which the
// slope changes and reach is the way over which the curve changes by its own
// height. Both are guesses within a few powers of ten, which is enough.
const (
	leastSize = 1e-6 // of the start, so that a parameter may pass 0
	mostReach = 1e9  // of the size, where a parameter has nearly no influence
)

// differentiate fills in the slopes at params and their lengths, and says
// whether they are finite.
func (s *search) differentiate() bool {
	if s.Slopes != nil {
		s.Slopes(s.params, s.slopes)
	}
	for j, slope := range s.slopes {
		if s.held(j) {
			continue
		}
		if s.Slopes == nil {
			s.difference(j)
		} else {
			floats.Mul(slope, s.root)
		}
		s.norm[j] = floats.Norm(slope, 2)
		if !finite(s.norm[j]) {
			return false
		}
		s.largest[j] = max(s.largest[j], s.norm[j])
	}
	return true
}

// difference fills in the slopes by parameter j: from both sides where the
// bounds and the model leave room, else from two steps to one side.
func (s *search) difference(j int) {
	h, p := s.stepOf(j), s.params[j]
	both := p-h >= s.lower(j) && p+h <= s.upper(j)
	if both && s.fromBothSides(j, h) ||
		p+2*h <= s.upper(j) && s.fromOneSide(j, h) ||
		p-2*h >= s.lower(j) && s.fromOneSide(j, -h) {
		return
	}
	s.slopes[j][0] = math.NaN()
}

func (s *search) stepOf(j int) float64 {
	start := math.Abs(s.Start[j])
	if start == 0 {
		start = 1
	}
	size := max(math.Abs(s.params[j]), leastSize*start)
	reach := size
	if s.norm[j] > 0 {
		reach = min(s.length/s.norm[j], mostReach*size)
	}
	size = min(size, reach)
	h := math.Cbrt(roundOff*(reach/size)) * size
	return min(h, (s.upper(j)-s.lower(j))/4)
}

// fromBothSides takes (f(p+h) - f(p-h))/2h. It says whether that is finite.
func (s *search) fromBothSides(j int, h float64) bool {
	slope := s.slopes[j]
	up := s.look(j, h, slope)
	down := s.look(j, -h, s.beside)
	width := up - down
	sum := 0.0
	for i, root := range s.root {
		slope[i] = root * ((slope[i] - s.beside[i]) / width)
		sum += slope[i]
	}
	return finite(sum)
}

// fromOneSide takes (4·f(p+h) - f(p+2h) - 3·f(p))/2h, which is exact for a
// parabola too.
func (s *search) fromOneSide(j int, h float64) bool {
	slope := s.slopes[j]
	near := s.look(j, h, slope) - s.params[j]
	far := s.look(j, 2*h, s.beside) - s.params[j]
	sum := 0.0
	for i, root := range s.root {
		a := (slope[i] - s.fitted[i]) / near
		b := (s.beside[i] - s.fitted[i]) / far
		slope[i] = root * (a + (a-b)*near/(far-near))
		sum += slope[i]
	}
	return finite(sum)
}

// look writes the curve with parameter j moved by h, and returns where the
// parameter then is.
func (s *search) look(j int, h float64, y []float64) float64 {
	s.trial[j] = s.params[j] + h
	moved := s.trial[j]
	s.Model(s.trial, y)
	s.trial[j] = s.params[j]
	return moved
}
