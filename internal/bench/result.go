package bench

import (
	"math"
)

// Basis says what a figure rests on. The order is that of trust lost: a figure
// is never better than the weakest number in it.
type Basis uint8

// The four kinds of basis.
const (
	Measured Basis = iota
	Entered
	Calibrated
	Estimated
)

// String is the name used in files.
func (b Basis) String() string {
	return [...]string{"measured", "entered", "calibrated", "estimated"}[b]
}

// weakest returns the basis of a figure that rests on all of these.
func weakest(first Basis, more ...Basis) Basis {
	for _, b := range more {
		first = max(first, b)
	}
	return first
}

// Result is one computed figure in its trade unit, with the interval that
// covers it (k = 2). A result that is not known carries no numbers at all; a
// note of the sheet then says why.
type Result struct {
	Value, Low, High float64
	Unit             string
	Basis            Basis
	Method           Method // how the interval was found
	Bent             bool   // the interval of first order would not hold (JCGM 101 clause 8)
	known            bool
}

// Method says how an interval was found.
type Method uint8

// The methods.
const (
	FirstOrder Method = iota // of the law of propagation (GUM)
	MonteCarlo               // by propagation of distributions (JCGM 101)
)

// String is the name used in files.
func (m Method) String() string { return [...]string{"first_order", "monte_carlo"}[m] }

// Known reports whether there is a value to show.
func (r Result) Known() bool { return r.known }

// Certain reports whether the interval has no width.
func (r Result) Certain() bool { return r.known && r.Low == r.High }

// Halves are how far the ends of the interval lie from the value, and whether they lie
// about as far: within a tenth.
func (r Result) Halves() (down, up float64, even bool) {
	down, up = r.Value-r.Low, r.High-r.Value
	return down, up, math.Abs(up-down) <= 0.1*math.Max(up, down)
}

// newResult is the only maker of results. A value or interval that is not a
// finite number makes the whole result unknown, so that no NaN or infinity
// ever reaches a label or a file.
func newResult(value, low, high float64, unit string, basis Basis) Result {
	if !finite(value) || !finite(low) || !finite(high) {
		return Result{Unit: unit, Basis: basis}
	}
	low, high = min(low, value), max(high, value)
	return Result{Value: value, Low: low, High: high, Unit: unit, Basis: basis, known: true}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
