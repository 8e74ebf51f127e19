package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/bench"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// The head of what is read of a log as JSON.
const (
	TraceFormat  = "fillwright trace"
	TraceVersion = 1
)

type traceJSON struct {
	Format   string                `json:"format"`
	Version  int                   `json:"version"`
	File     string                `json:"file"`
	Layout   traceLayout           `json:"layout"`
	Lines    int64                 `json:"lines"`
	Readings int64                 `json:"readings"`
	LeftOut  map[string]int64      `json:"left_out"`
	Shown    []traceLine           `json:"left_out_lines,omitempty"` // the first of them
	Gaps     int64                 `json:"gaps"`
	Restarts int64                 `json:"restarts"`
	Figures  map[string]calcFigure `json:"figures"`
	Lumps    []traceLump           `json:"lumps,omitempty"`
	Waves    []traceWave           `json:"waves,omitempty"`
	Steps    []traceStep           `json:"steps,omitempty"`
	Verdict  traceText             `json:"verdict"`
	Remarks  []traceText           `json:"remarks"`
}

type traceText struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

type traceLayout struct {
	Separator string        `json:"separator"`
	Decimal   string        `json:"decimal"`
	Header    int           `json:"header"`
	Columns   []traceColumn `json:"columns"`
}

type traceColumn struct {
	Name string `json:"name,omitempty"`
	Role string `json:"role"`
	Unit string `json:"unit,omitempty"`
}

type traceLine struct {
	Line  int64  `json:"line"`
	Fault string `json:"fault"`
	Text  string `json:"text"`
}

// Places along the log are in its own axis; those in metres are null while metres
// are not known.
type traceLump struct {
	Axis     float64  `json:"axis"`
	Metres   *float64 `json:"metres"`
	Diameter float64  `json:"diameter_mm"`
	Height   float64  `json:"height_mm"`
	Length   *float64 `json:"length_mm"`
	Readings int64    `json:"readings"`
	Score    float64  `json:"score"`
	Out      bool     `json:"out_of_tolerance"`
	Blocks   bool     `json:"wider_than_inlet"`
}

type traceWave struct {
	Readings  float64  `json:"period_readings"`
	Seconds   *float64 `json:"period_s"`
	Metres    *float64 `json:"period_m"`
	Amplitude float64  `json:"amplitude_um"`
	Share     float64  `json:"share_of_variance"`
	Matches   []string `json:"matches,omitempty"`
}

type traceStep struct {
	Axis   float64  `json:"axis"`
	Metres *float64 `json:"metres"`
	Height float64  `json:"height_um"`
}

// known is a number, or nil where it is not.
func known(v float64, is bool) *float64 {
	if !is {
		return nil
	}
	return &v
}

// TraceJSON writes what a log comes to for other programs.
func TraceJSON(out io.Writer, file string, l trace.Layout, t *bench.TraceSheet, w *wording.Words) error {
	s := &t.Summary
	j := traceJSON{
		Format: TraceFormat, Version: TraceVersion, File: file, Layout: layoutJSON(l), Lines: s.Lines, Readings: s.Readings,
		LeftOut: map[string]int64{}, Gaps: s.Gaps, Restarts: s.Restarts, Figures: map[string]calcFigure{},
		Verdict: traceText{t.Verdict.ID, w.Say(t.Verdict.Message())}, Remarks: []traceText{},
	}
	for _, f := range trace.Faults() {
		if n := s.Left[f]; n > 0 {
			j.LeftOut[f.Key()] = n
		}
	}
	for _, line := range s.Shown {
		j.Shown = append(j.Shown, traceLine{line.Number, line.Fault.Key(), line.Text})
	}
	for f, r := range t.Figures {
		j.Figures[string(f)] = figureJSON(r)
	}
	for _, r := range t.Remarks {
		j.Remarks = append(j.Remarks, traceText{r.ID, w.Say(r.Message())})
	}
	j.addFound(t)
	if err := json.MarshalWrite(out, j, jsontext.WithIndent("  "), json.Deterministic(true)); err != nil {
		return err
	}
	_, err := io.WriteString(out, "\n")
	return err
}

// addFound adds lumps, waves and steps.
func (j *traceJSON) addFound(t *bench.TraceSheet) {
	metres := t.PerUnit > 0
	for _, l := range t.Lumps {
		j.Lumps = append(j.Lumps, traceLump{
			Axis: l.At, Metres: known(l.AtM, metres), Diameter: l.PeakM * 1e3, Height: l.HeightM * 1e3, Length: known(l.LengthM*1e3, metres),
			Readings: l.Readings, Score: l.Score, Out: l.Out, Blocks: l.Blocks,
		})
	}
	for _, v := range t.Waves {
		wave := traceWave{Readings: v.Period, Seconds: known(v.PeriodS, v.PeriodS > 0), Metres: known(v.PeriodM, v.PeriodM > 0), Amplitude: v.AmplitudeM * 1e6, Share: v.Share}
		for _, m := range v.Matches {
			wave.Matches = append(wave.Matches, m.Turning.Key)
		}
		j.Waves = append(j.Waves, wave)
	}
	for _, v := range t.Steps {
		j.Steps = append(j.Steps, traceStep{Axis: v.At, Metres: known(v.AtM, metres), Height: v.HeightM * 1e6})
	}
}

