package pane

import (
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// buildSieving is the sieve stack and what follows from it.
func (p *Filler) buildSieving(i int) []fyne.CanvasObject {
	charge := benchField(p, i, "/sieving/charge", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &d.Sieving.Charge })
	p.first = charge
	return []fyne.CanvasObject{
		section(p.text("pane.filler.stack"),
			control.NewPairs(8, charge, benchField(p, i, "/sieving/pan", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &d.Sieving.Pan })),
			p.sieveTable(i).object(), p.lines(func() []string { return p.stackOpen(i) }), p.facts(func() []fact { return p.sizeFacts(i) })),
		section(p.text("pane.filler.check_sieve"), p.checkSieve(i), p.facts(func() []fact { return p.topFacts(i) }), p.lines(func() []string { return p.topOpen(i) })),
		section(p.text("pane.filler.laws"), p.facts(func() []fact { return p.lawFacts(i) }), p.captions(func() []string { return p.lawRemark(i) })),
	}
}

// checkSieve is the sieve that the whole lot has passed.
func (p *Filler) checkSieve(i int) fyne.CanvasObject {
	return benchField(p, i, "/sieving/check_sieve", func(d *material.Powder) *quantity.Of[quantity.Length] { return &d.Sieving.CheckSieve })
}

// sieveTable is the stack, sieve by sieve.
func (p *Filler) sieveTable(i int) *rowsTable[material.Sieve] {
	return newRowsTable(&p.base, rowsOptions[material.Sieve]{
		place: benchPlace(i, "/sieving/sieves"), label: p.text("pane.filler.stack"),
		most: project.MostRows("/materials/*/powder/sieving/sieves"), shown: 10, file: p.text("pane.filler.sieve_file"),
		columns: p.sieveColumns(i),
		rowNote: func(index int) string { return p.remark(p.sieveRow(i, index).Remark) },
		list: func(d *project.Project) *[]material.Sieve {
			if powder := powderIn(d, i); powder != nil {
				return &powder.Sieving.Sieves
			}
			return nil
		},
	})
}

// sieveRow is what a sieve comes to.
func (p *Filler) sieveRow(i, index int) *bench.SievingRow {
	sheet := p.sheet(i)
	if sheet == nil || index >= len(sheet.Sieving.Rows) {
		return &bench.SievingRow{}
	}
	return &sheet.Sieving.Rows[index]
}

func (p *Filler) sieveColumns(i int) []column[material.Sieve] {
	percent := func(title string, of func(*bench.SievingRow) float64) column[material.Sieve] {
		return computedColumn[material.Sieve](p.text(title), 66, func(index int) control.Cell {
			row := p.sieveRow(i, index)
			if !row.Known {
				return control.Cell{}
			}
			return muted(p.words().Fixed(of(row), 1))
		})
	}
	retained := quantityColumn(&p.base, "retained", p.text("pane.filler.retained"), 92, "g",
		func(s *material.Sieve) *quantity.Of[quantity.Mass] { return &s.Retained })
	retained.also = p.titles("pane.filler.retained_also")
	return []column[material.Sieve]{
		p.openingColumn(),
		computedColumn[material.Sieve](p.text("pane.filler.mesh"), 60, func(index int) control.Cell { return muted(p.sieveRow(i, index).Mesh) }),
		retained,
		percent("pane.filler.retained_percent", func(r *bench.SievingRow) float64 { return r.RetainedPercent }),
		percent("pane.filler.passing_percent", func(r *bench.SievingRow) float64 { return r.PassingPercent }),
	}
}

// openingColumn takes a length or a mesh number. A heading such as "Sieve" may stand
// above numbers that only count the sieves, so it needs a unit.
func (p *Filler) openingColumn() column[material.Sieve] {
	opening := quantityColumn(&p.base, "opening", p.text("pane.filler.opening"), 92, "um",
		func(s *material.Sieve) *quantity.Of[quantity.Length] { return &s.Opening })
	plain := opening.set
	opening.set = func(s *material.Sieve, text string) error {
		if strings.EqualFold(strings.TrimSpace(text), p.text("pane.filler.pan_row")) {
			return said{"pane.filler.pan_has_field", nil}
		}
		return plain(s, text)
	}
	opening = byMesh(opening)
	opening.also, opening.vague = p.titles("pane.filler.opening_also"), p.titles("pane.filler.opening_vague")
	return opening
}

// byMesh lets a column of openings take mesh numbers too.
func byMesh[R any](opening column[R]) column[R] {
	plain := opening.set
	opening.set = func(row *R, text string) error {
		if um, is := bench.OpeningOfMesh(text); is {
			text = um
		}
		return plain(row, text)
	}
	return opening
}

