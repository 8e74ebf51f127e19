package pane

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// ShowDraws implements DrawsShower.
func (p *Limits) ShowDraws(d Draws) {
	p.view.Draws = d
	p.bring()
}

// bring brings what is said up to date, and no picture: it is called while something is
// drawn.
func (p *Limits) bring() {
	for _, bring := range p.remarks {
		bring()
	}
}

// drawsCard says how the intervals were found, and lets the draws be stopped.
func (p *Limits) drawsCard() fyne.CanvasObject {
	stop := widget.NewButton(p.text("pane.limits.draws_stop"), p.desk.StopDraws)
	begin := widget.NewButton(p.text("pane.limits.draws_begin"), p.desk.StartDraws)
	p.remarks = append(p.remarks, func() {
		d := p.view.Draws
		enable(stop, d.Running)
		enable(begin, !d.Running && d.Draws == 0)
	})
	seed := newNumber(&p.base, "/loading/seed", seedOf)
	draws := newNumber(&p.base, "/loading/draws", drawsOf)
	return section(p.text("pane.limits.intervals"), p.lines(p.drawsWords), container.NewHBox(begin, stop), control.NewPairs(8, draws, seed))
}

// enable lets a button be pressed, or not.
func enable(b *widget.Button, on bool) {
	switch {
	case on && b.Disabled():
		b.Enable()
	case !on && !b.Disabled():
		b.Disable()
	}
}

// drawsWords say whether the intervals are those of first order, how far the draws are, or
// how many they were.
func (p *Limits) drawsWords() []string {
	d := p.view.Draws
	switch {
	case d.Running:
		return []string{p.words().Say("pane.limits.draws_running", map[string]any{"Percent": int(100 * d.Share)})}
	case d.Draws > 0:
		return append([]string{p.words().Say("pane.limits.draws_done", map[string]any{"Draws": d.Draws})}, p.bentWords()...)
	}
	return []string{p.text("pane.limits.draws_none")}
}

// bentWords name the figures whose first-order interval would not have held, one to a line:
// their names have commas.
func (p *Limits) bentWords() []string {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	const most = 6
	var list []string
	for _, f := range bench.Figures() {
		if !results.Result(f).Bent || !results.Shows(f) {
			continue
		}
		if len(list) == most {
			list = append(list, "– "+p.text("pane.limits.bent_more"))
			break
		}
		list = append(list, "– "+p.text("figure."+f.Key()))
	}
	if len(list) == 0 {
		return nil
	}
	return append([]string{p.text("pane.limits.bent")}, list...)
}

func seedOf(d *project.Project) *int { return &d.Loading.Seed }

func drawsOf(d *project.Project) *int { return &d.Loading.Draws }
