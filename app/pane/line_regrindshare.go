package pane

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// shareField is the amount of the regrind in the blend at work, with the button that takes
// it out; or, while it is not in there, the one that brings it in.
func (p *Line) shareField(index int) []fyne.CanvasObject {
	blend, id := p.view.Chosen, p.view.Project.Materials[index].ID
	part := p.regrindPart()
	parts := fmt.Sprintf("/blends/%d/parts", blend)
	edit := func(text, place string, change func(d *project.Project, b *project.Blend)) *widget.Button {
		return widget.NewButton(text, func() {
			_ = p.desk.Edit(text, place, func(d *project.Project) error { change(d, &d.Blends[blend]); return nil }) // a valid recipe stays one
		})
	}
	if part < 0 {
		text := p.words().Say("pane.line.put_in", map[string]any{"Blend": p.view.Results().Name})
		return []fyne.CanvasObject{container.NewHBox(edit(text, parts, func(d *project.Project, b *project.Blend) {
			b.Parts = append(b.Parts, project.Part{Material: id})
			setShare(d, b, len(b.Parts)-1, project.Content(quantity.MustParse[quantity.Content]("10 wt%")))
		}))}
	}
	return []fyne.CanvasObject{p.amountField(blend, part), container.NewHBox(edit(p.text("pane.line.take_out"), parts, func(d *project.Project, b *project.Blend) {
		setShare(d, b, part, project.Amount{})
		b.Parts = slices.Delete(slices.Clone(b.Parts), part, part+1)
	}))}
}

// amountField is the amount of a part of a blend that is regrind.
func (p *Line) amountField(blend, part int) *control.Field {
	place, label := project.PartPointer(blend, part, "amount"), p.text("field.regrind.share")
	there := func(d *project.Project) bool { return blend < len(d.Blends) && part < len(d.Blends[blend].Parts) }
	field := control.NewField(control.FieldOptions{
		ID: place, Label: label, Hint: p.text("hint.regrind.share"),
		Text: func() string {
			if !there(p.view.Project) {
				return ""
			}
			return p.amountText(p.view.Project.Blends[blend].Parts[part].Amount)
		},
		OnCommit: func(text string) error {
			read, err := p.shareOf(text)
			if err != nil {
				return err
			}
			return p.edit(place, label, func(d *project.Project) error {
				if there(d) {
					setShare(d, &d.Blends[blend], part, read)
				}
				return nil
			})
		},
	})
	p.inputs.Add(field)
	return field
}

// setShare changes how much regrind a blend holds, and takes so much less or more of the new
// powder that its filler content stays, as far as that can be (see newPowder).
func setShare(d *project.Project, b *project.Blend, part int, amount project.Amount) {
	before := b.Parts[part].Amount
	b.Parts[part].Amount = amount
	powder, why := newPowder(d, b, part)
	was, is := wholeShare(before), wholeShare(amount)
	if powder < 0 || why != "" && why != powderUsedUp || was < 0 || is < 0 {
		return
	}
	content := d.Materials[d.MaterialByID(b.Parts[part].Material)].Regrind.Content.SI()
	left := max(0, b.Parts[powder].Amount.Content().SI()+(was-is)*content)
	text := fmt.Sprintf("%.5g wt%%", 100*left)
	b.Parts[powder].Amount = project.Content(quantity.MustParse[quantity.Content](text))
}

// wholeShare is an amount in mass of the whole, 0 for none; -1 for any other.
func wholeShare(a project.Amount) float64 {
	e, given := a.Estimate()
	switch {
	case !a.Given():
		return 0
	case !given || a.Unit() != "wt%" || e.Spread != quantity.Exact:
		return -1
	}
	return e.Value
}

// Why a filler content cannot be kept: catalogue IDs.
const (
	powderUnknown = "pane.line.kept_unknown" // in the regrind
	powderNone    = "pane.line.kept_none"    // that is new
	powderOther   = "pane.line.kept_other"   // in the regrind
	powderAmount  = "pane.line.kept_amount"
	powderUsedUp  = "pane.line.kept_used_up"
)

// newPowder finds the part of a blend that is the powder in its regrind, fresh. why says
// what keeps its amount from making up for what the regrind brings.
func newPowder(d *project.Project, b *project.Blend, regrind int) (part int, why string) {
	r := &d.Materials[d.MaterialByID(b.Parts[regrind].Material)].Regrind
	if r.Filler == "" {
		return -1, ""
	}
	part = slices.IndexFunc(b.Parts, func(part project.Part) bool { return part.Material == r.Filler })
	fresh := slices.ContainsFunc(b.Parts, func(part project.Part) bool {
		return d.Materials[d.MaterialByID(part.Material)].Kind == material.Filler
	})
	switch {
	case !r.Content.Given():
		return part, powderUnknown
	case part < 0 && fresh:
		return part, powderOther
	case part < 0:
		return part, powderNone
	case !b.Parts[part].Amount.Given() || wholeShare(b.Parts[part].Amount) < 0 || wholeShare(b.Parts[regrind].Amount) < 0:
		return part, powderAmount
	case wholeShare(b.Parts[part].Amount) == 0:
		return part, powderUsedUp
	}
	return part, ""
}

// powderKeptWords say that the filler content stays when the share changes, or why not.
func (p *Line) powderKeptWords() []string {
	blend, part := p.view.Blend(), p.regrindPart()
	if blend == nil {
		return nil
	}
	b := project.Blend{Parts: slices.Clone(blend.Parts)}
	if part < 0 { // as it will be
		part = len(b.Parts)
		b.Parts = append(b.Parts, project.Part{Material: p.regrind})
	}
	powder, why := newPowder(p.view.Project, &b, part)
	switch {
	case powder < 0 && why == "":
		return nil // there is none in it
	case why != "":
		return []string{p.text(why)}
	}
	return []string{p.words().Say("pane.line.kept", map[string]any{"Powder": p.materialName(p.view.Project.MaterialByID(b.Parts[powder].Material))})}
}

// regrindPart is the part of the blend at work that is the regrind shown; -1 for none.
func (p *Line) regrindPart() int {
	blend := p.view.Blend()
	if blend == nil {
		return -1
	}
	return slices.IndexFunc(blend.Parts, func(part project.Part) bool { return part.Material == p.regrind })
}

// shareOf reads an amount; a bare number is of the whole.
func (p *Line) shareOf(text string) (project.Amount, error) {
	if strings.EqualFold(strings.TrimSpace(text), p.text("amount.balance")) {
		return project.Balance(), nil
	}
	amount, err := project.ParseAmount(text)
	if lacksUnit(err) {
		if whole, again := project.ParseAmount(text + " wt%"); again == nil {
			return whole, nil
		}
	}
	return amount, err
}