// titles is a list of titles that a column may have in files.
func (p *Filler) titles(id string) []string { return strings.Split(p.text(id), "; ") }

// stackOpen says what to do while there is no analysis.
func (p *Filler) stackOpen(i int) []string {
	if sheet := p.sheet(i); sheet == nil || !sheet.Sieving.Known {
		return []string{p.text("pane.filler.stack_open")}
	}
	return nil
}

// sizeFacts says balance, percentiles and span.
func (p *Filler) sizeFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil || !sheet.Sieving.Known {
		return nil
	}
	s := &sheet.Sieving
	return []fact{
		p.factWith("pane.filler.balance", s.Balance, " "+p.text("pane.filler.balance_of")),
		p.percentile("pane.filler.d10", s.D10), p.percentile("pane.filler.d50", s.D50), p.percentile("pane.filler.d90", s.D90),
		p.fact("pane.filler.span", s.Span),
	}
}

// percentile is a size with the sieves around it, or the bound where no sieve
// saw it.
func (p *Filler) percentile(label string, d bench.Percentile) fact {
	f := fact{label: p.text(label)}
	bound := map[string]any{"Bound": wording.Number{Value: d.Bound, Unit: "µm", Digits: 4}}
	switch {
	case d.Below:
		f.value, f.more = p.words().Say("pane.filler.size_below", bound), below(p.text("pane.filler.size_finest"))
	case d.Above:
		f.value, f.more = p.words().Say("pane.filler.size_above", bound), below(p.text("pane.filler.size_coarsest"))
	case d.Size.Known():
		f.value = p.words().Say("pane.value", map[string]any{"Value": shown(d.Size, 3)})
		f.more = below(p.words().Say("pane.filler.size_between", map[string]any{
			"Low": wording.Number{Value: d.Size.Low, Digits: 4}, "High": wording.Number{Value: d.Size.High, Digits: 4},
		}))
	}
	return f
}

func (p *Filler) topOpen(i int) []string {
	if sheet := p.sheet(i); sheet == nil || !sheet.Sieving.Top.Known() {
		return []string{p.text("pane.filler.top_open")}
	}
	return nil
}

func (p *Filler) topFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil || !sheet.Sieving.Top.Known() {
		return nil
	}
	return []fact{p.factWith("pane.filler.top", sheet.Sieving.Top, below(p.text("pane.filler.top_check")))}
}

// lawTexts are the fitted laws: their names, and those of size and shape.
var lawTexts = map[string]struct{ name, size, shape string }{
	"rosin_rammler":      {"pane.filler.law_curve", "pane.filler.rosin_size", "pane.filler.rosin_shape"},
	"rosin_rammler_line": {"pane.filler.law_line", "pane.filler.rosin_size", "pane.filler.rosin_shape"},
	"log_normal":         {"pane.filler.law_log_normal", "pane.filler.log_size", "pane.filler.log_shape"},
}

func (p *Filler) lawFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	var facts []fact
	for k := range sheet.Sieving.Fits {
		if fit := &sheet.Sieving.Fits[k]; fit.Known {
			facts = append(facts, p.lawFact(fit, k == sheet.Sieving.Best))
		}
	}
	return facts
}

// lawRemark says how far to trust the laws, or what they need.
func (p *Filler) lawRemark(i int) []string {
	if len(p.lawFacts(i)) == 0 {
		return []string{p.text("pane.filler.laws_open")}
	}
	return []string{p.text("pane.filler.laws_remark")}
}

func (p *Filler) lawFact(fit *bench.SizeFit, best bool) fact {
	law := lawTexts[fit.ID]
	name := p.text(law.name)
	if best {
		name += below(p.text("pane.filler.law_best"))
	}
	value, interval := p.figures(fit.Size)
	if fit.SizeOpen {
		value = p.text("pane.filler.law_open")
	}
	shape := p.ranged(fit.Shape)
	if fit.ShapeOpen {
		shape = p.text("pane.filler.law_open")
	}
	fits := p.text("pane.filler.misfit_none")
	if !fit.Exact {
		fits = p.words().Say("pane.filler.misfit", map[string]any{
			"Misfit": wording.Number{Value: fit.Misfit, Digits: 2}, "R2": wording.Number{Value: fit.R2, Digits: 4},
		})
	}
	sauter := p.text("pane.filler.no_sauter")
	if fit.Sauter.Known() {
		sauter = p.words().Say("pane.filler.sauter", map[string]any{"Value": shown(fit.Sauter, 3)})
	}
	return fact{
		label: name, value: p.words().Say(law.size, map[string]any{"Value": value}), strong: best,
		more: interval + below(p.words().Say(law.shape, map[string]any{"Value": shape})) + below(fits) + below(sauter),
	}
}
