package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// What the parts of the Filler pane have in common.

// at is a place below the bench of a powder.
func benchPlace(i int, below string) string { return fmt.Sprintf("/materials/%d/powder%s", i, below) }

// sheet is what the bench of a powder comes to; nil when it is gone.
func (p *Filler) sheet(i int) *bench.PowderSheet {
	if p.view.Sheet == nil {
		return nil
	}
	return p.view.Sheet.Powder(i)
}

// powder is the bench of a powder in the document; nil when it is gone.
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
	id := strings.ReplaceAll(texts, "/", ".")
	look := fieldLook{label: p.text("field" + id)}
	if hint := "hint" + id; p.words().Has(hint) {
		look.hint = p.text(hint)
	}
	if remark := "remark" + id; p.words().Has(remark) {
		look.remark = p.text(remark)
	}
	var none quantity.Of[D]
	return newQuantity(&p.base, benchPlace(i, below), look, func(d *project.Project) *quantity.Of[D] {
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

// lines is a text that is brought up to date with the view; empty lines are left out.
func (p *Filler) lines(tell func() []string) fyne.CanvasObject {
	text := control.NewText("", control.Plain)
	p.remarks = append(p.remarks, func() {
		var list []string
		for _, line := range tell() {
			if line != "" {
				list = append(list, line)
			}
		}
		text.SetText(strings.Join(list, "\n"))
	})
	return text
}

// told says a result under a text of the catalogue, with interval and basis;
// nothing while it is not known.
func (p *Filler) told(id string, r bench.Result) string {
	if !r.Known() {
		return ""
	}
	return p.words().Say(id, map[string]any{"Value": p.withInterval(r), "Basis": wording.ID("basis." + r.Basis.String())})
}

// toldFinely is told with digits for a mass on a scale.
func (p *Filler) toldFinely(id string, r bench.Result) string {
	if !r.Known() {
		return ""
	}
	return p.words().Say(id, map[string]any{"Value": p.finely(r), "Basis": wording.ID("basis." + r.Basis.String())})
}

// finely is a result with the digits of a mass on a scale.
func (p *Filler) finely(r bench.Result) string { return p.toDigits(r, 5) }

// bare is a result without its unit: an exponent is no factor.
func (p *Filler) bare(r bench.Result) string {
	r.Unit = ""
	return p.withInterval(r)
}

// remark is what a table says beside a row.
func (p *Filler) remark(r bench.Remark) string {
	if r.ID == "" {
		return ""
	}
	return p.words().Say(r.Message())
}

// muted is a computed cell.
func muted(text string) control.Cell { return control.Cell{Text: text, State: control.CellMuted} }
