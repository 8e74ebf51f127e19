package pane

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildRegrind is what was ground from purge, failed spools and prints, one material at a
// time, and what it does to the blend at work.
func (p *Line) buildRegrind() []fyne.CanvasObject {
	p.first = nil
	all := regrinds(p.view)
	add, purge := widget.NewButton(p.text("pane.line.add_regrind"), p.addRegrind), widget.NewButton(p.text("pane.line.add_purge"), p.addPurge)
	if bodyOf(p.view, p.view.Chosen) < 0 {
		add.Disable()
	}
	p.remarks = append(p.remarks, func() {
		if _, known := p.purgeBefore(); known {
			purge.Enable()
		} else {
			purge.Disable()
		}
	})
	buttons := container.NewVBox(container.NewHBox(add), container.NewHBox(purge))
	if len(all) == 0 {
		return []fyne.CanvasObject{section(p.text("pane.line.regrind"), control.NewCaption(p.text("pane.line.regrind_empty")), buttons)}
	}
	index := p.view.Project.MaterialByID(p.regrind)
	chooser := []fyne.CanvasObject{buttons}
	if len(all) > 1 {
		chooser = append([]fyne.CanvasObject{p.regrindChooser(all)}, chooser...)
	}
	objects := []fyne.CanvasObject{section(p.text("pane.line.regrind"), chooser...)}
	if p.view.Blend() != nil {
		objects = append(objects, section(p.text("pane.line.regrind_in_blend"),
			append(p.shareField(index), p.lines(p.powderKeptWords), p.lines(p.regrindWords), p.facts(p.regrindFacts))...))
	}
	return append(objects,
		p.named(func() string { return p.materialName(index) }, p.regrindFields(index)),
		control.NewCaption(p.text("pane.line.regrind_remark")))
}

// followRegrind keeps to a material that is there and regrind: the one in the blend at
// work, else the first.
func (p *Line) followRegrind(v View) {
	all := regrinds(v)
	if len(all) == 0 || slices.Contains(all, v.Project.MaterialByID(p.regrind)) {
		return
	}
	p.regrind = v.Project.Materials[all[0]].ID
	if blend := v.Blend(); blend != nil {
		for _, part := range blend.Parts {
			if slices.Contains(all, v.Project.MaterialByID(part.Material)) {
				p.regrind = part.Material
			}
		}
	}
}

// regrinds are the materials of the project that are regrind.
func regrinds(v View) (list []int) {
	for i := range v.Project.Materials {
		if v.Project.Materials[i].Regrind.Is() {
			list = append(list, i)
		}
	}
	return list
}

// regrindAt is the material that is regrind and that a place of the document belongs to;
// -1 for none.
func (p *Line) regrindAt(place string) int {
	var index int
	if _, err := fmt.Sscanf(place, "/materials/%d/", &index); err != nil || p.view.Project == nil {
		return -1
	}
	if index >= len(p.view.Project.Materials) || !p.view.Project.Materials[index].Regrind.Is() {
		return -1
	}
	return index
}

// recipeKey changes when the part needs other inputs: another material, or another recipe.
func (p *Line) recipeKey(v View) string {
	if p.section != sectionRegrind || v.Blend() == nil {
		return ""
	}
	key := fmt.Sprint(regrinds(v), len(v.Project.Materials))
	for _, part := range v.Blend().Parts {
		key += string(part.Material) + " "
	}
	return key
}

// bodyOf is the first polymer of a blend, fresh; -1 for none.
func bodyOf(v View, blend int) int {
	v.Chosen = blend
	if list := polymers(v); len(list) > 0 {
		return list[0]
	}
	return -1
}

// addRegrind makes a material of the strand of the blend at work, ground once.
func (p *Line) addRegrind() {
	blend, polymer := p.view.Blend(), bodyOf(p.view, p.view.Chosen)
	results := p.view.Results()
	if blend == nil || polymer < 0 {
		return
	}
	m := p.groundOf("pane.line.regrind_of", polymer)
	if r := results.Result(bench.FillerMassFraction); results.Powder >= 0 && r.Known() && r.Value > 0 {
		m.Regrind.Filler = p.view.Project.Materials[results.Powder].ID
		m.Regrind.Content, _ = quantity.Parse[quantity.Fraction](fmt.Sprintf("%.4g %%", r.Value))
	}
	p.addGround("pane.line.add_regrind", m)
}

