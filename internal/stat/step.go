package stat

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// dampedStep solves min |r - Jz|² + damping·|Dz|² for the free parameters, from
// the triangle of J. D is the largest slope met so far over the present one.
func (s *search) dampedStep() {
	k := len(s.free)
	t := &s.damped
	t.reset(2*k, k)
	clear(t.right)
	copy(t.right, s.flat.right[:k])
	for c := range k {
		column := t.column(c)
		clear(column)
		copy(column[:c+1], s.flat.column(c)[:c+1])
		column[k+c] = math.Sqrt(s.damping) * s.stiffness(s.free[s.flat.order[c]])
	}
	t.reduce()
	t.solve(k, s.dz)
	for c := range k {
		s.z[s.flat.order[c]] = s.dz[c]
	}
}

// stiffness is the element of D for a parameter. Slopes that became small would
// else let their parameter jump.
func (s *search) stiffness(j int) float64 {
	if s.norm[j] > 0 {
		return s.largest[j] / s.norm[j]
	}
	return 1
}

// try puts the step z, cut at the bounds, into trial, and says whether any
// parameter moves.
func (s *search) try() bool {
	copy(s.trial, s.params)
	moves := false
	for c, j := range s.free {
		p := s.params[j] + s.z[c]/s.scale(j)
		s.trial[j] = min(max(p, s.lower(j)), s.upper(j))
		moves = moves || s.trial[j] != s.params[j]
	}
	return moves
}

// expected is the fall of the sum of squares at trial if the curve were
// straight.
func (s *search) expected() float64 {
	clear(s.change)
	for _, j := range s.free {
		floats.AddScaled(s.change, s.trial[j]-s.params[j], s.slopes[j])
	}
	fall := 0.0
	for i, v := range s.change {
		fall += v * (2*s.residual[i] - v)
	}
	return fall
}

// gained is the fall of the sum of squares at trial, taken from the differences
// of the residuals, so that it keeps its digits when it is small.
func (s *search) gained() float64 {
	fall := 0.0
	for i, r := range s.residual {
		fall += (r - s.nextResidual[i]) * (r + s.nextResidual[i])
	}
	return fall
}
