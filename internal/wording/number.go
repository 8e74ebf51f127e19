package wording

import (
	"math"
	"strconv"
	"strings"
)

// Number is a figure for a text. Value is in the unit shown; Unit is spelled as
// people read it ("g/cm³", "%"), or empty. Digits counts significant digits, 0
// means 3.
type Number struct {
	Value  float64
	Unit   string
	Digits int
}

const (
	minus   = "\u2212"
	unknown = "\u2014" // what stands for a figure that does not exist
)

// Sizes outside of these limits are written as a power of ten.
const (
	smallest = 1e-6
	largest  = 1e12
)

// Number prints v with the significant digits asked for (0 means 3) and drops
// zeros at the end of a decimal fraction: 1.25, 12, 0.4. Digits before the
// decimal sign are never rounded away, for 1235 m is easier to believe than
// 1240 m. NaN and infinities print as a dash.
func (w *Words) Number(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return unknown
	}
	if digits <= 0 {
		digits = 3
	}
	size := math.Abs(v)
	if size != 0 && (size < smallest || size >= largest) {
		return w.power(v, digits)
	}
	text := strconv.FormatFloat(v, 'f', decimalsFor(size, digits), 64)
	return w.finish(trimZeros(text))
}

// Fixed prints v with the given number of decimals, for columns of figures.
func (w *Words) Fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return unknown
	}
	if math.Abs(v) >= largest {
		return w.power(v, decimals+1)
	}
	return w.finish(strconv.FormatFloat(v, 'f', max(decimals, 0), 64))
}

// Column prints v with the significant digits asked for and keeps zeros at the end, for
// figures of one size below each other: 3.92, 3.90.
func (w *Words) Column(v float64, digits int) string {
	size := math.Abs(v)
	if !(size >= smallest && size < largest) {
		return w.Number(v, digits)
	}
	return w.Fixed(v, decimalsFor(size, digits))
}

// Signed prints v as Fixed does, with a sign on every number but zero: what
// something changes by.
func (w *Words) Signed(v float64, decimals int) string {
	text := w.Fixed(v, decimals)
	if v > 0 && strings.ContainsAny(text, "123456789") {
		return "+" + text
	}
	return text
}

// quantity prints a Number with its unit.
func (w *Words) quantity(n Number) string {
	text := w.Number(n.Value, n.Digits)
	switch {
	case n.Unit == "" || text == unknown:
		return text
	case n.Unit == "°":
		return text + n.Unit
	default:
		return text + " " + Unit(n.Unit)
	}
}

// decimalsFor returns how many decimals show the given significant digits.
func decimalsFor(size float64, digits int) int {
	if size == 0 {
		return 0
	}
	return max(0, digits-1-int(math.Floor(math.Log10(size))))
}

// power prints v as a power of ten: 1.2 × 10⁻⁷.
func (w *Words) power(v float64, digits int) string {
	text := strconv.FormatFloat(v, 'e', max(digits-1, 0), 64)
	mantissa, exponent, _ := strings.Cut(text, "e")
	value, err := strconv.Atoi(exponent)
	if err != nil {
		panic("wording: exponent of " + text) // strconv always writes one
	}
	return w.finish(trimZeros(mantissa)) + " × 10" + superscript(value)
}

// superscript raises the digits of an exponent.
func superscript(exponent int) string {
	return strings.NewReplacer(
		"-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴",
		"5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹",
	).Replace(strconv.Itoa(exponent))
}

// trimZeros drops zeros at the end of a decimal fraction.
func trimZeros(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// finish sets the minus and decimal signs; a zero has no sign.
func (w *Words) finish(text string) string {
	if digits, negative := strings.CutPrefix(text, "-"); negative {
		text = digits
		if strings.Trim(digits, "0.") != "" {
			text = minus + digits
		}
	}
	if w.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}
