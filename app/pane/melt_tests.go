package pane

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildTests is one melt-flow test at a time: how it was made, its readings, and what
// they come to.
func (p *Melt) buildTests() []fyne.CanvasObject {
	add := p.tests.adder()
	tests := p.view.Project.Melt.Tests
	if len(tests) == 0 {
		p.first = nil
		return []fyne.CanvasObject{section(p.text("pane.melt.tests"), control.NewCaption(p.text("pane.melt.tests_empty")), container.NewHBox(add))}
	}
	test := p.tests.at
	place := func(member string) string { return p.tests.placeOf(test, member) }
	chooser := []fyne.CanvasObject{container.NewHBox(add)}
	if len(tests) > 1 {
		chooser = append([]fyne.CanvasObject{p.tests.newChooser()}, chooser...)
	}
	name := newText(&p.base, place("name"), p.text("field.flow_test.name"), func(d *project.Project) *string { return &p.tests.in(d, test).Name })
	p.first = name
	return []fyne.CanvasObject{
		section(p.text("pane.melt.tests"), chooser...),
		p.named(func() string { return p.testName(test) },
			p.lines(func() []string { return p.verdictOf(test) }), p.testTable(test).object(), p.facts(func() []fact { return p.testFacts(test) })),
		section(p.text("pane.melt.made"), name, p.testFields(test), p.setAsideBox(test), container.NewHBox(p.tests.remover(test))),
	}
}

// newTests are the melt-flow tests. A new one is made like the last one, of the blend at
// work.
func (p *Melt) newTests() entries[project.FlowTest] {
	return entries[project.FlowTest]{
		base: &p.base, place: "/melt/tests", list: func(d *project.Project) *[]project.FlowTest { return &d.Melt.Tests },
		name: p.testName, show: func() { p.Show(p.view) },
		texts: entryTexts{one: "pane.melt.test", add: "pane.melt.add_test", remove: "pane.melt.remove_test"},
		fresh: func(d *project.Project) project.FlowTest {
			t := project.FlowTest{Procedure: project.CutOffs}
			if at := len(d.Melt.Tests); at > 0 {
				last := d.Melt.Tests[at-1]
				t.Procedure, t.Temperature, t.Load, t.ScrewSpeed = last.Procedure, last.Temperature, last.Load, last.ScrewSpeed
			}
			if blend := p.view.Blend(); blend != nil {
				t.Blend, t.Content = blend.ID, p.contentNow(blend.ID)
			}
			return t
		},
	}
}

// procedureTexts are the procedures of a test.
var procedureTexts = map[project.Procedure]string{
	project.CutOffs: "pane.melt.cut_offs", project.Piston: "pane.melt.piston", project.Strand: "pane.melt.strand",
}

// testFields say how a test was made.
func (p *Melt) testFields(test int) fyne.CanvasObject {
	place := func(member string) string { return p.tests.placeOf(test, member) }
	look := func(member string) fieldLook {
		return fieldLook{label: p.text("field.flow_test." + member), hint: p.text("hint.flow_test." + member)}
	}
	at := func(d *project.Project) *project.FlowTest { return p.tests.in(d, test) }
	var procedures []control.Choice
	for _, procedure := range project.Procedures() {
		procedures = append(procedures, control.Choice{Value: string(procedure), Text: p.text(procedureTexts[procedure])})
	}
	return control.NewPairs(8,
		p.choiceField(place("blend"), p.text("field.flow_test.blend"), p.blendChoices(),
			func(d *project.Project) string { return string(at(d).Blend) }, func(d *project.Project, v string) {
				at(d).Blend, at(d).Content = project.BlendID(v), p.contentNow(project.BlendID(v))
			}),
		p.choiceField(place("procedure"), p.text("field.flow_test.procedure"), procedures,
			func(d *project.Project) string { return string(at(d).Procedure) }, func(d *project.Project, v string) { at(d).Procedure = project.Procedure(v) }),
		newQuantity(&p.base, place("temperature"), look("temperature"), func(d *project.Project) *temperature { return &at(d).Temperature }),
		newQuantity(&p.base, place("load"), look("load"), func(d *project.Project) *quantity.Of[quantity.Mass] { return &at(d).Load }),
		newQuantity(&p.base, place("screw_speed"), look("screw_speed"), func(d *project.Project) *quantity.Of[quantity.Rotation] { return &at(d).ScrewSpeed }),
		newQuantity(&p.base, place("melt_density"), look("melt_density"), func(d *project.Project) *quantity.Of[quantity.Density] { return &at(d).MeltDensity }),
		newQuantity(&p.base, place("moisture"), look("moisture"), func(d *project.Project) *fraction { return &at(d).Moisture }),
		newQuantity(&p.base, place("content"), look("content"), func(d *project.Project) *fraction { return &at(d).Content }))
}

