package pane

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// Filler is the pane of the powders: what is known of each, and from where.
type Filler struct {
	base
	chosen  material.ID
	powders *control.SelectField
	chooser fyne.CanvasObject
	sources *control.Column
}

// NewFiller makes the pane.
func NewFiller(desk Desk) *Filler {
	p := &Filler{base: newBase(bench.PaneFiller, desk), sources: control.NewColumn(6)}
	p.chooser = p.newChooser()
	picture := p.newPicture(func(v View) figure.Picture {
		return figure.Card(v.Project, v.Project.MaterialByID(p.chosen), desk.Words())
	})
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// powderAt is the powder that a place of the document belongs to.
func (p *Filler) powderAt(place string) (material.ID, bool) {
	var index int
	var member string
	_, err := fmt.Sscanf(place, "/materials/%d/%s", &index, &member)
	if err != nil || p.view.Project == nil || index < 0 || index >= len(p.view.Project.Materials) {
		return "", false
	}
	m := &p.view.Project.Materials[index]
	return m.ID, m.Kind == material.Filler
}

// Has reports whether a place belongs to a powder.
func (p *Filler) Has(place string) bool {
	_, is := p.powderAt(place)
	return is || p.base.Has(place)
}

// Lead chooses the powder that a place belongs to, then its field.
func (p *Filler) Lead(place string) bool {
	if id, is := p.powderAt(place); is {
		p.choose(id)
	}
	return p.base.Lead(place)
}

func (p *Filler) choose(id material.ID) {
	p.chosen = id
	p.Show(p.view)
}

// Show brings the pane up to date.
func (p *Filler) Show(v View) {
	if v.Project.MaterialByID(p.chosen) < 0 {
		p.chosen = firstPowder(v)
	}
	p.take(v, fmt.Sprint(p.chosen, v.Project.MaterialByID(p.chosen), v.Project.Currency), p.build)
	p.powders.SetChoices(p.choices())
	p.powders.Sync()
	p.refresh()
}

// firstPowder is a powder of the blend at work, else the first of the project.
func firstPowder(v View) material.ID {
	if blend := v.Blend(); blend != nil {
		for _, part := range blend.Parts {
			if i := v.Project.MaterialByID(part.Material); i >= 0 && v.Project.Materials[i].Kind == material.Filler {
				return part.Material
			}
		}
	}
	for _, m := range v.Project.Materials {
		if m.Kind == material.Filler {
			return m.ID
		}
	}
	return ""
}

func (p *Filler) build() {
	objects := []fyne.CanvasObject{p.chooser}
	if i := p.view.Project.MaterialByID(p.chosen); i >= 0 {
		objects = append(objects, p.card(i), control.NewCard(p.text("pane.filler.sources"), "", p.sources))
		p.remarks = append(p.remarks, func() { p.sources.SetObjects(p.sourceLines(i)...) })
	}
	p.column.SetObjects(objects...)
}

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

// card holds the properties of a powder.
func (p *Filler) card(i int) fyne.CanvasObject {
	name := newText(&p.base, fmt.Sprintf("/materials/%d/name", i), p.text("field.material.name"),
		func(d *project.Project) *string { return &d.Materials[i].Name })
	objects := []fyne.CanvasObject{name, newClass(&p.base, i)}
	for _, f := range material.FieldsFor(material.Filler) {
		field := newProperty(&p.base, i, f.Member)
		if p.first == nil {
			p.first = field
		}
		objects = append(objects, field)
	}
	calcined := p.calcined(i)
	properties := control.NewColumn(8, append(objects, calcined)...)
	p.remarks = append(p.remarks, func() { p.showForShell(i, calcined, properties) })
	return control.NewCard(p.text("pane.filler.properties"), "", properties)
}

// showForShell shows the box for burnt shell where the powder is shell.
func (p *Filler) showForShell(i int, calcined *control.CheckField, properties *control.Column) {
	shell := i < len(p.view.Project.Materials) && p.view.Project.Materials[i].Class == material.Shell
	if calcined.Visible() == shell {
		return
	}
	calcined.Hidden = !shell
	properties.SetObjects(properties.Objects()...)
}

func (p *Filler) calcined(i int) *control.CheckField {
	place := fmt.Sprintf("/materials/%d/calcined", i)
	label := p.text("field.material.calcined")
	check := control.NewCheckField(control.CheckOptions{
		ID: place, Label: label,
		Checked: func() bool { return i < len(p.view.Project.Materials) && p.view.Project.Materials[i].Calcined },
		OnCommit: func(checked bool) error {
			return p.edit(place, label, func(d *project.Project) error {
				d.Materials[i].Calcined = checked
				return nil
			})
		},
	})
	p.inputs.Add(check)
	return check
}

// sourceLines say where each value of the library comes from.
func (p *Filler) sourceLines(i int) []fyne.CanvasObject {
	m := &p.view.Project.Materials[i]
	var lines []fyne.CanvasObject
	if m.Remarks != "" {
		lines = append(lines, control.NewText(m.Remarks, control.Plain))
	}
	for _, s := range m.Sources {
		f, known := material.FieldOf(s.Field)
		if !known {
			continue
		}
		lines = append(lines, control.NewCaption(p.words().Say("source.line", map[string]any{
			"Property": p.text(f.Label), "Source": s.Text,
		})))
	}
	if len(lines) == 0 {
		lines = append(lines, control.NewCaption(p.text("source.none")))
	}
	return lines
}
