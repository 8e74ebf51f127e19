package quantity

import (
	"math"
	"strings"
)

// Spread says what is known about how far off a value may be.
type Spread uint8

// The spreads. Exact means that nothing was said.
const (
	Exact    Spread = iota
	Expanded        // ± with coverage factor k = 2
	Range           // anywhere between two ends, rectangular
)

// Estimate is a quantity in SI units with its uncertainty.
//
//	Exact     Low = High = Value         StdU = 0
//	Expanded  Value ∓ U                  StdU = U/2            (GUM 7.2.4 with k = 2)
//	Range     ends; Value is their mean  StdU = (High-Low)/2/√3  (GUM 4.3.7)
//
// Always Low ≤ Value ≤ High, and all of them finite. Low of an expanded
// estimate may be below zero where the quantity itself may not.
type Estimate struct {
	Value, Low, High, StdU float64
	Spread                 Spread
}

// core is a quantity without its dimension: the file form, where in it the unit
// stands, and the numbers, which the file form determines.
type core struct {
	text            string
	estimate        Estimate
	unitAt, unitEnd uint8
}

// The sizes between which numbers must lie in SI, unless they are zero. Any
// real property does, and products of several of them stay finite.
const (
	smallest = 1e-30
	largest  = 1e30
)

// parse reads an entry. A blank one is the zero core.
func (d *dimension) parse(text string) (core, *Refusal) {
	c, refused := d.read(text)
	if refused != nil {
		return core{}, refused.settle(d)
	}
	return c, nil
}

// read is parse without the proposals in a refusal.
func (d *dimension) read(text string) (core, *Refusal) {
	cleaned, refused := d.clean(text)
	if refused != nil || cleaned == "" {
		return core{}, refused
	}
	e, refused := d.scan(strings.TrimFunc(text, isSpace), cleaned)
	if refused != nil {
		return core{}, refused
	}
	u, spelling, refused := d.findUnit(e)
	if refused != nil {
		return core{}, refused
	}
	estimate, refused := d.estimate(e, u)
	if refused != nil {
		return core{}, refused
	}
	return d.assemble(e, spelling, estimate), nil
}

// assemble writes the file form.
func (d *dimension) assemble(e *entry, spelling string, estimate Estimate) core {
	c := core{text: e.numbers(), estimate: estimate}
	switch {
	case d.factor && spelling != "" && spelling != "1":
		c.text, c.unitEnd = spelling+c.text, uint8(len(spelling))
	case spelling != "":
		c.text += " " + spelling
		c.unitAt, c.unitEnd = uint8(len(c.text)-len(spelling)), uint8(len(c.text))
	}
	return c
}

// findUnit looks up the unit of an entry and how it is spelled in the file.
func (d *dimension) findUnit(e *entry) (*unit, string, *Refusal) {
	if d.money {
		return d.moneyUnit(e)
	}
	if u, ok := d.lookUp(e.unit); ok {
		return u, e.unit, nil
	}
	switch {
	case e.unit == "":
		return nil, "", d.refuse("quantity.no_unit", e.shown)
	case d == contentDim && e.unit == "%":
		of := func(basis string) candidate { return candidate(e.numbers() + " " + basis) }
		return nil, "", d.refuse("quantity.percent_ambiguous", e.shown, "Whole", of("wt%"), "OnPolymer", of("phr"), "Volume", of("vol%"))
	}
	if near := d.near(e.unit); near != "" {
		return nil, "", d.refuse("quantity.near_unit", e.shown, "Unit", e.unit, "Near", near, "Try", candidate(e.numbers()+" "+near))
	}
	if _, known := ownerOf(e.unit); known {
		return nil, "", d.refuse("quantity.wrong_unit", e.shown, "Unit", e.unit)
	}
	return nil, "", d.refuse("quantity.unknown_unit", e.shown, "Unit", e.unit)
}

// estimate turns the numbers of an entry into SI.
func (d *dimension) estimate(e *entry, u *unit) (Estimate, *Refusal) {
	first, refused := d.toSI(e, e.first, u)
	if refused != nil || e.mark == noMark {
		return Estimate{Value: first, Low: first, High: first}, refused
	}
	second, refused := d.toSI(e, e.second, u)
	if refused != nil {
		return Estimate{}, refused
	}
	if e.mark == plusMinus {
		half := u.difference(parseNumber(e.second))
		return Estimate{Value: first, Low: first - half, High: first + half, StdU: half / 2, Spread: Expanded}, nil
	}
	if refused := d.checkOrder(e); refused != nil {
		return Estimate{}, refused
	}
	half := (second - first) / 2
	return Estimate{Value: first + half, Low: first, High: second, StdU: half / math.Sqrt(3), Spread: Range}, nil
}

// checkOrder refuses a range that does not rise.
func (d *dimension) checkOrder(e *entry) *Refusal {
	low, high := parseNumber(e.first), parseNumber(e.second)
	switch {
	case low == high:
		return d.refuse("quantity.range_equal", e.shown, "Try", candidate(e.first+" "+e.unit))
	case low > high:
		swapped := entry{first: e.second, second: e.first, mark: e.mark}
		return d.refuse("quantity.range_order", e.shown, "Try", candidate(swapped.numbers()+" "+e.unit))
	}
	return nil
}

// toSI converts one number and refuses sizes that nothing real has. A spread
// passes the same gate, for it is a number of the same unit and not negative.
func (d *dimension) toSI(e *entry, number string, u *unit) (float64, *Refusal) {
	if strings.HasPrefix(number, "-") && !d.signed {
		return 0, d.refuse("quantity.negative", e.shown)
	}
	value := parseNumber(number)
	size := math.Abs(u.difference(value))
	if size > largest || size < smallest && !isZero(number) {
		return 0, d.refuse("quantity.out_of_range", e.shown)
	}
	si := u.toSI(value)
	if si < 0 {
		return 0, d.refuse("quantity.below_absolute_zero", e.shown, "Zero", u.absoluteZero())
	}
	return si, nil
}

// isZero tells zero from a number too small for a float64.
func isZero(number string) bool {
	mantissa, _, _ := strings.Cut(strings.ToLower(number), "e")
	return strings.Trim(mantissa, "-0.") == ""
}
