package quantity

import (
	"math"
	"strings"
)

// LastDigit is what one unit of the last digit of the value stands for, in SI:
// 1 mL for "150 mL", 0.1 mL for "150.0 mL", 10 mL for "0.15 L" and for
// "1.5e2 mL". It is how finely the number was read and written down, when
// nobody said how sure it is. Zeros at the end count, for whoever reads a scale
// writes them; who means fewer digits has the exponent. A ± does not matter. It
// is 0 when nothing was given, and for a range, whose mean nobody wrote.
func (q Of[D]) LastDigit() float64 {
	u, known := dimensionOf[D]().lookUp(q.Unit())
	if !q.Given() || !known || q.c.estimate.Spread == Range {
		return 0
	}
	value, _, _ := strings.Cut(q.c.text[:q.c.unitAt]+q.c.text[q.c.unitEnd:], "±")
	digit := u.difference(parseNumber(onlyLast(strings.TrimSpace(value))))
	return math.Min(digit, largest) // only of a zero: 0e99
}

// onlyLast makes every digit of a number zero but the last one, which becomes
// one. The exponent stays.
func onlyLast(number string) string {
	end := strings.IndexAny(number, "eE")
	if end < 0 {
		end = len(number)
	}
	digits := []byte(strings.TrimPrefix(number[:end], "-"))
	for i := range digits {
		if isDigit(digits[i]) {
			digits[i] = '0'
		}
	}
	digits[len(digits)-1] = '1'
	return string(digits) + number[end:]
}
