package pane

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Melt is the pane of the melt: why it runs faster or slower, its tests, and the
// temperatures that suit it.
type Melt struct {
	base
	*sections[meltSection]
	tests   entries[project.FlowTest]
	verdict *control.Text
	basis   *control.Text
	right   beside
}

// meltSection is a part of the pane.
type meltSection string

// The parts.
const (
	sectionWhy         meltSection = "why"
	sectionTests       meltSection = "tests"
	sectionTemperature meltSection = "temperature"
)

// meltSections lists the parts with the catalogue IDs of their names.
var meltSections = []sectionTitle[meltSection]{
	{sectionWhy, "pane.melt.tab_why"},
	{sectionTests, "pane.melt.tab_tests"},
	{sectionTemperature, "pane.melt.tab_temperature"},
}

// NewMelt makes the pane.
func NewMelt(desk Desk) *Melt {
	p := &Melt{base: newBase(bench.PaneMelt, desk)}
	p.sections = newSections(&p.base, p.text("pane.melt.sections"), meltSections, p.markOf, func() { p.Show(p.view) })
	p.tests = p.newTests()
	p.verdict = control.NewText("", control.Plain)
	picture := p.newPicture(p.draw)
	p.basis = control.NewText("", control.Plain)
	p.right = newBeside(control.NewCard("", "", picture), control.NewCard(p.text("pane.melt.basis"), "", p.basis))
	p.split = control.NewSplit(p.column, p.right.Column)
	return p
}

// draw is the picture of the part that is open.
func (p *Melt) draw(v View) figure.Picture {
	switch p.section {
	case sectionTests:
		return figure.FlowTest(v.Project, v.Sheet, p.tests.at, p.words())
	case sectionTemperature:
		return figure.TemperatureWindow(v.Project, v.Sheet, v.Chosen, p.words())
	}
	return figure.Flow(v.Sheet, v.Chosen, p.words())
}

// markOf is the worst note of a part or, without any, whether it holds anything.
func (p *Melt) markOf(section meltSection) control.Mark {
	return markOfPart(&p.base, section, meltSectionOf, p.holds)
}

// holds reports whether anything was entered in a part.
func (p *Melt) holds(section meltSection) bool {
	m := &p.view.Project.Melt
	if section == sectionTests {
		return len(m.Tests) > 0
	}
	return m.Temperature.Given() || m.Residence.Given()
}

// meltSectionOf is the part that a place of the document belongs to.
func meltSectionOf(place string) meltSection {
	switch {
	case strings.HasPrefix(place, "/melt/tests"):
		return sectionTests
	case place == "/print/temperature", strings.HasSuffix(place, "/print_range"), strings.HasSuffix(place, "/melt_range"),
		strings.HasSuffix(place, "/drying_temperature"), strings.HasSuffix(place, "/drying_time"):
		return sectionTemperature
	}
	return sectionWhy
}

// meltProperties are those of a polymer that this pane edits.
var meltProperties = map[meltSection][]string{
	sectionWhy:         {"moisture", "moisture_limit", "melt_density", "molar_mass", "melt_flow", "melt_flow_temperature", "melt_flow_load"},
	sectionTemperature: {"melt_range", "print_range", "drying_temperature", "drying_time"},
}

// Has reports whether a place belongs to the melt.
func (p *Melt) Has(place string) bool {
	if strings.HasPrefix(place, "/melt/") || place == "/print/temperature" || p.base.Has(place) {
		return true
	}
	if p.view.Project == nil {
		return false
	}
	for _, i := range polymers(p.view) {
		for _, member := range meltProperties[sectionTemperature] {
			if place == fmt.Sprintf("/materials/%d/%s", i, member) {
				return true
			}
		}
	}
	return false
}

// Lead opens the part that a place belongs to, then its field.
func (p *Melt) Lead(place string) bool {
	if p.base.Lead(place) {
		return true
	}
	section := meltSectionOf(place)
	p.tests.lead(place)
	if section != p.section || section == sectionTests {
		p.section = section
		p.Show(p.view)
	}
	if place == "/melt/tests" { // none of them: the button that adds one comes next
		p.tabs.Focus()
		return true
	}
	return p.base.Lead(place)
}

// Show brings the pane up to date.
func (p *Melt) Show(v View) {
	p.tests.follow(v.Project)
	p.take(v, p.keyOf(v), p.build)
	p.tabs.Sync()
	p.tests.sync()
	p.verdict.SetText(p.sentence())
	p.basis.SetText(p.factsText())
	p.refresh()
}

// keyOf changes when other inputs are needed: another blend, part or test, or other
// polymers.
func (p *Melt) keyOf(v View) string {
	key := fmt.Sprint(p.section, p.tests.key(v.Project), v.Chosen, v.Project.Currency, polymers(v), p.desk.TextScale())
	for i := range v.Project.Blends {
		key += string(v.Project.Blends[i].ID) + v.Sheet.Blends[i].Name
	}
	return key
}