// addPurge makes a material of what is purged before the blend at work, in the sequence of
// changes.
func (p *Line) addPurge() {
	content, known := p.purgeBefore()
	if !known {
		return
	}
	m := p.groundOf("pane.line.purge_before", bodyOf(p.view, p.view.Chosen))
	if powder := p.powderAround(); powder >= 0 {
		m.Regrind.Filler = p.view.Project.Materials[powder].ID
		low, high := fmt.Sprintf("%.3g", content.Low), fmt.Sprintf("%.3g", content.High)
		if low != high {
			low += "-" + high
		}
		m.Regrind.Content, _ = quantity.Parse[quantity.Fraction](low + " %")
	}
	p.addGround("pane.line.add_purge", m)
}

// purgeBefore is the content of what is purged before the blend at work; false where it is
// not known, or where the polymer or the powder changes, so that the purge is waste.
func (p *Line) purgeBefore() (bench.Result, bool) {
	rows := p.view.Sheet.Line.Changes
	for i := len(rows) - 1; i > 0; i-- {
		if rows[i].Blend != p.view.Chosen || !rows[i].Content.Known() {
			continue
		}
		return rows[i].Content, p.alike(rows[i-1].Blend, rows[i].Blend)
	}
	return bench.Result{}, false
}

// alike reports whether two blends are of one polymer, and of one powder as far as they
// hold any.
func (p *Line) alike(a, b int) bool {
	if bodyOf(p.view, a) != bodyOf(p.view, b) {
		return false
	}
	one, other := p.view.Sheet.Blends[a].Powder, p.view.Sheet.Blends[b].Powder
	return one < 0 || other < 0 || one == other
}

// powderAround is the powder of the change into the blend at work: its own, or that of the
// blend before; -1 for none.
func (p *Line) powderAround() int {
	if powder := p.view.Results().Powder; powder >= 0 {
		return powder
	}
	rows := p.view.Sheet.Line.Changes
	for i := len(rows) - 1; i > 0; i-- {
		if rows[i].Blend == p.view.Chosen && rows[i-1].Blend >= 0 {
			return p.view.Sheet.Blends[rows[i-1].Blend].Powder
		}
	}
	return -1
}

// groundOf is a material that was ground once, named after the blend at work.
func (p *Line) groundOf(name string, polymer int) material.Material {
	blend, body := p.view.Blend(), &p.view.Project.Materials[polymer]
	return material.Material{
		ID: material.ID("regrind-" + string(blend.ID)), Kind: material.Polymer, Class: body.Class,
		Name:    p.words().Say(name, map[string]any{"Blend": p.view.Results().Name}),
		Regrind: material.Regrind{Polymer: body.ID, Passes: 1},
	}
}

// addGround puts it into the project and shows it.
func (p *Line) addGround(label string, m material.Material) {
	at := len(p.view.Project.Materials)
	err := p.desk.Edit(p.text(label), fmt.Sprintf("/materials/%d/regrind/content", at), func(d *project.Project) error {
		p.regrind = addMaterial(d, m)
		return nil
	})
	if err == nil {
		p.Show(p.view)
	}
}

func (p *Line) regrindChooser(all []int) fyne.CanvasObject {
	var choices []control.Choice
	for _, i := range all {
		choices = append(choices, control.Choice{Value: string(p.view.Project.Materials[i].ID), Text: p.materialName(i)})
	}
	return control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.line.regrind_shown"), Choices: choices, Wide: true,
		Value: func() string { return string(p.regrind) },
		OnCommit: func(value string) error {
			p.regrind = material.ID(value)
			p.Show(p.view)
			return nil
		},
	})
}

// regrindIn is a material of a project; an empty one when it is gone.
func regrindIn(d *project.Project, index int) *material.Material {
	if index >= len(d.Materials) {
		return &material.Material{}
	}
	return &d.Materials[index]
}