func layoutJSON(l trace.Layout) traceLayout {
	out := traceLayout{Separator: string(l.Separator), Decimal: ".", Header: l.Header}
	if l.Comma {
		out.Decimal = ","
	}
	for _, c := range l.Columns {
		out.Columns = append(out.Columns, traceColumn{c.Name, string(c.Role), c.Unit})
	}
	return out
}

// TraceTable writes what a log comes to for people.
func TraceTable(out io.Writer, file string, l trace.Layout, t *bench.TraceSheet, w *wording.Words) error {
	e := &errWriter{out: out}
	s := &t.Summary
	fmt.Fprintf(e, "%s\n%s\n\n", file, w.Say("report.trace.read", map[string]any{
		"Readings": int(s.Readings), "Lines": int(s.Lines), "Columns": columnsText(l, w),
	}))
	fmt.Fprintf(e, "%s\n\n", w.Say(t.Verdict.Message()))
	tab := tabwriter.NewWriter(e, 0, 4, 2, ' ', 0)
	for _, f := range bench.TraceFigures() {
		r, ok := t.Figures[f]
		if !ok {
			continue
		}
		fmt.Fprintf(tab, "  %s\t%s\t%s\t%s\n", w.Text("trace.figure."+string(f)), w.Number(r.Value, 5), traceUnit(r.Unit), intervalOf(r, 5, w))
	}
	_ = tab.Flush() // the error is kept by the writer below
	traceLumps(e, t, w)
	traceWaves(e, t, w)
	if len(t.Remarks) > 0 {
		fmt.Fprintln(e)
	}
	for _, r := range t.Remarks {
		fmt.Fprintf(e, "  %s\n", w.Say(r.Message()))
	}
	for _, line := range s.Shown[:min(len(s.Shown), shownLines)] {
		fmt.Fprintf(e, "    %s\n", w.Say("report.trace.line", map[string]any{
			"Line": int(line.Number), "Fault": w.Text("trace.fault." + line.Fault.Key()), "Text": line.Text,
		}))
	}
	return e.err
}

// traceUnit is that of a figure; counts and capabilities have none.
func traceUnit(unit string) string {
	if unit == "1" {
		return ""
	}
	return wording.Unit(unit)
}

// How much of the lists stands in the table; JSON has all.
const (
	shownLumps = 10
	shownLines = 5
)

func columnsText(l trace.Layout, w *wording.Words) string {
	var names []string
	for _, c := range l.Columns {
		name := w.Text("trace.role." + string(c.Role))
		if c.Unit != "" {
			name += " (" + wording.Unit(c.Unit) + ")"
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

func traceLumps(out io.Writer, t *bench.TraceSheet, w *wording.Words) {
	if len(t.Lumps) == 0 {
		return
	}
	fmt.Fprintf(out, "\n%s\n", w.Say("report.trace.lumps", map[string]any{"Shown": min(len(t.Lumps), shownLumps), "All": int(t.Summary.LumpCount)}))
	tab := tabwriter.NewWriter(out, 0, 4, 2, ' ', tabwriter.AlignRight)
	unit := map[trace.Axis]string{trace.ByReading: "", trace.BySecond: " s", trace.ByMetre: " m"}[t.Summary.Axis]
	for _, l := range t.Lumps[:min(len(t.Lumps), shownLumps)] {
		place, length := w.Number(l.At, 6)+unit, ""
		if t.PerUnit > 0 {
			place, length = w.Fixed(l.AtM, 2)+" m", w.Number(l.LengthM*1e3, 2)+" mm"
		}
		state := w.Text("trace.lump.within")
		switch {
		case l.Blocks:
			state = w.Text("trace.lump.blocks")
		case l.Out:
			state = w.Text("trace.lump.out")
		}
		fmt.Fprintf(tab, "  %s\t%s mm\t%s mm\t%s\t  %s\n", place, w.Fixed(l.PeakM*1e3, 3), w.Signed(l.HeightM*1e3, 3), length, state)
	}
	_ = tab.Flush()
}

func traceWaves(out io.Writer, t *bench.TraceSheet, w *wording.Words) {
	if len(t.Waves) == 0 {
		return
	}
	fmt.Fprintf(out, "\n%s\n", w.Text("report.trace.waves"))
	tab := tabwriter.NewWriter(out, 0, 4, 2, ' ', tabwriter.AlignRight)
	for _, v := range t.Waves {
		seconds, metres, from := w.Number(v.Period, 4)+" "+w.Text("trace.axis.reading"), "", ""
		if v.PeriodS > 0 {
			seconds = w.Number(v.PeriodS, 3) + " s"
		}
		if v.PeriodM > 0 {
			metres = w.Number(v.PeriodM, 3) + " m"
		}
		for _, m := range v.Matches {
			from += " " + w.Text("trace.turning."+m.Turning.Key)
		}
		fmt.Fprintf(tab, "  %s\t%s\t±%s\t%s\t %s\n", seconds, metres, w.Number(v.AmplitudeM*1e6, 2)+" "+wording.Unit("um"), w.Number(100*v.Share, 2)+" %", from)
	}
	_ = tab.Flush()
}
