package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// alternating is the rule by which the larger NumAcc sets are made.
func alternating(first, low, high float64) []float64 {
	x := []float64{first}
	for range 500 {
		x = append(x, low, high)
	}
	return x
}

// correctDigits is the log relative error that NIST uses to grade software.
func correctDigits(got, certified float64) float64 {
	if got == certified {
		return 15
	}
	return math.Min(15, -math.Log10(math.Abs(got-certified)/math.Abs(certified)))
}

// Certified values: NIST StRD, univariate summary statistics, NumAcc1 to 4. The
// bars are the digits that the data keep when they are rounded to float64, less
// 0.3.
func TestSummariseAgainstCertifiedValues(t *testing.T) {
	tests := map[string]struct {
		x                []float64
		mean, sd, lag1   float64
		mDig, sDig, rDig float64
	}{
		"NumAcc1": {[]float64{10000001, 10000003, 10000002}, 10000002, 1, -0.5, 14.7, 14.7, 14.7},
		"NumAcc2": {alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 14.7, 14.7, 14.7},
		"NumAcc3": {alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999, 14.7, 9.2, 11.9},
		"NumAcc4": {alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999, 14.7, 8, 10.7},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			s, ok := Summarise(tt.x)
			require.True(t, ok)
			assert.Equal(t, len(tt.x), s.N)
			assert.GreaterOrEqual(t, correctDigits(s.Mean, tt.mean), tt.mDig, "mean %.17g", s.Mean)
			assert.GreaterOrEqual(t, correctDigits(s.SD, tt.sd), tt.sDig, "sd %.17g", s.SD)
			assert.GreaterOrEqual(t, correctDigits(s.Lag1, tt.lag1), tt.rDig, "lag 1 %.17g", s.Lag1)
		})
	}
}

// Ten diameter readings in mm; every figure is arithmetic on them, by hand.
func TestSummariseTenReadings(t *testing.T) {
	s, ok := Summarise([]float64{1.74, 1.76, 1.75, 1.78, 1.73, 1.75, 1.77, 1.74, 1.76, 1.72})
	require.True(t, ok)
	assert.InDelta(t, 1.75, s.Mean, 1e-12)
	assert.InDelta(t, math.Sqrt(0.003/9), s.SD, 1e-12)        // squared deviations add up to 0.0030
	assert.InDelta(t, 0.018257, s.SD, 0.5e-6)                 // as printed
	assert.InDelta(t, 3.0628, s.MeanSquare, 1e-12)            // 1.75² + 0.0003
	assert.InDelta(t, -0.0013/0.003, s.Lag1, 1e-9)            // products of neighbours add up to -0.0013
	assert.InDelta(t, 10, s.Effective, 1e-12)                 // 25.3 by formula: never more than there are
	assert.InDelta(t, 0.91287, 0.05/(3*s.SD), 0.5e-5)         // Cpk for 1.75 ± 0.05
	assert.InDelta(t, 2.405517, math.Pi/4*s.MeanSquare, 5e-7) // mean cross-section, mm²
	assert.Equal(t, 1.72, s.Min)
	assert.Equal(t, 1.78, s.Max)
}

func TestSummariseEffectiveNumber(t *testing.T) {
	// A slow drift 1..9: neighbours agree, so nine readings count for fewer.
	// The lag-1 sums are 60 squared and 40 of products, by hand: r1 = 2/3,
	// n(1-r1)/(1+r1) = 1.8.
	s, ok := Summarise([]float64{1, 2, 3, 4, 5, 6, 7, 8, 9})
	require.True(t, ok)
	assert.InDelta(t, 2.0/3, s.Lag1, 1e-12)
	assert.InDelta(t, 1.8, s.Effective, 1e-12)

	wave := make([]float64, 100) // one period: r1 = cos(2π/101), 0.1 readings by formula
	for i := range wave {
		wave[i] = math.Sin(2 * math.Pi * float64(i+1) / 101)
	}
	s, _ = Summarise(wave)
	assert.InDelta(t, math.Cos(2*math.Pi/101), s.Lag1, 1e-12)
	assert.Equal(t, 1.0, s.Effective, "never below one reading")
}

func TestSummariseEdges(t *testing.T) {
	_, ok := Summarise(nil)
	assert.False(t, ok, "no readings")

	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e200} {
		_, ok = Summarise([]float64{1, bad, 2})
		assert.False(t, ok, "%g", bad)
	}

	s, ok := Summarise([]float64{1.75})
	assert.True(t, ok)
	assert.Equal(t, Summary{N: 1, Mean: 1.75, MeanSquare: 1.75 * 1.75, Min: 1.75, Max: 1.75, Effective: 1}, s)

	s, ok = Summarise([]float64{0.1, 0.1, 0.1})
	assert.True(t, ok)
	assert.Equal(t, 0.0, s.SD)
	assert.Equal(t, 0.0, s.Lag1)
	assert.Equal(t, 3.0, s.Effective)
}

func TestSummariseProperties(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		x := make([]float64, 2+random.IntN(40))
		moved := make([]float64, len(x))
		back := make([]float64, len(x))
		for i := range x {
			x[i] = random.NormFloat64()
			moved[i] = 100 - 3*x[i]
			back[len(x)-1-i] = x[i]
		}
		s, ok := Summarise(x)
		m, _ := Summarise(moved)
		b, _ := Summarise(back)
		require.True(t, ok)

		n := float64(len(x))
		assert.InDelta(t, s.Mean*s.Mean+s.SD*s.SD*(n-1)/n, s.MeanSquare, 1e-12, "mean square = mean² + variance")
		assert.InDelta(t, 100-3*s.Mean, m.Mean, 1e-10)
		assert.InDelta(t, 3*s.SD, m.SD, 1e-10)
		assert.InDelta(t, s.Lag1, m.Lag1, 1e-9, "scale and origin do not matter")
		assert.InDelta(t, s.Lag1, b.Lag1, 1e-9, "nor does the direction")
		assert.True(t, s.Min <= s.Mean && s.Mean <= s.Max)
		assert.True(t, 1 <= s.Effective && s.Effective <= n)
		assert.LessOrEqual(t, math.Abs(s.Lag1), 1.0)
	}
}

func TestSummariseDoesNotAllocate(t *testing.T) {
	x := alternating(1.2, 1.1, 1.3)
	assert.Zero(t, testing.AllocsPerRun(10, func() { Summarise(x) }))
}
