package blend

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// 20 % regrind of 10 wt% powder: 2 wt% come with it. For 10 wt% in all f loose powder goes
// into a rest that holds 2/0.92 = 2.1739 % where 8 % were loose.
func TestLooseContentBesideRegrind(t *testing.T) {
	f, ok := LooseContent(0.10, 0.08, 0.02)
	require.True(t, ok)
	printed.Same(t, 0.08, f) // the blend as it is
	f, ok = LooseContent(0.15, 0.08, 0.02)
	require.True(t, ok)
	printed.Same(t, 0.13111111111111, f)
	assert.InDelta(t, 0.15, f+(1-f)*0.02/0.92, 1e-12, "put together again")
	f, ok = LooseContent(0.3, 0.1, 0)
	require.True(t, ok)
	printed.Same(t, 0.3, f) // without regrind
	_, ok = LooseContent(0.01, 0.08, 0.02)
	assert.False(t, ok, "the regrind brings more")
}

// A quarter fed back: 1 + 0.25 + 0.25² + ... = 4/3.
func TestPassesOfAStandingLoop(t *testing.T) {
	printed.Same(t, 1.3333333333333, SteadyPasses(0.25))
	printed.Same(t, 1, SteadyPasses(0))
	assert.True(t, math.IsNaN(SteadyPasses(1)))
	printed.Same(t, 0.0625, ShareBeyond(0.25, 2))
	mean, left := 0.0, 1.0
	for n := 1; n < 200; n++ { // series against closed form
		mean += left
		left *= 0.25
	}
	assert.InDelta(t, SteadyPasses(0.25), mean, 1e-12)
	assert.Equal(t, 1.0, ShareBeyond(0.25, 0))
}
