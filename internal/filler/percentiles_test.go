package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// Worked by hand from the fractions of stack: 8, 20, 40, 70, 90, 99 % pass 63,
// 90, 125, 180, 250, 500 µm. D50 = 125·(180/125)^(10/30).
func TestPercentiles(t *testing.T) {
	s := stack().Analyse()
	inf := math.Inf(1)
	for _, c := range []struct {
		p         float64
		want      string // µm
		low, high float64
		where     SizeWhere
	}{
		{0.05, "63", 0, 63 * um, BelowFinest},
		{0.10, "66.86", 63 * um, 90 * um, Between}, // 63·(90/63)^(2/12)
		{0.50, "141.16", 125 * um, 180 * um, Between},
		{0.80, "212.13", 180 * um, 250 * um, Between}, // their geometric mean
		{0.995, "500", 500 * um, inf, AboveCoarsest},
	} {
		got, ok := s.Percentile(c.p)
		require.True(t, ok)
		printed.Equal(t, c.want, 1e6*got.SizeM, "arithmetic by hand")
		assert.Equal(t, c.low, got.LowM, "%g", c.p)
		assert.Equal(t, c.high, got.HighM, "%g", c.p)
		assert.Equal(t, c.where, got.Where, "%g", c.p)
	}
	span, ok := s.Span()
	require.True(t, ok)
	printed.Equal(t, "1.297", span, "(250 - 66.86)/141.16")
}

// A share that falls on a sieve is bracketed as it would be a hair to either side.
func TestPercentileOnASieve(t *testing.T) {
	// halves and quarters, which binary fractions hold exactly
	s := SieveTest{[]SieveMass{{500 * um, 1}, {250 * um, 1}, {125 * um, 0}, {90 * um, 1}}, 1, 0}.Analyse()
	for p, want := range map[float64]SizePercentile{
		0.75: {500 * um, 250 * um, 500 * um, Between}, // the coarsest
		0.25: {90 * um, 90 * um, 125 * um, Between},   // the finest
		0.5:  {125 * um, 90 * um, 500 * um, Between},  // nothing lies between 125 and 250 µm
	} {
		for _, off := range []float64{0, -1e-12, 1e-12} {
			got, ok := s.Percentile(p + off)
			require.True(t, ok)
			assert.Equal(t, want, got, "%g", p+off)
		}
	}

	s = SieveTest{[]SieveMass{{125 * um, 20}, {90 * um, 30}, {63 * um, 30}}, 20, 0}.Analyse()
	on, _ := s.Percentile(0.5)
	assert.Equal(t, SizePercentile{90 * um, 63 * um, 125 * um, Between}, on)
	less, _ := s.Percentile(0.4999)
	more, _ := s.Percentile(0.5001)
	assert.Equal(t, on.LowM, less.LowM)
	assert.Equal(t, on.HighM, more.HighM)
}

func TestPercentileOfOneSieveIsABound(t *testing.T) {
	s := SieveTest{[]SieveMass{{250 * um, 1}}, 3, 0}.Analyse()
	got, ok := s.Percentile(0.5)
	require.True(t, ok)
	assert.Equal(t, SizePercentile{250 * um, 0, 250 * um, BelowFinest}, got)
	got, _ = s.Percentile(0.9)
	assert.Equal(t, SizePercentile{250 * um, 250 * um, math.Inf(1), AboveCoarsest}, got)
	_, ok = s.Span()
	assert.False(t, ok)
}

func TestPercentileRefuses(t *testing.T) {
	s := stack().Analyse()
	for _, p := range []float64{0, 1, -0.1, 1.1, math.NaN(), math.Inf(1)} {
		_, ok := s.Percentile(p)
		assert.False(t, ok, "%g", p)
	}
	_, ok := Sieving{}.Percentile(0.5)
	assert.False(t, ok)
	_, ok = Sieving{}.Span()
	assert.False(t, ok)
}

func TestPercentileStaysInItsBracket(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 1))
	inside := 0
	for range 2000 {
		s := randomStack(random, 1+random.IntN(10)).Analyse()
		before := 0.0
		for p := 0.01; p < 1; p += 0.07 {
			d, ok := s.Percentile(p)
			require.True(t, ok)
			assert.True(t, d.LowM <= d.SizeM && d.SizeM <= d.HighM)
			assert.GreaterOrEqual(t, d.SizeM, before, "percentiles rise with p")
			before = d.SizeM
			assert.Equal(t, d.LowM == 0, d.Where == BelowFinest)
			assert.Equal(t, math.IsInf(d.HighM, 1), d.Where == AboveCoarsest)
			if d.Where != Between {
				continue
			}
			inside++
			for _, row := range s.Rows { // the bracket is one of neighbours, on a sieve of its own
				assert.False(t, d.LowM < row.OpeningM && row.OpeningM < d.HighM && math.Abs(row.Passing-p) > onSieve)
			}
		}
	}
	assert.Greater(t, inside, 1000)
}

// Over steps of 19 % the straight piece stays within 1.5 % of a curved law, and
// the bracket holds the law's own percentile always.
func TestBracketHoldsTheTruth(t *testing.T) {
	law := LogNormal{120 * um, 1.7}
	test := SieveTest{PanKg: law.Passing(45 * um)}
	above := 1.0
	for _, s := range sieves() {
		if s.Mesh != "" && s.OpeningM < 1e-3 && s.OpeningM >= 45*um {
			test.Sieves = append(test.Sieves, SieveMass{s.OpeningM, above - law.Passing(s.OpeningM)})
			above = law.Passing(s.OpeningM)
		}
	}
	s := test.Analyse()
	for p := 0.05; p < 0.99; p += 0.01 {
		d, ok := s.Percentile(p)
		require.True(t, ok)
		assert.True(t, d.LowM <= law.Quantile(p)*(1+1e-9) && law.Quantile(p) <= d.HighM*(1+1e-9))
		assert.InEpsilon(t, law.Quantile(p), d.SizeM, 0.015)
	}
}
