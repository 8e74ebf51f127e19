package figure

import (
	"math"

	"gonum.org/v1/plot"
)

// Numbers beyond these cannot be drawn: larger ones are left out, smaller ones are zero.
const (
	hugest = 1e100
	tinest = 1e-100
)

// drawable says whether a number can be placed on an axis.
func drawable(v float64, log bool) bool {
	if math.IsNaN(v) || math.Abs(v) > hugest {
		return false
	}
	return !log || v > tinest
}

// extent gathers the range of the data on one axis.
type extent struct {
	low, high float64
	any, log  bool
}

func (e *extent) add(values ...float64) {
	for _, v := range values {
		if !drawable(v, e.log) {
			continue
		}
		if math.Abs(v) < tinest {
			v = 0
		}
		if !e.any {
			e.low, e.high, e.any = v, v, true
			continue
		}
		e.low, e.high = min(e.low, v), max(e.high, v)
	}
}

// given says whether the axis names usable ends.
func (a *Axis) given() bool {
	return drawable(a.Min, a.Log) && drawable(a.Max, a.Log) && a.Max > a.Min && !tooNarrow(a.Min, a.Max)
}

// tooNarrow says whether two ends are so close that ticks between them could not be told apart.
func tooNarrow(low, high float64) bool {
	return high-low <= 1e-9*max(math.Abs(low), math.Abs(high)) || high-low < tinest
}

// span is the range of the axis before it is rounded to ticks: the ends as
// given, or those of the data with a margin (a share of the span on each side).
// fixed means that the ends stay as they are.
func (a *Axis) span(data extent, margin float64) (low, high float64, fixed bool) {
	if a.given() {
		return a.Min, a.Max, true
	}
	low, high = data.low, data.high
	switch {
	case !data.any && a.Log:
		return 0.5, 2, false
	case !data.any:
		return 0, 1, false
	case a.Log:
		return logSpan(low, high, margin)
	case tooNarrow(low, high):
		half := 0.05 * max(math.Abs(low), math.Abs(high))
		if half < tinest {
			half = 1
		}
		return low - half, high + half, false
	}
	room := margin * (high - low)
	wideLow, wideHigh := low-room, high+room
	// Zero is a floor that nobody expects the axis to go below.
	if low >= 0 && wideLow < 0 {
		wideLow = 0
	}
	if high <= 0 && wideHigh > 0 {
		wideHigh = 0
	}
	return wideLow, wideHigh, margin == 0
}

func logSpan(low, high, margin float64) (float64, float64, bool) {
	if tooNarrow(low, high) {
		return low / 2, high * 2, false
	}
	room := math.Pow(high/low, margin)
	return low / room, high * room, margin == 0
}

// ticks are at most so many ticks between the ends.
func (a *Axis) ticks(low, high float64, most int, comma bool) []plot.Tick {
	if most < 1 {
		return nil
	}
	var out []plot.Tick
	switch {
	case len(a.Ticks) > 0:
		for _, t := range a.Ticks {
			if drawable(t.Value, a.Log) && t.Value >= low && t.Value <= high {
				out = append(out, plot.Tick{Value: t.Value, Label: plain(t.Label)})
			}
		}
		return out
	case a.Log:
		out = logTicks{most: most, comma: comma}.Ticks(low, high)
	default:
		out = niceTicks{most: most, comma: comma}.Ticks(low, high)
	}
	for i := range out {
		out[i].Label = a.Prefix + out[i].Label + a.Suffix
	}
	return out
}

// mostWaste is how many times longer an axis may get by ending at ticks.
const mostWaste = 1.35

// rounded moves the ends outwards to the next tick, so that the picture begins
// and ends at a number, unless that would leave too much of it empty.
func (a *Axis) rounded(low, high float64, most int) (float64, float64) {
	if len(a.Ticks) > 0 {
		return low, high
	}
	if a.Log {
		down, up := roundedLog(low, high)
		if math.Log(up/down) > mostWaste*math.Log(high/low) {
			return low, high
		}
		return down, up
	}
	step := niceStep(low, high, most)
	if step <= 0 {
		return low, high
	}
	down, up := step*math.Floor(low/step+1e-6), step*math.Ceil(high/step-1e-6)
	if up-down > mostWaste*(high-low) {
		return low, high
	}
	return down, up
}

// roundedLog moves two numbers outwards to 1, 2 or 5 times a power of ten.
func roundedLog(low, high float64) (down, up float64) {
	down, up = low, high
	for _, m := range [...]float64{1, 2, 5, 10} {
		if v := m * math.Pow(10, math.Floor(math.Log10(low)+1e-9)); v <= low*(1+1e-9) {
			down = v
		}
	}
	for _, m := range [...]float64{10, 5, 2, 1} {
		if v := m * math.Pow(10, math.Floor(math.Log10(high)-1e-9)); v >= high*(1-1e-9) {
			up = v
		}
	}
	return down, up
}

// title is the text that names the axis.
func (a *Axis) title() string {
	switch {
	case a.Hide:
		return ""
	case a.Label == "" || a.Unit == "":
		return a.Label + a.Unit
	}
	return a.Label + ", " + a.Unit
}

// clamp brings a value so near to the axis that its pixel is a number that a
// canvas can clip; it stays outside when it was outside.
func (s Scale) clamp(v float64) float64 {
	if s.Log {
		reach := math.Exp(min(1000*math.Log(s.Max/s.Min), 200))
		return min(max(v, s.Min/reach), s.Max*reach)
	}
	reach := 1000 * (s.Max - s.Min)
	return min(max(v, s.Min-reach), s.Max+reach)
}

// axis is the same scale for the plotters of gonum, which never ask it for ticks.
func (s Scale) axis() plot.Axis {
	a := plot.Axis{Min: s.Min, Max: s.Max, Scale: plot.LinearScale{}}
	if s.Log {
		a.Scale = plot.LogScale{}
	}
	return a
}
