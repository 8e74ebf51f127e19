package strength

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPukanszkyLimitFindsTheWayBack: the content at which a ratio was reached, wherever
// the strength falls there and was not below before.
func TestPukanszkyLimitFindsTheWayBack(t *testing.T) {
	for _, tt := range []struct{ b, p float64 }{
		{-5, 0.01}, {-5, 0.5}, {0, 0.2}, {1, 0.3}, {2.5, 0.6}, {20.0 / 7, 0.2}, {3, 0.05}, {3.2, 0.8}, {3.5, 0.7}, {3.5, 0.95}, {4, 0.8}, {8, 0.99},
	} {
		assert.InDelta(t, tt.p, PukanszkyLimit(PukanszkyRatio(tt.p, tt.b), tt.b, 1), 1e-9, "%v", tt)
	}
}

// TestPukanszkyLimitAgainstAScan of 20,000 contents.
func TestPukanszkyLimitAgainstAScan(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 3))
	const steps = 20000
	for range 300 {
		ratio, b, most := 0.05+0.95*random.Float64(), 12*random.Float64()-6, 0.05+0.95*random.Float64()
		got := PukanszkyLimit(ratio, b, most)
		want := most
		for i := range steps {
			if p := most * float64(i) / steps; PukanszkyRatio(p, b) < ratio {
				want = p
				break
			}
		}
		// A dip that just touches the ratio may lie between two contents of the scan.
		require.InDelta(t, want, got, 2*most/steps, "ratio %v, B %v, most %v", ratio, b, most)
		require.GreaterOrEqual(t, PukanszkyRatio(got, b), ratio*(1-1e-12))
	}
}

// TestPukanszkyLimitOrder: less is kept for longer, more adhesion carries more, and never
// above most.
func TestPukanszkyLimitOrder(t *testing.T) {
	for b := -6.0; b <= 8; b += 0.1 {
		last := 1.0
		for ratio := 0.0; ratio < 3; ratio += 0.05 {
			now := PukanszkyLimit(ratio, b, 1)
			require.LessOrEqual(t, now, last, "B %v, ratio %v", b, ratio)
			require.LessOrEqual(t, now, PukanszkyLimit(ratio, b+0.1, 1), "B %v, ratio %v", b, ratio)
			if ratio <= 1 {
				require.InDelta(t, min(now, 0.4), PukanszkyLimit(ratio, b, 0.4), 1e-9, "B %v, ratio %v", b, ratio)
			}
			last = now
		}
	}
}

func TestPukanszkyLimitAtTheEdges(t *testing.T) {
	assert.Equal(t, 0.5, PukanszkyLimit(0, -5, 0.5), "nothing need be kept")
	assert.Equal(t, 0.5, PukanszkyLimit(-1, -5, 0.5))
	assert.Equal(t, 0.1, PukanszkyLimit(0.5, 2, 0.1), "not reached up to most")
	assert.Zero(t, PukanszkyLimit(1, 2, 1), "it falls from the start")
	assert.Zero(t, PukanszkyLimit(1, 3.4, 1), "it falls first, though it rises above later")
	assert.Greater(t, PukanszkyRatio(0.58, 3.4), 1.2)
	assert.Zero(t, PukanszkyLimit(1.1, 3.4, 1))
	assert.Greater(t, PukanszkyLimit(1, 3.5, 1), 0.6, "it rises at once")
	assert.InDelta(t, 1, PukanszkyRatio(PukanszkyLimit(1, 4, 1), 4), 1e-12)
	assert.InDelta(t, 1.1, PukanszkyRatio(PukanszkyLimit(1.1, 4, 1), 4), 1e-12, "above the plain polymer, on the way down")
	assert.Zero(t, PukanszkyLimit(1.1, 4, 0.01), "not yet reached at most")
	assert.Zero(t, PukanszkyLimit(1e9, 4, 1), "above the peak")
	assert.Zero(t, PukanszkyLimit(math.Inf(1), 4, 1))
	assert.InDelta(t, 1, PukanszkyLimit(0.5, 1e300, 1), 1e-12)
	assert.InDelta(t, 0, PukanszkyLimit(0.5, -1e300, 1), 1e-12)
	nan := math.NaN()
	for _, bad := range [][3]float64{{nan, 1, 1}, {0.5, nan, 1}, {0.5, 1, nan}, {0.5, 1, 0}, {0.5, 1, 1.01}, {0.5, math.Inf(1), 1}, {0.5, math.Inf(-1), 1}} {
		assert.True(t, math.IsNaN(PukanszkyLimit(bad[0], bad[1], bad[2])), "%v", bad)
	}
}

// TestTurns: at them the slope of the logarithm is 0.
func TestTurns(t *testing.T) {
	slope := func(p, b float64) float64 { return b - 1/(1-p) - 2.5/(1+2.5*p) }
	for _, b := range []float64{2.858, 2.9, 3.1, 3.49} {
		dip, peak := turns(b)
		assert.Less(t, dip, peak)
		assert.InDelta(t, 0, slope(dip, b), 1e-9)
		assert.InDelta(t, 0, slope(peak, b), 1e-9)
	}
	for _, b := range []float64{3.5, 4, 10} {
		dip, peak := turns(b)
		assert.Zero(t, dip)
		assert.InDelta(t, 0, slope(peak, b), 1e-9)
	}
	assert.Negative(t, slope(0.3, everFalls-1e-6))
	assert.Positive(t, slope(0.3, everFalls+1e-6))
}
