package uncertain

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// ErrCorrelations is what a set of correlations is refused with that no numbers can have.
var ErrCorrelations = errors.New("uncertain: these correlations contradict each other")

// Correlation is the correlation R, between −1 and 1, both without, of the normal
// scores of the inputs A and B.
type Correlation struct {
	A, B int
	R    float64
}

// copula makes independent normal scores correlated.
//
//	z = L·w,  L·Lᵀ = R
//
// w are independent scores and R is the matrix of correlations (Gaussian copula): each
// input keeps its own distribution.
//
// Source: JCGM 101:2008 6.4.8 and C.5 (numbers of the clauses from memory, confirm),
// which draw a multivariate normal so; the same
// for other shapes: R. B. Nelsen, An Introduction to Copulas (from memory, confirm).
type copula struct {
	at     []int // the inputs that it joins, by their place among the uncertain ones
	factor *mat.TriDense
}

// newCopula joins the inputs; place says where each is among the uncertain ones, −1 for
// one that is exact, which is correlated with nothing. It is nil where nothing is joined.
func newCopula(correlated []Correlation, place []int) (*copula, error) {
	c := &copula{}
	rank := make(map[int]int) // of an input in the matrix
	for _, p := range correlated {
		if min(p.A, p.B) < 0 || max(p.A, p.B) >= len(place) || p.A == p.B || !(math.Abs(p.R) < 1) {
			return nil, fmt.Errorf("%w: %g between %d and %d", ErrCorrelations, p.R, p.A, p.B)
		}
		if place[p.A] < 0 || place[p.B] < 0 {
			continue
		}
		for _, i := range [2]int{p.A, p.B} {
			if _, known := rank[i]; !known {
				rank[i] = len(c.at)
				c.at = append(c.at, place[i])
			}
		}
	}
	if len(c.at) == 0 {
		return nil, nil
	}
	return c, c.factorise(correlated, rank)
}

func (c *copula) factorise(correlated []Correlation, rank map[int]int) error {
	matrix := mat.NewSymDense(len(c.at), nil)
	for i := range c.at {
		matrix.SetSym(i, i, 1)
	}
	for _, p := range correlated {
		a, known := rank[p.A]
		b, also := rank[p.B]
		if !known || !also {
			continue
		}
		if before := matrix.At(a, b); before != 0 && before != p.R {
			return fmt.Errorf("%w: %g and %g between %d and %d", ErrCorrelations, before, p.R, p.A, p.B)
		}
		matrix.SetSym(a, b, p.R)
	}
	var cholesky mat.Cholesky
	if !cholesky.Factorize(matrix) {
		return ErrCorrelations
	}
	c.factor = mat.NewTriDense(len(c.at), mat.Lower, nil)
	cholesky.LTo(c.factor)
	return nil
}

// join makes the scores of a block correlated, in place: from the last row of the
// factor upwards, so that each row still finds the independent scores it needs.
func (c *copula) join(columns [][]float64) {
	for r := len(c.at) - 1; r >= 0; r-- {
		z, diagonal := columns[c.at[r]], c.factor.At(r, r)
		for i := range z {
			z[i] *= diagonal
		}
		for s := range r {
			share := c.factor.At(r, s)
			for i, w := range columns[c.at[s]] {
				z[i] += share * w
			}
		}
	}
}

// joins reports whether the k-th uncertain input is joined to others.
func (c *copula) joins(k int) bool { return c != nil && slices.Contains(c.at, k) }