// contentNow is the powder in a blend, to be kept with a test of it; not given while it is
// not known.
func (p *Melt) contentNow(blend project.BlendID) (q fraction) {
	if at := p.view.Project.BlendByID(blend); at >= 0 && at < len(p.view.Sheet.Blends) {
		if r := p.view.Sheet.Blends[at].Result(bench.FillerMassFraction); r.Known() {
			q = quantity.FromSI[quantity.Fraction](r.Value/100, "wt%", 1)
		}
	}
	return q
}

// setAsideBox asks whether a test counts.
func (p *Melt) setAsideBox(test int) *control.CheckField {
	place, label := fmt.Sprintf("/melt/tests/%d/set_aside", test), p.text("pane.melt.use_test")
	box := control.NewCheckField(control.CheckOptions{
		ID: place, Label: label,
		Checked: func() bool { return !p.tests.shown(test).SetAside },
		OnCommit: func(checked bool) error {
			return p.edit(place, label, func(d *project.Project) error { p.tests.in(d, test).SetAside = !checked; return nil })
		},
	})
	p.inputs.Add(box)
	return box
}

// sheetOf is what a test comes to.
func (p *Melt) sheetOf(test int) *bench.FlowTestSheet {
	if test >= len(p.view.Sheet.FlowTests) {
		return &bench.FlowTestSheet{}
	}
	return &p.view.Sheet.FlowTests[test]
}

// testTable holds the readings.
func (p *Melt) testTable(test int) *rowsTable[project.FlowRow] {
	row := func(index int) bench.FlowRowSheet {
		if rows := p.sheetOf(test).Rows; index < len(rows) {
			return rows[index]
		}
		return bench.FlowRowSheet{}
	}
	yes := p.text("pane.melt.bubbles_seen")
	return newRowsTable(&p.base, rowsOptions[project.FlowRow]{
		place: fmt.Sprintf("/melt/tests/%d/rows", test), label: p.text("pane.melt.readings"), most: project.MostRows("/melt/tests/*/rows"), shown: 6,
		list: func(d *project.Project) *[]project.FlowRow {
			if test < len(d.Melt.Tests) {
				return &d.Melt.Tests[test].Rows
			}
			return nil
		},
		rowNote: func(index int) string { return p.remark(row(index).Remark) },
		columns: []column[project.FlowRow]{
			quantityColumn(&p.base, "time", p.text("pane.melt.time"), 76, "s", func(r *project.FlowRow) *duration { return &r.Time }),
			quantityColumn(&p.base, "mass", p.text("pane.melt.mass"), 84, "g", func(r *project.FlowRow) *quantity.Of[quantity.Mass] { return &r.Mass }),
			quantityColumn(&p.base, "travel", p.text("pane.melt.travel"), 76, "mm", func(r *project.FlowRow) *length { return &r.Travel }),
			choiceColumn("bubbles", p.text("pane.melt.bubbles"), 66, []control.Choice{{Value: "yes", Text: yes}},
				func(r *project.FlowRow) string {
					if r.Bubbles {
						return "yes"
					}
					return ""
				},
				func(r *project.FlowRow, v string) { r.Bubbles = v == "yes" }),
			computedColumn[project.FlowRow](p.text("pane.melt.rate"), 70, func(index int) control.Cell {
				if r := row(index); r.Known {
					return muted(p.words().Column(r.Rate, 3))
				}
				return control.Cell{}
			}),
		},
	})
}

// verdictTexts say what a test is worth, and what to do.
var verdictTexts = map[bench.FlowVerdict]string{
	bench.FlowTestEmpty: "flow_test.empty", bench.FlowTestFew: "flow_test.too_few", bench.FlowTestUneven: "flow_test.uneven",
	bench.FlowTestNoBlend: "flow_test.no_blend", bench.FlowTestNoWeight: "flow_test.no_density",
}

// verdictOf says what a test is worth, and what it is used for.
func (p *Melt) verdictOf(test int) []string {
	s := p.sheetOf(test)
	if s.Verdict == bench.FlowTestOther {
		now := p.view.Sheet.Blends[p.view.Project.BlendByID(p.tests.shown(test).Blend)].Result(bench.FillerMassFraction)
		return []string{p.words().Say("flow_test.other_content", map[string]any{"Then": p.tests.shown(test).Content, "Now": digits(now.Value, "wt%", 3)})}
	}
	if id, bad := verdictTexts[s.Verdict]; bad {
		return []string{p.text(id)}
	}
	switch t := p.tests.shown(test); {
	case t.SetAside:
		return []string{p.text("flow_test.set_aside")}
	case s.OfPlain:
		return p.plainWords(test)
	case s.Ratio.Known():
		id := "flow_test.ratio"
		if s.Ratio.Low < 1 && s.Ratio.High > 1 {
			id = "flow_test.ratio_open"
		}
		lines := []string{p.words().Say(id, map[string]any{"Ratio": p.ranged(s.Ratio), "Plain": p.testName(s.Plain)})}
		lines = append(lines, p.words().Say("flow_test.held_against", map[string]any{"Plain": p.testName(s.Plain)}))
		if s.Damper {
			comma := p.words().DecimalComma()
			lines = append(lines, p.words().Say("flow_test.damper", map[string]any{
				"Moisture": t.Moisture.Pretty(comma), "Plain": p.tests.shown(s.Plain).Moisture.Pretty(comma),
			}))
		}
		if s.Used {
			lines = append(lines, p.words().Say("flow_test.used", map[string]any{"Blend": p.view.Sheet.Blends[p.view.Project.BlendByID(t.Blend)].Name}))
		}
		return lines
	}
	return []string{p.text("flow_test.no_plain")}
}

