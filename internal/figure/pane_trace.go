package figure

import (
	"math"
	"slices"

	"fillwright/internal/bench"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// mostTraceMarks is how many lumps have a mark at a time: the highest of those in view.
const mostTraceMarks = 6

// TraceAxis is the axis of a log: its unit, and how many of that one unit of the log is.
func TraceAxis(t *bench.TraceSheet, w *wording.Words) (axis Axis, factor float64) {
	switch {
	case t.PerUnit > 0:
		return Axis{Label: w.Text("picture.trace.along"), Unit: "m"}, t.PerUnit
	case t.Summary.Axis == trace.BySecond:
		return Axis{Label: w.Text("picture.trace.time"), Unit: "s"}, 1
	default:
		return Axis{Label: w.Text("picture.trace.reading")}, 1
	}
}

// Trace shows the diameter along a stretch of a log: in each column of pixels from the
// thinnest to the thickest reading, with the tolerance and the highest lumps. Selected is
// the lump that is chosen, -1 for none.
func Trace(t *bench.TraceSheet, levels *trace.Levels, view trace.Stretch, columns, selected int, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.trace.title"), Alt: w.Text("picture.trace.alt"), Empty: w.Text("picture.trace.empty")}
	if t == nil || levels == nil || levels.Readings() == 0 {
		return p
	}
	axis, factor := TraceAxis(t, w)
	at, low, high := levels.Strip(view, columns)
	axis.Min, axis.Max = view.From*factor, view.To*factor
	panel := Panel{X: axis, Y: Axis{Label: w.Text("picture.trace.diameter"), Unit: "mm"}, Strips: []Strip{strip(at, low, high, factor)}}
	panel.Y.Min, panel.Y.Max = diameterSpan(t, low, high)
	panel.addTolerance(t.Asked, w)
	panel.addLumps(t, view, factor, selected, w)
	p.Panels = []Panel{panel}
	return p
}

// strip takes what the columns of pixels span to the axes of the picture.
func strip(at, low, high []float64, factor float64) Strip {
	s := Strip{}
	for i := range at {
		s.X, s.Low, s.High = append(s.X, at[i]*factor), append(s.Low, low[i]*1e3), append(s.High, high[i]*1e3)
	}
	return s
}

// diameterSpan holds what is in view and the tolerance, with a margin.
func diameterSpan(t *bench.TraceSheet, low, high []float64) (least, most float64) {
	least, most = t.Asked.Limits()
	if most == 0 {
		least, most = math.Inf(1), math.Inf(-1)
	}
	for i := range low {
		if !math.IsNaN(low[i]) {
			least, most = min(least, low[i]), max(most, high[i])
		}
	}
	margin := max(0.04*(most-least), 1e-6)
	return (least - margin) * 1e3, (most + margin) * 1e3
}

// addTolerance draws the limits and the diameter that is wanted.
func (p *Panel) addTolerance(asked bench.TraceAsked, w *wording.Words) {
	low, high := asked.Limits()
	if high == 0 {
		return
	}
	p.Levels = append(p.Levels,
		Level{Y: low * 1e3, Label: w.Text("picture.trace.low"), Dashed: true},
		Level{Y: high * 1e3, Label: w.Text("picture.trace.high"), Dashed: true})
}

// addLumps marks the highest lumps in view, and the chosen one.
func (p *Panel) addLumps(t *bench.TraceSheet, view trace.Stretch, factor float64, selected int, w *wording.Words) {
	for i, l := range t.Lumps {
		if l.At < view.From || l.At > view.To || len(p.Marks) >= mostTraceMarks && i != selected {
			continue
		}
		label := w.Signed(l.HeightM*1e3, 2) + " mm"
		p.Marks = append(p.Marks, Mark{X: l.At * factor, Label: label, Dashed: i != selected, Strong: i == selected})
	}
}

// TraceHistogram shows how often each diameter was read, upright beside the strand.
func TraceHistogram(t *bench.TraceSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.trace_histogram.title"), Alt: w.Text("picture.trace_histogram.alt"), Empty: w.Text("picture.trace_histogram.empty")}
	if t == nil || len(t.Summary.Histogram.Counts) == 0 {
		return p
	}
	h := &t.Summary.Histogram
	low, high := h.Quantile(0.0005), h.Quantile(0.9995)
	if a, b := t.Asked.Limits(); b > 0 {
		low, high = min(low, a), max(high, b)
	}
	margin := 0.1 * (high - low)
	low, high = low-margin, high+margin
	total := float64(t.Summary.Readings)
	bins := int(min(max(2*math.Cbrt(total), 8), 40)) // rule of Rice, from memory
	x, y := binned(h, low, high, bins, total)
	panel := Panel{
		X:     Axis{Label: w.Text("picture.trace_histogram.share"), Unit: "%"},
		Y:     Axis{Label: w.Text("picture.trace.diameter"), Unit: "mm", Min: low * 1e3, Max: high * 1e3},
		Lines: []Line{{X: x, Y: y}},
	}
	panel.X.Max = 1.1 * slices.Max(x)
	panel.addTolerance(t.Asked, w)
	p.Panels = []Panel{panel}
	return p
}

// binned draws the outline of a histogram with so many bins, as shares in per cent over
// diameters in mm.
func binned(h *trace.Histogram, low, high float64, bins int, total float64) (x, y []float64) {
	width := (high - low) / float64(bins)
	counts := make([]float64, bins)
	for i, n := range h.Counts {
		if k := int((h.LowM + (float64(i)+0.5)*h.WidthM - low) / width); k >= 0 && k < bins {
			counts[k] += float64(n)
		}
	}
	x, y = append(x, 0), append(y, low*1e3)
	for k, n := range counts {
		share := 100 * n / max(total, 1)
		x = append(x, share, share)
		y = append(y, (low+float64(k)*width)*1e3, (low+float64(k+1)*width)*1e3)
	}
	return append(x, 0), append(y, high*1e3)
}

// TraceSpectrum shows how strongly the diameter swings with each period, and what turns as
// fast.
func TraceSpectrum(t *bench.TraceSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.trace_spectrum.title"), Alt: w.Text("picture.trace_spectrum.alt"), Empty: w.Text("picture.trace_spectrum.empty")}
	if t == nil || len(t.Summary.Spectrum) < 3 {
		return p
	}
	perReading, axis := periodAxis(t, w)
	line := Line{Width: 1.5}
	for _, s := range t.Summary.Spectrum {
		line.X, line.Y = append(line.X, s.Period*perReading), append(line.Y, s.AmplitudeM*1e6)
	}
	panel := Panel{X: axis, Y: Axis{Label: w.Text("picture.trace_spectrum.amplitude"), Unit: "µm", Min: 0, Max: 1.25 * slices.Max(line.Y)}, Lines: []Line{line}}
	for i, wave := range t.Waves {
		label := ""
		for _, m := range wave.Matches {
			label = w.Text("trace.turning." + m.Turning.Key)
		}
		if label != "" || i == 0 {
			panel.Marks = append(panel.Marks, Mark{X: wave.Period * perReading, Label: label, Dashed: true})
		}
	}
	p.Panels = []Panel{panel}
	return p
}

// periodAxis is in seconds where the log has time, else in metres or readings.
func periodAxis(t *bench.TraceSheet, w *wording.Words) (perReading float64, axis Axis) {
	axis = Axis{Label: w.Text("picture.trace_spectrum.period"), Log: true}
	switch {
	case t.Summary.Axis == trace.BySecond:
		axis.Unit = "s"
		return t.Summary.Step, axis
	case t.PerUnit > 0:
		axis.Unit = "m"
		return t.Summary.Step * t.PerUnit, axis
	default:
		axis.Unit = w.Text("trace.axis.reading")
		return 1, axis
	}
}
