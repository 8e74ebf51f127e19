package stat

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// triangle reduces a linear least-squares problem, matrix and right side, to
// upper triangular form by Householder reflections. The columns are taken in
// the order of what is left of them, so that the diagonal falls and shows the
// rank (Businger and Golub, Numer. Math. 7 (1965) 269, from memory, confirm).
// gonum's QR keeps their order and allocates.
type triangle struct {
	rows, cols int
	elements   []float64 // column after column
	right      []float64
	order      []int // column c of the triangle is column order[c] of the matrix
}

func newTriangle(rows, cols int) triangle {
	return triangle{
		elements: make([]float64, rows*cols),
		right:    make([]float64, rows),
		order:    make([]int, cols),
	}
}

// reset makes room for a matrix of at most the size that the triangle was made
// for. The elements are left from before.
func (t *triangle) reset(rows, cols int) {
	t.rows, t.cols = rows, cols
	t.elements = t.elements[:rows*cols]
	t.right = t.right[:rows]
	t.order = t.order[:cols]
	for c := range t.order {
		t.order[c] = c
	}
}

func (t *triangle) column(c int) []float64 { return t.elements[c*t.rows : (c+1)*t.rows] }

// reduce needs at least as many rows as columns, and columns of a length of
// about 1, whose squares keep clear of overflow.
func (t *triangle) reduce() {
	for c := range t.cols {
		t.pivot(c)
		v := t.column(c)[c:]
		length := math.Sqrt(floats.Dot(v, v))
		if length == 0 {
			continue
		}
		diagonal := -math.Copysign(length, v[0])
		v[0] -= diagonal
		for d := c + 1; d < t.cols; d++ {
			reflect(v, t.column(d)[c:], -diagonal*v[0])
		}
		reflect(v, t.right[c:], -diagonal*v[0])
		v[0] = diagonal
	}
}

// pivot brings the column with the most below row c to place c.
func (t *triangle) pivot(c int) {
	best, most := c, -1.0
	for d := c; d < t.cols; d++ {
		below := t.column(d)[c:]
		if square := floats.Dot(below, below); square > most {
			best, most = d, square
		}
	}
	if best == c {
		return
	}
	a, b := t.column(c), t.column(best)
	for i := range a {
		a[i], b[i] = b[i], a[i]
	}
	t.order[c], t.order[best] = t.order[best], t.order[c]
}

// reflect takes x to the mirror plane across v, whose half square is h.
func reflect(v, x []float64, h float64) {
	floats.AddScaled(x, -floats.Dot(v, x)/h, v)
}

// rank counts the diagonal elements above a share of the first one.
func (t *triangle) rank(share float64) int {
	for c := range t.cols {
		if !(math.Abs(t.column(c)[c]) > share*math.Abs(t.column(0)[0])) {
			return c
		}
	}
	return t.cols
}

// solve writes the solution in the order of the matrix. Of the columns of the
// triangle it uses the first ones only, and leaves the others at 0.
func (t *triangle) solve(rank int, z []float64) {
	clear(z)
	for c := rank - 1; c >= 0; c-- {
		sum := t.right[c]
		for d := c + 1; d < rank; d++ {
			sum -= t.column(d)[c] * z[t.order[d]]
		}
		z[t.order[c]] = sum / t.column(c)[c]
	}
}

// null writes the change of the unknowns, in the order of the matrix, that
// the first columns of the triangle make up for: 1 of column last, and what
// cancels it. What is below rounding in the triangle is taken as 0.
func (t *triangle) null(rank, last int, z []float64) {
	clear(z)
	z[t.order[last]] = 1
	for c := rank - 1; c >= 0; c-- {
		sum := -t.column(last)[c]
		for d := c + 1; d < rank; d++ {
			sum -= t.column(d)[c] * z[t.order[d]]
		}
		z[t.order[c]] = sum / t.column(c)[c]
	}
}

// inverseGram writes (RᵀR)⁻¹ in the order of the matrix, row after row. It
// leaves R inverted.
func (t *triangle) inverseGram(inverse []float64) {
	t.invert()
	for a, i := range t.order {
		for b, j := range t.order {
			sum := 0.0
			for c := max(a, b); c < t.cols; c++ {
				sum += t.column(c)[a] * t.column(c)[b]
			}
			inverse[i*t.cols+j] = sum
		}
	}
}

// invert puts the inverse of R in its place, one column after another.
func (t *triangle) invert() {
	for c := range t.cols {
		column := t.column(c)
		column[c] = 1 / column[c]
		for a := range c {
			sum := 0.0
			for b := a; b < c; b++ {
				sum += t.column(b)[a] * column[b]
			}
			column[a] = -sum * column[c]
		}
	}
}
