package pane

import (
	"fmt"
	"strings"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// What the parts of the Filler pane have in common.

// benchPlace is a place below the bench of a powder.
func benchPlace(i int, below string) string { return fmt.Sprintf("/materials/%d/powder%s", i, below) }

// sheet is what the bench of a powder comes to; nil when it is gone.
func (p *Filler) sheet(i int) *bench.PowderSheet {
	if p.view.Sheet == nil {
		return nil
	}
	return p.view.Sheet.Powder(i)
}

// powderIn is the bench of a powder in the document; nil when it is gone.
func powderIn(d *project.Project, i int) *material.Powder {
	if i >= len(d.Materials) {
		return nil
	}
	return &d.Materials[i].Powder
}

// benchField makes a field for a quantity of a powder's bench. Its name and its
// remark, if it has one, are in the catalogue under its place.
func benchField[D quantity.Dim](p *Filler, i int, below string, at func(*material.Powder) *quantity.Of[D]) *control.Field {
	return benchFieldNamed(p, i, below, below, at)
}

// benchFieldNamed is benchField with texts under another place, for a field of a
// row of a list.
func benchFieldNamed[D quantity.Dim](p *Filler, i int, below, texts string, at func(*material.Powder) *quantity.Of[D]) *control.Field {
	var none quantity.Of[D]
	return newQuantity(&p.base, benchPlace(i, below), p.lookOf(texts), func(d *project.Project) *quantity.Of[D] {
		if powder := powderIn(d, i); powder != nil {
			return at(powder)
		}
		return &none
	})
}

// useBox asks whether a value of the bench stands for a property.
func (p *Filler) useBox(i int, below, id string, at func(*material.Powder) *bool) *control.CheckField {
	place, label := benchPlace(i, below), p.text(id)
	box := control.NewCheckField(control.CheckOptions{
		ID: place, Label: label,
		Checked: func() bool {
			powder := powderIn(p.view.Project, i)
			return powder != nil && !*at(powder)
		},
		OnCommit: func(checked bool) error {
			return p.edit(place, label, func(d *project.Project) error {
				*at(powderIn(d, i)) = !checked
				return nil
			})
		},
	})
	p.inputs.Add(box)
	return box
}

// moistures is a moisture on the wet and on the dry basis.
func (p *Filler) moistures(name string, wet, dry bench.Result, more string) []fact {
	label := "pane.filler." + name
	return []fact{p.factWith(label+"_wet", wet, more), p.factWith(label+"_dry", dry, "")}
}

// muted is a computed cell.
func muted(text string) control.Cell { return control.Cell{Text: text, State: control.CellMuted} }

// withoutUnit shows a column's usual unit nowhere but in its head or below the
// table: there is more room for digits, and a row reads like one of a log book.
func withoutUnit[T any](c column[T]) column[T] {
	full, unit := c.show, " "+wording.Unit(c.usual)
	c.show, c.bare = func(row *T) string { return strings.TrimSuffix(full(row), unit) }, true
	return c
}
