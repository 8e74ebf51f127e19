package pane

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// shown is the value of a result for a text.
func shown(r bench.Result, digits int) wording.Number {
	return wording.Number{Value: r.Value, Unit: r.Unit, Digits: digits}
}

// withInterval is a result with its interval where that has a width.
func (b *base) withInterval(r bench.Result) string { return b.toDigits(r, 3) }

// toDigits is a result with its interval to so many digits.
func (b *base) toDigits(r bench.Result, digits int) string {
	values := map[string]any{
		"Value": shown(r, digits),
		"Low":   wording.Number{Value: r.Low, Digits: digits}, "High": wording.Number{Value: r.High, Digits: digits},
	}
	if r.Certain() {
		return b.words().Say("pane.value", values)
	}
	return b.words().Say("pane.with_interval", values)
}
