package trace

import (
	"bytes"
	"context"
	"errors"
	"io"
	"sync"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// What Scan takes of a log at a time.
const (
	chunkBytes = 128 << 10
	mostLine   = 64 << 10
	readers    = 2 // of rows, at the same time
	shownFault = 20
)

// Block is a run of readings in the order of the log. It is filled anew for the
// next run, so whoever gets it keeps nothing of it.
type Block struct {
	At       []float64 // s, m or count of readings from the first one on; never falling
	Diameter []float64 // m
	Second   []float64 // m, on the second axis; empty without one
	Gap      []bool    // whether readings are missing before this one
}

// Line is a row that was left out.
type Line struct {
	Number int64 // of the line in the file, from 1
	Text   string
	Fault  Fault
}

// Count is what Scan met.
type Count struct {
	Bytes, Lines int64
	Readings     int64
	Left         [faults]int64 // rows left out, by fault
	Shown        []Line        // the first of those
	Gaps         int64
	Restarts     int64   // times that the axis fell back, as when a logger is started anew
	Step         float64 // mean distance of two readings along the axis, gaps left out
	Span         float64 // of the axis, gaps left out
	Missing      float64 // of the axis, in gaps
}

// LeftOut is how many rows were left out.
func (c Count) LeftOut() int64 {
	var n int64
	for _, k := range c.Left {
		n += k
	}
	return n
}

// Reading is how Scan is to go about it.
type Reading struct {
	TypicalM float64          // usual diameter; readings far from it are left out. 0: unknown, nothing is
	Progress func(done int64) // bytes read so far; may be nil
}

// NothingRead refuses a log without a single reading.
type NothingRead struct{ Count Count }

// Message hands the refusal to whoever renders texts.
func (e *NothingRead) Message() (id string, values map[string]any) {
	if e.Count.Lines == 0 {
		return "trace.empty", nil
	}
	text := ""
	if len(e.Count.Shown) > 0 {
		text = e.Count.Shown[0].Text
	}
	return "trace.nothing_read", map[string]any{"Lines": e.Count.Lines, "Text": text}
}

// Error is for logs; people read the text of the Message.
func (e *NothingRead) Error() string { return "trace: no row of the log is a reading" }

// NotText refuses a file that is none of text.
type NotText struct{}

// Message hands the refusal to whoever renders texts.
func (*NotText) Message() (id string, values map[string]any) { return "trace.not_text", nil }

// Error is for logs; people read the text of the Message.
func (*NotText) Error() string { return "trace: not a text" }

// Text makes plain bytes of a log's: UTF-8 without its mark, from UTF-16 where a
// mark says so.
func Text(r io.Reader) io.Reader {
	return transform.NewReader(r, unicode.BOMOverride(encoding.Nop.NewDecoder()))
}

// Scan reads a log from its beginning to its end and hands on its readings in
// blocks. Rows that cannot be read are counted and left out. Memory does not grow
// with the log. The error is that of the reader or of sink, the context's, a
// *NotText or a *NothingRead; the count holds what was met until then.
func Scan(ctx context.Context, from io.Reader, l Layout, how Reading, sink func(*Block) error) (Count, error) {
	ctx, cancel := context.WithCancel(ctx)
	s := &scanner{rows: newRowReader(l, how.TypicalM), header: l.Header, sink: sink}
	s.axis.kind = l.Axis()
	s.axis.wraps = clockWithoutDate(l)
	work, order := make(chan *chunk), make(chan *chunk, readers+1)
	free := make(chan *chunk, readers+4)
	for range cap(free) {
		free <- &chunk{text: make([]byte, 0, chunkBytes+mostLine), done: make(chan struct{}, 1)}
	}
	var wait sync.WaitGroup
	var readErr error
	wait.Go(func() { readErr = cutChunks(ctx, from, free, work, order, how.Progress) })
	for range readers {
		wait.Go(func() {
			for c := range work {
				c.parse(s.rows)
				c.done <- struct{}{}
			}
		})
	}
	err := s.takeAll(ctx, order, free)
	cancel()
	for range order { // so that nobody waits for a place
	}
	wait.Wait()
	if err == nil {
		err = readErr
	}
	s.count.Step, s.count.Span, s.count.Missing = s.axis.result()
	if err == nil && s.count.Readings == 0 {
		err = &NothingRead{Count: s.count}
	}
	return s.count, err
}

func clockWithoutDate(l Layout) bool {
	i := l.column(Time)
	return i >= 0 && l.Axis() == BySecond && l.Columns[i].Unit == Clock
}

// cutChunks reads pieces that end with a line, and hands each to a reader of rows
// and to whoever takes them in order.
func cutChunks(ctx context.Context, from io.Reader, free, work, order chan *chunk, progress func(int64)) error {
	defer close(work)
	defer close(order)
	var rest []byte
	var total int64
	whole := true // the piece before ended with a line
	for end := false; !end; {
		var c *chunk
		select {
		case c = <-free:
		case <-ctx.Done():
			return ctx.Err()
		}
		c.reset()
		c.continued = !whole
		c.text = append(c.text, rest...)
		start := len(c.text)
		n, err := io.ReadFull(from, c.text[start:start+chunkBytes])
		c.text = c.text[:start+n]
		total += int64(n)
		end = errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
		if err != nil && !end {
			return err
		}
		if bytes.IndexByte(c.text[start:], 0) >= 0 {
			return &NotText{}
		}
		rest = rest[:0]
		if !end {
			rest, whole = c.cutRest(rest)
		}
		c.bytes = int64(n)
		order <- c
		work <- c
		if progress != nil {
			progress(total)
		}
	}
	return nil
}

// scanner takes chunks in their order.
type scanner struct {
	rows   *rowReader
	header int // lines still to leave out
	axis   axis
	count  Count
	sink   func(*Block) error
}

func (s *scanner) takeAll(ctx context.Context, order, free chan *chunk) error {
	for c := range order {
		select {
		case <-c.done:
		case <-ctx.Done():
			return ctx.Err()
		}
		if err := s.take(c); err != nil {
			return err
		}
		free <- c
	}
	return ctx.Err()
}

func (s *scanner) take(c *chunk) error {
	skipped := c.dropHeader(s.header)
	s.header -= skipped
	for f, n := range c.left {
		s.count.Left[f] += n
	}
	for _, l := range c.shown {
		if len(s.count.Shown) < shownFault {
			l.Number += s.count.Lines
			s.count.Shown = append(s.count.Shown, l)
		}
	}
	s.count.Bytes += c.bytes
	s.axis.place(c, s.count.Lines, &s.count)
	s.count.Lines += c.lines
	s.count.Readings += int64(len(c.block.Diameter))
	if len(c.block.Diameter) == 0 {
		return nil
	}
	return s.sink(&c.block)
}
