package pane

import (
	"context"
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/trace"
)

// logView is the log of the spool that is shown: the file as it was read, and its pictures.
type logView struct {
	pane   *Spool
	object *fyne.Container

	runner  control.Runner
	key     string // of what was read, or is being read
	running bool
	share   float64 // of the file that is read
	data    *bench.TraceData
	err     error
	keepFor string // the log that is kept as soon as it is read, "" for none

	shown    *bench.TraceSheet // of data, for the view that it was worked out for
	shownFor *bench.Sheet
	view     trace.Stretch // of the axis, that is in the picture
	selected int           // lump, -1 for none
	chooser  *control.SelectField

	strand, often, waves *drawn
	follow               follow
}

func newLogView(p *Spool) logView {
	v := logView{pane: p, selected: -1}
	v.strand = p.newDrawn(func(width int) figure.Picture {
		if p.log.follow.on() {
			return p.log.follow.picture()
		}
		return figure.Trace(p.log.sheet(), p.log.levels(), p.log.view, width, p.log.selected, p.words())
	}, control.PictureOptions{
		OnScroll: func(at control.Pixel, _, dy float64) { p.log.zoomAt(at, dy) },
		OnDrag:   func(_ control.Pixel, dx, _ float64) { p.log.drag(dx) },
		OnKey:    func(ev *fyne.KeyEvent) { p.log.typedKey(ev.Name) },
		OnRune:   func(r rune) { p.log.typedRune(r) },
		OnTapped: func(at control.Pixel) { p.log.tap(at) },
	})
	v.often = p.newDrawn(func(int) figure.Picture { return figure.TraceHistogram(p.log.sheet(), p.words()) }, control.PictureOptions{})
	v.waves = p.newDrawn(func(int) figure.Picture { return figure.TraceSpectrum(p.log.sheet(), p.words()) }, control.PictureOptions{})
	v.object = container.New(logLayout{}, v.strand.view, v.often.view, v.waves.view)
	return v
}

// logLayout puts the strand on top, and below it the waves with the histogram beside them.
type logLayout struct{}

const (
	strandShare = 0.56 // of the height
	oftenShare  = 0.40 // of the width, below
)

// Layout implements fyne.Layout.
func (logLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	top := float32(math.Round(float64(size.Height * strandShare)))
	right := float32(math.Round(float64(size.Width * oftenShare)))
	place := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	place(objects[0], 0, 0, size.Width, top)
	place(objects[2], 0, top, size.Width-right, size.Height-top)
	place(objects[1], size.Width-right, top, right, size.Height-top)
}

// MinSize implements fyne.Layout.
func (logLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(240, 240) }

func (v *logView) redraw() {
	for _, d := range []*drawn{v.strand, v.often, v.waves} {
		d.view.Invalidate()
	}
}

// keyOfLog changes when the log must be read again.
func (v *logView) keyOfLog() string {
	t := v.pane.traceOf()
	if t.File == "" {
		return ""
	}
	return v.keyWith(t)
}

func (v *logView) limits() (lowM, highM float64) {
	return bench.TraceAskedOf(v.pane.view.Project, v.pane.made.shown(v.pane.made.at), v.pane.view.Sheet).Limits()
}

// forget lets go of a log that is not the one shown any more.
func (v *logView) forget() {
	if v.key != v.keyOfLog() {
		v.data, v.err, v.shown, v.selected = nil, nil, nil, -1
	}
}

// load reads the log that is shown, if it was not read yet.
func (v *logView) load() {
	p := v.pane
	key := v.keyOfLog()
	if key == "" || key == v.key || p.section != sectionLog {
		return
	}
	if v.runner == nil {
		v.runner = p.desk.Runner(v.progress)
	}
	v.key, v.running, v.share = key, true, 0
	file, fixed := p.traceOf().File, bench.RecordedLayout(p.traceOf())
	low, high := v.limits()
	v.runner.Go(func(ctx context.Context, progress func(float64)) func() {
		data, err := readLog(ctx, p.desk, file, fixed, low, high, progress)
		return func() { v.done(key, data, err) }
	})
}

func readLog(ctx context.Context, desk Desk, file string, fixed trace.Fixed, low, high float64, progress func(float64)) (*bench.TraceData, error) {
	log, err := desk.OpenBeside(file)
	if err != nil {
		return nil, err
	}
	defer log.Close() // it was only read
	return bench.ReadTrace(ctx, log, fixed, low, high, progress)
}

