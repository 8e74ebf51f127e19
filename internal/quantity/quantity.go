package quantity

import (
	"strconv"
	"strings"
)

// Of is a quantity of dimension D as it was entered. The zero value means that
// nothing was given, which is not the same as zero. Two quantities are equal
// (==) when their file forms are. There is no arithmetic: compute with SI.
type Of[D Dim] struct {
	_ [0]D // keeps quantities of different dimensions from converting into each other
	c core
}

// Parse reads an entry; see the package comment for what is read. A blank text
// is a quantity that is not given. The error is a *Refusal.
func Parse[D Dim](text string) (Of[D], error) {
	c, refused := dimensionOf[D]().parse(text)
	if refused != nil {
		return Of[D]{}, refused
	}
	return Of[D]{c: c}, nil
}

// MustParse is Parse for texts in the program itself; it panics when one is refused.
func MustParse[D Dim](text string) Of[D] {
	q, err := Parse[D](text)
	if err != nil {
		panic(err)
	}
	return q
}

// Given reports whether anything was entered.
func (q Of[D]) Given() bool { return q.c.text != "" }

// IsZero reports whether nothing was entered; it serves the omitzero option of JSON.
func (q Of[D]) IsZero() bool { return !q.Given() }

// String is the file form: digits and unit as entered, always a decimal point;
// empty when not given. Parse is its inverse.
func (q Of[D]) String() string { return q.c.text }

// SI is the central value in SI units; 0 when not given, so ask Given first.
func (q Of[D]) SI() float64 { return q.c.estimate.Value }

// Estimate is the value with its uncertainty in SI units; false when not given.
func (q Of[D]) Estimate() (Estimate, bool) { return q.c.estimate, q.Given() }

// Unit is the unit as entered ("wt%", "g/cm3", "EUR/kg"), with € and £ as their
// codes. It is empty for a plain factor.
func (q Of[D]) Unit() string { return q.c.text[q.c.unitAt:q.c.unitEnd] }

// Currency is the ISO 4217 code in the unit, or empty.
func (q Of[D]) Currency() string {
	if !dimensionOf[D]().money {
		return ""
	}
	code, _ := splitMoney(q.Unit())
	return code
}

// Pretty is the window form: units as in print (µm, g/cm³, °C, €), a dash in
// ranges, and the decimal sign of the reader. What Parse reads from it has the
// same Estimate, but keeps the printed unit: compare an entry's text with
// Pretty before taking it for a change.
func (q Of[D]) Pretty(decimalComma bool) string {
	if !q.Given() {
		return ""
	}
	d, spelling := dimensionOf[D](), q.Unit()
	numbers := strings.TrimSpace(q.c.text[:q.c.unitAt] + q.c.text[q.c.unitEnd:])
	if q.c.estimate.Spread == Range {
		numbers = dash(numbers)
	}
	if decimalComma {
		numbers = strings.ReplaceAll(numbers, ".", ",")
	}
	u, _ := d.lookUp(spelling)
	switch {
	case d.money:
		return numbers + " " + prettyMoney(splitMoney(spelling))
	case d.factor:
		return u.pretty + numbers
	}
	return numbers + " " + u.pretty
}

// dash replaces the hyphen between the ends of a range. The hyphen of an
// exponent stays.
func dash(numbers string) string {
	for i := 1; i < len(numbers); i++ {
		if numbers[i] == '-' && isDigit(numbers[i-1]) {
			return numbers[:i] + "–" + numbers[i+1:]
		}
	}
	return numbers
}

// MarshalText writes the file form.
func (q Of[D]) MarshalText() ([]byte, error) { return []byte(q.c.text), nil }

// UnmarshalText reads like Parse.
func (q *Of[D]) UnmarshalText(text []byte) error {
	parsed, err := Parse[D](string(text))
	if err != nil {
		return err
	}
	*q = parsed
	return nil
}

// Schema gives the name and the pattern of the dimension, for whoever holds a
// quantity and not its type.
func (q Of[D]) Schema() (name, pattern string) { return Name[D](), Pattern[D]() }

// FromSI offers a computed value for entry, in the given unit with so many
// decimals (0 to 15). It is not given when the unit is not one of the dimension
// or when the value could not be entered: not finite, or negative where that
// has no meaning.
func FromSI[D Dim](si float64, unit string, decimals int) Of[D] {
	d := dimensionOf[D]()
	number, ok := Convert[D](si, unit)
	if !ok {
		return Of[D]{}
	}
	text := strconv.FormatFloat(number, 'f', min(max(decimals, 0), 15), 64)
	if isZero(text) {
		text = strings.TrimPrefix(text, "-")
	}
	if d.factor && unit != "1" {
		text = unit + text
	} else {
		text += " " + unit
	}
	q, err := Parse[D](text)
	if err != nil {
		return Of[D]{}
	}
	return q
}

// Convert gives the number that stands before the unit for a value in SI;
// false when the unit is not one of the dimension.
func Convert[D Dim](si float64, unit string) (float64, bool) {
	u, ok := dimensionOf[D]().lookUp(unit)
	if !ok {
		return 0, false
	}
	return u.fromSI(si), true
}
