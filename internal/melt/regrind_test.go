package melt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// 0.25·2·ln 1.2 = 0.0911608; exp of it is 1.0954451 = sqrt(1.2).
func TestRegrindFactor(t *testing.T) {
	printed.Same(t, 1.0954451150103, RegrindFactor(0.25, 2, 1.2))
	assert.Equal(t, 1.0, RegrindFactor(0, 3, 1.2), "no regrind")
	assert.Equal(t, 1.0, RegrindFactor(0.3, 0, 1.2), "fresh")
	assert.InDelta(t, 1.44, RegrindFactor(1, 2, 1.2), 1e-12, "all of it, twice")
	assert.Less(t, RegrindFactor(0.3, 1, 0.8), 1.0, "chains that join")
	assert.True(t, math.IsNaN(RegrindFactor(0.3, 1, 0)))
}
