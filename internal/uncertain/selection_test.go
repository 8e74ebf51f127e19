package uncertain

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// lists are random ones of many lengths, with few and with many equal numbers.
func lists(random *rand.Rand) [][]float64 {
	var all [][]float64
	for _, n := range []int{1, 2, 3, 10, 599, 602, 5000} {
		for _, distinct := range []float64{1, 2, 10, 1e6} {
			a := make([]float64, n)
			for i := range a {
				a[i] = math.Floor(random.Float64()*distinct) * 0.1
			}
			sorted := slices.Clone(a)
			slices.Sort(sorted)
			all = append(all, a, sorted)
		}
	}
	return all
}

func TestSelectRankSorts(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for _, a := range lists(random) {
		sorted := slices.Sorted(slices.Values(a))
		for range 20 {
			k := random.IntN(len(a))
			b := slices.Clone(a)
			selectRank(b, k)
			require.Equal(t, sorted[k], b[k])
			require.LessOrEqual(t, slices.Max(b[:k+1]), b[k])
			require.GreaterOrEqual(t, slices.Min(b[k:]), b[k])
			require.Equal(t, sorted, slices.Sorted(slices.Values(b)), "nothing is lost")
		}
	}
}

func TestSelectEnds(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for _, a := range lists(random) {
		sorted := slices.Sorted(slices.Values(a))
		for _, p := range []float64{0.01, 0.5, 0.95, 0.9999999} {
			b, k := slices.Clone(a), ranksOf(len(a), p)
			selectEnds(b, k)
			assert.Equal(t, []float64{sorted[k.low], sorted[k.high]}, []float64{b[k.low], b[k.high]})
		}
	}
}

// JCGM 101 7.7.2 by hand: of 1000 draws, q = 950 and r = 25; of 999, q = ⌊949.55⌋ and
// r = 25; of 1, nothing but the draw itself.
func TestRanks(t *testing.T) {
	assert.Equal(t, ranks{low: 24, median: 499, high: 974, outside: 50}, ranksOf(1000, 0.95))
	assert.Equal(t, ranks{low: 24, median: 499, high: 973, outside: 50}, ranksOf(999, 0.95))
	assert.Equal(t, ranks{outside: 1}, ranksOf(1, 0.95))
}

// The pooled number is that of the sorted list, even where a sample misleads: where all
// that is looked at lies below, or above, all else.
func TestPooledRank(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	all := lists(random)
	for _, odd := range []float64{-1, 1} {
		misleading := make([]float64, 10*samplePoints)
		for i := range misleading {
			misleading[i] = random.Float64()
			if i%10 == 5 {
				misleading[i] += odd
			}
		}
		all = append(all, misleading)
	}
	var find finder
	for _, a := range all {
		sorted := slices.Sorted(slices.Values(a))
		parts := [][]float64{a[:len(a)/3], {}, a[len(a)/3:]}
		before := slices.Clone(a)
		for range 10 {
			k := random.IntN(len(a))
			require.Equal(t, sorted[k], find.rank(parts, len(a), k))
		}
		require.Equal(t, before, a, "nothing is moved")
	}
}

func TestShortest(t *testing.T) {
	low, high := shortest([]float64{0, 1, 2, 5}, []float64{9, 9, 9.5, 20})
	assert.Equal(t, []float64{2, 9.5}, []float64{low, high})
}

// JCGM 101:2008 7.9.2, examples: u = 0.35 g to two digits, δ = 0.005 g; u = 2 K to one, δ = 0.5 K
// (from memory, confirm). The others by hand.
func TestNumericalTolerance(t *testing.T) {
	printed.Same(t, 0.005, NumericalTolerance(0.35, 2))
	printed.Same(t, 0.5, NumericalTolerance(2, 1))
	printed.Same(t, 0.005, NumericalTolerance(0.96, 2))
	printed.Same(t, 0.5, NumericalTolerance(0.96, 1), "0.96 is 1 to one digit")
	printed.Same(t, 0.005, NumericalTolerance(0.0754, 0), "no digits are taken as one")
	assert.Zero(t, NumericalTolerance(0, 2))
	assert.True(t, math.IsNaN(NumericalTolerance(math.NaN(), 2)) && math.IsNaN(NumericalTolerance(math.Inf(1), 2)))
}

// JCGM 101:2008 9.3, table 6: d_low .0451 and d_high .0430 of first order, .0036 and
// .0015 of higher order, δ = .005.
func TestValidation(t *testing.T) {
	first := Validate(1.1285, 1.3395, 1.0834, 1.3825, 0.0539, 1)
	printed.Equal(t, "0.0451", first.DLow, "JCGM 101 9.3")
	printed.Equal(t, "0.0430", first.DHigh, "JCGM 101 9.3")
	printed.Same(t, 0.005, first.Tolerance)
	assert.False(t, first.OK)

	higher := Validate(1.0870, 1.3810, 1.0834, 1.3825, 0.0750, 1)
	printed.Equal(t, "0.0036", higher.DLow, "JCGM 101 9.3")
	printed.Equal(t, "0.0015", higher.DHigh, "JCGM 101 9.3")
	assert.True(t, higher.OK)

	assert.False(t, Validate(1, 2, math.NaN(), 2, 0.1, 1).OK)
	assert.False(t, Validate(1, 2, 1, 2, math.NaN(), 1).OK)
}
