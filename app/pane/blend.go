package pane

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Blend is the pane of the recipe: what goes in, what to weigh, what it costs.
type Blend struct {
	base
	parts *partsTable
	// refused are the refused amounts of tables that are not shown now.
	refused map[project.BlendID]map[material.ID]control.Refusal
	answer  *control.Text
	charge  *control.Text
}

// NewBlend makes the pane.
func NewBlend(desk Desk) *Blend {
	p := &Blend{base: newBase(bench.PaneBlend, desk), refused: map[project.BlendID]map[material.ID]control.Refusal{}}
	p.answer = control.NewText("", control.Plain)
	p.charge = control.NewText("", control.Muted)
	picture := p.newPicture(func(v View) figure.Picture { return figure.Cost(v.Sheet, v.Chosen, desk.Words()) })
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// Start puts the keyboard on the amount of the powder.
func (p *Blend) Start() {
	if p.parts != nil {
		p.parts.start()
	}
}

// Commit hands on what is typed in the table.
func (p *Blend) Commit() {
	if p.parts != nil {
		p.parts.grid.Commit()
	}
}

// Has reports whether the pane has an input or a cell for a place.
func (p *Blend) Has(place string) bool {
	return p.base.Has(place) || p.parts != nil && strings.HasPrefix(place, p.parts.grid.ID())
}

// Lead focuses the field or the cell of a place.
func (p *Blend) Lead(place string) bool {
	if p.parts != nil && p.parts.lead(place) {
		return true
	}
	return p.base.Lead(place)
}

// Show brings the pane up to date.
func (p *Blend) Show(v View) {
	key := p.keyOf(v)
	if key != p.key {
		p.keepRefused()
	}
	p.take(v, key, p.build)
	if p.parts != nil {
		p.parts.grid.Sync()
	}
	p.answer.SetText(p.answerText())
	p.charge.SetText(p.chargeText())
	p.refresh()
}

// keyOf changes when other inputs are needed: another blend, other materials.
func (p *Blend) keyOf(v View) string {
	key := fmt.Sprint(v.Chosen, v.Project.Currency)
	if blend := v.Blend(); blend != nil {
		key += string(blend.ID)
		for _, part := range blend.Parts {
			key += fmt.Sprint("|", part.Material, v.Project.MaterialByID(part.Material))
		}
	}
	return key
}

func (p *Blend) build() {
	p.parts = nil
	if p.view.Blend() == nil {
		p.column.SetObjects(section(p.text("pane.blend.title"), control.NewText(p.text("pane.no_blend"), control.Muted)))
		return
	}
	p.remarks = append(p.remarks, p.computed)
	p.column.SetObjects(p.recipe(), p.batch(), p.measured(), p.prices(), p.making(), p.bought())
}

// keepRefused keeps the refused amounts of the table before it goes.
func (p *Blend) keepRefused() {
	if p.parts != nil && p.view.Blend() != nil {
		p.refused[p.view.Blend().ID] = p.parts.refused()
	}
}

// recipe is the table of parts with what it comes to in words.
func (p *Blend) recipe() fyne.CanvasObject {
	p.parts = newPartsTable(p)
	p.parts.restore(p.refused[p.view.Blend().ID])
	var add *widget.Button
	add = widget.NewButton(p.text("pane.blend.add_part"), func() { p.desk.Menu(add, p.parts.addItems()...) })
	remove := widget.NewButton(p.text("pane.blend.remove_part"), p.parts.remove)
	remove.Disable() // until a part is chosen
	p.parts.onPick = remove.Enable
	card := control.NewCard("", p.text("pane.blend.amounts_of_whole"), control.NewColumn(8,
		p.parts.grid, container.NewHBox(add, remove), p.charge, p.answer))
	p.remarks = append(p.remarks, func() { card.SetTitle(p.view.Blend().Name) })
	return card
}

func (p *Blend) batch() fyne.CanvasObject {
	i := p.view.Chosen
	return pairs(p.text("pane.blend.batch"),
		newNumber(&p.base, "/batch/spools", func(d *project.Project) *int { return &d.Batch.Spools }),
		newQuantity(&p.base, "/batch/start_up_loss", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Batch.StartUpLoss }),
		newQuantity(&p.base, "/batch/purge", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Batch.Purge }),
		newQuantity(&p.base, "/batch/scrap", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Fraction] { return &d.Batch.Scrap }),
		newQuantity(&p.base, "/batch/balance_resolution", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Batch.BalanceResolution }),
		newQuantity(&p.base, fmt.Sprintf("/blends/%d/masterbatch", i), fieldLook{label: p.text("field.blend.masterbatch"), hint: p.text("hint.masterbatch")},
			func(d *project.Project) *quantity.Of[quantity.Fraction] { return &d.Blends[i].Masterbatch }),
	)
}

// measured is the field that pins the estimate of the density.
func (p *Blend) measured() fyne.CanvasObject {
	i := p.view.Chosen
	return section(p.text("pane.blend.measured"),
		newQuantity(&p.base, fmt.Sprintf("/blends/%d/measured_density", i), fieldLook{label: p.text("field.blend.measured_density")},
			func(d *project.Project) *quantity.Of[quantity.Density] { return &d.Blends[i].MeasuredDensity }))
}

