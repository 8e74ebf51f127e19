package stat

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
)

// randomTriangle is a matrix of columns some units long, and the same unreduced.
func randomTriangle(random *rand.Rand, rows, cols int) (t triangle, columns [][]float64, right []float64) {
	t = newTriangle(rows, cols)
	t.reset(rows, cols)
	for i := range t.elements {
		t.elements[i] = random.NormFloat64()
	}
	for i := range t.right {
		t.right[i] = random.NormFloat64()
	}
	for c := range cols {
		columns = append(columns, slices.Clone(t.column(c)))
	}
	return t, columns, slices.Clone(t.right)
}

// The residuals of the solution are square to every column, and the inverse of
// the Gram matrix undoes it.
func TestTriangleSolves(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 1))
	for range 100 {
		cols := 1 + random.IntN(6)
		m, columns, right := randomTriangle(random, cols+random.IntN(8), cols)
		m.reduce()
		require.Equal(t, cols, m.rank(1e-13))
		z := make([]float64, cols)
		m.solve(cols, z)
		for c, column := range columns {
			floats.AddScaled(right, -z[c], column)
		}
		for _, column := range columns {
			assert.InDelta(t, 0, floats.Dot(column, right), 1e-9)
		}

		inverse := make([]float64, cols*cols)
		m.inverseGram(inverse)
		for i := range cols {
			for j := range cols {
				product, want := 0.0, 0.0
				for k := range cols {
					product += floats.Dot(columns[i], columns[k]) * inverse[k*cols+j]
				}
				if i == j {
					want = 1
				}
				assert.InDelta(t, want, product, 1e-7)
			}
		}
	}
}

// A column that the others make up shows in the rank, and the combination that
// vanishes is found.
func TestTriangleFindsDependence(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for range 100 {
		m, columns, _ := randomTriangle(random, 9, 4)
		for i := range 9 {
			m.column(2)[i] = 0.5*columns[0][i] - 2*columns[3][i]
		}
		m.reduce()
		require.Equal(t, 3, m.rank(1e-12))
		z := make([]float64, 4)
		m.null(3, 3, z)
		assert.InDelta(t, 0, z[1], 1e-9)
		assert.InDelta(t, -0.5, z[0]/z[2], 1e-9)
		assert.InDelta(t, 2, z[3]/z[2], 1e-9)
	}

	empty := newTriangle(3, 2)
	empty.reset(3, 2)
	empty.reduce()
	assert.Zero(t, empty.rank(1e-12), "nothing but noughts")
}
