package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"fillwright/internal/bench"
	"fillwright/internal/quantity"
	"fillwright/internal/report"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// traceFlags are those of the verb trace.
type traceFlags struct {
	json, quick                 bool
	columns, separator, decimal string
	header                      int
	target, tolerance, gauge    quantity.Of[quantity.Length]
	length, over, inlet, print  quantity.Of[quantity.Length]
	roller                      quantity.Of[quantity.Length]
	speed                       quantity.Of[quantity.Speed]
	screw                       quantity.Of[quantity.Rotation]
}

// readTraceFlags reads the flags and the name of the file. A message is returned for
// what was refused, or an empty one.
func readTraceFlags(words *wording.Words, args []string) (f traceFlags, file, message string) {
	set := flags("trace")
	set.BoolVar(&f.json, "json", false, "")
	set.BoolVar(&f.quick, "quick", false, "")
	set.StringVar(&f.columns, "columns", "", "")
	set.StringVar(&f.separator, "separator", "", "")
	set.StringVar(&f.decimal, "decimal", "", "")
	set.IntVar(&f.header, "header", -1, "")
	take := quantityFlags{set: set, words: words, message: &message}
	for name, at := range map[string]*quantity.Of[quantity.Length]{
		"target": &f.target, "tolerance": &f.tolerance, "gauge": &f.gauge, "length": &f.length,
		"over": &f.over, "inlet": &f.inlet, "print": &f.print, "roller": &f.roller,
	} {
		quantityFlag(take, name, at)
	}
	quantityFlag(take, "speed", &f.speed)
	quantityFlag(take, "screw", &f.screw)
	if err := set.Parse(args); err != nil || set.NArg() != 1 {
		if message == "" {
			message = words.Text("cli.trace_usage")
		}
		return f, "", message
	}
	if f.separator != "" && trace.SeparatorNamed(f.separator) == 0 || f.decimal != "" && !slices.Contains(trace.DecimalNames(), f.decimal) {
		return f, "", words.Text("cli.trace_usage")
	}
	return f, set.Arg(0), ""
}

// quantityFlags is where flags that are quantities are read.
type quantityFlags struct {
	set     *flag.FlagSet
	words   *wording.Words
	message *string
}

func quantityFlag[D quantity.Dim](take quantityFlags, name string, at *quantity.Of[D]) {
	take.set.Func(name, "", func(text string) error {
		q, err := quantity.Parse[D](text)
		if err != nil {
			*take.message = take.words.Say("cli.trace_flag", map[string]any{"Flag": name, "Why": take.words.Error(err)})
			return err
		}
		*at = q
		return nil
	})
}

// asked is what the log is held against.
func (f *traceFlags) asked() bench.TraceAsked {
	a := bench.TraceAsked{
		NominalM: si(f.target), ToleranceM: si(f.tolerance), SpeedMS: si(f.speed), LengthM: si(f.length),
		GaugeM: si(f.gauge), OverM: si(f.over), InletM: si(f.inlet), PrintM: si(f.print), Bound: true,
	}
	a.Turning = bench.TurningParts(si(f.screw), si(f.roller), a.SpeedMS)
	return a
}

func si[D quantity.Dim](q quantity.Of[D]) float64 {
	e, _ := q.Estimate()
	return e.Value
}

// traceLog reads the log of a gauge.
func traceLog(words *wording.Words, args []string) int {
	f, path, message := readTraceFlags(words, args)
	if message != "" {
		fmt.Fprintln(os.Stderr, message)
		return misused
	}
	file, err := os.Open(path)
	if err != nil {
		return refuse(words, err)
	}
	defer file.Close()
	layout, typical, message, err := f.layout(words, file)
	if err != nil {
		return refuse(words, err)
	}
	if message != "" {
		fmt.Fprintln(os.Stderr, message)
		return misused
	}
	asked := f.asked()
	low, high := asked.Limits()
	how := trace.Reading{TypicalM: typical, Progress: progressOf(words, file)}
	s, err := trace.Summarise(context.Background(), trace.Text(file), layout, how, trace.Wanted{LowM: low, HighM: high, Quick: f.quick})
	if err != nil {
		return refuse(words, err)
	}
	sheet := bench.NewTraceSheet(s, asked, f.quick)
	if f.json {
		err = report.TraceJSON(os.Stdout, path, layout, sheet, words)
	} else {
		err = report.TraceTable(os.Stdout, path, layout, sheet, words)
	}
	if err != nil {
		return refuse(words, err)
	}
	return fine
}

// layout is the guess from the beginning of the log, with what the flags say.
func (f *traceFlags) layout(words *wording.Words, file io.ReadSeeker) (l trace.Layout, typicalM float64, message string, err error) {
	piece, err := trace.FirstPiece(file)
	if err != nil {
		return l, 0, "", err
	}
	fixed := trace.Fixed{Separator: trace.SeparatorNamed(f.separator), Header: f.header}
	if f.decimal != "" {
		comma := f.decimal == trace.DecimalComma
		fixed.Comma = &comma
	}
	if f.columns != "" {
		if fixed.Columns = readColumns(f.columns); fixed.Columns == nil {
			return l, 0, words.Say("cli.trace_columns", map[string]any{"Text": f.columns, "Roles": roleNames()}), nil
		}
	}
	g, err := trace.GuessWith(piece, fixed)
	if err != nil {
		return l, 0, "", err
	}
	if g.Doubt != trace.NoDoubt {
		fmt.Fprintln(os.Stderr, words.Text("trace.doubt."+g.Doubt.Key()))
		if g.Doubt.Stops() {
			return l, 0, words.Text("cli.trace_usage"), nil
		}
	}
	return g.Layout, g.TypicalM, "", nil
}

// readColumns reads roles with their units; nil for what is none.
func readColumns(text string) []trace.Column {
	var out []trace.Column
	for part := range strings.SplitSeq(text, ",") {
		role, unit, _ := strings.Cut(strings.TrimSpace(part), ":")
		c, ok := trace.NewColumn(role, unit)
		if !ok {
			return nil
		}
		out = append(out, c)
	}
	if !(trace.Layout{Separator: ';', Columns: out}).Readable() {
		return nil
	}
	return out
}

func roleNames() string {
	var names []string
	for _, r := range trace.Roles() {
		names = append(names, string(r))
	}
	return strings.Join(names, ", ")
}

// progressOf says on the standard error how far a long log is read, once a second
// from the second second on.
func progressOf(words *wording.Words, file *os.File) func(int64) {
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	const mb = 1 << 20
	last := time.Now()
	return func(done int64) {
		if time.Since(last) < time.Second {
			return
		}
		last = time.Now()
		fmt.Fprintln(os.Stderr, words.Say("cli.trace_progress", map[string]any{"Done": int(done / mb), "All": int(info.Size() / mb)}))
	}
}
