package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// buildProperties is the card of a powder, and where its values come from.
func (p *Filler) buildProperties(i int) []fyne.CanvasObject {
	p.remarks = append(p.remarks, func() { p.sources.SetObjects(p.sourceLines(i)...) })
	return []fyne.CanvasObject{p.card(i), control.NewCard(p.text("pane.filler.sources"), "", p.sources)}
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