// polymers are the places in the project of the polymers of the blend at work.
func polymers(v View) []int {
	blend := v.Blend()
	if blend == nil {
		return nil
	}
	var list []int
	for _, part := range blend.Parts {
		i := v.Project.MaterialByID(part.Material)
		if i >= 0 && v.Project.Materials[i].Regrind.Is() {
			i = v.Project.MaterialByID(v.Project.Materials[i].Regrind.Polymer)
		}
		if i >= 0 && v.Project.Materials[i].Kind == material.Polymer && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	return list
}

func (p *Melt) build() {
	p.tests.chooser = nil
	objects := []fyne.CanvasObject{p.tabs}
	explained := false
	switch p.section {
	case sectionTests:
		objects = append(objects, p.buildTests()...)
	case sectionTemperature:
		objects = append(objects, p.buildTemperature()...)
	default:
		objects, explained = append(objects, p.buildWhy()...), true
	}
	for _, bring := range p.remarks { // now, or the column would shrink for a moment and lose its place
		bring()
	}
	if explained {
		p.column.SetObjects(p.right.place(p.desk.TextScale(), objects)...)
		return
	}
	p.right.SetObjects(p.right.picture)
	p.column.SetObjects(objects...)
}

// buildWhy is why the melt runs faster or slower.
func (p *Melt) buildWhy() []fyne.CanvasObject {
	p.first = newQuantity(&p.base, "/melt/temperature", fieldLook{},
		func(d *project.Project) *quantity.Of[quantity.Temperature] { return &d.Melt.Temperature })
	sections := []fyne.CanvasObject{
		section(p.text("pane.melt.conditions"), p.first,
			newQuantity(&p.base, "/melt/residence", fieldLook{remark: p.text("pane.melt.residence_remark")},
				func(d *project.Project) *quantity.Of[quantity.Duration] { return &d.Melt.Residence })),
	}
	if chosen := p.view.Chosen; p.view.Blend() != nil {
		place := fmt.Sprintf("/blends/%d/measured_flow", chosen)
		measured := newQuantity(&p.base, place, fieldLook{label: p.text("field.blend.measured_flow"), remark: p.text("pane.melt.measured_remark")},
			func(d *project.Project) *quantity.Of[quantity.Factor] { return &d.Blends[chosen].MeasuredFlow })
		sections = append(sections, p.named(func() string { return p.view.Results().Name }, p.verdict, measured,
			p.lines(func() []string { return p.byTest() }), p.facts(func() []fact { return p.rateFacts() })),
			section(p.text("pane.melt.settles"), p.pinFields(), control.NewCaption(p.text("pane.melt.settles_remark"))),
			section(p.text("pane.melt.laws"), p.facts(func() []fact { return p.lawFacts() }), control.NewCaption(p.text("pane.melt.laws_remark"))))
	}
	for _, i := range polymers(p.view) {
		objects := []fyne.CanvasObject{newClass(&p.base, i)}
		for _, member := range meltProperties[sectionWhy] {
			objects = append(objects, newProperty(&p.base, i, member))
		}
		sections = append(sections, p.named(func() string { return p.materialName(i) }, objects...))
	}
	return sections
}

// sentence says in words what the melt does: the first note about it.
func (p *Melt) sentence() string {
	results := p.view.Results()
	if results == nil {
		return p.text("pane.no_blend")
	}
	for _, n := range results.Notes {
		if n.Pane == bench.PaneMelt && n.Severity != bench.Info || n.ID == "melt_measured" {
			return p.words().Say(n.Message())
		}
	}
	for _, n := range results.Notes {
		switch n.ID {
		case "melt_grains_dominate", "melt_water_dominates", "melt_oil_dominates":
			return p.words().Say(n.Message())
		}
	}
	return p.text("pane.melt.plain")
}

// factsText says what the estimate rests on, a line each, as far as it is known.
func (p *Melt) factsText() string {
	results := p.view.Results()
	if results == nil {
		return ""
	}
	var lines []string
	say := func(id string, f bench.Figure) {
		r := results.Result(f)
		if !r.Known() {
			return
		}
		lines = append(lines, p.words().Say(id, map[string]any{"Value": p.withInterval(r)}))
	}
	say("pane.melt.fact_powder", bench.FillerMeltFraction)
	say("pane.melt.fact_water_powder", bench.WaterFromPowder)
	say("pane.melt.fact_water_pellets", bench.WaterFromPellets)
	if r := results.Result(bench.MeltFlowWaterBound); r.Known() {
		lines = append(lines, p.words().Say("pane.melt.fact_bound", map[string]any{"Factor": wording.Number{Value: r.Value, Digits: 2}}))
	}
	if len(lines) == 0 {
		return p.text("pane.melt.fact_none")
	}
	return strings.Join(lines, "\n")
}
