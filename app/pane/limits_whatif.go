package pane

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// whatIf is the part that tries other sieves, nozzles and the like. Nothing of it stands
// in the document until a blend is made of it.
type whatIf struct {
	levers bench.WhatIf
	of     *bench.Model // that both were worked out for, to first order
	blend  int
	now    *bench.LimitSheet
	then   *bench.LimitSheet
	draws  whatIfDraws

	sliders map[bench.Lever]*control.Stops
}

// compared are the limits as they are and with the levers elsewhere, both as they were
// drawn or both to first order: intervals that were drawn must not stand beside such that
// were not.
func (p *Limits) compared() (now, then *bench.LimitSheet) {
	if now, then = p.comparedDrawn(); then != nil {
		return now, then
	}
	w := &p.whatIf
	if w.now == nil || w.of != p.view.Sheet.Model || w.blend != p.view.Chosen {
		w.of, w.blend = p.view.Sheet.Model, p.view.Chosen
		w.now, w.then = bench.WhatIf{}.With(p.view.Project, p.view.Chosen), nil
	}
	if w.then == nil {
		w.then = w.now
		if len(w.levers) > 0 {
			w.then = w.levers.With(p.view.Project, p.view.Chosen)
		}
	}
	return w.now, w.then
}

// thenSheet are the limits with the levers elsewhere.
func (p *Limits) thenSheet() *bench.LimitSheet {
	_, then := p.compared()
	return then
}

// setLever puts a lever somewhere; where it stands anyway it is let go.
func (p *Limits) setLever(r bench.LeverRange, to float64) {
	if p.whatIf.levers == nil {
		p.whatIf.levers = bench.WhatIf{}
	}
	if to == r.Now {
		delete(p.whatIf.levers, r.Lever)
	} else {
		p.whatIf.levers[r.Lever] = to
	}
	p.leversMoved()
}

// resetLevers puts all levers back.
func (p *Limits) resetLevers() {
	p.whatIf.levers = nil
	p.leversMoved()
}

// leversMoved shows what stops then, to first order until it is drawn.
func (p *Limits) leversMoved() {
	p.whatIf.then = nil
	p.drawWhatIf()
	p.refresh()
}

// buildWhatIf is the levers, and what they change.
func (p *Limits) buildWhatIf() []fyne.CanvasObject {
	ranges := p.view.Sheet.LeverRanges(p.view.Chosen)
	if len(ranges) == 0 {
		return []fyne.CanvasObject{p.answerCard()}
	}
	p.whatIf.sliders = map[bench.Lever]*control.Stops{}
	rows := []fyne.CanvasObject{control.NewCaption(p.text("pane.limits.what_if_remark"))}
	for _, r := range ranges {
		rows = append(rows, p.leverRow(r))
	}
	rows = append(rows, container.NewHBox(widget.NewButton(p.text("pane.limits.reset"), p.resetLevers)))
	return []fyne.CanvasObject{
		section(p.text("pane.limits.what_if"), rows...),
		section(p.text("pane.limits.before_after"), p.facts(p.beforeAfter), p.captions(p.whatIfMethod), p.lines(p.relaxed), p.unlifted()),
		section(p.text("pane.limits.make"), p.makeButton(), control.NewCaption(p.text("pane.limits.make_remark")), control.NewCaption(p.text("pane.limits.what_if_counted"))),
	}
}

// leverRow is a slider over the places of one lever, with what it stands for.
func (p *Limits) leverRow(r bench.LeverRange) fyne.CanvasObject {
	said := control.NewText("", control.Plain)
	slider := control.NewStops(len(r.Stops), func(place int) { p.setLever(r, r.Stops[place]) })
	p.remarks = append(p.remarks, func() {
		place := placeOf(r, p.whatIf.levers)
		slider.Set(place)
		said.SetText(p.leverSaid(r, place))
	})
	p.whatIf.sliders[r.Lever] = slider
	return control.NewPairs(0, control.NewColumn(2, control.NewText(p.text("lever."+string(r.Lever)), control.Plain), said), slider.Object())
}

// placeOf is where a lever stands among its stops; -1 while it is not given.
func placeOf(r bench.LeverRange, moved bench.WhatIf) int {
	at, set := moved[r.Lever]
	if !set {
		at = r.Now
	}
	for i, v := range r.Stops {
		if v == at {
			return i
		}
	}
	return -1
}

