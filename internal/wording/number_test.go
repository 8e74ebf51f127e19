package wording

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNumberPrintsAsPeopleWrite(t *testing.T) {
	for _, c := range []struct {
		value  float64
		unit   string
		digits int
		point  string
		comma  string
	}{
		{1.25, "g/cm³", 0, "1.25 g/cm³", "1,25 g/cm³"},
		{12, "%", 0, "12 %", "12 %"},
		{0.4, "mm", 0, "0.4 mm", "0,4 mm"},
		{0.40001, "mm", 3, "0.4 mm", "0,4 mm"},
		{-6.9, "K", 2, "−6.9 K", "−6,9 K"},
		{335.283, "m", 0, "335 m", "335 m"},
		{335.283, "m", 5, "335.28 m", "335,28 m"},
		{1234.5, "m", 3, "1234 m", "1234 m"}, // half to even, in binary exactly a half
		{123456, "", 2, "123456", "123456"},
		{9.996, "", 3, "10", "10"},
		{0.0999999, "", 3, "0.1", "0,1"},
		{0.000025, "m", 2, "0.000025 m", "0,000025 m"},
		{45, "°", 0, "45°", "45°"},
		{0, "kg", 0, "0 kg", "0 kg"},
		{math.Copysign(0, -1), "kg", 0, "0 kg", "0 kg"},
		{1.25e-7, "", 0, "1.25 × 10⁻⁷", "1,25 × 10⁻⁷"},
		{-1.25e15, "m", 2, "−1.2 × 10¹⁵ m", "−1,2 × 10¹⁵ m"},
		{math.NaN(), "m", 0, "—", "—"},
		{math.Inf(1), "m", 0, "—", "—"},
		{math.Inf(-1), "m", 0, "—", "—"},
	} {
		number := Number{Value: c.value, Unit: c.unit, Digits: c.digits}
		assert.Equal(t, c.point, (&Words{}).quantity(number), "%v", c)
		assert.Equal(t, c.comma, (&Words{comma: true}).quantity(number), "%v", c)
	}
}

func TestFixedKeepsItsDecimals(t *testing.T) {
	w := &Words{}
	assert.Equal(t, "1.20", w.Fixed(1.2, 2))
	assert.Equal(t, "−0.02", w.Fixed(-0.02, 2))
	assert.Equal(t, "0.00", w.Fixed(-0.001, 2), "a zero has no sign")
	assert.Equal(t, "3", w.Fixed(3.2, -1))
	assert.Equal(t, "—", w.Fixed(math.NaN(), 2))
	assert.Equal(t, "1.2 × 10¹³", w.Fixed(1.2e13, 2))
	assert.Equal(t, "1,20", (&Words{comma: true}).Fixed(1.2, 2))
}

func FuzzNumberNeverShowsAnOddForm(f *testing.F) {
	for _, v := range []float64{0, 1, -1.5, 1e-300, 1e300, 9.9995, math.MaxFloat64, math.SmallestNonzeroFloat64} {
		f.Add(v, 3)
	}
	f.Fuzz(func(t *testing.T, v float64, digits int) {
		if digits > 17 {
			return // more digits than a float64 has
		}
		w := &Words{}
		for _, text := range []string{w.Number(v, digits), w.Fixed(v, digits)} {
			assert.NotRegexp(t, `NaN|Inf|e|E|-`, text)
			assert.NotEmpty(t, text)
			assert.LessOrEqual(t, len([]rune(text)), 40)
			assert.LessOrEqual(t, strings.Count(text, "."), 1)
		}
	})
}

func TestColumnKeepsZerosAtTheEnd(t *testing.T) {
	w := New("en")
	for v, want := range map[float64]string{3.9: "3.90", 3.924: "3.92", 0.51: "0.510", 120: "120", 1234.5: "1234", 0: "0", 9.999: "10.00"} {
		assert.Equal(t, want, w.Column(v, 3), "%g", v)
	}
	assert.Equal(t, w.Number(math.NaN(), 3), w.Column(math.NaN(), 3))
}