// progress shows how far the file is read.
func (v *logView) progress(share float64, running bool) {
	v.share = share
	if running && v.running {
		v.pane.refresh()
	}
}

// done takes a log that was read.
func (v *logView) done(key string, data *bench.TraceData, err error) {
	if key != v.keyOfLog() {
		v.key, v.running = "", false // another one is shown by now
		return
	}
	v.running, v.data, v.err, v.shown, v.selected = false, data, err, nil, -1
	if err == nil && data.Levels.Readings() > 0 {
		v.view = data.Levels.Span()
	}
	v.pane.Show(v.pane.view)
	if v.keepFor == v.shownLog() {
		v.keep()
	}
}

// shownLog names the log that is shown.
func (v *logView) shownLog() string { return fmt.Sprint(v.pane.made.at, v.pane.traceOf().File) }

// keepWhenRead keeps what the log that is shown says as soon as it is known. Of another one
// nothing is kept, though it be read first.
func (v *logView) keepWhenRead() {
	v.keepFor = v.shownLog()
	if v.data != nil && !v.running {
		v.keep()
	}
}

// kept says how what the document keeps stands to the log.
func (v *logView) kept() bench.TraceKept {
	low, high := v.limits()
	return v.data.Kept(v.pane.traceOf(), low, high)
}

// mayKeep reports that the log says something else than what is kept of it.
func (v *logView) mayKeep() bool {
	return !v.running && v.err == nil && v.data != nil && v.data.Summary.Readings > 0 && v.kept() != bench.TraceKeptSame
}

// keep writes what the log says into the document.
func (v *logView) keep() {
	v.keepFor = ""
	if v.data == nil || v.err != nil {
		return
	}
	p, data := v.pane, v.data
	at := p.made.at
	low, high := v.limits()
	before, next := v.key, *p.traceOf()
	bench.RecordLayout(data.Layout, &next)
	v.key = v.keyWith(&next) // the document comes to say how the log was read: it need not be read again
	err := p.desk.Edit(p.text("edit.keep_log"), p.made.placeOf(at, "trace/file"), func(d *project.Project) error {
		t := &p.made.in(d, at).Trace
		if data.Summary.Readings == 0 {
			bench.RecordLayout(data.Layout, t)
			return nil
		}
		data.Keep(t, low, high)
		return nil
	})
	if err != nil {
		v.key = before
	}
}

// keyWith is keyOfLog for the log written in another way.
func (v *logView) keyWith(t *project.Trace) string {
	low, high := v.limits()
	return fmt.Sprint(t.File, t.Separator, t.Decimal, t.Header, t.Columns, low, high)
}

// written is how a log is written: as the document says or, where it does not, as was guessed.
func (v *logView) written(t *project.Trace) *project.Trace {
	if t.Separator != "" || v.data == nil {
		return t
	}
	guessed := *t
	bench.RecordLayout(v.data.Layout, &guessed)
	return &guessed
}

// settle writes the guess into the document where that says nothing yet, before one part
// of it is corrected.
func (v *logView) settle(t *project.Trace) *project.Trace {
	if t.Separator == "" && v.data != nil {
		bench.RecordLayout(v.data.Layout, t)
	}
	return t
}

func (v *logView) preview() []trace.PreviewRow {
	if v.data == nil {
		return nil
	}
	return v.data.Preview
}

// sample is what stands in a column of the log: its name and the first values.
func (v *logView) sample(column int) string {
	var parts []string
	for _, row := range v.preview() {
		if column < len(row.Cells) && len(parts) < 3 {
			parts = append(parts, row.Cells[column])
		}
	}
	return strings.Join(parts, " · ")
}

func (v *logView) levels() *trace.Levels {
	if v.data == nil || v.err != nil {
		return nil
	}
	return v.data.Levels
}

// sheet is what the log that was read says, nil without one.
func (v *logView) sheet() *bench.TraceSheet {
	p := v.pane
	if v.data == nil || v.err != nil || v.data.Summary.Readings == 0 || p.view.Project == nil {
		return nil
	}
	if v.shown == nil || v.shownFor != p.view.Sheet {
		asked := bench.TraceAskedOf(p.view.Project, p.made.shown(p.made.at), p.view.Sheet)
		asked.Bound = true
		v.shown = bench.NewTraceSheet(v.data.Summary, asked, false)
		v.shownFor = p.view.Sheet
	}
	return v.shown
}
