package pane

import (
	"context"
	"errors"
	"io/fs"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// follow reads a log while the line writes it, once a second.
type follow struct {
	view     *logView
	active   bool
	follower *trace.Follower // nil until enough is written to tell how
	layout   trace.Layout
	file     string
	runner   control.Runner
	reading  bool
	stop     func() // of the clock
	live     *bench.LiveSheet
	err      error
}

// on reports that a log is followed.
func (f *follow) on() bool { return f.active }

// button begins and ends following.
func (f *follow) button() *widget.Button {
	p := f.view.pane
	b := widget.NewButton("", nil)
	b.OnTapped = func() {
		if f.on() {
			f.end()
		} else {
			f.begin()
		}
		p.Show(p.view)
	}
	p.remarks = append(p.remarks, func() {
		text := "pane.spool.follow"
		if f.on() {
			text = "pane.spool.follow_end"
		}
		b.SetText(p.text(text))
	})
	return b
}

// begin follows the log that is shown, as it is written.
func (f *follow) begin() {
	v := f.view
	f.active, f.file = true, v.pane.traceOf().File
	f.follower, f.live, f.err, f.reading = nil, nil, nil, false
	if v.data != nil && v.err == nil && v.data.Summary.Readings > 0 {
		f.start(v.data.Layout, v.data.TypicalM)
	}
	if f.runner == nil {
		f.runner = v.pane.desk.Runner(nil)
	}
	f.stop = v.pane.desk.Tick(f.read)
	f.read()
}

// start makes the follower, now that it is known how the log is written.
func (f *follow) start(l trace.Layout, typicalM float64) {
	low, high := f.view.limits()
	f.layout, f.follower = l, trace.NewFollower(l, typicalM, low, high)
}

// end stops following; the log is read whole the next time that it is shown.
func (f *follow) end() {
	if f.stop != nil {
		f.stop()
	}
	f.active, f.follower, f.stop, f.live, f.err = false, nil, nil, nil, nil
	f.view.key = "" // it has grown
}

// read takes what came since the last second, unless that is still being read.
func (f *follow) read() {
	if f.reading || !f.on() {
		return
	}
	if f.view.pane.traceOf().File != f.file { // another spool is shown
		f.end()
		return
	}
	f.reading = true
	follower, desk, file := f.follower, f.view.pane.desk, f.file
	now, fixed := desk.Now(), bench.RecordedLayout(f.view.pane.traceOf())
	f.runner.Go(func(ctx context.Context, _ func(float64)) func() {
		log, err := desk.OpenBeside(file)
		if err != nil {
			return func() { f.took(nil, trace.Live{}, err) }
		}
		defer log.Close() // it was only read
		if follower == nil {
			data, err := bench.ReadTrace(ctx, log, fixed, 0, 0, nil)
			return func() { f.found(data, err) }
		}
		live, err := follower.Read(log, now)
		return func() { f.took(follower, live, err) }
	})
}

// found takes how the log is written, as soon as there is enough of it.
func (f *follow) found(data *bench.TraceData, err error) {
	f.reading, f.err = false, nil
	var nothing *trace.NothingRead
	switch {
	case !f.active:
		return
	case err == nil && data.Summary.Readings > 0:
		f.start(data.Layout, data.TypicalM)
	case err != nil && !errors.As(err, &nothing):
		f.err = err
	}
	f.view.pane.refresh()
}

// took shows what came.
func (f *follow) took(follower *trace.Follower, live trace.Live, err error) {
	f.reading = false
	if !f.active || follower != f.follower && err == nil {
		return
	}
	p := f.view.pane
	f.err = err
	if err == nil {
		asked := bench.TraceAskedOf(p.view.Project, p.made.shown(p.made.at), p.view.Sheet)
		f.live = bench.NewLiveSheet(live, f.layout.Axis(), asked, bench.FullLength(p.view.Sheet, p.made.at))
	}
	p.refresh()
	f.view.strand.view.Invalidate()
}

// picture is the last minutes.
func (f *follow) picture() figure.Picture {
	p := f.view.pane
	asked := bench.TraceAskedOf(p.view.Project, p.made.shown(p.made.at), p.view.Sheet)
	return figure.LiveTrace(f.live, f.layout.Axis(), asked, p.words())
}

// followTexts say what became of the file.
var followTexts = map[trace.FollowState]string{
	trace.Growing: "pane.spool.growing", trace.Waiting: "pane.spool.waiting", trace.StoppedAt: "pane.spool.stopped",
}

// anewTexts say why the file was begun anew.
var anewTexts = map[trace.Anew]string{trace.Shortened: "pane.spool.shortened", trace.Replaced: "pane.spool.replaced"}

// state says what became of the file, and the newest alarms.
func (f *follow) state() []string {
	p := f.view.pane
	switch {
	case !f.on():
		return nil
	case errors.Is(f.err, fs.ErrNotExist):
		return []string{p.text("pane.spool.follow_missing")}
	case f.err != nil:
		return []string{p.words().Error(f.err)}
	case f.live == nil:
		return []string{p.text("pane.spool.waiting")}
	}
	const clock = "15:04:05"
	live := &f.live.Live
	list := []string{p.words().Say(followTexts[live.State], map[string]any{"Time": live.Since.Format(clock)})}
	if live.Anew != "" {
		list = append(list, p.words().Say(anewTexts[live.Anew], map[string]any{"Time": live.AnewAt.Format(clock)}))
	}
	const most = 3
	for _, a := range live.Alarms[:min(len(live.Alarms), most)] {
		list = append(list, p.words().Say("pane.spool.alarm", map[string]any{
			"Time": a.Seen.Format(clock), "Kind": wording.ID("trace.alarm." + string(a.Kind)), "Diameter": wording.Number{Value: a.Diameter * 1e3, Unit: "mm", Digits: 4},
		}))
	}
	return list
}

// alarmFor is how long an alarm stands large.
const alarmFor = time.Minute

var alarmTexts = map[trace.AlarmKind]string{trace.AlarmOut: "pane.spool.alarm_out", trace.AlarmLump: "pane.spool.alarm_lump"}

// alarm is what must be seen from across the room: the strand is out of tolerance, or the
// newest alarm, for a minute.
func (f *follow) alarm() []string {
	p := f.view.pane
	switch {
	case !f.on() || f.live == nil:
		return nil
	case f.live.Live.Out:
		return []string{p.text("pane.spool.alarm_now")}
	case len(f.live.Live.Alarms) > 0 && p.desk.Now().Sub(f.live.Live.Alarms[0].Seen) < alarmFor:
		return []string{p.text(alarmTexts[f.live.Live.Alarms[0].Kind])}
	}
	return nil
}

// facts are what is told of the strand as it comes.
func (f *follow) facts() []fact {
	p := f.view.pane
	if !f.on() || f.live == nil {
		return nil
	}
	return []fact{
		p.factWith("pane.spool.now", f.live.Now, ""), p.factWith("pane.spool.drift", f.live.Drift, ""),
		p.factWith("pane.spool.wound", f.live.Wound, ""), p.factWith("pane.spool.to_full", f.live.ToFull, ""),
	}
}

// buildFollow is what is shown while the line runs.
func (f *follow) build() fyne.CanvasObject {
	p := f.view.pane
	large := control.NewText("", control.Danger)
	large.SizeName = theme.SizeNameHeadingText
	return section(p.text("pane.spool.following"), container.NewHBox(f.button()), p.following(large, f.alarm), p.lines(f.state), p.facts(f.facts))
}
