package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildPreparation is the way from the wet bucket to usable powder.
func (p *Filler) buildPreparation(i int) []fyne.CanvasObject {
	wet := benchField(p, i, "/preparation/wet_mass", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &d.Preparation.WetMass })
	p.first = wet
	p.steps = p.newStepList(i)
	return []fyne.CanvasObject{
		section(p.text("pane.filler.wet"), control.NewPairs(8, wet,
			benchField(p, i, "/preparation/wet_price", func(d *material.Powder) *quantity.Of[quantity.PricePerMass] { return &d.Preparation.WetPrice }),
			benchField(p, i, "/preparation/transport", func(d *material.Powder) *quantity.Of[quantity.PricePerMass] { return &d.Preparation.Transport }))),
		section(p.text("pane.filler.steps"), control.NewCaption(p.text("pane.filler.steps_remark")), p.steps.table.object()),
		p.steps.card,
		section(p.text("pane.filler.prepared"), p.facts(func() []fact { return p.preparedFacts(i) }), p.lines(func() []string { return p.preparedOpen(i) }),
			p.useBox(i, "/preparation/set_aside", "pane.filler.use_price", func(d *material.Powder) *bool { return &d.Preparation.SetAside })),
	}
}

// stepList is the table of the steps, and below it what the table has no room
// for, of one step. The cards of steps that were looked at are kept, so that
// nothing else is built anew when another one is chosen.
type stepList struct {
	powder int
	table  *rowsTable[material.Step]
	card   *control.Column
	cards  map[int]fyne.CanvasObject
	shown  int  // step in the card, -1 for none
	coming bool // the keyboard is in the empty row, which becomes a step once something stands in it
}

func (p *Filler) newStepList(i int) *stepList {
	s := &stepList{powder: i, table: p.stepTable(i), card: control.NewColumn(0), cards: map[int]fyne.CanvasObject{}, shown: -1}
	s.card.Hidden = true
	s.follow(p)
	return s
}

// follow shows the card of the chosen step.
func (s *stepList) follow(p *Filler) {
	if s == nil {
		return
	}
	steps := 0
	if powder := powderIn(p.view.Project, s.powder); powder != nil {
		steps = len(powder.Preparation.Steps)
	}
	if row := s.table.selected(); s.coming && row >= 0 {
		p.step, s.coming = row, false
	}
	p.step = max(0, min(p.step, steps-1))
	now := p.step
	if steps == 0 {
		now = -1
	}
	if now == s.shown {
		return
	}
	s.shown = now
	s.card.Hidden = now < 0
	if now < 0 {
		s.card.SetObjects()
		return
	}
	if s.cards[now] == nil {
		s.cards[now] = p.stepCard(s.powder, now)
		p.inputs.Sync()
	}
	s.card.SetObjects(s.cards[now])
}

// stepTexts are the names of the kinds of step.
var stepTexts = map[material.StepKind]string{
	material.Wash: "step.wash", material.Extract: "step.extract", material.Dry: "step.dry",
	material.Grind: "step.grind", material.Sift: "step.sieve", material.OwnStep: "step.own",
}

func (p *Filler) stepTable(i int) *rowsTable[material.Step] {
	return newRowsTable(&p.base, rowsOptions[material.Step]{
		place: benchPlace(i, "/preparation/steps"), label: p.text("pane.filler.steps"),
		most: project.MostRows("/materials/*/powder/preparation/steps"), shown: 8,
		isEmpty: func(s *material.Step) bool { return s.Kind == "" && s.Name == "" && bareStep(s) },
		columns: p.stepColumns(i),
		onSelect: func(index int) {
			if p.steps == nil {
				return
			}
			p.steps.coming = index < 0
			if index >= 0 {
				p.step = index
				p.steps.follow(p)
			}
		},
		list: func(d *project.Project) *[]material.Step {
			if powder := powderIn(d, i); powder != nil {
				return &powder.Preparation.Steps
			}
			return nil
		},
	})
}

