package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// What the pictures of the powder bench have in common.

// micrometre is the unit of grain sizes as people read it.
const micrometre = "µm"

// ranged writes a result with its range, as "5.4 h (4.9 to 6.1)". A range that
// shows no other digits than the value is left out.
func ranged(r bench.Result, unit string, digits int, w *wording.Words) string {
	write := func(v float64) string { return w.Number(v, digits) }
	if decimals, same := sameDecimals(r, digits); same {
		write = func(v float64) string { return w.Fixed(v, decimals) }
	}
	value, low, high := write(r.Value), write(r.Low), write(r.High)
	if unit != "" {
		value += " " + unit
	}
	if low == high {
		return value
	}
	return w.Say("picture.powder.ranged", map[string]any{"Value": value, "Low": low, "High": high})
}

// sameDecimals is how many decimals show the digits of a value, where the ends of its range can have as many.
func sameDecimals(r bench.Result, digits int) (int, bool) {
	const wide = 10.0
	if !(r.Low > 0) || !(r.High < wide*r.Low) || r.Low < 1e-6 || r.High > 1e9 {
		return 0, false
	}
	return max(0, digits-1-int(math.Floor(math.Log10(r.Value)))), true
}

// sized is a text about one grain size in µm.
func sized(id string, um float64, w *wording.Words) string {
	return w.Say(id, map[string]any{"Size": wording.Number{Value: um, Unit: micrometre}})
}

// oneOf is the text of the value in a table of texts; empty for a value that is not in it.
func oneOf[K comparable](texts map[K]string, value K, w *wording.Words) string {
	if id, ok := texts[value]; ok {
		return w.Text(id)
	}
	return ""
}

// unknownBar is a row of which nothing is known yet.
func unknownBar(b Bar, w *wording.Words) Bar {
	b.Known, b.Text = false, w.Text("picture.not_known")
	return b
}

// barOf fills a row with a result; the text is the caller's.
func barOf(b Bar, r bench.Result, text string, w *wording.Words) Bar {
	if !r.Known() {
		return unknownBar(b, w)
	}
	b.Low, b.Likely, b.High, b.Known, b.Text = r.Low, r.Value, r.High, true, text
	return b
}

// finite says whether a number can be shown.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// even lists so many numbers from one end to another, at even steps or, on a
// logarithmic axis, at even ratios.
func even(low, high float64, points int, log bool) []float64 {
	out := make([]float64, points)
	for i := range out {
		t := float64(i) / float64(max(points-1, 1))
		if log {
			out[i] = low * math.Pow(high/low, t)
		} else {
			out[i] = low + (high-low)*t
		}
	}
	return out
}
