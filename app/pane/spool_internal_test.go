package pane

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// logDesk has a folder with logs, of which one is chosen.
type logDesk struct {
	fakeDesk
	files  map[string]string
	chosen string
	passed time.Duration
	tick   func()
	held   *heldRunner // instead of doing work at once
}

// heldRunner does its work when it is told to.
type heldRunner struct {
	wait func() (done func())
}

func (r *heldRunner) Go(work func(context.Context, func(float64)) func()) (cancel func()) {
	r.wait = func() func() { return work(context.Background(), func(float64) {}) }
	return func() {}
}

func (d *logDesk) Runner(func(float64, bool)) control.Runner {
	if d.held != nil {
		return d.held
	}
	return control.Immediate{}
}

func (d *logDesk) Now() time.Time { return d.fakeDesk.Now().Add(d.passed) }

func (d *logDesk) Tick(every func()) (stop func()) {
	d.tick = every
	return func() { d.tick = nil }
}

// second lets a second pass.
func (d *logDesk) second() {
	d.passed += time.Second
	if d.tick != nil {
		d.tick()
	}
}

func (d *logDesk) OpenPath(_ string, _ []string, take func(string)) { take(d.chosen) }

func (d *logDesk) Beside(path string) string { return strings.TrimPrefix(path, "/home/") }

type seekable struct{ *bytes.Reader }

func (seekable) Close() error { return nil }

func (d *logDesk) OpenBeside(name string) (io.ReadSeekCloser, error) {
	text, there := d.files[name]
	if !there {
		return nil, fs.ErrNotExist
	}
	return seekable{bytes.NewReader([]byte(text))}, nil
}

// gaugeLog is a log of n readings with a lump.
func gaugeLog(n int) string {
	var b strings.Builder
	b.WriteString("t;d\n")
	for i := range n {
		d := 1.75 + 0.004*float64(i*7919%13-6)/6
		if i >= n/2 && i < n/2+5 {
			d = 2.1
		}
		fmt.Fprintf(&b, "%.1f;%.4f\n", 0.1*float64(i), d)
	}
	return b.String()
}

// newLogRig shows the Spool pane, with one spool in the ledger, at its log.
func newLogRig(t *testing.T, files map[string]string) (*logDesk, *Spool) {
	t.Helper()
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	p := project.New("EUR")
	p.Spool.Diameter, p.Spool.Tolerance = quantity.MustParse[quantity.Length]("1.75 mm"), quantity.MustParse[quantity.Length]("0.05 mm")
	p.Spool.Made = []project.MadeSpool{{Name: "S-1"}}
	desk := &logDesk{fakeDesk: fakeDesk{words: wording.New("en"), history: project.NewHistory(p, 64<<20)}, files: files}
	pane := NewSpool(desk)
	show := func() {
		d := desk.history.Peek()
		pane.Show(View{Project: d, Sheet: bench.Evaluate(d), Chosen: -1})
	}
	pane.section = sectionLog
	show()
	desk.history.OnChange(show)
	return desk, pane
}

// TestLogIsReadAndKept: choosing a file keeps its place, how it is written and what it says;
// one undo takes the record back, another the file.
func TestLogIsReadAndKept(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"logs/a.csv": gaugeLog(1000)})
	assert.Equal(t, []string{desk.words.Text("pane.spool.log_none")}, pane.log.state())
	desk.chosen = "/home/logs/a.csv"
	pane.askLog()
	kept := desk.history.Peek().Spool.Made[0].Trace
	assert.Equal(t, "logs/a.csv", kept.File)
	assert.Len(t, kept.SHA256, 64)
	assert.Equal(t, 1000, kept.Summary.Readings)
	assert.Equal(t, "semicolon", kept.Separator)
	assert.Equal(t, []project.TraceColumn{{Role: "time", Unit: "s"}, {Role: "diameter", Unit: "mm"}}, kept.Columns)
	assert.Equal(t, 1, kept.Summary.LumpCount)
	assert.Contains(t, pane.log.state()[0], "a.csv: read, and kept")
	assert.False(t, pane.log.mayKeep())
	assert.Contains(t, pane.lumpText(pane.sheetOfLog(), 0), "wider than the inlet")
	desk.history.Undo()
	assert.Zero(t, desk.history.Peek().Spool.Made[0].Trace.Summary.Readings)
	assert.True(t, pane.log.mayKeep(), "it can be kept again")
	desk.history.Undo()
	assert.Empty(t, desk.history.Peek().Spool.Made[0].Trace.File)
}