// prices are price and density of each material in the blend at work.
func (p *Blend) prices() fyne.CanvasObject {
	var fields []fyne.CanvasObject
	for _, part := range p.view.Blend().Parts {
		i := p.view.Project.MaterialByID(part.Material)
		fields = append(fields, p.propertyOf(i, "price", "pane.blend.price_of"))
		if !p.view.Project.Materials[i].Regrind.Is() { // its density is that of what is in it
			fields = append(fields, p.propertyOf(i, "density", "pane.blend.density_of"))
		}
	}
	return pairs(p.text("pane.blend.prices"), fields...)
}

// propertyOf is a property whose label names its material.
func (p *Blend) propertyOf(i int, member, label string) fyne.CanvasObject {
	say := func() string {
		return p.words().Say(label, map[string]any{"Material": p.materialName(i)})
	}
	field := newNamedProperty(&p.base, i, member, say())
	p.remarks = append(p.remarks, func() { field.SetLabel(say()) })
	return field
}

func (p *Blend) making() fyne.CanvasObject {
	cost := func(d *project.Project) *project.Cost { return &d.Cost }
	return pairs(p.text("pane.blend.making"),
		newQuantity(&p.base, "/cost/energy_price", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.PricePerEnergy] { return &cost(d).EnergyPrice }),
		newQuantity(&p.base, "/cost/power", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Power] { return &cost(d).Power }),
		newQuantity(&p.base, "/cost/throughput", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.MassFlow] { return &cost(d).Throughput }),
		newQuantity(&p.base, "/cost/labour", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.PricePerTime] { return &cost(d).Labour }),
		newQuantity(&p.base, "/cost/wear", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.PricePerMass] { return &cost(d).Wear }),
		newQuantity(&p.base, "/cost/extra_time", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Duration] { return &cost(d).ExtraTime }),
		newQuantity(&p.base, "/cost/empty_spool", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Price] { return &cost(d).EmptySpool }),
	)
}

func (p *Blend) bought() fyne.CanvasObject {
	return pairs(p.text("pane.blend.compare"),
		newQuantity(&p.base, "/cost/bought_price", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Price] { return &d.Cost.BoughtPrice }),
		newQuantity(&p.base, "/cost/bought_mass", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Cost.BoughtMass }),
	)
}

// computed puts what is computed beside the fields that could replace it.
func (p *Blend) computed() {
	results := p.view.Results()
	if results == nil {
		return
	}
	set := func(member, text string) {
		if f, ok := p.inputs.At(fmt.Sprintf("/blends/%d/%s", p.view.Chosen, member)).(*control.Field); ok {
			f.SetRemark(text)
		}
	}
	density := ""
	if r := results.Result(bench.DensityEstimated); r.Known() {
		density = p.words().Say("pane.blend.estimated", map[string]any{"Value": shown(r, 4)})
	}
	set("measured_density", density)
	l := results.Batch.LetDown
	text := p.text("pane.blend.no_let_down")
	if l.Possible {
		text = p.words().Say("pane.blend.let_down", map[string]any{
			"Master": wording.Number{Value: l.MasterG, Unit: "g", Digits: 4}, "Resin": wording.Number{Value: l.ResinG, Unit: "g", Digits: 4},
			"Ratio": wording.Number{Value: l.Ratio, Digits: 3},
		})
	}
	set("masterbatch", text)
}

// chargeText says how much goes in for what comes out.
func (p *Blend) chargeText() string {
	results := p.view.Results()
	if results == nil || results.Batch.ChargeG == 0 {
		return ""
	}
	return p.words().Say("pane.blend.charge", map[string]any{
		"Charge": wording.Number{Value: results.Batch.ChargeG, Unit: "g", Digits: 4},
		"Target": wording.Number{Value: results.Batch.TargetG, Unit: "g", Digits: 4},
	})
}

// answerText says in words whether the blend is worth it.
func (p *Blend) answerText() string {
	results := p.view.Results()
	if results == nil {
		return ""
	}
	var sentences []string
	if results.Answer.ID != "" {
		sentences = append(sentences, p.words().Say(results.Answer.Message()))
	} else if change := results.Result(bench.MaterialCostChange); change.Known() && p.view.Chosen != p.view.Sheet.Reference &&
		!results.Result(bench.CostPerKg).Known() {
		sentences = append(sentences, p.words().Say("pane.blend.answer_materials", map[string]any{
			"Cost": shown(results.Result(bench.MaterialCostPerKg), 4), "Change": wording.Number{Value: change.Value, Unit: "%", Digits: 2},
			"Reference": p.view.Project.Blends[p.view.Sheet.Reference].Name,
		}))
	}
	if r := results.Result(bench.BreakEvenFillerPrice); r.Known() && r.Value > 0 {
		sentences = append(sentences, p.words().Say("pane.blend.break_even", map[string]any{"Price": shown(r, 3)}))
	}
	if r := results.Result(bench.CostChangeBought); r.Known() {
		percent := func(v float64) string { return p.words().Signed(v, 1) + " %" }
		sentences = append(sentences, p.words().Say("pane.blend.against_bought", map[string]any{
			"Change": percent(r.Value), "Low": percent(r.Low), "High": percent(r.High),
		}))
	}
	return strings.Join(sentences, " ")
}

// isAmbiguous reports a percentage that does not say of what.
func isAmbiguous(err error) (*quantity.Refusal, bool) {
	var refusal *quantity.Refusal
	if errors.As(err, &refusal) && refusal.ID == "quantity.percent_ambiguous" {
		return refusal, true
	}
	return nil, false
}
