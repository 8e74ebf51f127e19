package quantity

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{
		"150 mL":         1e-6,
		"150.0 mL":       1e-7,
		"150,0 ml":       1e-7,
		"0.15 L":         1e-5,
		"0.150 L":        1e-6,
		".5 L":           1e-4,
		"007 cm3":        1e-6,
		"1.5e2 mL":       1e-5,
		"1.50E+2 mL":     1e-6,
		"15e-3 L":        1e-6,
		"150 ± 0.25 mL":  1e-6, // of the value, not of its ±
		"150.0 ± 2 mL":   1e-7,
		"140-150 mL":     0,
		"":               0,
		"0 mL":           1e-6,
		"0.0 mL":         1e-7,
		"1.5e-4 m3":      1e-5,
		"9.99 mm^3":      1e-11,
		"0e99 m3":        1e30, // as far as any number goes
		"0e999 m3":       1e30,
		"0e-999 m3":      0,
		"1.0 ± 0.5e2 mL": 1e-7,
	} {
		near(t, want, MustParse[Volume](text).LastDigit(), text)
	}
}

// A difference of temperature has no offset, a plain factor carries its sign in
// front and money its currency.
func TestLastDigitOfOtherDimensions(t *testing.T) {
	near(t, 0.1, MustParse[Temperature]("21.5 °C").LastDigit(), "in kelvin")
	near(t, 1, MustParse[Temperature]("-40 °C").LastDigit(), "below zero")
	near(t, 5.0/9, MustParse[Temperature]("70 °F").LastDigit(), "5/9 K")
	near(t, 0.01, MustParse[Factor]("×1.80").LastDigit(), "the sign in front")
	near(t, 0.01, MustParse[Factor]("1.80").LastDigit(), "no unit")
	near(t, 0.01, MustParse[PricePerMass]("18.90 €/kg").LastDigit(), "money")
	near(t, 0.01, MustParse[Content]("5 wt%").LastDigit(), "a share")
	near(t, 0.0254, MustParse[Length]("12 in").LastDigit(), "inches")
}

// Whatever was read, its last digit is a number, and one more zero makes it a tenth.
func TestLastDigitOfEveryEntry(t *testing.T) {
	everywhere(t, func(k kind, _, text string, q read) {
		digit := q.LastDigit()
		if e, _ := q.Estimate(); e.Spread == Range {
			assert.Zero(t, digit, text)
			return
		}
		assert.True(t, digit > 0 && !math.IsInf(digit, 0), "%s %q: %g", k.name, text, digit)
		finer, err := k.parse(withZero(q.String()))
		assert.NoError(t, err, text)
		near(t, digit/10, finer.LastDigit(), text)
	})
}

// withZero writes one more decimal behind the value.
func withZero(text string) string {
	start := strings.IndexAny(text, "0123456789")
	end := start
	for end < len(text) && (isDigit(text[end]) || text[end] == '.') {
		end++
	}
	if strings.Contains(text[start:end], ".") {
		return text[:end] + "0" + text[end:]
	}
	return text[:end] + ".0" + text[end:]
}
