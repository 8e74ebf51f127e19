package pane

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/wording"
)

// sheet is how much powder the blend at work can carry.
func (p *Limits) sheet() *bench.LimitSheet { return p.view.Sheet.Limits(p.view.Chosen) }

// shown is the limit told in detail: the one that was chosen, else the first; nil where
// there is none.
func (p *Limits) shown() *bench.Limit {
	list := p.sheet().Limits
	for i := range list {
		if list[i].ID == p.limit {
			return &list[i]
		}
	}
	if len(list) == 0 {
		return nil
	}
	return &list[0]
}

// tap tells the limit in detail whose row of the picture was pressed; among what is allowed
// it leads to the field of that limit.
func (p *Limits) tap(at control.Pixel) {
	if p.section != sectionLimits && p.section != sectionAllowed {
		return
	}
	_, row, found := p.picture.layout.Row(at.Y)
	list := p.sheet().Limits
	if !found || row >= len(list) {
		return
	}
	p.choose(list[row].ID)
	if field := list[row].Field; p.section == sectionAllowed && strings.HasPrefix(field, "/loading/") {
		p.base.Lead(field)
	}
}

func (p *Limits) choose(limit bench.LimitID) {
	p.limit = limit
	p.Show(p.view)
}

// answerCard says in words what stops the blend first.
func (p *Limits) answerCard() fyne.CanvasObject {
	first := control.NewRuns(control.Run{Bold: true})
	first.SizeName = theme.SizeNameSubHeadingText
	rest := func() (list []string) {
		for _, a := range p.view.Sheet.LimitWords(p.view.Chosen)[1:] {
			list = append(list, p.words().Say(a.Message()))
		}
		return list
	}
	p.remarks = append(p.remarks, func() { first.SetText(p.words().Say(p.sheet().Words()[0].Message())) })
	return control.NewCard("", "", control.NewColumn(6, first, p.lines(rest), p.captions(p.method)))
}

// method says how the ends of the limits were found.
func (p *Limits) method() []string {
	s := p.sheet()
	switch {
	case !s.Known:
		return nil
	case s.Method == bench.MonteCarlo:
		return []string{p.words().Say("pane.limits.by_draws", map[string]any{"Draws": s.Draws})}
	}
	return []string{p.text("pane.limits.by_first_order")}
}

// limitCard tells one limit in detail.
func (p *Limits) limitCard() fyne.CanvasObject {
	chooser := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.limits.limit"), Wide: true,
		Value: func() string {
			if l := p.shown(); l != nil {
				return string(l.ID)
			}
			return ""
		},
		OnCommit: func(value string) error { p.choose(bench.LimitID(value)); return nil },
	})
	p.first = chooser
	p.remarks = append(p.remarks, func() {
		chooser.SetChoices(p.limitChoices())
		chooser.Sync()
	})
	return section(p.text("pane.limits.detail"), chooser,
		p.told(func(l *bench.Limit) string { return p.allows(l) }, false),
		p.facts(p.limitFacts),
		p.told(p.missing, false),
		p.links(),
		p.captions(p.inputWords), p.facts(p.inputFacts), p.toInput(),
		p.told(func(l *bench.Limit) string { return p.text("limit_rule." + string(l.ID)) }, true),
		p.told(func(l *bench.Limit) string { return p.text("limit_source." + string(l.ID)) }, true))
}

// limitChoices are the limits in the order of the picture.
func (p *Limits) limitChoices() (list []control.Choice) {
	for i := range p.sheet().Limits {
		l := &p.sheet().Limits[i]
		list = append(list, control.Choice{Value: string(l.ID), Text: p.text(string(l.Name()))})
	}
	return list
}

// told is a text about the limit in detail.
func (p *Limits) told(tell func(*bench.Limit) string, small bool) fyne.CanvasObject {
	lines := func() []string {
		if l := p.shown(); l != nil {
			return []string{tell(l)}
		}
		return nil
	}
	if small {
		return p.captions(lines)
	}
	return p.lines(lines)
}

