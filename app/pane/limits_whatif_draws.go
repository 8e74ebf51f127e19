package pane

import (
	"context"
	"maps"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
)

// whatIfDraws are both sides of What if by the Monte Carlo method. They are worked out
// beside the window, and shown when both are there.
type whatIfDraws struct {
	runner control.Runner
	cancel func() // nil while nothing is drawn
	share  float64
	busy   bool
	asked  whatIfAsked // what both are, or will be, drawn for
	now    *bench.LimitSheet
	then   *bench.LimitSheet
}

// whatIfAsked is what limits are drawn for.
type whatIfAsked struct {
	model  *bench.Model
	blend  int
	levers bench.WhatIf
}

func (a whatIfAsked) same(b whatIfAsked) bool {
	return a.model == b.model && a.blend == b.blend && maps.Equal(a.levers, b.levers)
}

// whatIfUsualDraws is how many draws are made for each side: a slider waits for them (own
// judgement: they tell two digits).
const whatIfUsualDraws = 1 << 12

// asked is what is to be shown now.
func (p *Limits) asked() whatIfAsked {
	return whatIfAsked{p.view.Sheet.Model, p.view.Chosen, maps.Clone(p.whatIf.levers)}
}

// nowDrawn are the limits as they are if they were drawn: those of the sheet, which rest on
// more draws, before our own; else nil.
func (p *Limits) nowDrawn() *bench.LimitSheet {
	d := &p.whatIf.draws
	if s := p.sheet(); s.Method == bench.MonteCarlo {
		return s
	}
	if d.asked.model == p.view.Sheet.Model && d.asked.blend == p.view.Chosen {
		return d.now
	}
	return nil
}

// comparedDrawn are both sides as they were drawn; nil until both are.
func (p *Limits) comparedDrawn() (now, then *bench.LimitSheet) {
	d := &p.whatIf.draws
	now = p.nowDrawn()
	switch {
	case now == nil:
		return nil, nil
	case len(p.whatIf.levers) == 0:
		return now, now
	case d.then == nil || !d.asked.same(p.asked()):
		return nil, nil
	}
	return now, d.then
}

// drawWhatIf draws what is shown to first order, and gives up what is drawn for anything
// else.
func (p *Limits) drawWhatIf() {
	d, asked := &p.whatIf.draws, p.asked()
	_, then := p.comparedDrawn()
	wanted := then == nil && p.whatIfWanted()
	if wanted && d.busy && d.asked.same(asked) {
		return
	}
	p.stopWhatIf()
	if !wanted {
		return
	}
	if d.runner == nil {
		d.runner = p.desk.Runner(func(share float64, running bool) {
			d.share, d.busy = share, running
			p.bring()
		})
	}
	now := p.nowDrawn()
	d.asked, d.now, d.then = asked, now, nil
	job := whatIfJob{asked: asked, view: p.view, now: now}
	d.cancel = d.runner.Go(func(ctx context.Context, progress func(float64)) func() {
		now, then, ok := job.run(ctx, progress)
		if !ok {
			return nil
		}
		return func() { p.takeWhatIf(asked, now, then) }
	})
}

// whatIfWanted reports whether there is anything to draw.
func (p *Limits) whatIfWanted() bool {
	return p.section == sectionWhatIf && !p.view.Draws.Off && p.sheet().Known
}

// stopWhatIf gives up what is drawn.
func (p *Limits) stopWhatIf() {
	if d := &p.whatIf.draws; d.cancel != nil {
		d.cancel()
		d.cancel = nil
	}
}

// takeWhatIf shows both sides as they were drawn, unless others are asked for by now.
func (p *Limits) takeWhatIf(asked whatIfAsked, now, then *bench.LimitSheet) {
	if !asked.same(p.asked()) {
		return
	}
	d := &p.whatIf.draws
	d.now, d.then = now, then
	p.refresh()
}

// whatIfJob is what is drawn for both sides.
type whatIfJob struct {
	asked whatIfAsked
	view  View
	now   *bench.LimitSheet // nil where it is to be drawn too
}

// run draws one side after the other; false when it was cancelled.
func (j whatIfJob) run(ctx context.Context, progress func(float64)) (now, then *bench.LimitSheet, ok bool) {
	d := bench.Drawing{Draws: whatIfUsualDraws, Seed: bench.SeedOf(j.view.Project)}
	from := 0.0
	part := func(to float64) func(done, most int) {
		begin := from
		from = to
		return func(done, most int) { progress(begin + (to-begin)*float64(done)/float64(most)) }
	}
	var err error
	if now = j.now; now == nil {
		d.Progress = part(0.5)
		if now, err = (bench.WhatIf{}).Draw(ctx, j.view.Project, j.asked.blend, d); err != nil {
			return nil, nil, false
		}
	}
	if then = now; len(j.asked.levers) > 0 {
		d.Progress = part(1)
		if then, err = j.asked.levers.Draw(ctx, j.view.Project, j.asked.blend, d); err != nil {
			return nil, nil, false
		}
	}
	return now, then, true
}

// whatIfMethod says how both sides were found, and how far the draws are.
func (p *Limits) whatIfMethod() []string {
	now, then := p.compared()
	d := &p.whatIf.draws
	switch {
	case !now.Known:
		return nil
	case now.Method != bench.MonteCarlo && d.busy:
		return []string{p.words().Say("pane.limits.what_if_drawing", map[string]any{"Percent": int(100 * d.share)})}
	case now.Method != bench.MonteCarlo:
		return []string{p.text("pane.limits.what_if_first_order")}
	case then.Known && then.Draws != now.Draws:
		return []string{p.words().Say("pane.limits.what_if_drawn_both", map[string]any{"Draws": now.Draws, "Then": then.Draws})}
	}
	return []string{p.words().Say("pane.limits.what_if_drawn", map[string]any{"Draws": now.Draws})}
}

// unlifted leads to what could be measured where no single change helps.
func (p *Limits) unlifted() fyne.CanvasObject {
	ask := widget.NewButton(p.text("pane.limits.ask_measure"), func() { p.open(sectionMeasure) })
	all := []fyne.CanvasObject{p.lines(p.unliftedWords), container.NewHBox(ask)}
	column := control.NewColumn(4)
	column.Hidden = true
	p.remarks = append(p.remarks, func() {
		hidden := !p.view.Sheet.NoLift(p.view.Chosen)
		if hidden == column.Hidden {
			return
		}
		if column.Hidden = hidden; hidden {
			column.SetObjects()
			return
		}
		column.SetObjects(all...)
	})
	return column
}

// unliftedWords say why no single change helps, where that is known.
func (p *Limits) unliftedWords() []string {
	for _, a := range p.view.Sheet.CloseWords(p.view.Chosen) {
		return []string{p.words().Say(a.Message())}
	}
	return []string{p.text("pane.limits.no_lift")}
}
