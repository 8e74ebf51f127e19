package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const arith = "arithmetic from the stated inputs"

func sizeOf(t *testing.T, of func() (float64, bool)) float64 {
	t.Helper()
	size, ok := of()
	require.True(t, ok)
	return 1e6 * size
}

func TestRRSBByHand(t *testing.T) {
	l := RRSB{120 * um, 1.8}
	printed.Equal(t, "34.3736", 1e6*l.Quantile(0.1), arith)
	printed.Equal(t, "97.8928", 1e6*l.Quantile(0.5), arith)
	printed.Equal(t, "190.7270", 1e6*l.Quantile(0.9), arith)
	printed.Equal(t, "1.59719", (l.Quantile(0.9)-l.Quantile(0.1))/l.Quantile(0.5), "span, "+arith)
	printed.Equal(t, "60.2140", sizeOf(t, l.Sauter), arith)
	printed.Equal(t, "0.023572", 1-l.Passing(250*um), arith)
	assert.InEpsilon(t, 1/math.E, 1-l.Passing(120*um), 1e-12, "what x' is")
}

func TestLogNormalByHand(t *testing.T) {
	l := LogNormal{80 * um, 1.6}
	printed.Equal(t, "43.8026", 1e6*l.Quantile(0.1), arith)
	printed.Equal(t, "146.1101", 1e6*l.Quantile(0.9), arith)
	printed.Equal(t, "1.27884", (l.Quantile(0.9)-l.Quantile(0.1))/l.Quantile(0.5), "span, "+arith)
	printed.Equal(t, "71.6344", sizeOf(t, l.Sauter), arith)
	printed.Equal(t, "0.0256155", 1-l.Passing(200*um), arith)
	assert.InEpsilon(t, 0.8413447460685429, l.Passing(80*1.6*um), 1e-12, "what the GSD is: one standard deviation, from tables")
}

// lawsForTests are narrow and wide, with n on both sides of 1 and of 3.
var lawsForTests = []SizeLaw{
	LogNormal{80 * um, 1.6},
	LogNormal{120 * um, 1.05},
	LogNormal{50 * um, 3.5},
	RRSB{120 * um, 1.8},
	RRSB{120 * um, 0.6},
	RRSB{120 * um, 1},
	RRSB{120 * um, 3},
	RRSB{120 * um, 3.001},
	RRSB{90 * um, 12},
}

func TestQuantileIsTheInverseOfPassing(t *testing.T) {
	for _, l := range lawsForTests {
		before := 0.0
		for _, p := range []float64{1e-9, 1e-3, 0.1, 0.5, 0.9, 0.999, 1 - 1e-9} {
			x := l.Quantile(p)
			assert.Greater(t, x, before, "%+v", l)
			assert.InEpsilon(t, p, l.Passing(x), 1e-9, "%+v", l)
			before = x
		}
		for _, none := range []float64{0, -1, math.Inf(-1), math.NaN()} {
			assert.Zero(t, l.Passing(none))
			assert.Zero(t, l.Quantile(none))
		}
		assert.Equal(t, 1.0, l.Passing(math.Inf(1)))
		assert.True(t, math.IsInf(l.Quantile(1), 1))
	}
}

// density is q3 over ln x, written down apart from Passing.
func density(l SizeLaw, sizeM float64) float64 {
	switch l := l.(type) {
	case LogNormal:
		z := math.Log(sizeM/l.MedianM) / math.Log(l.GSD)
		return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / math.Log(l.GSD)
	case RRSB:
		z := math.Pow(sizeM/l.SizeM, l.Exponent)
		return l.Exponent * z * math.Exp(-z)
	}
	panic("no such law")
}

// integral is ∫ f over ln x, by Simpson's rule.
func integral(f func(sizeM float64) float64, fromM, toM float64) float64 {
	const n = 20000
	h := math.Log(toM/fromM) / n
	sum := 0.0
	for i := range n + 1 {
		weight := 4.0
		switch {
		case i == 0 || i == n:
			weight = 1
		case i%2 == 0:
			weight = 2
		}
		sum += weight * f(fromM*math.Exp(float64(i)*h))
	}
	return sum * h / 3
}

func TestPassingIsTheIntegralOfTheDensity(t *testing.T) {
	for _, l := range lawsForTests {
		from, to := l.Quantile(0.2), l.Quantile(0.97)
		got := integral(func(x float64) float64 { return density(l, x) }, from, to)
		assert.InEpsilon(t, 0.77, got, 1e-9, "%+v", l)
	}
}

// D32 = 1/∫q3/x dx.
func TestSauterAgainstQuadrature(t *testing.T) {
	for _, l := range lawsForTests {
		least, most := l.Quantile(1e-14), l.Quantile(1-1e-15)
		if law, ok := l.(RRSB); ok {
			least, most = law.SizeM*math.Exp(-60/law.Exponent), law.SizeM*math.Pow(50, 1/law.Exponent)
		}
		sauter, ok := l.Sauter()
		if law, rrsb := l.(RRSB); rrsb && law.Exponent <= 1 {
			assert.False(t, ok)
			assert.Zero(t, sauter)
			continue
		}
		require.True(t, ok)
		surface := integral(func(x float64) float64 { return density(l, x) / x }, least, most)
		assert.InEpsilon(t, 1/surface, sauter, 1e-6, "%+v", l)
	}
}
