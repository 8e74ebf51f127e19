package pane

import (
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// result is a figure of the blend at work.
func (p *Melt) result(f bench.Figure) bench.Result {
	if results := p.view.Results(); results != nil {
		return results.Result(f)
	}
	return bench.Result{}
}

// byTest says that a test stands for the measured flow.
func (p *Melt) byTest() []string {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	for i := range p.view.Sheet.FlowTests {
		if t := &p.view.Sheet.FlowTests[i]; t.Used && p.view.Project.Melt.Tests[i].Blend == results.ID {
			return []string{p.words().Say("pane.melt.by_test", map[string]any{"Test": p.testName(i), "Plain": p.testName(t.Plain)})}
		}
	}
	return nil
}

// rateTexts say what a melt flow rate rests on.
var rateTexts = map[string]string{
	"own": "pane.melt.rate_own", "plain": "pane.melt.rate_plain", "data_sheet": "pane.melt.rate_data_sheet",
}

// rateFacts are the melt flow rates with the conditions that they hold for, and what
// water does.
func (p *Melt) rateFacts() []fact {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	melt := &results.Melt
	conditions := ""
	if id, known := rateTexts[melt.RateFrom]; known {
		conditions = below(p.conditions(melt.RateAt, melt.RateLoad)) + below(p.text(id))
	}
	return []fact{
		p.factWith("figure.mfr", p.result(bench.MeltFlowRate), conditions),
		p.factWith("figure.mvr", p.result(bench.MeltVolumeRate), ""),
		p.factWith("figure.apparent_viscosity", p.result(bench.ApparentViscosity), ""),
		p.factWith("figure.moisture_limit", p.result(bench.MoistureLimit), below(p.text("pane.melt.wet_basis"))),
		p.factWith("figure.vapour_fraction", p.result(bench.VapourFraction), ""),
	}
}

// conditions are those of a melt flow rate, as far as they are known.
func (p *Melt) conditions(temperature, load bench.Result) string {
	var list []string
	for _, r := range []bench.Result{temperature, load} {
		if r.Known() {
			list = append(list, p.words().Say("pane.value", map[string]any{"Value": shown(r, 3)}))
		}
	}
	return strings.Join(list, ", ")
}

// thickeningTexts are the names of the laws of thickening.
var thickeningTexts = map[string]string{
	"einstein": "law.einstein", "batchelor": "law.batchelor", "guth": "law.guth", "thomas": "law.thomas", "mooney": "law.mooney",
	"krieger_dougherty": "law.krieger_dougherty", "maron_pierce": "law.maron_pierce",
}

// lawFacts are the laws of thickening side by side. They are laws, not estimates: the
// band of the grains' factor stands above.
func (p *Melt) lawFacts() []fact {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	var list []fact
	for _, law := range results.Melt.Laws {
		if !law.Factor.Known() {
			continue
		}
		more := ""
		if !law.Valid {
			more = " " + p.text("pane.melt.law_outside")
		}
		if law.Used {
			more = " " + p.text("pane.melt.law_used")
		}
		list = append(list, fact{
			label: p.text(thickeningTexts[law.ID]), value: "×" + p.words().Number(law.Factor.Value, 2), strong: law.Used,
			more: p.interval(p.words().Number(law.Factor.Low, 2), p.words().Number(law.Factor.High, 2)) + more,
		})
	}
	return list
}

// pinTexts are the parts of the model that a measurement can settle.
var pinTexts = map[project.Pin]string{
	project.PinWater: "pane.melt.pin_water", project.PinGrains: "pane.melt.pin_grains", project.PinOil: "pane.melt.pin_oil",
}

// pinFields choose what a measured melt flow settles, and whose.
func (p *Melt) pinFields() fyne.CanvasObject {
	what := []control.Choice{{Value: "", Text: p.text("pane.melt.pin_none")}}
	for _, pin := range project.Pins() {
		what = append(what, control.Choice{Value: string(pin), Text: p.text(pinTexts[pin])})
	}
	from := append([]control.Choice{{Value: "", Text: p.text("pane.melt.pin_first")}}, p.blendChoices()...)
	return control.NewPairs(8,
		p.choiceField("/melt/pin", p.text("field.melt.pin"), what,
			func(d *project.Project) string { return string(d.Melt.Pin) }, func(d *project.Project, v string) { d.Melt.Pin = project.Pin(v) }),
		p.choiceField("/melt/pin_blend", p.text("field.melt.pin_blend"), from,
			func(d *project.Project) string { return string(d.Melt.PinBlend) },
			func(d *project.Project, v string) { d.Melt.PinBlend = project.BlendID(v) }))
}

// blendChoices are the blends of the project.
func (b *base) blendChoices() []control.Choice {
	var list []control.Choice
	for i := range b.view.Project.Blends {
		list = append(list, control.Choice{Value: string(b.view.Project.Blends[i].ID), Text: b.view.Sheet.Blends[i].Name})
	}
	return list
}

// choiceField makes a field that chooses one of several values of the document.
func (b *base) choiceField(place, label string, choices []control.Choice, get func(*project.Project) string, set func(*project.Project, string)) *control.SelectField {
	field := control.NewSelectField(control.SelectOptions{
		ID: place, Label: label, Choices: choices,
		Value: func() string {
			if b.view.Project == nil {
				return ""
			}
			return get(b.view.Project)
		},
		OnCommit: func(value string) error {
			return b.edit(place, label, func(d *project.Project) error { set(d, value); return nil })
		},
	})
	b.inputs.Add(field)
	return field
}

// testName is what a melt-flow test is called, its number while it has no name.
func (p *Melt) testName(i int) string {
	if i < 0 || i >= len(p.view.Project.Melt.Tests) {
		return ""
	}
	if name := p.view.Project.Melt.Tests[i].Name; name != "" {
		return name
	}
	return p.words().Say("pane.melt.test_number", map[string]any{"Number": i + 1})
}

// digits is a number of a text.
func digits(v float64, unit string, n int) wording.Number {
	return wording.Number{Value: v, Unit: unit, Digits: n}
}