// TestLogThatIsMissingOrChanged is said, and what was kept of it still shows.
func TestLogThatIsMissingOrChanged(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": gaugeLog(1000)})
	desk.chosen = "/home/a.csv"
	pane.askLog()
	again := func() { // as when the project is opened another day
		pane.log.key = ""
		pane.Show(pane.view)
	}
	delete(desk.files, "a.csv")
	again()
	assert.Contains(t, pane.log.state()[0], "What it said is kept")
	sheet := pane.sheetOfLog()
	require.NotNil(t, sheet)
	assert.EqualValues(t, 1000, sheet.Summary.Readings)
	assert.Nil(t, pane.log.levels(), "its picture needs the file")
	assert.NotEmpty(t, pane.logFacts())

	desk.files["a.csv"] = gaugeLog(2000)
	again()
	assert.Contains(t, pane.log.state()[0], "another file")
	require.True(t, pane.log.mayKeep())
	pane.log.keep()
	assert.Equal(t, 2000, desk.history.Peek().Spool.Made[0].Trace.Summary.Readings)
	assert.Contains(t, pane.log.state()[0], "read, and kept")
}

// TestLogOfAnotherUnitIsCorrected: what was guessed wrongly is changed in the table of
// columns, the log read again, and kept when the maker says so.
func TestLogOfAnotherUnitIsCorrected(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": gaugeLog(500)})
	desk.chosen = "/home/a.csv"
	pane.askLog()
	require.NoError(t, desk.Edit("", "", func(d *project.Project) error {
		d.Spool.Made[0].Trace.Columns = []project.TraceColumn{{Role: "position", Unit: "m"}, {Role: "diameter", Unit: "mm"}}
		return nil
	}))
	assert.Contains(t, pane.log.state()[0], "in another way")
	sheet := pane.sheetOfLog()
	assert.InDelta(t, 49.9, sheet.Figures[bench.TraceLength].Value, 1e-6)
	pane.log.keep()
	assert.Equal(t, "metre", desk.history.Peek().Spool.Made[0].Trace.Summary.Axis)
}

// TestLogOfAnotherSpoolIsNotKeptInstead: when the maker goes to another spool while a log is
// read, nothing of that spool's record changes.
func TestLogOfAnotherSpoolIsNotKeptInstead(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": gaugeLog(500), "b.csv": gaugeLog(700)})
	desk.held = &heldRunner{}
	require.NoError(t, desk.Edit("", "", func(d *project.Project) error {
		d.Spool.Made = append(d.Spool.Made, project.MadeSpool{Name: "S-2", Trace: project.Trace{File: "b.csv", Summary: project.TraceSummary{Readings: 600}}})
		return nil
	}))
	desk.chosen = "/home/a.csv"
	pane.askLog()
	first := desk.held.wait
	pane.made.at = 1
	pane.Show(pane.view)
	desk.held.wait()() // that of the other spool
	first()()
	assert.Equal(t, 600, desk.history.Peek().Spool.Made[1].Trace.Summary.Readings, "kept as it was")
	assert.Contains(t, pane.log.state()[0], "something else than what the project keeps")
	pane.made.at = 0
	pane.Show(pane.view)
	desk.held.wait()()
	assert.Equal(t, 500, desk.history.Peek().Spool.Made[0].Trace.Summary.Readings, "what was chosen is kept when it is shown again")
}

// TestLogThatIsNone is refused with what was found and what is wanted.
func TestLogThatIsNone(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": "Dear all\n", "b.csv": "", "c.csv": "\x00\x01"})
	for file, says := range map[string]string{"a.csv": "Dear all", "b.csv": "empty", "c.csv": "no text file"} {
		desk.chosen = "/home/" + file
		pane.askLog()
		assert.Contains(t, strings.Join(pane.log.state(), " "), says)
		assert.Zero(t, desk.history.Peek().Spool.Made[0].Trace.Summary.Readings)
	}
}

// TestPicturesFollowTheLog: all three are drawn anew when a log was read.
func TestPicturesFollowTheLog(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": gaugeLog(1000)})
	win := test.NewTempWindow(t, pane.Object())
	win.Resize(fyne.NewSize(1200, 700))
	for _, d := range []*drawn{pane.log.strand, pane.log.often, pane.log.waves} {
		d.view.Image()
		require.Empty(t, d.layout.Panels)
	}
	desk.chosen = "/home/a.csv"
	pane.askLog()
	for i, d := range []*drawn{pane.log.strand, pane.log.often, pane.log.waves} {
		d.view.Image()
		assert.NotEmpty(t, d.layout.Panels, "picture %d", i)
	}
}

