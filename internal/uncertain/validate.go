package uncertain

import (
	"math"
	"strconv"
	"strings"
)

// Validation says how far an interval of first order lies from that of a Monte Carlo run.
type Validation struct {
	DLow, DHigh float64 // between the lower and between the upper ends
	Tolerance   float64 // how much they may differ
	OK          bool    // neither differs by more
}

// Validate compares an interval of first order with one of a Monte Carlo run.
//
//	d_low = |firstLow − low|,  d_high = |firstHigh − high|,  both ≤ δ
//
// δ is the NumericalTolerance of the standard uncertainty u of first order, to so many
// digits. All are in the unit of the figure. What is not a number is never OK.
//
// Source: JCGM 101:2008 8.1.
func Validate(firstLow, firstHigh, low, high, u float64, digits int) Validation {
	v := Validation{
		DLow:      math.Abs(firstLow - low),
		DHigh:     math.Abs(firstHigh - high),
		Tolerance: NumericalTolerance(u, digits),
	}
	v.OK = v.DLow <= v.Tolerance && v.DHigh <= v.Tolerance
	return v
}

// NumericalTolerance returns half of the last digit of a standard uncertainty.
//
//	u ≈ c·10^l,  c a whole number of so many digits;  δ = ½·10^l
//
// u is in any unit, 0 or more, and digits is 1 or more. It is 0 for no uncertainty, and
// NaN where u is not a finite number.
//
// Source: JCGM 101:2008 7.9.2.
func NumericalTolerance(u float64, digits int) float64 {
	if u == 0 || u-u != 0 {
		return u - u
	}
	// printed, since rounding may carry into one place more
	text := strconv.FormatFloat(u, 'e', max(digits, 1)-1, 64)
	exponent, _ := strconv.Atoi(text[strings.IndexByte(text, 'e')+1:]) // FormatFloat wrote it
	return 0.5 * math.Pow(10, float64(exponent-max(digits, 1)+1))
}
