package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
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
	return append(objects, section(p.text("pane.filler.prepared"), p.lines(func() []string { return p.preparedWords(i) }),
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
			choiceColumn("kind", p.text("pane.filler.step_kind"), 78, kinds,
				func(s *material.Step) string { return string(s.Kind) }, func(s *material.Step, kind string) { s.Kind = material.StepKind(kind) }),
			textColumn("name", p.text("pane.filler.step_name"), 96, func(s *material.Step) *string { return &s.Name }),
			quantityColumn(&p.base, "yield", p.text("pane.filler.step_yield"), 66, "%",
				func(s *material.Step) *quantity.Of[quantity.Fraction] { return &s.Yield }),
			computedColumn[material.Step](p.text("pane.filler.step_out"), 62, func(index int) control.Cell {
				if s := step(index); s.Known {
					return muted(p.words().Number(s.Yield, 3))
				}
				return control.Cell{}
			}),
			computedColumn[material.Step](p.text("pane.filler.step_left"), 62, func(index int) control.Cell {
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
		benchFieldNamed(p, i, at+"/mass_in", "/step/mass_in", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &in(d).MassIn }),
		benchFieldNamed(p, i, at+"/mass_out", "/step/mass_out", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &in(d).MassOut }),
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
func (p *Filler) preparedWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	s := &sheet.Preparation
	lines := []string{
		p.told("pane.filler.prep_yield", s.Yield), p.told("pane.filler.prep_wet", s.WetPerUsable),
		p.told("pane.filler.prep_water", s.WaterPerUsable), p.told("pane.filler.prep_energy", s.EnergyPerKg),
		p.told("pane.filler.prep_cost", s.Cost), p.told("pane.filler.prep_cost_dry", s.CostDry),
	}
	if s.Once.Yield.Known() && s.Once.Yield.Value != s.Again.Yield.Value {
		lines = append(lines, p.regrindWords("pane.filler.prep_once", "pane.filler.prep_once_yield", s.Once),
			p.regrindWords("pane.filler.prep_again", "pane.filler.prep_again_yield", s.Again))
	}
	if results := p.view.Results(); results != nil && results.Fetch.Known() && results.Powder == i {
		lines = append(lines, p.words().Say("pane.filler.prep_fetch", map[string]any{"Value": p.withInterval(results.Fetch), "Blend": results.Name}))
	}
	if !s.Yield.Known() {
		lines = append(lines, p.text("pane.filler.prep_open"))
	}
	return lines
}

func (p *Filler) regrindWords(id, yieldOnly string, outcome bench.Preparing) string {
	values := map[string]any{"Yield": shown(outcome.Yield, 3), "Cost": wording.Number{Value: outcome.Cost.Value, Unit: outcome.Cost.Unit, Digits: 3}}
	if !outcome.Cost.Known() {
		return p.words().Say(yieldOnly, values)
	}
	return p.words().Say(id, values)
}
