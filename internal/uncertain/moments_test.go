package uncertain

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: 1, 2, 4 and 5 have the mean 3 and squared deviations of 10.
func TestMoments(t *testing.T) {
	want := moments{n: 4, mean: 3, squares: 10}
	assert.Equal(t, want, momentsOf([]float64{math.NaN(), 1, 2, math.Inf(-1), 4, 5}))
	m := momentsOf([]float64{1, 2})
	m.add(momentsOf([]float64{math.NaN()}))
	m.add(momentsOf([]float64{4, 5}))
	assert.Equal(t, want, m)
	assert.InDelta(t, math.Sqrt(10.0/3), m.u(), 1e-15)
	assert.InDelta(t, math.Sqrt(10.0/3)/2, standardError([]float64{1, 2, math.NaN(), 4, 5}), 1e-15)
	assert.Zero(t, momentsOf([]float64{7}).u(), "one has no spread")
	assert.True(t, math.IsNaN(moments{}.u()) && math.IsNaN(standardError([]float64{1, math.NaN()})))
}
