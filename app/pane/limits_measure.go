package pane

import (
	"context"
	"errors"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// measureNext is the part that tells which measurement would help most.
type measureNext struct {
	target bench.Target
	asked  bool // target is set
	runner control.Runner
	cancel func()
	share  float64
	busy   bool
	of     bench.AdviceBasis // that the advice was drawn for
	blend  int
	shares *bench.Shares
	advice []bench.Advice // in the order of the times of the state that was seen last

	seen  *bench.Model // that was compared with the basis last
	holds bool
}

// mainTargets are the figures that can be asked for, besides the limits.
var mainTargets = []bench.Figure{
	bench.Density, bench.LengthPerSpool, bench.CostPerMetre, bench.MeltFlow, bench.ClogChancePerSpool, bench.PowderMoisture,
	bench.StrengthFlat, bench.StrengthUpright, bench.Modulus, bench.PullerSpeed,
}

// fresh reports whether the advice is that of the state that is shown. A time that was
// entered only changes the order.
func (n *measureNext) fresh(v View) bool {
	if n.shares == nil || n.blend != v.Chosen || n.shares.Target != n.target {
		return false
	}
	if n.seen != v.Sheet.Model {
		n.seen, n.holds = v.Sheet.Model, n.of.Holds(v.Project)
		if n.holds {
			bench.OrderAdvice(v.Project, n.advice)
		}
	}
	return n.holds
}

// buildMeasure is the target, the advice and what it rests on.
func (p *Limits) buildMeasure() []fyne.CanvasObject {
	if !p.next.asked { // the zero target is a figure
		p.next.asked, p.next.target = true, bench.Target{Limit: bench.TargetLeast}
	}
	choices := p.targets()
	offered := func(c control.Choice) bool { return c.Value == targetKey(p.next.target) }
	if len(choices) > 0 && !slices.ContainsFunc(choices, offered) { // it was of another blend
		p.next.target = p.targetOf(choices[0].Value)
	}
	target := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.limits.target"), Choices: choices, Value: func() string { return targetKey(p.next.target) },
		OnCommit: func(value string) error {
			p.next.target = p.targetOf(value)
			p.startMeasure()
			return nil
		},
	})
	return []fyne.CanvasObject{
		section(p.text("pane.limits.measure"), p.lines(p.measureWords), target, p.measureButtons()),
		section(p.text("pane.limits.advice"), control.NewCaption(p.text("pane.limits.advice_remark")), p.adviceTable()),
	}
}

func targetKey(t bench.Target) string {
	if t.Limit != "" {
		return string(t.Limit)
	}
	return "figure " + t.Figure.Key()
}

// targets are what can become more certain: the limits that are known, and the main figures.
func (p *Limits) targets() []control.Choice {
	var list []control.Choice
	for _, t := range p.sheet().Targets() {
		text := p.text("pane.limits.target_least")
		if t.Limit != bench.TargetLeast {
			text = p.text("limit." + string(t.Limit))
		}
		list = append(list, control.Choice{Value: targetKey(t), Text: text})
	}
	for _, f := range mainTargets {
		if results := p.view.Results(); results != nil && results.Result(f).Known() {
			t := bench.Target{Figure: f}
			list = append(list, control.Choice{Value: targetKey(t), Text: p.text("figure." + f.Key())})
		}
	}
	return list
}

func (p *Limits) targetOf(key string) bench.Target {
	for _, f := range mainTargets {
		if t := (bench.Target{Figure: f}); targetKey(t) == key {
			return t
		}
	}
	return bench.Target{Limit: bench.LimitID(key)}
}

// startMeasure draws shares and advice in the background.
func (p *Limits) startMeasure() {
	n := &p.next
	if n.runner == nil {
		n.runner = p.desk.Runner(func(share float64, running bool) {
			n.share, n.busy = share, running
			p.bring()
		})
	}
	v, target := p.view, n.target
	if v.Results() == nil {
		return
	}
	d, basis := bench.Drawing{Seed: bench.SeedOf(v.Project)}, bench.AdviceBasisOf(v.Project)
	n.cancel = n.runner.Go(func(ctx context.Context, progress func(float64)) func() {
		d.Progress = func(done, most int) { progress(0.8 * float64(done) / float64(most)) }
		shares, err := v.Sheet.Model.VarianceShares(ctx, v.Project, v.Chosen, []bench.Target{target}, d)
		if err != nil {
			return nil
		}
		d.Progress = nil
		advice, err := v.Sheet.Model.MeasureNext(ctx, v.Project, v.Chosen, shares[0], d)
		if err != nil {
			return nil
		}
		return func() {
			n.of, n.seen, n.blend, n.shares, n.advice = basis, nil, v.Chosen, &shares[0], advice
			p.refresh()
		}
	})
}

// stopMeasure ends drawing; what was told before stays.
func (p *Limits) stopMeasure() {
	if p.next.cancel != nil {
		p.next.cancel()
	}
}