// plainWords say which tests are held against one of the plain polymer, or which later one
// has taken its place.
func (p *Melt) plainWords(test int) []string {
	if later := p.sheetOf(test).Later; later >= 0 {
		return []string{p.words().Say("flow_test.plain_replaced", map[string]any{"Plain": p.testName(later)})}
	}
	var names []string
	for i := range p.view.Sheet.FlowTests {
		if s := &p.view.Sheet.FlowTests[i]; s.Plain == test && s.Ratio.Known() {
			names = append(names, p.testName(i))
		}
	}
	if len(names) == 0 {
		return []string{p.text("flow_test.plain")}
	}
	return []string{p.text("flow_test.plain"), p.words().Say("flow_test.plain_used", map[string]any{"Tests": names})}
}

func (p *Melt) testFacts(test int) []fact {
	s := p.sheetOf(test)
	facts := []fact{
		p.factWith("pane.melt.mfr", s.MFR, below(p.madeAt(test))), p.factWith("pane.melt.mvr", s.MVR, below(p.madeAt(test))),
		p.densityFact(test), p.factWith("pane.melt.viscosity", s.Viscosity, below(p.text("pane.melt.apparent"))),
		p.stressFact(test), p.factWith("pane.melt.shear_rate", s.Rate, ""),
	}
	if s.Spread > 0 {
		facts = append(facts, fact{label: p.text("pane.melt.spread"), value: p.words().Number(s.Spread, 2) + " %", more: below(p.text("pane.melt.spread_rule"))})
	}
	if s.Advice.Known {
		facts = append(facts, fact{label: p.text("pane.melt.advice"), value: p.words().Say("pane.melt.advice_value", map[string]any{
			"Interval": digits(s.Advice.IntervalS, "s", 3), "Low": digits(s.Advice.ChargeLow, "", 2), "High": digits(s.Advice.ChargeTo, "g", 2),
		}), more: below(p.text("pane.melt.advice_remark"))})
	}
	return facts
}

// densityFact is the melt density with what it rests on, or what waits for it.
func (p *Melt) densityFact(test int) fact {
	s := p.sheetOf(test)
	switch {
	case s.MeltDensityMeasured:
		return p.factWith("pane.melt.melt_density", s.MeltDensity, below(p.text("pane.melt.density_measured")))
	case s.MeltDensity.Known():
		return p.factWith("pane.melt.melt_density", s.MeltDensity, below(p.text("pane.melt.density_entered")))
	case s.Procedure == project.Strand || !s.Mean.Known():
		return fact{}
	}
	return fact{label: p.text("pane.melt.melt_density"), value: p.text("pane.melt.unknown"), more: below(p.text("pane.melt.density_open"))}
}

// stressFact is the apparent shear stress, or what waits for the load.
func (p *Melt) stressFact(test int) fact {
	s := p.sheetOf(test)
	if s.Stress.Known() || s.Procedure == project.Strand || !s.Mean.Known() {
		return p.factWith("pane.melt.stress", s.Stress, "")
	}
	return fact{label: p.text("pane.melt.stress"), value: p.text("pane.melt.unknown"), more: below(p.text("pane.melt.load_open"))}
}

// madeAt are the conditions of a test; without temperature and load a rate says little.
func (p *Melt) madeAt(test int) string {
	t := p.tests.shown(test)
	temperature, load := t.Temperature.Pretty(p.words().DecimalComma()), t.Load.Pretty(p.words().DecimalComma())
	if temperature == "" {
		temperature = p.text("pane.melt.temperature_open")
	}
	if load == "" {
		load = p.text("pane.melt.load_unknown")
	}
	moisture := t.Moisture.Pretty(p.words().DecimalComma())
	if moisture != "" {
		moisture = p.words().Say("pane.melt.tested_at", map[string]any{"Moisture": moisture})
	}
	return joined(", ", temperature, load, moisture)
}
