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
	p.steps = p.stepTable(i)
	objects := []fyne.CanvasObject{
		section(p.text("pane.filler.wet"), control.NewPairs(8, wet,
			benchField(p, i, "/preparation/wet_price", func(d *material.Powder) *quantity.Of[quantity.PricePerMass] { return &d.Preparation.WetPrice }),
			benchField(p, i, "/preparation/transport", func(d *material.Powder) *quantity.Of[quantity.PricePerMass] { return &d.Preparation.Transport }))),
		section(p.text("pane.filler.steps"), control.NewCaption(p.text("pane.filler.steps_remark")), p.steps.object()),
	}
	if len(powderIn(p.view.Project, i).Preparation.Steps) > 0 {
		objects = append(objects, p.stepCard(i))
	}
	return append(objects, section(p.text("pane.filler.prepared"), p.facts(func() []fact { return p.preparedFacts(i) }), p.lines(func() []string { return p.preparedOpen(i) }),
		p.useBox(i, "/preparation/set_aside", "pane.filler.use_price", func(d *material.Powder) *bool { return &d.Preparation.SetAside })))
}

// stepTexts are the names of the kinds of step.
var stepTexts = map[material.StepKind]string{
	material.Wash: "step.wash", material.Extract: "step.extract", material.Dry: "step.dry",
	material.Grind: "step.grind", material.Sift: "step.sieve", material.OwnStep: "step.own",
}

func (p *Filler) stepTable(i int) *rowsTable[material.Step] {
	var kinds []control.Choice
	for _, kind := range project.StepKinds() {
		kinds = append(kinds, control.Choice{Value: string(kind), Text: p.text(stepTexts[kind])})
	}
	step := func(index int) *bench.StepSheet {
		sheet := p.sheet(i)
		if sheet == nil || index >= len(sheet.Preparation.Steps) {
			return &bench.StepSheet{}
		}
		return &sheet.Preparation.Steps[index]
	}
	return newRowsTable(&p.base, rowsOptions[material.Step]{
		place: benchPlace(i, "/preparation/steps"), label: p.text("pane.filler.steps"),
		most: project.MostRows("/materials/*/powder/preparation/steps"), shown: 8,
		isEmpty: func(s *material.Step) bool { return s.Kind == "" && s.Name == "" && bareStep(s) },
		columns: []column[material.Step]{
			choiceColumn("kind", p.text("pane.filler.step_kind"), 66, kinds,
				func(s *material.Step) string { return string(s.Kind) }, func(s *material.Step, kind string) { s.Kind = material.StepKind(kind) }),
			textColumn("name", p.text("pane.filler.step_name"), 120, func(s *material.Step) *string { return &s.Name }),
			withoutUnit(quantityColumn(&p.base, "mass_in", p.text("pane.filler.step_in"), 54, "kg",
				func(s *material.Step) *quantity.Of[quantity.Mass] { return &s.MassIn })),
			withoutUnit(quantityColumn(&p.base, "mass_out", p.text("pane.filler.step_out"), 62, "kg",
				func(s *material.Step) *quantity.Of[quantity.Mass] { return &s.MassOut })),
			quantityColumn(&p.base, "yield", p.text("pane.filler.step_yield"), 54, "%",
				func(s *material.Step) *quantity.Of[quantity.Fraction] { return &s.Yield }),
			computedColumn[material.Step](p.text("pane.filler.step_left"), 64, func(index int) control.Cell {
				if s := step(index); s.Known {
					return muted(p.words().Fixed(s.LeftG, 0))
				}
				return control.Cell{}
			}),
		},
		onSelect: func(index int) {
			if index >= 0 && index != p.step {
				p.step = index
				p.showStep()
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

// bareStep reports a step without a number.
func bareStep(s *material.Step) bool {
	return !s.MassIn.Given() && !s.MassOut.Given() && !s.Yield.Given() && !s.MoistureIn.Given() && !s.MoistureOut.Given() &&
		!s.Energy.Given() && !s.Cost.Given() && !s.Time.Given() && !s.Recycled.Given()
}

// showStep brings the fields of the chosen step up. The table keeps the keyboard.
func (p *Filler) showStep() {
	row, col := p.steps.grid.Selected()
	p.Show(p.view)
	p.steps.grid.FocusCell(row, col)
}

// stepCard holds what the table has no room for.
func (p *Filler) stepCard(i int) fyne.CanvasObject {
	k := p.step
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

// preparedWords says what the chain comes to.
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