// measureWords say what the advice is, or how far it is.
func (p *Limits) measureWords() []string {
	n := &p.next
	switch {
	case p.view.Results() == nil:
		return []string{p.text("pane.no_blend")}
	case n.busy:
		return []string{p.words().Say("pane.limits.drawing", map[string]any{"Percent": int(100 * n.share)})}
	case !n.fresh(p.view):
		return []string{p.text("pane.limits.measure_first")}
	case len(n.advice) == 0 && n.shares.Measurable():
		return []string{p.text("pane.limits.measure_little")}
	case len(n.advice) == 0:
		return []string{p.text("pane.limits.measure_nothing")}
	}
	return []string{p.adviceSaid(&n.advice[0])}
}

// adviceSaid is one measurement in a sentence.
func (p *Limits) adviceSaid(a *bench.Advice) string {
	return p.words().Say("pane.limits.advice_said", map[string]any{
		"Measure": p.text("measure." + string(a.Measure)), "Now": p.span(a.Now), "After": p.span(a.After),
	})
}

// span are the ends of a result with its unit.
func (p *Limits) span(r bench.Result) string {
	ends := bench.Result{Value: (r.Low + r.High) / 2, Low: r.Low, High: r.High, Unit: r.Unit}
	decimals := decimalsOf(ends)
	return whole(p.words().Say("pane.limits.span", map[string]any{
		"Low": p.fixed(r.Low, decimals), "High": p.fixed(r.High, decimals), "Unit": wording.Unit(r.Unit),
	}))
}

// measureButtons begin and end drawing.
func (p *Limits) measureButtons() fyne.CanvasObject {
	begin := widget.NewButton(p.text("pane.limits.measure_draw"), p.startMeasure)
	stop := widget.NewButton(p.text("pane.limits.measure_stop"), p.stopMeasure)
	p.remarks = append(p.remarks, func() {
		enable(begin, !p.next.busy)
		enable(stop, p.next.busy)
	})
	return container.NewHBox(begin, stop)
}

// adviceTable lists the measurements, best per hour first; the time can be changed.
func (p *Limits) adviceTable() fyne.CanvasObject {
	grid := control.NewGrid(control.GridOptions{
		ID: "/loading/efforts", Label: p.text("pane.limits.advice"), Empty: p.text("pane.limits.advice_none"), MaxRows: 8,
		Columns: []control.GridColumn{
			{Title: p.text("pane.limits.advice_measure"), Width: 190},
			{Title: p.text("pane.limits.advice_after"), Width: 110, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.limits.advice_share"), Width: 60, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.limits.advice_effort"), Width: 80, Align: fyne.TextAlignTrailing, Editable: true},
		},
		Rows:   func() int { return len(p.shownAdvice()) },
		Cell:   p.adviceCell,
		OnEdit: p.editEffort,
	})
	p.remarks = append(p.remarks, grid.Sync)
	return grid
}

// shownAdvice is the advice if it is that of the state that is shown.
func (p *Limits) shownAdvice() []bench.Advice {
	if !p.next.fresh(p.view) {
		return nil
	}
	return p.next.advice
}

func (p *Limits) adviceCell(row, col int) control.Cell {
	a := &p.shownAdvice()[row]
	switch col {
	case 0:
		return control.Cell{Text: p.text("measure_short." + string(a.Measure))}
	case 1:
		return control.Cell{Text: p.span(a.After)}
	case 2:
		return control.Cell{Text: p.words().Say("pane.limits.percent", map[string]any{"Share": digits(100*a.Total, "%", 2)}), State: control.CellMuted}
	}
	effort, entered := bench.EffortOf(p.view.Project, a.Measure)
	state := control.CellMuted
	if entered {
		state = control.CellNormal
	}
	return control.Cell{Text: p.effortText(effort), State: state}
}

// effortText is a time in minutes or hours.
func (p *Limits) effortText(d time.Duration) string {
	if d < 2*time.Hour {
		return p.words().Number(d.Minutes(), 3) + " min"
	}
	return p.words().Number(d.Hours(), 3) + " h"
}

// editEffort takes the time that a measurement takes; nothing lets the usual one stand again.
func (p *Limits) editEffort(row, _ int, text string) error {
	measure := p.shownAdvice()[row].Measure
	var effort quantity.Of[quantity.Duration]
	if text != "" {
		var err error
		if effort, err = parseLike(text, quantity.FromSI[quantity.Duration](60, "min", 0)); err != nil {
			return errors.New(p.words().Error(err))
		}
	}
	return p.edit("/loading/efforts", p.text("pane.limits.advice_effort"), func(d *project.Project) error {
		l := &d.Loading
		i := l.EffortOf(measure)
		switch {
		case i < 0:
			l.Efforts = append(l.Efforts, project.Effort{Measure: measure, Time: effort})
		default:
			l.Efforts[i].Time = effort
		}
		return nil
	})
}

// shownShares are the shares if they are those of the state that is shown; nil else.
func (p *Limits) shownShares() *bench.Shares {
	if !p.next.fresh(p.view) {
		return nil
	}
	return p.next.shares
}