// leverSaid is what a lever stands for, and where it stood.
func (p *Limits) leverSaid(r bench.LeverRange, at int) string {
	unit, perSI := r.Lever.Unit()
	number := func(v float64) wording.Number { return wording.Number{Value: v * perSI, Unit: unit, Digits: 3} }
	if at < 0 {
		return p.text("pane.limits.lever_not_given")
	}
	values := map[string]any{"Value": number(r.Stops[at])}
	if r.Stops[at] == r.Now {
		return p.words().Say("pane.limits.lever_now", values)
	}
	if !r.Given() {
		return p.words().Say("pane.limits.lever_new", values)
	}
	values["Now"] = number(r.Now)
	return p.words().Say("pane.limits.lever_moved", values)
}

// beforeAfter are the first limit now and then.
func (p *Limits) beforeAfter() []fact {
	var list []fact
	now, then := p.compared()
	for _, s := range []struct {
		label string
		sheet *bench.LimitSheet
	}{{"pane.limits.as_it_is", now}, {"pane.limits.then", then}} {
		if s.sheet.Known {
			list = append(list, p.leastFact(s.label, s.sheet))
		}
	}
	return list
}

// leastFact is where the first limit of a sheet stops; digits of practically none only look
// exact.
func (p *Limits) leastFact(label string, s *bench.LimitSheet) fact {
	first := below(p.firstOf(s))
	if !s.Least.Known() || s.Least.Value >= bench.PracticallyNone {
		return p.factWith(label, s.Least, first)
	}
	end := " " + p.words().Say("pane.limits.below_least", map[string]any{"Least": p.content(bench.PracticallyNone)})
	if s.Least.High >= bench.PracticallyNone {
		end = p.words().Say("pane.limits.at_best", map[string]any{"High": p.content(s.Least.High)})
	}
	return fact{label: p.text(label), value: whole(p.text("answer.limits_hardly")), more: end + first}
}

// firstOf names the limit that stops first.
func (p *Limits) firstOf(s *bench.LimitSheet) string {
	first := s.Binding()
	if first == nil {
		return p.text("pane.limits.nothing_stops")
	}
	return p.text("limit." + string(first.ID))
}

// relaxed tells the next two limits, should the first be lifted.
func (p *Limits) relaxed() []string {
	var list []string
	s := p.thenSheet()
	for i, l := range s.After(2) {
		id := "pane.limits.next"
		if i > 0 {
			id = "pane.limits.after_next"
		}
		list = append(list, p.words().Say(id, map[string]any{
			"Limit": l.Said(), "Content": p.content(l.Allowed.Value),
		}))
	}
	return list
}

// makeButton makes a blend of what the levers allow.
func (p *Limits) makeButton() fyne.CanvasObject {
	button := widget.NewButton("", nil)
	p.remarks = append(p.remarks, func() {
		content := p.thenSheet().Make()
		button.SetText(p.words().Say("pane.limits.make_button", map[string]any{"Content": p.content(content)}))
		enable(button, content > 0 && !p.whatIf.draws.busy) // while it is drawn the number would change under the finger
	})
	button.OnTapped = p.makeBlend
	return container.NewHBox(button)
}

// makeBlend adds the blend and puts it to work, so that its own limits are seen; undo takes it
// out again.
func (p *Limits) makeBlend() {
	chosen, content := p.view.Chosen, p.thenSheet().Make()
	levers := p.whatIf.levers
	names := bench.MakeNames{
		Blend:   p.words().Say("pane.limits.blend_name", map[string]any{"Blend": p.view.Results().Name, "Content": p.content(content)}),
		Powder:  p.powderName(levers),
		Carried: p.words().Say("pane.limits.carried", map[string]any{"Powder": p.materialName(p.view.Results().Powder)}),
	}
	var made project.BlendID
	err := p.desk.Edit(p.text("edit.make_blend"), "/blends", func(d *project.Project) (err error) {
		made, err = levers.MakeBlend(d, chosen, content/100, names)
		return err
	})
	if err != nil {
		return
	}
	p.whatIf.levers = nil // they are in the blend now
	p.desk.Choose(made)
	p.leversMoved()
}

// powderName is what a powder is called that is sieved or dried otherwise.
func (p *Limits) powderName(levers bench.WhatIf) string {
	parts := []string{p.materialName(p.view.Results().Powder)}
	for _, l := range []bench.Lever{bench.LeverSieve, bench.LeverDrying} {
		if v, set := levers[l]; set {
			unit, perSI := l.Unit()
			parts = append(parts, p.words().Number(v*perSI, 3)+" "+wording.Unit(unit))
		}
	}
	return strings.Join(parts, ", ")
}
