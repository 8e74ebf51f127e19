package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
)

// buildChanges is the change from one material to the next.
func (p *Line) buildChanges() []fyne.CanvasObject {
	ch := func(d *project.Project) *project.Changes { return &d.Line.Changes }
	stable := lineField(p, "/line/changes/stable_after", func(d *project.Project) *duration { return &ch(d).StableAfter })
	p.first = stable
	return []fyne.CanvasObject{
		section(p.text("pane.line.purge"), p.lines(func() []string { return p.purgeSentence() }), p.facts(func() []fact { return p.purgeFacts() }),
			p.lawChooser(), p.facts(func() []fact { return p.lawFacts() }), control.NewCaption(p.text("pane.line.dead_corners"))),
		section(p.text("pane.line.plug"), control.NewPairs(8, stable,
			lineField(p, "/line/changes/stable_rest", func(d *project.Project) *fraction { return &ch(d).StableRest }),
			lineField(p, "/line/changes/plug_share", func(d *project.Project) *fraction { return &ch(d).PlugShare })),
			control.NewCaption(p.text("pane.line.samples_remark")), p.purgeTable().object(),
			p.facts(func() []fact { return p.plugFacts() })),
		section(p.text("pane.line.sequence"), control.NewCaption(p.text("pane.line.sequence_remark")), p.sequenceTable().object(),
			p.facts(func() []fact { return p.sequenceFacts() })),
	}
}

// purgeTable holds samples of one change.
func (p *Line) purgeTable() *rowsTable[project.PurgeSample] {
	return newRowsTable(&p.base, rowsOptions[project.PurgeSample]{
		place: "/line/changes/samples", label: p.text("pane.line.samples"), most: project.MostRows("/line/changes/samples"), shown: 4,
		list: func(d *project.Project) *[]project.PurgeSample { return &d.Line.Changes.Samples },
		columns: []column[project.PurgeSample]{
			numberColumn[project.PurgeSample](p.text("pane.line.number"), 50),
			quantityColumn(&p.base, "time", p.text("pane.line.after_change"), 120, "min", func(s *project.PurgeSample) *duration { return &s.Time }),
			quantityColumn(&p.base, "new", p.text("pane.line.new_share"), 120, "%", func(s *project.PurgeSample) *fraction { return &s.New }),
		},
	})
}

// sequenceTable holds the blends in the order in which they are to be run.
func (p *Line) sequenceTable() *rowsTable[project.Change] {
	change := func(index int) bench.ChangeSheet {
		if rows := p.view.Sheet.Line.Changes; index < len(rows) {
			return rows[index]
		}
		return bench.ChangeSheet{First: true}
	}
	computed := func(title string, width float32, of func(*bench.ChangeSheet) bench.Result) column[project.Change] {
		return computedColumn[project.Change](p.text(title), width, func(index int) control.Cell {
			row := change(index)
			if r := of(&row); r.Known() {
				return muted(p.words().Number(r.Value, 3))
			}
			return control.Cell{}
		})
	}
	var choices []control.Choice
	for i := range p.view.Project.Blends {
		choices = append(choices, control.Choice{Value: string(p.view.Project.Blends[i].ID), Text: p.view.Sheet.Blends[i].Name})
	}
	return newRowsTable(&p.base, rowsOptions[project.Change]{
		place: "/line/changes/sequence", label: p.text("pane.line.sequence"), most: project.MostRows("/line/changes/sequence"), shown: 5,
		list: func(d *project.Project) *[]project.Change { return &d.Line.Changes.Sequence },
		columns: []column[project.Change]{
			numberColumn[project.Change](p.text("pane.line.number"), 34),
			choiceColumn("blend", p.text("pane.line.blend"), 104, choices,
				func(c *project.Change) string { return string(c.Blend) }, func(c *project.Change, id string) { c.Blend = project.BlendID(id) }),
			computed("pane.line.minutes", 54, func(c *bench.ChangeSheet) bench.Result { return c.Time }),
			computed("pane.line.grams", 54, func(c *bench.ChangeSheet) bench.Result { return c.Mass }),
			computed("pane.line.cost", 54, func(c *bench.ChangeSheet) bench.Result { return c.Cost }),
			computed("pane.line.purge_content", 82, func(c *bench.ChangeSheet) bench.Result { return c.Content }),
		},
	})
}

// purgeSentence says when to begin winding.
func (p *Line) purgeSentence() []string {
	if p.view.Results() == nil {
		return []string{p.text("pane.no_blend")}
	}
	r := p.result(bench.PurgeTime99)
	if !r.Known() {
		return []string{p.text("pane.line.purge_open")}
	}
	return []string{p.words().Say("pane.line.begin_winding", map[string]any{
		"Blend": p.view.Results().Name, "Time": p.withInterval(r), "Mass": p.withInterval(p.result(bench.PurgeMass99)),
	})}
}

func (p *Line) purgeFacts() []fact {
	return []fact{
		p.fact("figure.purge_time_95", p.result(bench.PurgeTime95)), p.fact("figure.purge_time_99", p.result(bench.PurgeTime99)),
		p.fact("figure.purge_time_999", p.result(bench.PurgeTime999)), p.fact("figure.purge_mass_99", p.result(bench.PurgeMass99)),
		p.fact("figure.purge_cost_99", p.result(bench.PurgeCost99)),
	}
}

// lawChooser brings another law to the front. It is a choice of the window, not of the
// document.
func (p *Line) lawChooser() *control.SelectField {
	var choices []control.Choice
	for _, model := range bench.WashoutModels() {
		choices = append(choices, control.Choice{Value: string(model), Text: figure.WashoutName(model, p.words())})
	}
	return control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.line.law"), Choices: choices, Wide: true,
		Value: func() string { return string(p.law) },
		OnCommit: func(value string) error {
			p.law = bench.WashoutModel(value)
			p.Show(p.view)
			return nil
		},
	})
}

// lawFacts are the times by the law in front, where it is not the one that is used.
func (p *Line) lawFacts() []fact {
	sheet := p.lineSheet()
	if sheet == nil || p.law == bench.WashoutPlug {
		return nil
	}
	for _, purge := range sheet.Purges {
		if purge.Model == p.law {
			return []fact{
				p.factWith("figure.purge_time_95", purge.T95, ""), p.factWith("figure.purge_time_99", purge.T99, ""),
				p.factWith("figure.purge_time_999", purge.T999, ""), p.factWith("figure.purge_mass_99", purge.Mass99, ""),
			}
		}
	}
	return nil
}

// plugTexts say where the plug share comes from.
var plugTexts = map[string]string{
	"entered": "pane.line.plug_entered", "samples": "pane.line.plug_samples", "stable": "pane.line.plug_stable", "usual": "pane.line.plug_usual",
}

func (p *Line) plugFacts() []fact {
	l := &p.view.Sheet.Line
	from := ""
	if id, known := plugTexts[l.PlugFrom]; known {
		from = below(p.text(id))
	}
	return []fact{p.factWith("pane.line.plug_share", l.Plug, from)}
}

func (p *Line) sequenceFacts() []fact {
	l := &p.view.Sheet.Line
	return []fact{
		p.factWith("pane.line.total_time", l.ChangesTime, ""), p.factWith("pane.line.total_mass", l.ChangesMass, ""),
		p.factWith("pane.line.total_cost", l.ChangesCost, ""),
	}
}
