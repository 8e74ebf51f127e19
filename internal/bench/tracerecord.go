package bench

import (
	"math"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/trace"
)

// What a log said is kept in the document with as many digits as matter, and read back from
// there while its file is missing.

// How many lumps and waves the document keeps.
const (
	keptLumps = 20
	keptWaves = 8
)

// RecordLayout writes how a log is written into its place in the document.
func RecordLayout(l trace.Layout, into *project.Trace) {
	into.Separator, into.Decimal, into.Header = trace.SeparatorName(l.Separator), trace.DecimalPoint, l.Header
	if l.Comma {
		into.Decimal = trace.DecimalComma
	}
	into.Columns = nil
	for _, c := range l.Columns {
		into.Columns = append(into.Columns, project.TraceColumn{Role: string(c.Role), Unit: c.Unit})
	}
}

// RecordedLayout is what the document says of how a log is written; the rest is left to a
// guess. Where columns are given the number of lines above the rows is too.
func RecordedLayout(t *project.Trace) trace.Fixed {
	f := trace.NothingFixed
	f.Separator = trace.SeparatorNamed(t.Separator)
	if t.Decimal != "" {
		comma := t.Decimal == trace.DecimalComma
		f.Comma = &comma
	}
	if t.Header > 0 || len(t.Columns) > 0 {
		f.Header = t.Header
	}
	for _, c := range t.Columns {
		f.Columns = append(f.Columns, trace.Column{Role: trace.Role(c.Role), Unit: c.Unit})
	}
	return f
}

// RecordTrace is what the document keeps of a log.
func RecordTrace(s *trace.Summary, lowM, highM float64) project.TraceSummary {
	length := func(m float64) quantity.Of[quantity.Length] { return quantity.FromSI[quantity.Length](m, "mm", 6) }
	r := project.TraceSummary{
		Readings: int(s.Readings), LeftOut: int(s.LeftOut()), Gaps: int(s.Gaps), Axis: s.Axis.String(),
		Step: plain(s.Step, 9), Span: plain(s.Span, 6), Missing: plain(s.Missing, 6), Mean: length(s.MeanM), SD: length(s.SDM),
		RMS: length(math.Sqrt(s.MeanSquareM2)), Thinnest: length(s.MinM), Thickest: length(s.MaxM), Independent: plain(s.Effective, 2),
		Out: int(s.Below + s.Above), LumpCount: int(s.LumpCount), GoodFrom: plain(s.GoodFrom, 6), GoodTo: plain(s.GoodTo, 6),
	}
	if highM > 0 {
		r.Low, r.High = length(lowM), length(highM)
	}
	for _, l := range s.Lumps[:min(len(s.Lumps), keptLumps)] {
		r.Lumps = append(r.Lumps, project.TraceLump{
			At: plain(l.At, 6), Long: plain(l.To-l.From, 6), Peak: length(l.PeakM), Height: length(math.Abs(l.HeightM)), Thin: l.HeightM < 0,
		})
	}
	for _, w := range s.Waves[:min(len(s.Waves), keptWaves)] {
		r.Waves = append(r.Waves, project.TraceWave{
			Period: plain(w.Period, 4), Amplitude: length(w.AmplitudeM), Share: quantity.FromSI[quantity.Fraction](w.Share, "%", 2),
		})
	}
	return r
}

// plain is a number as the document keeps it.
func plain(v float64, decimals int) quantity.Of[quantity.Factor] {
	return quantity.FromSI[quantity.Factor](v, "1", decimals)
}

// RecordedTrace is what the document kept of a log, as far as it goes: no pieces,
// spectrum, steps or drift.
func RecordedTrace(r *project.TraceSummary) trace.Summary {
	s := trace.Summary{
		MeanM: r.Mean.SI(), SDM: r.SD.SI(), MeanSquareM2: r.RMS.SI() * r.RMS.SI(), MinM: r.Thinnest.SI(), MaxM: r.Thickest.SI(),
		Effective: math.Max(r.Independent.SI(), 1), Above: int64(r.Out), GoodFrom: r.GoodFrom.SI(), GoodTo: r.GoodTo.SI(), LumpCount: int64(r.LumpCount),
	}
	s.Readings, s.Gaps = int64(r.Readings), int64(r.Gaps)
	s.Lines = int64(r.Readings + r.LeftOut)
	s.Left[trace.NotANumber] = int64(r.LeftOut)
	s.Step, s.Span, s.Missing = r.Step.SI(), r.Span.SI(), r.Missing.SI()
	for _, axis := range trace.Axes() {
		if axis.String() == r.Axis {
			s.Axis = axis
		}
	}
	for _, l := range r.Lumps {
		height := l.Height.SI()
		if l.Thin {
			height = -height
		}
		s.Lumps = append(s.Lumps, trace.Lump{
			From: l.At.SI() - l.Long.SI()/2, To: l.At.SI() + l.Long.SI()/2, At: l.At.SI(), PeakM: l.Peak.SI(), HeightM: height,
		})
	}
	for _, w := range r.Waves {
		s.Waves = append(s.Waves, trace.Wave{Period: w.Period.SI(), AmplitudeM: w.Amplitude.SI(), Share: w.Share.SI()})
	}
	return s
}