// TestPictureOfALogZoomsAndMoves by wheel, drag and keys, and never leaves the log.
func TestPictureOfALogZoomsAndMoves(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": gaugeLog(1000)})
	desk.chosen = "/home/a.csv"
	pane.askLog()
	win := test.NewTempWindow(t, pane.Object())
	win.Resize(fyne.NewSize(1200, 700))
	pane.log.strand.view.Image()
	v := &pane.log
	all := v.levels().Span()
	assert.Equal(t, all, v.view)
	area := v.strand.layout.Panels[0].Area
	middle := control.Pixel{X: (area.X0 + area.X1) / 2, Y: area.Y0 + 5}
	v.zoomAt(middle, 1)
	assert.InDelta(t, (all.To-all.From)/zoomStep, v.view.To-v.view.From, 1e-6)
	assert.InDelta(t, (all.To+all.From)/2, (v.view.To+v.view.From)/2, 0.2)
	before := v.view
	v.drag(area.W() / 10)
	assert.InDelta(t, before.From-0.1*(before.To-before.From), v.view.From, 1e-6, "what is drawn follows the pointer")
	for range 50 {
		v.typedKey(fyne.KeyLeft)
	}
	assert.Equal(t, all.From, v.view.From)
	for range 100 {
		v.typedRune('+')
	}
	assert.Positive(t, v.view.To-v.view.From)
	v.typedKey(fyne.KeyHome)
	assert.Equal(t, all, v.view)
	v.typedKey(fyne.KeyPageDown)
	assert.Zero(t, v.selected)
	lump := v.sheet().Lumps[0]
	assert.True(t, v.view.From < lump.From && lump.To < v.view.To)
	assert.Less(t, v.view.To-v.view.From, (all.To-all.From)/5)
	v.typedKey(fyne.KeyHome)
	v.strand.view.Image()
	for _, target := range v.strand.layout.Targets {
		v.tap(control.Pixel{X: (target.Box.X0 + target.Box.X1) / 2, Y: (target.Box.Y0 + target.Box.Y1) / 2})
	}
	assert.Zero(t, v.selected, "the mark of the lump was under the pointer")
}

// TestLogIsFollowedWhileItGrows: from an empty file on, with alarms, until the maker stops;
// then it is read whole.
func TestLogIsFollowedWhileItGrows(t *testing.T) {
	desk, pane := newLogRig(t, map[string]string{"a.csv": ""})
	require.NoError(t, desk.Edit("", "", func(d *project.Project) error {
		d.Spool.Made[0].Trace.Speed = quantity.MustParse[quantity.Speed]("2.7 m/min")
		return nil
	}))
	desk.chosen = "/home/a.csv"
	pane.askLog()
	f := &pane.log.follow
	f.begin()
	state := func() string { return strings.Join(f.state(), " ") }
	assert.Contains(t, state(), "Waiting for the first readings")
	delete(desk.files, "a.csv")
	desk.second()
	assert.Contains(t, state(), "The file is not there")
	all := gaugeLog(1000)
	half := strings.Index(all, "40.0;")
	desk.files["a.csv"] = all[:half]
	desk.second() // how it is written is found
	desk.second()
	assert.Contains(t, state(), "The log grows")
	require.NotNil(t, f.live)
	assert.EqualValues(t, 400, f.live.Live.Readings)
	assert.InDelta(t, 39.9*2.7/60, f.live.Wound.Value, 1e-6)
	assert.Empty(t, f.live.Live.Alarms)
	desk.files["a.csv"] = all
	desk.second()
	assert.Contains(t, state(), "out of tolerance, 2.1 mm")
	assert.Contains(t, state(), "lump or thin spot")
	assert.NotEmpty(t, f.alarm(), "large, for a minute")
	assert.NotEmpty(t, f.picture().Panels)
	for range 70 {
		desk.second()
	}
	assert.Contains(t, state(), "Nothing has come since")
	assert.Empty(t, f.alarm())
	desk.files["a.csv"] = all[:half/2]
	desk.second()
	assert.Contains(t, state(), "became shorter")
	desk.files["a.csv"] = all
	f.end()
	pane.Show(pane.view)
	assert.Nil(t, desk.tick)
	assert.EqualValues(t, 1000, pane.sheetOfLog().Summary.Readings)
}
