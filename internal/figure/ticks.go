package figure

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
)

// niceTicks are at most so many ticks, plus one, at multiples of 1, 2 or 5 times a power of ten.
type niceTicks struct {
	most  int
	comma bool
}

var _ plot.Ticker = niceTicks{}

// Ticks implements plot.Ticker.
func (n niceTicks) Ticks(low, high float64) []plot.Tick {
	step := niceStep(low, high, n.most)
	if step <= 0 {
		return nil
	}
	first, last := math.Ceil(low/step-1e-6), math.Floor(high/step+1e-6)
	var out []plot.Tick
	for i := first; i <= last; i++ {
		v := i * step
		out = append(out, plot.Tick{Value: v, Label: numberText(v, step, max(math.Abs(low), math.Abs(high)), n.comma)})
	}
	return out
}

// niceStep is the least of 1, 2, 5 times a power of ten that divides the span
// into at most so many parts, or 0 when there is none.
func niceStep(low, high float64, most int) float64 {
	raw := (high - low) / float64(max(most, 1))
	if !(raw > 0) || math.IsInf(raw, 0) {
		return 0
	}
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range [...]float64{1, 2, 5} {
		if m*ten >= raw*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// logTicks are at most so many ticks at 1, 2 and 5 times powers of ten, or at
// powers of ten only, or at even steps when the axis spans too little for either.
type logTicks struct {
	most  int
	comma bool
}

var _ plot.Ticker = logTicks{}

// Ticks implements plot.Ticker.
func (l logTicks) Ticks(low, high float64) []plot.Tick {
	if !(low > 0) || !(high > low) {
		return nil
	}
	first, last := math.Floor(math.Log10(low)), math.Ceil(math.Log10(high))
	if (last-first)*3 < 300 {
		if out := l.at(low, high, first, last, 1, 1, 2, 5); len(out) >= 3 && len(out) <= l.most+1 {
			return out
		} else if len(out) < 3 {
			return niceTicks(l).Ticks(low, high)
		}
		if out := l.at(low, high, first, last, 1, 1, 3); len(out) <= l.most+1 {
			return out
		}
	}
	stride := max(1, math.Ceil((last-first)/float64(max(l.most, 1))))
	if out := l.at(low, high, stride*math.Floor(first/stride), last, stride, 1); len(out) > 1 {
		return out
	}
	// Even steps over many powers of ten can begin at zero, which has no place on this axis.
	return slices.DeleteFunc(niceTicks(l).Ticks(low, high), func(t plot.Tick) bool { return t.Value < low })
}

// at lists the ticks at the given multiples of every stride-th power of ten.
func (l logTicks) at(low, high, first, last, stride float64, multiples ...float64) []plot.Tick {
	var out []plot.Tick
	for e := first; e <= last; e += stride {
		for _, m := range multiples {
			v := m * math.Pow(10, e)
			if v >= low*(1-1e-9) && v <= high*(1+1e-9) {
				out = append(out, plot.Tick{Value: v, Label: numberText(v, math.Pow(10, e), v, l.comma)})
			}
		}
	}
	return out
}

const (
	powersFrom  = 1e7  // numbers from here on are written with a power of ten
	powersBelow = 1e-5 // and those whose steps are below this
	groupsFrom  = 1e4  // digits are set in groups of three from here on
)

// numberText prints a tick with the decimals that its step needs. The largest
// number of the axis decides whether all of them are written with a power of ten.
func numberText(v, step, largest float64, comma bool) string {
	var out string
	switch {
	case largest >= powersFrom || step < powersBelow:
		out = powerText(v, step)
	default:
		out = strconv.FormatFloat(v, 'f', decimals(step), 64)
		if math.Abs(v) >= groupsFrom {
			out = grouped(out)
		}
	}
	if isZeroText(out) {
		out = strings.TrimPrefix(out, "-")
	}
	if comma {
		out = strings.Replace(out, ".", ",", 1)
	}
	return strings.Replace(out, "-", "−", 2)
}

// decimals is the number of digits behind the decimal sign that a step shows.
func decimals(step float64) int {
	return int(min(max(0, -math.Floor(math.Log10(step)+1e-9)), 12))
}

// powerText is the number in the form 1.5e6, with the digits that its step needs.
func powerText(v, step float64) string {
	if math.Abs(v) < step/2 {
		return "0"
	}
	digits := math.Floor(math.Log10(math.Abs(v))+1e-9) - math.Floor(math.Log10(step)+1e-9)
	out := strconv.FormatFloat(v, 'e', int(min(max(digits, 0), 12)), 64)
	mantissa, exponent, _ := strings.Cut(out, "e")
	exponent = strings.TrimPrefix(exponent, "+")
	sign := ""
	if strings.HasPrefix(exponent, "-") {
		sign = "-"
	}
	return mantissa + "e" + sign + strings.TrimLeft(strings.TrimPrefix(exponent, "-"), "0")
}

// grouped sets narrow spaces between groups of three digits before the decimal point.
func grouped(digits string) string {
	whole, rest, point := strings.Cut(digits, ".")
	for i := len(whole) - 3; i > 0 && whole[i-1] != '-'; i -= 3 {
		whole = whole[:i] + "\u202f" + whole[i:]
	}
	if point {
		return whole + "." + rest
	}
	return whole
}

func isZeroText(s string) bool { return strings.Trim(s, "-0.") == "" }
