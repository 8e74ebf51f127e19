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

// buildClogging is what is known of grains that are too large for the nozzle.
func (p *Filler) buildClogging(i int) []fyne.CanvasObject {
	look := func(remark string) fieldLook { return fieldLook{remark: p.text(remark)} }
	nozzle := newQuantity(&p.base, "/print/nozzle", look("remark.print.nozzle"), func(d *project.Project) *quantity.Of[quantity.Length] { return &d.Print.Nozzle })
	p.first = nozzle
	return []fyne.CanvasObject{
		section(p.text("pane.filler.printer"), nozzle,
			newQuantity(&p.base, "/print/critical_parts", look("remark.print.critical_parts"),
				func(d *project.Project) *quantity.Of[quantity.Factor] { return &d.Print.CriticalParts }),
			newQuantity(&p.base, "/print/mass", look("remark.print.mass"), func(d *project.Project) *quantity.Of[quantity.Mass] { return &d.Print.Mass })),
		section(p.text("pane.filler.chance"), p.lines(func() []string { return p.chanceWords(i) })),
		section(p.text("pane.filler.which_sieve"), p.lines(func() []string { return p.answerWords(i) })),
		section(p.text("pane.filler.prints"), control.NewCaption(p.text("pane.filler.prints_remark")), p.printTable(i).object()),
		section(p.text("pane.filler.inspections"), control.NewCaption(p.text("pane.filler.inspections_remark")), p.inspectionTable(i).object()),
		section(p.text("pane.filler.control"), control.NewCaption(p.text("pane.filler.control_remark")), control.NewPairs(8,
			benchField(p, i, "/clogging/control/opening", func(d *material.Powder) *quantity.Of[quantity.Length] { return &d.Clogging.Control.Opening }),
			benchField(p, i, "/clogging/control/mass", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &d.Clogging.Control.Mass }),
			benchField(p, i, "/clogging/control/retained", func(d *material.Powder) *quantity.Of[quantity.Mass] { return &d.Clogging.Control.Retained }))),
	}
}

func (p *Filler) printTable(i int) *rowsTable[material.NozzleRun] {
	least, most := 0, 100000
	return newRowsTable(&p.base, rowsOptions[material.NozzleRun]{
		place: benchPlace(i, "/clogging/prints"), label: p.text("pane.filler.prints"),
		most: project.MostRows("/materials/*/powder/clogging/prints"), shown: 5,
		isEmpty: func(r *material.NozzleRun) bool { return !r.Nozzle.Given() && !r.Strand.Given() && !r.Content.Given() },
		columns: []column[material.NozzleRun]{
			quantityColumn(&p.base, "nozzle", p.text("pane.filler.print_nozzle"), 80, "mm", func(r *material.NozzleRun) *quantity.Of[quantity.Length] { return &r.Nozzle }),
			quantityColumn(&p.base, "strand", p.text("pane.filler.print_strand"), 80, "kg", func(r *material.NozzleRun) *quantity.Of[quantity.Mass] { return &r.Strand }),
			quantityColumn(&p.base, "content", p.text("pane.filler.print_content"), 80, "wt%", func(r *material.NozzleRun) *quantity.Of[quantity.Fraction] { return &r.Content }),
			wholeColumn("blockages", p.text("pane.filler.print_blockages"), 70, least, most, func(r *material.NozzleRun) *int { return &r.Blockages }),
		},
		list: func(d *project.Project) *[]material.NozzleRun {
			if powder := powderIn(d, i); powder != nil {
				return &powder.Clogging.Prints
			}
			return nil
		},
	})
}

