package pane

import (
	"fmt"
	"image/color"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// runClock is the clock of the runs. It goes for the run in which it was started, whatever
// run is shown, and goes on from where it stood. When it was started is known to the
// window only: what it says goes into the document with each event.
type runClock struct {
	run     int // that it goes for
	started time.Time
	running bool
	before  map[int]time.Duration // on the clock of each run while it stands
	runs    int                   // of the document, when last looked at
	stop    func()
	shown   *control.Text
	button  *widget.Button
	buttons []*widget.Button // that write events; pressed only while it runs
}

// clock is the time since the start, large, with the button that starts and stops it.
func (p *Line) clock() fyne.CanvasObject {
	c := &p.time
	c.shown = control.NewText("", control.Plain)
	c.shown.SizeName = theme.SizeNameHeadingText
	c.button = widget.NewButton("", func() {
		if c.goesFor(p.runs.at) {
			c.halt(p.desk.Now())
		} else {
			p.startClock(p.runs.at)
		}
		p.tell()
	})
	p.tell()
	return container.NewBorder(nil, nil, nil, c.button, c.shown)
}

// goesFor reports that the clock runs, for a run.
func (c *runClock) goesFor(run int) bool { return c.running && c.run == run }

// at is what the clock of a run shows.
func (c *runClock) at(run int, now time.Time) time.Duration {
	if c.goesFor(run) {
		return c.before[run] + now.Sub(c.started)
	}
	return c.before[run]
}

// startClock lets the clock go for a run: from where it stood, and not before the last event.
// A clock that goes for another run is stopped.
func (p *Line) startClock(run int) {
	c := &p.time
	now := p.desk.Now()
	c.halt(now)
	if c.before == nil {
		c.before = map[int]time.Duration{}
	}
	for _, e := range p.runs.shown(run).Events {
		c.before[run] = max(c.before[run], time.Duration(e.Time.SI()*float64(time.Second)))
	}
	c.run, c.started, c.running = run, now, true
	c.stop = p.desk.Tick(p.tell)
}

// halt stops the clock; what it shows stays.
func (c *runClock) halt(now time.Time) {
	if c.running {
		c.before[c.run] = c.at(c.run, now)
	}
	c.running = false
	if c.stop != nil {
		c.stop()
		c.stop = nil
	}
}

// follow forgets what was on the clocks when a run was taken out: the others have other
// numbers now.
func (c *runClock) follow(runs int, now time.Time) {
	if runs < c.runs {
		c.halt(now)
		c.before = nil
	}
	c.runs = runs
}

// tell shows the time on the clock of the run that is shown.
func (p *Line) tell() {
	c := &p.time
	if c.shown == nil {
		return
	}
	run := p.runs.at
	text := clockText(c.at(run, p.desk.Now()))
	if c.running && c.run != run {
		text = p.words().Say("pane.line.clock_elsewhere", map[string]any{"Time": text, "Run": p.runName(c.run)})
	}
	c.shown.SetText(text)
	label := "pane.line.start_clock"
	if c.goesFor(run) {
		label = "pane.line.stop_clock"
	}
	if c.button != nil && c.button.Text != p.text(label) {
		c.button.SetText(p.text(label))
	}
	for _, b := range c.buttons {
		if c.goesFor(run) == b.Disabled() {
			if b.Disabled() {
				b.Enable()
			} else {
				b.Disable()
			}
		}
	}
}

// clockText is a time as a clock shows it: 1:02:03.
func clockText(d time.Duration) string {
	s := int(d.Round(time.Second) / time.Second)
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}

// eventButtons write an event with the time on the clock, a large one for each kind.
func (p *Line) eventButtons(run int) fyne.CanvasObject {
	const columns = 2
	p.time.buttons = nil
	grid := container.NewGridWithColumns(columns)
	for _, kind := range project.EventKinds() {
		b := widget.NewButton(figure.EventName(kind, p.words()), func() { p.event(run, kind) })
		b.Importance = widget.HighImportance
		p.time.buttons = append(p.time.buttons, b)
		tall := canvas.NewRectangle(color.Transparent)
		tall.SetMinSize(fyne.NewSize(0, 1.5*b.MinSize().Height)) // to be hit with gloves on
		grid.Add(container.NewStack(tall, b))
	}
	p.tell()
	return grid
}

// event writes what happened now, behind all that happened before. A stop stops the clock.
func (p *Line) event(run int, kind project.EventKind) {
	minutes := p.time.at(run, p.desk.Now()).Minutes()
	at := quantity.FromSI[quantity.Duration](60*minutes, "min", 2)
	_ = p.desk.Edit(figure.EventName(kind, p.words()), fmt.Sprintf("/line/runs/%d/events", run), func(d *project.Project) error {
		if run < len(d.Line.Runs) {
			r := &d.Line.Runs[run]
			behind := slices.IndexFunc(r.Events, func(e project.RunEvent) bool { return e.Time.SI() > at.SI() })
			if behind < 0 {
				behind = len(r.Events)
			}
			r.Events = slices.Insert(slices.Clone(r.Events), behind, project.RunEvent{Time: at, Kind: kind})
		}
		return nil
	}) // an event at a time of a clock is a valid one
	if kind == project.Stopped {
		p.time.halt(p.desk.Now())
		p.tell()
	}
}

// stable is how long after the new material the colour was stable, by the events of a run.
func (p *Line) stable(run int) (duration, bool) {
	var begin, end float64
	begun, ended := false, false
	for _, e := range p.runs.shown(run).Events {
		t, given := e.Time.Estimate()
		switch {
		case !given:
		case e.Kind == project.NewMaterial:
			begin, begun, ended = t.Value, true, false
		case e.Kind == project.ColourStable && begun && t.Value > begin:
			end, ended = t.Value, true
		}
	}
	if !ended {
		return duration{}, false
	}
	return quantity.FromSI[quantity.Duration](end-begin, "min", 1), true
}

// stableWords say when the colour was stable.
func (p *Line) stableWords(run int) []string {
	after, known := p.stable(run)
	if !known {
		return nil
	}
	return []string{p.words().Say("pane.line.stable_by_run", map[string]any{"Time": after})}
}

// useStable takes the time of a stable colour over into the changes.
func (p *Line) useStable(run int) fyne.CanvasObject {
	button := widget.NewButton(p.text("pane.line.use_stable"), func() {
		if after, known := p.stable(run); known {
			_ = p.desk.Edit(p.text("pane.line.use_stable"), "/line/changes/stable_after", func(d *project.Project) error {
				d.Line.Changes.StableAfter = after
				return nil
			}) // a time above none is a valid one
		}
	})
	box := container.NewHBox(button)
	p.remarks = append(p.remarks, func() {
		_, known := p.stable(run)
		if box.Hidden == known {
			box.Hidden = !known
			box.Refresh()
		}
	})
	return box
}
