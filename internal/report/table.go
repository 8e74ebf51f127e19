package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/wording"
)

// CalcTable writes the sheet for people: a table for each blend, what it comes
// to in words, the batch to weigh and the notes.
func CalcTable(out io.Writer, title string, s *bench.Sheet, w *wording.Words) error {
	e := &errWriter{out: out}
	fmt.Fprintf(e, "%s\n", title)
	for i := range s.Blends {
		b := &s.Blends[i]
		heading := b.Name
		if i == s.Reference {
			heading = w.Say("calc.reference", map[string]any{"Blend": b.Name})
		}
		fmt.Fprintf(e, "\n%s\n%s\n", heading, strings.Repeat("-", len([]rune(heading))))
		figureTable(e, b, w)
		batchTable(e, &b.Batch, w)
		if b.Answer.ID != "" {
			fmt.Fprintf(e, "\n%s\n", w.Say(b.Answer.Message()))
		}
		limitTable(e, s, i, w)
		noteList(e, s.BlendNotes(i), w)
	}
	ledgerTable(e, s, w)
	if len(s.Notes) > 0 {
		fmt.Fprintf(e, "\n%s\n", w.Text("calc.project_notes"))
		noteList(e, s.Notes, w)
	}
	return e.err
}

func figureTable(out io.Writer, b *bench.BlendSheet, w *wording.Words) {
	t := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	for _, f := range bench.Figures() {
		r := b.Result(f)
		if !b.Shows(f) {
			continue
		}
		value := "—"
		if r.Known() {
			value = w.Number(r.Value, 4)
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\n", w.Text("figure."+f.Key()), value, wording.Unit(r.Unit), intervalOf(r, 4, w), w.Text("basis."+r.Basis.String()))
	}
	_ = t.Flush() // the error is kept by the writer below
}

func batchTable(out io.Writer, b *bench.BatchSheet, w *wording.Words) {
	if !b.Known || b.ChargeG == 0 {
		return
	}
	fmt.Fprintf(out, "\n%s\n", w.Say("calc.batch", map[string]any{
		"Target": wording.Number{Value: b.TargetG, Unit: "g", Digits: 4}, "Charge": wording.Number{Value: b.ChargeG, Unit: "g", Digits: 4},
	}))
	t := tabwriter.NewWriter(out, 0, 4, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "%s\t%s\t%s\t%s\t  %s\n", "wt%", "vol%", w.Text("batch.dry"), w.Text("batch.weigh"), w.Text("batch.part"))
	total := b.Total
	total.Name = w.Text("batch.total")
	for _, r := range append(slices.Clone(b.Rows), total) {
		name, volume, weigh := r.Name, "—", "—"
		if r.HasVolume {
			volume = w.Fixed(r.VolumePercent, 2)
		}
		if r.HasWeigh {
			weigh = w.Fixed(r.WeighG, 1) + " g"
		}
		fmt.Fprintf(t, "%s\t%s\t%s g\t%s\t  %s\n", w.Fixed(r.MassPercent, 2), volume, w.Fixed(r.DryG, 1), weigh, name)
	}
	_ = t.Flush()
}

// intervalOf prints the interval of a figure, empty where it has none.
func intervalOf(r bench.Result, digits int, w *wording.Words) string {
	if !r.Known() || r.Certain() {
		return ""
	}
	return w.Say("calc.interval", map[string]any{
		"Low": wording.Number{Value: r.Low, Digits: digits}, "High": wording.Number{Value: r.High, Digits: digits},
	})
}

// ledgerTable lists the spools with what is known of each.
func ledgerTable(out io.Writer, s *bench.Sheet, w *wording.Words) {
	if len(s.Spools) > 0 {
		fmt.Fprintf(out, "\n%s\n", w.Text("calc.spools"))
	}
	for i := range s.Spools {
		made := &s.Spools[i]
		name := figure.SpoolName(s, i, w)
		if made.Blend >= 0 {
			name += ", " + s.Blends[made.Blend].Name
		}
		fmt.Fprintf(out, "\n  %s\n", name)
		t := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
		for _, f := range bench.SpoolFigures() {
			r, known := made.Results[f]
			if !known {
				continue
			}
			fmt.Fprintf(t, "    %s\t%s\t%s\t%s\t%s\n", w.Text("spool.figure."+string(f)), w.Number(r.Value, 4), traceUnit(r.Unit), intervalOf(r, 4, w), w.Text("basis."+r.Basis.String()))
		}
		_ = t.Flush() // the error is kept by the writer below
		for _, r := range made.Told() {
			fmt.Fprintf(out, "    %s\n", w.Say(r.Message()))
		}
	}
}

func noteList(out io.Writer, notes []bench.Note, w *wording.Words) {
	if len(notes) > 0 {
		fmt.Fprintln(out)
	}
	for _, n := range notes {
		place := ""
		if n.Field != "" {
			place = " (" + n.Field + ")"
		}
		fmt.Fprintf(out, "  [%s] %s %s%s\n", w.Text("severity."+n.Severity.String()), w.Say(n.Message()), w.Say(n.Action(), n.Values), place)
	}
}

// errWriter remembers the first failure, so that a report is written without
// asking after every line.
type errWriter struct {
	out io.Writer
	err error
}

func (e *errWriter) Write(p []byte) (int, error) {
	if e.err != nil {
		return len(p), nil
	}
	if _, err := e.out.Write(p); err != nil {
		e.err = err
	}
	return len(p), nil
}