func (p *Filler) inspectionTable(i int) *rowsTable[material.Inspection] {
	least, most := 0, 1000000
	return newRowsTable(&p.base, rowsOptions[material.Inspection]{
		place: benchPlace(i, "/clogging/inspections"), label: p.text("pane.filler.inspections"),
		most: project.MostRows("/materials/*/powder/clogging/inspections"), shown: 5,
		isEmpty: func(r *material.Inspection) bool { return !r.Mass.Given() && !r.Size.Given() },
		columns: []column[material.Inspection]{
			quantityColumn(&p.base, "mass", p.text("pane.filler.inspected_mass"), 100, "g", func(r *material.Inspection) *quantity.Of[quantity.Mass] { return &r.Mass }),
			quantityColumn(&p.base, "size", p.text("pane.filler.inspected_size"), 100, "um", func(r *material.Inspection) *quantity.Of[quantity.Length] { return &r.Size }),
			wholeColumn("found", p.text("pane.filler.inspected_found"), 80, least, most, func(r *material.Inspection) *int { return &r.Found }),
		},
		list: func(d *project.Project) *[]material.Inspection {
			if powder := powderIn(d, i); powder != nil {
				return &powder.Clogging.Inspections
			}
			return nil
		},
	})
}

// evidenceTexts name the kinds of evidence.
var evidenceTexts = map[bench.EvidenceKind]string{
	bench.FromPrints: "pane.filler.from_prints", bench.FromInspections: "pane.filler.from_inspections",
	bench.FromRetained: "pane.filler.from_retained", bench.FromTail: "pane.filler.from_tail", bench.FromTopSize: "pane.filler.from_top_size",
}

// chanceWords lists the evidence, best first, with what it means for the blend at work.
func (p *Filler) chanceWords(i int) []string {
	sheet, results := p.sheet(i), p.view.Results()
	if sheet == nil || !sheet.Clogging.Nozzle.Known() {
		return []string{p.text("pane.filler.chance_no_nozzle")}
	}
	clog := &sheet.Clogging
	lines := []string{p.words().Say("pane.filler.critical", map[string]any{
		"Critical": shown(clog.Critical, 3), "Nozzle": shown(clog.Nozzle, 3), "Parts": wording.Number{Value: clog.Parts.Value, Digits: 3},
	})}
	for k, e := range clog.Evidence {
		line := p.words().Say("pane.filler.evidence", map[string]any{
			"Number": k + 1, "Kind": wording.ID(evidenceTexts[e.Kind]), "PerGram": p.perGram(e.PerKg),
		})
		if results != nil && results.Powder == i && k < len(results.Clog.Evidence) {
			line += " " + p.chanceLine(&results.Clog.Evidence[k], results.Name)
		}
		if k == clog.Best {
			line = p.words().Say("pane.filler.evidence_used", map[string]any{"Evidence": line})
		}
		lines = append(lines, line)
	}
	if len(clog.Evidence) == 0 {
		lines = append(lines, p.text("pane.filler.no_evidence"))
	}
	if clog.Longest.Known() {
		lines = append(lines, p.words().Say("pane.filler.longest", map[string]any{"Value": shown(clog.Longest, 3), "High": wording.Number{Value: clog.Longest.High, Unit: "µm"}}))
	}
	return append(lines, p.text("pane.filler.chance_remark"))
}

// perGram is a number of grains per gram with its interval.
func (p *Filler) perGram(r bench.Result) string {
	number := func(v float64) wording.Number { return wording.Number{Value: v / 1000, Digits: 2} }
	return p.words().Say("pane.filler.per_gram", map[string]any{"Value": number(r.Value), "Low": number(r.Low), "High": number(r.High)})
}

func (p *Filler) chanceLine(c *bench.ClogChance, blend string) string {
	if !c.Spool.Known() {
		return ""
	}
	percent := func(v float64) wording.Number { return wording.Number{Value: v, Digits: 2} }
	values := map[string]any{
		"Blend": blend, "Metre": wording.Number{Value: c.PerMetre.Value, Digits: 2},
		"Spool": percent(c.Spool.Value), "Low": percent(c.Spool.Low), "High": percent(c.Spool.High), "Print": percent(c.Print.Value),
	}
	if c.Print.Known() {
		return p.words().Say("pane.filler.chance_print", values)
	}
	return p.words().Say("pane.filler.chance_spool", values)
}

// answerWords says which sieve suits the nozzle.
func (p *Filler) answerWords(i int) []string {
	results := p.view.Results()
	if results == nil || results.Powder != i {
		return []string{p.text("pane.filler.not_in_blend")}
	}
	var lines []string
	for _, a := range results.Clog.Answer {
		lines = append(lines, p.words().Say(a.Message()))
	}
	return lines
}
