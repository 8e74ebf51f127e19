package stat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/printed"
)

// One-sided 95 % upper bounds of a Poisson mean: half the chi-square quantile
// for 2n+2 degrees of freedom, as chi-square tables have it.
func TestPoissonUpperBounds(t *testing.T) {
	for n, want := range map[int]string{0: "2.99573", 1: "4.74386", 2: "6.29579", 5: "10.51303"} {
		printed.Equal(t, want, PoissonUpper(n, 0.95), "half the chi-square quantile, tables")
	}
	assert.InEpsilon(t, -math.Log(0.05), PoissonUpper(0, 0.95), 1e-12)
	assert.InEpsilon(t, math.Ln2, PoissonMedian(0), 1e-12)
}

// What the bounds say of themselves: with the upper one, n or fewer turn up in
// 1 - level of all cases; with the lower one, n or more.
func TestPoissonBoundsHoldByDefinition(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 10, 50, 400} {
		for _, level := range []float64{0.5, 0.9, 0.95, 0.99} {
			upper, lower := PoissonUpper(n, level), PoissonLower(n, level)
			assert.InDelta(t, 1-level, distuv.Poisson{Lambda: upper}.CDF(float64(n)), 1e-9, "n %d", n)
			if n > 0 {
				assert.InDelta(t, 1-level, 1-distuv.Poisson{Lambda: lower}.CDF(float64(n-1)), 1e-9, "n %d", n)
			}
			assert.Less(t, lower, upper)
			assert.Less(t, upper, PoissonUpper(n+1, level), "more counted, more possible")
		}
		median := PoissonMedian(n)
		assert.InDelta(t, float64(n)+2.0/3, median, 0.03)
	}
	assert.Zero(t, PoissonLower(0, 0.95))
}

// The bound of one count is the opposite bound of the next, and many counts are
// nearly normal: n + z·√n + (z² + 2)/3 above, n - z·√n + (z² - 1)/3 below.
func TestPoissonBoundsOfManyCounts(t *testing.T) {
	z := math.Sqrt2 * math.Erfinv(0.9) // 95 % one-sided
	for _, n := range []int{1000, 100_000, 10_000_000} {
		root := math.Sqrt(float64(n))
		assert.InDelta(t, float64(n)+z*root+(z*z+2)/3, PoissonUpper(n, 0.95), 1/root)
		assert.InDelta(t, float64(n)-z*root+(z*z-1)/3, PoissonLower(n, 0.95), 1/root)
		assert.InEpsilon(t, PoissonUpper(n-1, 0.05), PoissonLower(n, 0.95), 1e-13)
	}
}

func TestPoissonBoundsOfNothingSensible(t *testing.T) {
	for _, v := range []float64{PoissonUpper(-1, 0.95), PoissonUpper(1, 0), PoissonUpper(1, 1), PoissonLower(-1, 0.95), PoissonLower(2, math.NaN()), PoissonMedian(-3)} {
		assert.True(t, math.IsNaN(v))
	}
}