// allows says up to where a limit lets the blend go.
func (p *Limits) allows(l *bench.Limit) string {
	id, values := "limit_tells."+string(l.State), map[string]any{"Most": p.content(p.sheet().Most)}
	if l.Allowed.Known() {
		values["Value"] = p.content(l.Allowed.Value)
		values["From"] = p.content(l.From)
		values["Low"], values["High"] = digits(l.Allowed.Low, "", 2), digits(l.Allowed.High, "", 2)
	}
	switch {
	case l.Advice && l.Known():
		id = "limit_tells.advice"
	case l.From > 0 && l.State == bench.LimitBinds:
		id = "limit_tells.binds_from"
	case l.From > 0 && l.State == bench.LimitFree:
		id = "limit_tells.free_from"
	case l.Hardly():
		id = "limit_tells.hardly"
	case l.State == bench.LimitFree && l.Allowed.Low < p.sheet().Most:
		id = "limit_tells.free_likely"
	case l.State == bench.LimitNone && l.Allowed.High > 0:
		id = "limit_tells.none_likely"
	case l.State == bench.LimitBinds && l.Open:
		id = "limit_tells.binds_open"
	case l.State == bench.LimitBinds && l.Allowed.Certain():
		id = "limit_tells.binds_exactly"
	}
	return p.words().Say(id, values)
}

func (p *Limits) content(v float64) wording.Number { return digits(v, "wt%", 2) }

// limitFacts are what the blend has now, and what is allowed.
func (p *Limits) limitFacts() []fact {
	l := p.shown()
	if l == nil {
		return nil
	}
	var list []fact
	if l.ID != bench.LimitBend {
		now := p.fact("figure."+l.Figure.Key(), l.Here)
		if Rare(l.Figure, l.Here) {
			now.value, now.more = p.text("chance.rare"), ", "+RareBasis(p.words(), p.view.Results(), l.Figure, l.Here)
		}
		now.label = p.words().Say("pane.limits.now", map[string]any{"Figure": wording.ID("figure." + l.Figure.Key())})
		list = append(list, now)
	}
	allowed := fact{label: p.text("pane.limits.allowed"), value: figure.LimitAllows(l, p.words())}
	if l.Threshold.Known() {
		_, interval := p.figures(l.Threshold)
		allowed.more = interval + p.text(map[bool]string{true: "pane.limits.yours", false: "pane.limits.usual"}[l.Entered])
	}
	list = append(list, allowed)
	if l.First >= 0 {
		list = append(list, fact{label: p.text("pane.limits.first"), value: p.words().Say("pane.limits.of_draws", map[string]any{"Share": digits(100*l.First, "%", 2)})})
	}
	return list
}

// missing is what would tell a limit that is not known.
func (p *Limits) missing(l *bench.Limit) string {
	if l.Missing.ID == "" {
		return ""
	}
	return p.words().Say(l.Missing.Message())
}

// links lead to the field that is missing, and to what is allowed.
func (p *Limits) links() fyne.CanvasObject {
	lead := func(where func(*bench.Limit) string) func() {
		return func() {
			if l := p.shown(); l != nil {
				p.desk.Lead(where(l))
			}
		}
	}
	missing := widget.NewButton("", lead(func(l *bench.Limit) string { return l.Where }))
	allowed := widget.NewButton("", lead(func(l *bench.Limit) string { return l.Field }))
	row := control.NewColumn(0)
	state := ""
	p.remarks = append(p.remarks, func() {
		l := p.shown()
		if l == nil {
			return
		}
		buttons, enter, change := []fyne.CanvasObject{allowed}, "", p.text(changeText(l))
		if l.Where != "" {
			enter, buttons = p.text(enterTexts[l.Missing.ID]), append([]fyne.CanvasObject{missing}, buttons...)
		}
		if now := enter + change; now != state {
			state = now
			allowed.SetText(change)
			missing.SetText(enter)
			row.SetObjects(container.NewHBox(buttons...))
		}
	})
	return row
}
