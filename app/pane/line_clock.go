package pane

import (
	"fmt"
	"image/color"
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

// runClock is the clock of a run. When it was started is known to the window only:
// what it says goes into the document with each event.
type runClock struct {
	started time.Time
	running bool
	stop    func()
	shown   *control.Text
	buttons []*widget.Button // that write events; pressed only while it runs
}

// clock is the time since the start, large, with the button that starts and stops it.
func (p *Line) clock() fyne.CanvasObject {
	c := &p.time
	c.shown = control.NewText("", control.Plain)
	c.shown.SizeName = theme.SizeNameHeadingText
	button := widget.NewButton("", nil)
	show := func() {
		button.SetText(p.text("pane.line.start_clock"))
		if c.running {
			button.SetText(p.text("pane.line.stop_clock"))
		}
		p.tell()
	}
	button.OnTapped = func() {
		if c.running {
			c.halt()
		} else {
			c.started, c.running = p.desk.Now(), true
			c.stop = p.desk.Tick(p.tell)
		}
		show()
	}
	show()
	return container.NewBorder(nil, nil, nil, button, c.shown)
}

// halt stops the clock.
func (c *runClock) halt() {
	c.running = false
	if c.stop != nil {
		c.stop()
		c.stop = nil
	}
}

// tell shows the time since the start.
func (p *Line) tell() {
	c := &p.time
	if c.shown == nil {
		return
	}
	text := p.text("pane.line.clock_stands")
	if c.running {
		text = clockText(p.desk.Now().Sub(c.started))
	}
	c.shown.SetText(text)
	for _, b := range c.buttons {
		if c.running == b.Disabled() {
			if c.running {
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

// event writes what happened now.
func (p *Line) event(run int, kind project.EventKind) {
	seconds := p.desk.Now().Sub(p.time.started).Round(time.Second).Seconds()
	at := quantity.FromSI[quantity.Duration](seconds, "s", 0)
	_ = p.desk.Edit(figure.EventName(kind, p.words()), fmt.Sprintf("/line/runs/%d/events", run), func(d *project.Project) error {
		if run < len(d.Line.Runs) {
			r := &d.Line.Runs[run]
			r.Events = append(r.Events, project.RunEvent{Time: at, Kind: kind})
		}
		return nil
	}) // an event at a time of a clock is a valid one
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
