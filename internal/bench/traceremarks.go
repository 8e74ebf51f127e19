package bench

import (
	"math"

	"fillwright/internal/trace"
)

// judge says in words how good the strand is, and what to look at.
func (t *TraceSheet) judge() {
	t.Verdict = t.verdict()
	s := &t.Summary
	if left := s.LeftOut(); left > 0 {
		t.remark("trace_rows_left_out", map[string]any{"Count": int(left), "Share": number(100*float64(left)/float64(max(s.Lines, 1)), "%", 2)})
	}
	if s.Gaps > 0 {
		t.remark("trace_gaps", map[string]any{"Count": int(s.Gaps)})
	}
	if s.Restarts > 0 {
		t.remark("trace_restarts", map[string]any{"Count": int(s.Restarts)})
	}
	if t.Quick {
		return
	}
	if t.PerUnit == 0 {
		t.remark("trace_no_metres", nil)
	}
	if _, ok := t.Figures[TraceEffective]; ok && s.Effective < 20 && s.Readings >= 20 {
		t.remark("trace_few_independent", map[string]any{"Independent": number(s.Effective, "", 2), "Readings": int(s.Readings)})
	}
	t.stepRemarks()
	t.unmatchedWave()
	for _, w := range t.Waves {
		if len(w.Matches) > 0 {
			m := w.Matches[0]
			t.remark(waveRemarks[m.Turning.Key], map[string]any{
				"Period": number(w.PeriodS, "s", 3), "Amplitude": number(w.AmplitudeM*1e6, "um", 2), "Share": number(100*w.Share, "%", 2),
			})
			break
		}
	}
}

// Keys of the parts of the line that turn.
const (
	TurningScrew  = "screw"
	TurningPuller = "puller"
)

// TurningParts are the parts of the line that turn and may make waves: the screw, by its
// turns a second, and the roller of the puller, by its diameter and the speed of the
// strand, T = π·D/v. What is 0 is not known.
func TurningParts(screwPerS, rollerM, speedMS float64) []trace.Turning {
	var out []trace.Turning
	if screwPerS > 0 {
		out = append(out, trace.Turning{Key: TurningScrew, PeriodS: 1 / screwPerS})
	}
	if rollerM > 0 && speedMS > 0 {
		out = append(out, trace.Turning{Key: TurningPuller, PeriodS: math.Pi * rollerM / speedMS})
	}
	return out
}

// unmatchedWave says what to do about a strong wave of which nobody knows whence it comes.
func (t *TraceSheet) unmatchedWave() {
	const strong = 0.1 // of the variance (own judgement)
	if len(t.Waves) == 0 || len(t.Waves[0].Matches) > 0 || t.Waves[0].Share < strong {
		return
	}
	w := t.Waves[0]
	period := number(w.Period, "readings", 3)
	switch {
	case w.PeriodS > 0:
		period = number(w.PeriodS, "s", 3)
	case w.PeriodM > 0:
		period = number(w.PeriodM, "m", 3)
	}
	t.remark("trace_wave_unmatched", map[string]any{
		"Period": period, "Amplitude": number(w.AmplitudeM*1e6, "um", 2), "Share": number(100*w.Share, "%", 2),
	})
}

// stepRemarks tell the first steps.
func (t *TraceSheet) stepRemarks() {
	const most = 3
	for _, st := range t.Steps[:min(len(t.Steps), most)] {
		id := "trace_step_thicker"
		if st.HeightM < 0 {
			id = "trace_step_thinner"
		}
		place := number(st.At, axisUnits[t.Summary.Axis], 5)
		if t.PerUnit > 0 {
			place = number(st.AtM, "m", 4)
		}
		t.remark(id, map[string]any{"Place": place, "Height": number(math.Abs(st.HeightM)*1e6, "um", 2)})
	}
}

// axisUnits are the units of the axes, that of readings has none.
var axisUnits = map[trace.Axis]string{trace.BySecond: "s", trace.ByMetre: "m"}

// waveRemarks say what to adjust where a wave comes from such a part.
var waveRemarks = map[string]string{TurningScrew: "trace_wave_screw", TurningPuller: "trace_wave_puller"}

func (t *TraceSheet) remark(id string, values map[string]any) {
	t.Remarks = append(t.Remarks, Answer{id, values})
}

// verdict is the capability in words. The limits are common practice: 1.33 leaves room
// of one standard deviation, at 1 three in a thousand are out.
func (t *TraceSheet) verdict() Answer {
	const many = 0.2 // of the rows (own judgement)
	if left := float64(t.Summary.LeftOut()); left > many*(left+float64(t.Summary.Readings)) {
		return Answer{"trace_mostly_left_out", map[string]any{"Share": number(100*left/(left+float64(t.Summary.Readings)), "%", 2)}}
	}
	cpk, ok := t.Figures[TraceCpk]
	if !ok {
		return Answer{"trace_no_tolerance", nil}
	}
	low, high := t.Asked.Limits()
	values := map[string]any{
		"Low": number(low*1e3, "mm", 4), "High": number(high*1e3, "mm", 4), "Cpk": number(cpk.Value, "", 3),
		"CpkLow": number(cpk.Low, "", 3), "CpkHigh": number(cpk.High, "", 3),
	}
	cp := t.Figures[TraceCp]
	switch {
	case cpk.Low >= 1.33:
		return Answer{"trace_holds_well", values}
	case cpk.Low >= 1:
		return Answer{"trace_holds", values}
	case cpk.High >= 1:
		return Answer{"trace_perhaps", values}
	case cp.Low >= 1: // the interval of Cp reaches below 1 where the spread may be the cause
		values["Off"] = number((t.Summary.MeanM-t.Asked.NominalM)*1e6, "um", 2)
		return Answer{"trace_off_centre", values}
	default:
		return Answer{"trace_fails", values}
	}
}
