package shell

import (
	"context"
	"runtime"
	"time"

	"fillwright/app/control"
	"fillwright/app/pane"
	"fillwright/internal/bench"
)

// draws is the Monte Carlo method at work beside the window: it follows every change, and
// puts its intervals in the place of those of first order when it has them.
type draws struct {
	runner  control.Runner // nil where nothing is drawn: in tests
	cancel  func()
	state   pane.Draws
	stopped bool // by the user, until the next change of the document
}

// drawsAfter is how long the window rests before it begins to draw: while somebody types
// nothing is gained by it.
const drawsAfter = 400 * time.Millisecond

// startDraws draws the blend at work anew, unless that was done for this sheet.
func (b *Workbench) startDraws() {
	d := &b.draws
	chosen := b.view().Chosen
	if d.runner == nil || chosen < 0 {
		return
	}
	d.stop()
	d.state = pane.Draws{}
	if b.sheet.Blends[chosen].Draws > 0 {
		d.state = pane.Draws{Draws: b.sheet.Blends[chosen].Draws}
		return
	}
	if d.stopped {
		return
	}
	job := drawJob{sheet: b.sheet, blend: chosen, wait: drawsAfter, drawing: bench.Drawing{
		Draws: b.session.history.Peek().Loading.Draws, Seed: bench.SeedOf(b.session.history.Peek()), Cores: max(1, runtime.NumCPU()-1),
	}}
	if b.immediate {
		job.wait = 0
	}
	d.state = pane.Draws{Running: true}
	d.cancel = d.runner.Go(func(ctx context.Context, progress func(float64)) func() {
		drawn, ok := job.run(ctx, progress)
		if !ok {
			return nil
		}
		return func() { b.takeDraws(job.sheet, drawn) }
	})
}

// drawJob is what is drawn for one blend of one sheet.
type drawJob struct {
	sheet   *bench.Sheet
	blend   int
	wait    time.Duration
	drawing bench.Drawing
}

type drawn struct {
	figures bench.FigureDraws
	limits  *bench.LimitDraws
}

// run draws figures, then limits; false when it was cancelled.
func (j drawJob) run(ctx context.Context, progress func(float64)) (out drawn, ok bool) {
	select {
	case <-ctx.Done():
		return out, false
	case <-time.After(j.wait):
	}
	b, d := &j.sheet.Blends[j.blend], j.drawing
	d.Progress = func(done, most int) { progress(0.3 * float64(done) / float64(most)) }
	figures, err := j.sheet.Model.DrawFigures(ctx, j.blend, b.Results, d)
	if err != nil {
		return out, false
	}
	out.figures = figures
	if !b.Filled {
		return out, true
	}
	d.Progress = func(done, most int) { progress(0.3 + 0.65*float64(done)/float64(most)) }
	limits, err := j.sheet.DrawLimits(ctx, j.blend, d)
	if err != nil {
		return out, false
	}
	out.limits = &limits
	return out, true
}

// takeDraws shows what was drawn, unless the document has changed since.
func (b *Workbench) takeDraws(of *bench.Sheet, d drawn) {
	if of != b.sheet {
		return
	}
	b.sheet = of.WithFigures(d.figures)
	if d.limits != nil {
		b.sheet = b.sheet.WithLimits(*d.limits)
	}
	b.draws.state = pane.Draws{Draws: d.figures.Draws}
	b.showView()
}

// stop ends drawing; nothing that was drawn before is lost.
func (d *draws) stop() {
	if d.cancel != nil {
		d.cancel()
		d.cancel = nil
	}
	d.state.Running = false
}

// shown is what panes are told of the draws.
func (d *draws) shown() pane.Draws {
	state := d.state
	state.Off = d.runner == nil || d.stopped
	return state
}

// StopDraws implements pane.Desk.
func (b *Workbench) StopDraws() {
	b.draws.stopped = true
	b.draws.stop()
	b.showDraws()
}

// StartDraws implements pane.Desk.
func (b *Workbench) StartDraws() {
	b.draws.stopped = false
	b.startDraws()
	b.showDraws()
}

// showDraws tells rail and pane at work how far the draws are.
func (b *Workbench) showDraws() {
	if b.sheet != nil {
		b.sayMethod()
	}
	if p, is := b.current.(pane.DrawsShower); is {
		p.ShowDraws(b.draws.shown())
	}
}

// followDraws makes the runner of the draws.
func (b *Workbench) followDraws() {
	b.draws.runner = b.Runner(func(share float64, running bool) {
		b.draws.state.Share, b.draws.state.Running = share, running
		b.showDraws()
	})
}
