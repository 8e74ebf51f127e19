package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// newProperty makes a field for one property of a material. The remark says
// where the value comes from.
func newProperty(b *base, index int, member string) *control.Field {
	f, _ := material.FieldOf(member)
	return newNamedProperty(b, index, member, b.text(f.Label))
}

// newNamedProperty is newProperty with a label of its own.
func newNamedProperty(b *base, index int, member, label string) *control.Field {
	f, known := material.FieldOf(member)
	if !known {
		panic("pane: no property " + member)
	}
	place := fmt.Sprintf("/materials/%d/%s", index, member)
	hint := "hint.material." + member
	if member == "price" && b.view.Project != nil && regrindIn(b.view.Project, index).Regrind.Is() {
		hint = "hint.regrind.price" // waste has no price of a shop
	}
	field := control.NewField(control.FieldOptions{
		ID: place, Label: label, Hint: b.hint(b.text(hint)), Remark: b.sourceRemark(index, f),
		Text: func() string {
			if b.view.Project == nil || index >= len(b.view.Project.Materials) {
				return ""
			}
			return f.Pretty(&b.view.Project.Materials[index], b.words().DecimalComma())
		},
		OnCommit: func(text string) error {
			return b.edit(place, label, func(p *project.Project) error { return setProperty(f, &p.Materials[index], text, p.Currency) })
		},
	})
	b.inputs.Add(field)
	b.remarks = append(b.remarks, func() { field.SetRemark(b.sourceRemark(index, f)) })
	return field
}

// setProperty sets a property from typed text. A bare number takes the unit
// that stood there before; a first price is per kilogram.
func setProperty(f material.Field, m *material.Material, text, currency string) error {
	err := f.Set(m, text)
	unit := f.Unit(m)
	if unit == "" && f.Member == "price" {
		unit = currency + usualPrices["price_per_mass"]
	}
	if !lacksUnit(err) || unit == "" {
		return err
	}
	if f.Set(m, text+" "+unit) == nil {
		return nil
	}
	return err
}

// sourceRemark says in a word or two where a value comes from.
func (b *base) sourceRemark(index int, f material.Field) string {
	if index >= len(b.view.Project.Materials) {
		return ""
	}
	m := &b.view.Project.Materials[index]
	if sheet := b.view.Sheet.Powder(index); sheet != nil {
		if fed, is := sheet.Fed(f.Member); is && fed.Used {
			return b.words().Say("source.bench", map[string]any{"Value": shown(fed.Value, 3)})
		}
	}
	source, library := m.SourceOf(f.Member)
	switch {
	case !f.Given(m):
		return b.text("source.not_given")
	case library && source.Confirm:
		return b.text("source.confirm")
	case library:
		return b.text("source.literature")
	}
	return b.text("source.entered")
}

// newClass makes a list of the classes that a material of its kind can have.
func newClass(b *base, index int) *control.SelectField {
	place := fmt.Sprintf("/materials/%d/class", index)
	label := b.text("field.material.class")
	field := control.NewSelectField(control.SelectOptions{
		ID: place, Label: label, Hint: b.text("hint.class"), Choices: b.classes(b.view.Project.Materials[index].Kind),
		Value: func() string {
			if index >= len(b.view.Project.Materials) {
				return ""
			}
			return string(b.view.Project.Materials[index].Class)
		},
		OnCommit: func(value string) error {
			return b.edit(place, label, func(p *project.Project) error {
				p.Materials[index].Class = material.Class(value)
				return nil
			})
		},
	})
	b.inputs.Add(field)
	return field
}

func (b *base) classes(kind material.Kind) []control.Choice {
	var choices []control.Choice
	for _, class := range project.Classes(kind) {
		choices = append(choices, control.Choice{Value: string(class), Text: b.text(classTexts[class])})
	}
	return choices
}

// classTexts are the names of the classes.
var classTexts = map[material.Class]string{
	material.PLA: "class.pla", material.PETG: "class.petg", material.ABS: "class.abs", material.PA6: "class.pa6",
	material.PA12: "class.pa12", material.PP: "class.pp", material.TPU: "class.tpu", material.PHB: "class.phb",
	material.PHBV: "class.phbv", material.PBAT: "class.pbat", material.PVC: "class.pvc", material.POM: "class.pom",
	material.Organic: "class.organic", material.Shell: "class.shell", material.Mineral: "class.mineral",
	material.Fibre: "class.fibre", material.Metal: "class.metal", material.Hollow: "class.hollow",
	material.VegetableOil: "class.vegetable_oil", material.MineralOil: "class.mineral_oil", material.Other: "class.else",
}

// libraryItems are the materials of a kind that can be added: an own one, those
// of the project that do not stand in skip, and those of the library.
func (b *base) libraryItems(kind material.Kind, skip map[material.ID]bool, use func(material.ID), add func(material.Material)) []*fyne.MenuItem {
	own := material.Material{Kind: kind, Name: b.text("material.own." + string(kind)), ID: material.ID("own-" + string(kind))}
	items := []*fyne.MenuItem{fyne.NewMenuItem(b.text("menu.own."+string(kind)), func() { add(own) }), fyne.NewMenuItemSeparator()}
	for _, m := range b.view.Project.Materials {
		if m.Kind == kind && !skip[m.ID] && use != nil {
			items = append(items, fyne.NewMenuItem(m.Name, func() { use(m.ID) }))
		}
	}
	library, err := material.Library()
	if err != nil {
		library = nil // a built-in file cannot be missing; a test reads it
	}
	for _, m := range library {
		if m.Kind == kind {
			items = append(items, fyne.NewMenuItem(b.words().Say("menu.from_library", map[string]any{"Material": m.Name}), func() { add(m) }))
		}
	}
	return items
}

// addMaterial puts a copy of a material into a project and returns its ID.
func addMaterial(p *project.Project, m material.Material) material.ID {
	copied := m.Clone()
	copied.ID = material.ID(project.UniqueID(string(m.ID), func(id string) bool {
		return p.MaterialByID(material.ID(id)) >= 0
	}))
	p.Materials = append(p.Materials, copied)
	return copied.ID
}