func (p *Filler) stepColumns(i int) []column[material.Step] {
	var kinds []control.Choice
	for _, kind := range project.StepKinds() {
		kinds = append(kinds, control.Choice{Value: string(kind), Text: p.text(stepTexts[kind])})
	}
	yield := quantityColumn(&p.base, "yield", p.text("pane.filler.step_yield"), 54, "%",
		func(s *material.Step) *quantity.Of[quantity.Fraction] { return &s.Yield })
	yield.bare = true // there is no room for a unit that every value has
	return []column[material.Step]{
		choiceColumn("kind", p.text("pane.filler.step_kind"), 66, kinds,
			func(s *material.Step) string { return string(s.Kind) }, func(s *material.Step, kind string) { s.Kind = material.StepKind(kind) }),
		textColumn("name", p.text("pane.filler.step_name"), 120, func(s *material.Step) *string { return &s.Name }),
		withoutUnit(quantityColumn(&p.base, "mass_in", p.text("pane.filler.step_in"), 54, "kg",
			func(s *material.Step) *quantity.Of[quantity.Mass] { return &s.MassIn })),
		withoutUnit(quantityColumn(&p.base, "mass_out", p.text("pane.filler.step_out"), 62, "kg",
			func(s *material.Step) *quantity.Of[quantity.Mass] { return &s.MassOut })),
		yield,
		computedColumn[material.Step](p.text("pane.filler.step_left"), 64, func(index int) control.Cell {
			sheet := p.sheet(i)
			if sheet == nil || index >= len(sheet.Preparation.Steps) || !sheet.Preparation.Steps[index].Known {
				return control.Cell{}
			}
			return muted(p.words().Fixed(sheet.Preparation.Steps[index].LeftG, 0))
		}),
	}
}

// bareStep reports a step without a number.
func bareStep(s *material.Step) bool {
	return !s.MassIn.Given() && !s.MassOut.Given() && !s.Yield.Given() && !s.MoistureIn.Given() && !s.MoistureOut.Given() &&
		!s.Energy.Given() && !s.Cost.Given() && !s.Time.Given() && !s.Recycled.Given()
}

// stepCard holds what the table has no room for.
func (p *Filler) stepCard(i, k int) fyne.CanvasObject {
	at := fmt.Sprintf("/preparation/steps/%d", k)
	none := material.Step{}
	in := func(d *material.Powder) *material.Step {
		if k < len(d.Preparation.Steps) {
			return &d.Preparation.Steps[k]
		}
		return &none
	}
	fields := []fyne.CanvasObject{
		benchFieldNamed(p, i, at+"/moisture_in", "/step/moisture_in", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &in(d).MoistureIn }),
		benchFieldNamed(p, i, at+"/moisture_out", "/step/moisture_out", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &in(d).MoistureOut }),
		benchFieldNamed(p, i, at+"/energy", "/step/energy", func(d *material.Powder) *quantity.Of[quantity.Energy] { return &in(d).Energy }),
		benchFieldNamed(p, i, at+"/cost", "/step/cost", func(d *material.Powder) *quantity.Of[quantity.Price] { return &in(d).Cost }),
		benchFieldNamed(p, i, at+"/time", "/step/time", func(d *material.Powder) *quantity.Of[quantity.Duration] { return &in(d).Time }),
		benchFieldNamed(p, i, at+"/recycled", "/step/recycled", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &in(d).Recycled }),
	}
	title := func() string {
		powder := powderIn(p.view.Project, i)
		if powder == nil || k >= len(powder.Preparation.Steps) {
			return ""
		}
		s := &powder.Preparation.Steps[k]
		name := s.Name
		if name == "" && s.Kind != "" {
			name = p.text(stepTexts[s.Kind])
		}
		return p.words().Say("pane.filler.step_title", map[string]any{"Number": k + 1, "Name": name})
	}
	return p.named(title, control.NewPairs(8, fields...))
}

// preparedOpen says what is missing while the yield cannot be told.
func (p *Filler) preparedOpen(i int) []string {
	if sheet := p.sheet(i); sheet != nil && !sheet.Preparation.Yield.Known() {
		return []string{p.text("pane.filler.prep_open")}
	}
	return nil
}

// preparedFacts says what comes out, and what it costs.
func (p *Filler) preparedFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	s := &sheet.Preparation
	facts := []fact{
		p.fact("pane.filler.prep_yield", s.Yield),
		p.fact("pane.filler.prep_wet", s.WetPerUsable), p.fact("pane.filler.prep_water", s.WaterPerUsable),
		p.fact("pane.filler.prep_energy", s.EnergyPerKg), p.fact("pane.filler.prep_cost", s.Cost), p.fact("pane.filler.prep_cost_dry", s.CostDry),
	}
	if s.Once.Yield.Known() && s.Once.Yield.Value != s.Again.Yield.Value {
		facts = append(facts, p.regrindFact("pane.filler.prep_once", s.Once), p.regrindFact("pane.filler.prep_again", s.Again))
	}
	if results := p.view.Results(); results != nil && results.Powder == i {
		fetch := p.factWith("pane.filler.prep_fetch", results.Fetch, below(p.words().Say("pane.filler.prep_fetch_for", map[string]any{"Blend": results.Name})))
		facts = append(facts, fetch)
	}
	return facts
}

// regrindFact is the outcome with another share of oversize ground again.
func (p *Filler) regrindFact(label string, outcome bench.Preparing) fact {
	f := p.factWith(label, outcome.Yield, "")
	f.more += below(p.ranged(outcome.Cost))
	return f
}
