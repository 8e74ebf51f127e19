package bench

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"

	"fillwright/internal/project"
	"fillwright/internal/trace"
)

// TraceData is a log as it was read: what it says, and what its picture needs.
type TraceData struct {
	Layout   trace.Layout
	Doubt    trace.Doubt
	TypicalM float64
	Preview  []trace.PreviewRow
	Summary  trace.Summary
	Levels   *trace.Levels
	SHA256   string
}

// previewRows are shown of a log's beginning.
const previewRows = 6

// ReadTrace reads a log by what is known of its layout, and by a guess from its beginning for
// the rest. Low and high are the limits of tolerance, both 0 without. Progress is told the share of size
// that is read, and may be nil. Where the rows cannot be read the data still hold layout
// and preview, for the maker to correct.
func ReadTrace(ctx context.Context, from io.ReadSeeker, fixed trace.Fixed, lowM, highM float64, progress func(share float64)) (*TraceData, error) {
	piece, err := trace.FirstPiece(from)
	if err != nil {
		return nil, err
	}
	g, err := trace.GuessWith(piece, fixed)
	if err != nil {
		return nil, err
	}
	d := &TraceData{Layout: g.Layout, Doubt: g.Doubt, TypicalM: g.TypicalM, Preview: trace.Preview(piece, g.Layout, g.TypicalM, previewRows), Levels: &trace.Levels{}}
	if g.Doubt.Stops() {
		return d, nil
	}
	return d, d.read(ctx, from, lowM, highM, progress)
}

// read goes through the whole log.
func (d *TraceData) read(ctx context.Context, from io.ReadSeeker, lowM, highM float64, progress func(share float64)) error {
	size, err := from.Seek(0, io.SeekEnd)
	if err != nil {
		return err
	}
	if _, err := from.Seek(0, io.SeekStart); err != nil {
		return err
	}
	sum := sha256.New()
	how := trace.Reading{TypicalM: d.TypicalM}
	if progress != nil {
		how.Progress = func(done int64) { progress(float64(done) / float64(max(size, 1))) }
	}
	a := trace.NewAnalysis(trace.Wanted{LowM: lowM, HighM: highM})
	defer a.Stop()
	count, err := trace.Scan(ctx, trace.Text(io.TeeReader(from, sum)), d.Layout, how, func(b *trace.Block) error {
		a.Add(b)
		d.Levels.Add(b)
		return nil
	})
	if err != nil {
		d.Summary.Count = count
		return err
	}
	d.Levels.Done()
	d.Summary = a.Summary(count, d.Layout.Axis())
	d.SHA256 = hex.EncodeToString(sum.Sum(nil))
	return nil
}

// TraceKept says how what the document keeps of a log stands to the log as it was read.
type TraceKept string

// How it stands.
const (
	TraceKeptNone  TraceKept = "none"  // nothing is kept yet
	TraceKeptSame  TraceKept = "same"  // it is what the log says
	TraceKeptFile  TraceKept = "file"  // the file is another one now
	TraceKeptOther TraceKept = "other" // the same file says something else: read in another way, or against other limits
)

// Kept compares what is kept of a log with the log.
func (d *TraceData) Kept(t *project.Trace, lowM, highM float64) TraceKept {
	now := RecordTrace(&d.Summary, lowM, highM)
	was := t.Summary
	switch {
	case was.Readings == 0:
		return TraceKeptNone
	case t.SHA256 != "" && t.SHA256 != d.SHA256:
		return TraceKeptFile
	case was.Readings != now.Readings || was.Mean != now.Mean || was.SD != now.SD || was.Out != now.Out || was.Axis != now.Axis || was.Low != now.Low || was.High != now.High:
		return TraceKeptOther
	default:
		return TraceKeptSame
	}
}

// Keep writes what the log says, and how it is written, into its place in the document.
func (d *TraceData) Keep(t *project.Trace, lowM, highM float64) {
	RecordLayout(d.Layout, t)
	t.SHA256 = d.SHA256
	t.Summary = RecordTrace(&d.Summary, lowM, highM)
}
