package pane

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// choices are the powders of the project.
func (p *Filler) choices() []control.Choice {
	var choices []control.Choice
	for _, m := range p.view.Project.Materials {
		if m.Kind == material.Filler {
			choices = append(choices, control.Choice{Value: string(m.ID), Text: m.Name})
		}
	}
	return choices
}

// newChooser is the list of powders, with a button to add one. It stays when
// another powder is chosen, so that the keyboard stays on it.
func (p *Filler) newChooser() fyne.CanvasObject {
	p.powders = control.NewSelectField(control.SelectOptions{
		ID: "", Label: p.text("pane.filler.powder"), Hint: p.text("pane.filler.none"),
		Value:    func() string { return string(p.chosen) },
		OnCommit: func(value string) error { p.choose(material.ID(value)); return nil },
		Wide:     true,
	})
	var add *widget.Button
	add = widget.NewButton(p.text("pane.filler.add"), func() {
		p.desk.Menu(add, p.libraryItems(material.Filler, nil, nil, p.add)...)
	})
	return section("", p.powders, container.NewHBox(add))
}

// add puts a powder into the project and shows it.
func (p *Filler) add(m material.Material) {
	var id material.ID
	err := p.desk.Edit(p.words().Say("edit.add_material", map[string]any{"Material": m.Name}), "/materials",
		func(d *project.Project) error {
			id = addMaterial(d, m)
			return nil
		})
	if err == nil {
		p.choose(id)
	}
}
