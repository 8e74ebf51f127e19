package pane

import (
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/report"
	"fillwright/internal/wording"
)

// Plan is the pane of the trials: which spools to make, in which order, with
// how much material.
type Plan struct {
	base
	budget  *control.Text
	summary *control.Text
	right   beside
}

// NewPlan makes the pane.
func NewPlan(desk Desk) *Plan {
	p := &Plan{base: newBase(bench.PanePlan, desk)}
	p.summary = control.NewText("", control.Plain)
	p.budget = control.NewText("", control.Plain)
	picture := p.newPicture(func(v View) figure.Picture { return figure.Trials(v.Sheet, desk.Words()) })
	export := widget.NewButton(p.text("pane.plan.export"), p.export)
	material := control.NewCard(p.text("pane.plan.material"), "",
		control.NewColumn(8, p.summary, p.budget, container.NewHBox(export)))
	p.right = newBeside(control.NewCard("", "", picture), material)
	p.split = control.NewSplit(p.column, p.right.Column)
	return p
}

// Show brings the pane up to date.
func (p *Plan) Show(v View) {
	p.take(v, fmt.Sprint(v.Project.Currency, p.desk.TextScale()), p.build)
	p.summary.SetText(p.summaryText())
	p.budget.SetText(p.budgetText())
	p.refresh()
}

func (p *Plan) build() {
	p.first = p.contents()
	design := section(p.text("pane.plan.design"),
		p.baseBlend(), p.first,
		newNumber(&p.base, "/plan/spools", func(d *project.Project) *int { return &d.Plan.Spools }),
		newNumber(&p.base, "/plan/specimens", func(d *project.Project) *int { return &d.Plan.Specimens }),
		newNumber(&p.base, "/plan/spools_per_day", func(d *project.Project) *int { return &d.Plan.SpoolsPerDay }),
		newQuantity(&p.base, "/plan/spool_mass", fieldLook{},
			func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Plan.SpoolMass }),
		newQuantity(&p.base, "/plan/specimen_mass", fieldLook{},
			func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Plan.SpecimenMass }),
		newNumber(&p.base, "/plan/seed", func(d *project.Project) *int { return &d.Plan.Seed }),
	)
	p.column.SetObjects(p.right.place(p.desk.TextScale(), []fyne.CanvasObject{design})...)
}

// baseBlend is the list of blends that can be varied: those with powder.
func (p *Plan) baseBlend() *control.SelectField {
	label := p.text("field.plan.base")
	field := control.NewSelectField(control.SelectOptions{
		ID: "/plan/base", Label: label, Hint: p.text("hint.blend"),
		Value: func() string { return string(p.view.Project.Plan.Base) },
		OnCommit: func(value string) error {
			return p.edit("/plan/base", label, func(d *project.Project) error {
				d.Plan.Base = project.BlendID(value)
				return nil
			})
		},
	})
	p.inputs.Add(field)
	p.remarks = append(p.remarks, func() { field.SetChoices(p.filledBlends()) })
	return field
}

// filledBlends are the blends with powder.
func (p *Plan) filledBlends() []control.Choice {
	var choices []control.Choice
	for i, b := range p.view.Project.Blends {
		if p.view.Sheet.Model.Filled(i) {
			choices = append(choices, control.Choice{Value: string(b.ID), Text: b.Name})
		}
	}
	return choices
}

// contents is the row of filler contents, as one text.
func (p *Plan) contents() *control.Field {
	label := p.text("field.plan.contents")
	field := control.NewField(control.FieldOptions{
		ID: "/plan/contents", Label: label, Hint: p.text("hint.contents"), Remark: p.text("pane.plan.contents_remark"),
		Text: func() string { return joinQuantities(p.view.Project.Plan.Contents, p.words().DecimalComma()) },
		OnCommit: func(text string) error {
			return p.edit("/plan/contents", label, func(d *project.Project) error {
				contents, err := splitQuantities[quantity.Fraction](text, "%")
				if err != nil {
					return err
				}
				d.Plan.Contents = contents
				return nil
			})
		},
	})
	p.inputs.Add(field)
	return field
}

// joinQuantities writes a list into one line.
func joinQuantities[D quantity.Dim](list []quantity.Of[D], comma bool) string {
	texts := make([]string, len(list))
	for i, q := range list {
		texts[i] = q.Pretty(comma)
	}
	return strings.Join(texts, "; ")
}

// splitQuantities reads a list with semicolons, line ends, or commas with a
// space between its items; a comma without a space is a decimal sign. A bare
// number takes the unit given.
func splitQuantities[D quantity.Dim](text, unit string) ([]quantity.Of[D], error) {
	text = strings.NewReplacer("\r", "\n", ", ", "\n", ";", "\n", "\t", "\n").Replace(text)
	var list []quantity.Of[D]
	for item := range strings.SplitSeq(text, "\n") {
		if item = strings.TrimSpace(item); item == "" {
			continue
		}
		q, err := quantity.Parse[D](item)
		if err != nil {
			again, second := quantity.Parse[D](item + " " + unit)
			if second != nil {
				return nil, err
			}
			q = again
		}
		list = append(list, q)
	}
	return list, nil
}

// summaryText says what the trials come to.
func (p *Plan) summaryText() string {
	s := &p.view.Sheet.Plan
	if !s.Known {
		return p.text("note." + s.Problem)
	}
	return p.words().Say("pane.plan.summary", map[string]any{
		"Spools": len(s.Runs), "Days": s.Days, "Specimens": s.Specimens, "Changes": s.Changeovers,
		"Strand": wording.Number{Value: s.StrandG / 1000, Unit: "kg", Digits: 3},
		"Loss":   wording.Number{Value: s.LossG / 1000, Unit: "kg", Digits: 3},
	})
}

// budgetText lists the material for all trials.
func (p *Plan) budgetText() string {
	var lines []string
	for _, row := range p.view.Sheet.Plan.Budget {
		lines = append(lines, p.words().Say("pane.plan.budget_line", map[string]any{
			"Material": row.Name, "Weigh": wording.Number{Value: row.WeighG, Unit: "g", Digits: 4},
		}))
	}
	return strings.Join(lines, "\n")
}

// export writes the check list.
func (p *Plan) export() {
	sheet, words := p.view.Sheet, p.words()
	p.desk.Export(words.Text("pane.plan.file"), func(out io.Writer) error {
		return report.PlanCSV(out, &sheet.Plan, words)
	})
}
