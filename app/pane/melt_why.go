package pane

import (
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
	rate, melt := p.result(bench.MeltFlowRate), &results.Melt
	if !rate.Known() {
		id := "pane.melt.rate_none"
		if melt.RateFrom != "" {
			id = "pane.melt.rate_waits"
		}
		return append([]fact{{label: p.text("figure.mfr"), value: p.text("pane.melt.unknown"), more: below(p.text(id))}}, p.waterFacts()...)
	}
	conditions := below(p.conditions(melt.RateAt, melt.RateLoad))
	return append([]fact{
		p.factWith("figure.mfr", rate, conditions+below(p.text(rateTexts[melt.RateFrom]))),
		p.factWith("figure.mvr", p.result(bench.MeltVolumeRate), conditions),
		p.factWith("figure.apparent_viscosity", p.result(bench.ApparentViscosity), conditions+below(p.text("pane.melt.apparent"))),
	}, p.waterFacts()...)
}

// waterFacts are what water may do, and what it would do to the strand.
func (p *Melt) waterFacts() []fact {
	return []fact{
		p.factWith("figure.moisture_limit", p.result(bench.MoistureLimit), below(p.text("pane.melt.wet_basis"))),
		p.factWith("figure.vapour_fraction", p.result(bench.VapourFraction), ""),
	}
}

// conditions are those of a melt flow rate; without both a rate says little.
func (p *Melt) conditions(temperature, load bench.Result) string {
	said := func(r bench.Result, open string) string {
		if !r.Known() {
			return p.text(open)
		}
		return p.words().Say("pane.value", map[string]any{"Value": shown(r, 3)})
	}
	return joined(", ", said(temperature, "pane.melt.temperature_open"), said(load, "pane.melt.load_unknown"))
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
		name := p.text(thickeningTexts[law.ID])
		if !law.Factor.Known() {
			list = append(list, fact{label: name, value: p.text("pane.melt.unknown"), more: below(p.text("pane.melt.law_no_packing"))})
			continue
		}
		more := ""
		if law.Used {
			more = below(p.text("pane.melt.law_used"))
		}
		more += below(p.whyOutside(&law))
		value, interval := p.figures(law.Factor)
		list = append(list, fact{
			label: name, value: "×" + value, more: interval + more, strong: law.Used,
		})
	}
	return list
}

// whyOutside says why a law is not for such a content; nothing where it is.
func (p *Melt) whyOutside(law *bench.LawSheet) string {
	if law.Valid {
		return ""
	}
	id := "pane.melt.law_outside"
	if law.ByPacking {
		id = "pane.melt.law_packed"
	}
	return p.words().Say(id, map[string]any{"Content": shown(law.Content, 2), "Highest": shown(law.Highest, 2)})
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