// regrindFields are what is known of the regrind.
func (p *Line) regrindFields(index int) fyne.CanvasObject {
	place := func(member string) string { return fmt.Sprintf("/materials/%d/regrind/%s", index, member) }
	label := func(member string) string { return p.text("field.regrind." + member) }
	look := func(member string) fieldLook {
		return fieldLook{label: label(member), hint: p.text("hint.regrind." + member)}
	}
	at := func(d *project.Project) *material.Regrind { return &regrindIn(d, index).Regrind }
	name := newText(&p.base, fmt.Sprintf("/materials/%d/name", index), p.text("field.regrind.name"),
		func(d *project.Project) *string { return &regrindIn(d, index).Name })
	p.first = name
	return control.NewPairs(8, name,
		p.choiceField(place("polymer"), label("polymer"), p.materialChoices(material.Polymer),
			func(d *project.Project) string { return string(at(d).Polymer) }, func(d *project.Project, v string) { at(d).Polymer = material.ID(v) }),
		p.choiceField(place("filler"), label("filler"), p.materialChoices(material.Filler),
			func(d *project.Project) string { return string(at(d).Filler) }, func(d *project.Project, v string) { at(d).Filler = material.ID(v) }),
		newQuantity(&p.base, place("content"), look("content"), func(d *project.Project) *fraction { return &at(d).Content }),
		newNamedNumber(&p.base, place("passes"), label("passes"), func(d *project.Project) *int { return &at(d).Passes }),
		newQuantity(&p.base, place("drift"), look("drift"), func(d *project.Project) *quantity.Of[quantity.Factor] { return &at(d).Drift }),
		newProperty(&p.base, index, "moisture"),
		newNamedProperty(&p.base, index, "price", p.text("field.regrind.price")),
		newQuantity(&p.base, place("limit"), look("limit"), func(d *project.Project) *fraction { return &at(d).Limit }),
		newNamedNumber(&p.base, place("most_passes"), label("most_passes"), func(d *project.Project) *int { return &at(d).MostPasses }))
}

// materialChoices are the fresh polymers of the project, or its powders and none.
func (p *Line) materialChoices(kind material.Kind) (choices []control.Choice) {
	if kind == material.Filler {
		choices = append(choices, control.Choice{Text: p.text("pane.line.no_powder_in_it")})
	}
	for i := range p.view.Project.Materials {
		if m := &p.view.Project.Materials[i]; m.Kind == kind && !m.Regrind.Is() {
			choices = append(choices, control.Choice{Value: string(m.ID), Text: p.materialName(i)})
		}
	}
	return choices
}

// regrindFacts are what the regrind amounts to in the blend at work.
func (p *Line) regrindFacts() []fact {
	results := p.view.Results()
	if results == nil || !results.Regrind.Known {
		return nil
	}
	sheet := &results.Regrind
	list := []fact{
		p.fact("figure.filler_mass_fraction", p.result(bench.FillerMassFraction)),
		p.fact("figure.filler_from_regrind", p.result(bench.FillerFromRegrind)),
		p.fact("figure.melt_flow_factor_regrind", p.result(bench.MeltFlowRegrind)),
		p.fact("figure.heat_passes", p.result(bench.HeatPasses)),
		p.fact("pane.line.standing", sheet.Standing),
	}
	beyond := p.fact("pane.line.beyond", sheet.Beyond)
	beyond.label = p.words().Say("pane.line.beyond", map[string]any{"Most": sheet.Most})
	return append(list, beyond)
}

// regrindWords say whether the regrind keeps to its limits, and how the content that is
// wanted is met with it.
func (p *Line) regrindWords() []string {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	if !results.Regrind.Known {
		return nil
	}
	var said []string
	for _, note := range results.Notes {
		if note.ID == "regrind_over" || note.ID == "regrind_often" {
			said = append(said, p.words().Say("note."+note.ID, note.Values))
		}
	}
	if len(said) == 0 {
		said = append(said, p.text("pane.line.regrind_fine"))
	}
	return said
}
