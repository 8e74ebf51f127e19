package pane

import (
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
			p.sieveTable(i).object(), p.lines(func() []string { return p.sizeWords(i) })),
		section(p.text("pane.filler.check_sieve"), p.checkSieve(i), p.lines(func() []string { return p.topWords(i) })),
		section(p.text("pane.filler.laws"), p.lines(func() []string { return p.lawWords(i) })),
	}
}

// checkSieve is the sieve that the whole lot has passed.
func (p *Filler) checkSieve(i int) fyne.CanvasObject {
	return benchField(p, i, "/sieving/check_sieve", func(d *material.Powder) *quantity.Of[quantity.Length] { return &d.Sieving.CheckSieve })
}

func (p *Filler) sieveTable(i int) *rowsTable[material.Sieve] {
	row := func(index int) *bench.SievingRow {
		sheet := p.sheet(i)
		if sheet == nil || index >= len(sheet.Sieving.Rows) {
			return &bench.SievingRow{}
		}
		return &sheet.Sieving.Rows[index]
	}
	percent := func(v float64, known bool) control.Cell {
		if !known {
			return control.Cell{}
		}
		return muted(p.words().Fixed(v, 1))
	}
	opening := quantityColumn(&p.base, "opening", p.text("pane.filler.opening"), 84, "um",
		func(s *material.Sieve) *quantity.Of[quantity.Length] { return &s.Opening })
	plain := opening.set
	opening.set = func(s *material.Sieve, text string) error {
		if um, is := bench.OpeningOfMesh(text); is {
			text = um
		}
		return plain(s, text)
	}
	return newRowsTable(&p.base, rowsOptions[material.Sieve]{
		place: benchPlace(i, "/sieving/sieves"), label: p.text("pane.filler.stack"),
		most: project.MostRows("/materials/*/powder/sieving/sieves"), shown: 10, file: p.text("pane.filler.sieve_file"),
		columns: []column[material.Sieve]{
			opening,
			computedColumn[material.Sieve](p.text("pane.filler.mesh"), 66, func(index int) control.Cell { return muted(row(index).Mesh) }),
			quantityColumn(&p.base, "retained", p.text("pane.filler.retained"), 84, "g",
				func(s *material.Sieve) *quantity.Of[quantity.Mass] { return &s.Retained }),
			computedColumn[material.Sieve](p.text("pane.filler.retained_percent"), 66, func(index int) control.Cell {
				return percent(row(index).RetainedPercent, row(index).Known)
			}),
			computedColumn[material.Sieve](p.text("pane.filler.passing_percent"), 66, func(index int) control.Cell {
				return percent(row(index).PassingPercent, row(index).Known)
			}),
		},
		rowNote: func(index int) string { return p.remark(row(index).Remark) },
		list: func(d *project.Project) *[]material.Sieve {
			if powder := powderIn(d, i); powder != nil {
				return &powder.Sieving.Sieves
			}
			return nil
		},
	})
}

// sizeWords says balance, percentiles and span.
func (p *Filler) sizeWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil || !sheet.Sieving.Known {
		return []string{p.text("pane.filler.stack_open")}
	}
	s := &sheet.Sieving
	lines := []string{p.told("pane.filler.balance", s.Balance)}
	for _, d := range []struct {
		name string
		p    bench.Percentile
	}{{"D10", s.D10}, {"D50", s.D50}, {"D90", s.D90}} {
		lines = append(lines, p.percentile(d.name, d.p))
	}
	if s.Span.Known() {
		lines = append(lines, p.words().Say("pane.filler.span", map[string]any{"Value": p.bare(s.Span)}))
	}
	return lines
}

func (p *Filler) percentile(name string, d bench.Percentile) string {
	values := map[string]any{"Name": name, "Bound": wording.Number{Value: d.Bound, Unit: "µm", Digits: 4}}
	switch {
	case d.Below:
		return p.words().Say("pane.filler.size_below", values)
	case d.Above:
		return p.words().Say("pane.filler.size_above", values)
	case !d.Size.Known():
		return ""
	}
	values["Value"], values["Low"], values["High"] = shown(d.Size, 3), wording.Number{Value: d.Size.Low, Digits: 4}, wording.Number{Value: d.Size.High, Digits: 4}
	return p.words().Say("pane.filler.size", values)
}

// topTexts say where the largest legal grain comes from.
var topTexts = map[string]string{"check_sieve": "pane.filler.top_check", "stack": "pane.filler.top_stack"}

func (p *Filler) topWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil || sheet.Sieving.TopFrom == "" {
		return []string{p.text("pane.filler.top_open")}
	}
	return []string{p.told(topTexts[sheet.Sieving.TopFrom], sheet.Sieving.Top)}
}

// lawTexts are the fitted laws.
var lawTexts = map[string]string{
	"rosin_rammler": "pane.filler.law_curve", "rosin_rammler_line": "pane.filler.law_line", "log_normal": "pane.filler.law_log_normal",
}

func (p *Filler) lawWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	var lines []string
	for k := range sheet.Sieving.Fits {
		fit := &sheet.Sieving.Fits[k]
		if !fit.Known {
			continue
		}
		lines = append(lines, p.lawLine(fit, k == sheet.Sieving.Best))
	}
	if len(lines) == 0 {
		return []string{p.text("pane.filler.laws_open")}
	}
	return append(lines, p.text("pane.filler.laws_remark"))
}

func (p *Filler) lawLine(fit *bench.SizeFit, best bool) string {
	sauter := p.text("pane.filler.no_sauter")
	if fit.Sauter.Known() {
		sauter = p.words().Say("pane.filler.sauter", map[string]any{"Value": shown(fit.Sauter, 3)})
	}
	fits := p.words().Say("pane.filler.misfit", map[string]any{
		"Misfit": wording.Number{Value: fit.Misfit, Digits: 2}, "R2": wording.Number{Value: fit.R2, Digits: 4},
	})
	if fit.Exact {
		fits = p.text("pane.filler.misfit_none")
	}
	line := p.words().Say(lawTexts[fit.ID], map[string]any{"Size": p.withInterval(fit.Size), "Shape": p.bare(fit.Shape), "Fits": fits, "Sauter": sauter})
	if best {
		return p.words().Say("pane.filler.law_best", map[string]any{"Law": line})
	}
	return line
}
