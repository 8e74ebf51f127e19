package pane

import (
	"fmt"

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
		section(p.text("pane.filler.chance"), p.lines(func() []string { return p.criticalWords(i) }),
			p.facts(func() []fact { return p.chanceFacts(i) }), p.captions(func() []string { return p.chanceRemarks(i) })),
		section(p.text("pane.filler.which_sieve"), p.lines(func() []string { return p.answerWords(i) }), p.sieveAdvice(i)),
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
		rowNote: p.countNote(i, func(s *bench.CloggingSheet) []bench.Remark { return s.Prints }),
		isEmpty: func(r *material.NozzleRun) bool {
			return !r.Nozzle.Given() && !r.Strand.Given() && !r.Content.Given() && r.Blockages == 0
		},
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

// countNote says beside a row of counts why it takes no part.
func (p *Filler) countNote(i int, of func(*bench.CloggingSheet) []bench.Remark) func(index int) string {
	return func(index int) string {
		sheet := p.sheet(i)
		if sheet == nil {
			return ""
		}
		if remarks := of(&sheet.Clogging); index < len(remarks) {
			return p.remark(remarks[index])
		}
		return ""
	}
}

func (p *Filler) inspectionTable(i int) *rowsTable[material.Inspection] {
	least, most := 0, 1000000
	return newRowsTable(&p.base, rowsOptions[material.Inspection]{
		place: benchPlace(i, "/clogging/inspections"), label: p.text("pane.filler.inspections"),
		most: project.MostRows("/materials/*/powder/clogging/inspections"), shown: 5,
		rowNote: p.countNote(i, func(s *bench.CloggingSheet) []bench.Remark { return s.Inspections }),
		isEmpty: func(r *material.Inspection) bool { return !r.Mass.Given() && !r.Size.Given() && r.Found == 0 },
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

// criticalWords says which grains count, or what is missing to tell.
func (p *Filler) criticalWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil || !sheet.Clogging.Nozzle.Known() {
		return []string{p.text("pane.filler.chance_no_nozzle")}
	}
	clog := &sheet.Clogging
	lines := []string{p.words().Say("pane.filler.critical", map[string]any{
		"Critical": shown(clog.Critical, 3), "Nozzle": shown(clog.Nozzle, 3), "Parts": wording.Number{Value: clog.Parts.Value, Digits: 3},
	})}
	switch results := p.view.Results(); {
	case len(clog.Evidence) == 0:
		lines = append(lines, p.text("pane.filler.no_evidence"))
	case results == nil || results.Powder != i:
		lines = append(lines, p.text("pane.filler.not_in_blend"))
	}
	return lines
}

// chanceFacts lists the evidence, best first, with what it means for the blend at work.
func (p *Filler) chanceFacts(i int) []fact {
	sheet, results := p.sheet(i), p.view.Results()
	if sheet == nil || !sheet.Clogging.Nozzle.Known() {
		return nil
	}
	clog := &sheet.Clogging
	var facts []fact
	for k := range clog.Evidence {
		var chance *bench.ClogChance
		if results != nil && results.Powder == i && k < len(results.Clog.Evidence) {
			chance = &results.Clog.Evidence[k]
		}
		facts = append(facts, p.evidenceFact(clog, k, chance))
	}
	if clog.Longest.Known() {
		longest := p.words().Say("pane.filler.longest_up_to", map[string]any{"High": wording.Number{Value: clog.Longest.High, Unit: "µm"}})
		facts = append(facts, fact{
			label: p.text("pane.filler.longest"), value: p.words().Say("pane.value", map[string]any{"Value": shown(clog.Longest, 3)}), more: " " + whole(longest),
		})
	}
	return facts
}

// evidenceFact is one piece of evidence: the chance first, what it rests on behind.
func (p *Filler) evidenceFact(clog *bench.CloggingSheet, k int, chance *bench.ClogChance) fact {
	e := &clog.Evidence[k]
	f := fact{label: p.evidenceLabel(e, k, k == clog.Best), strong: k == clog.Best}
	low, high := p.count(e.PerKg.Low/1000), p.count(e.PerKg.High/1000)
	grams := p.words().Say("pane.filler.per_gram", map[string]any{"Value": p.count(e.PerKg.Value / 1000)})
	if low != high {
		grams += p.interval(low, high)
	}
	if chance == nil || !chance.Spool.Known() {
		f.value = grams
		return f
	}
	f.value = p.words().Say("pane.filler.per_spool", map[string]any{"Value": p.percent(chance.Spool.Value)})
	if low, high = p.percent(chance.Spool.Low), p.percent(chance.Spool.High); low != high {
		f.more = p.interval(low, high)
	}
	if chance.Print.Known() {
		f.more += below(p.words().Say("pane.filler.per_print", map[string]any{"Value": p.percent(chance.Print.Value)}))
	}
	perMetre := "pane.filler.per_metre"
	if e.Kind == bench.FromPrints {
		perMetre = "pane.filler.per_metre_blocking"
	}
	f.more += below(p.words().Say(perMetre, map[string]any{"Value": p.count(chance.PerMetre.Value), "Critical": shown(clog.Critical, 3)}))
	f.more += below(grams)
	return f
}

// evidenceLabel says what a piece of evidence is, and how far it fits.
func (p *Filler) evidenceLabel(e *bench.Evidence, k int, used bool) string {
	label := p.words().Say("pane.filler.evidence", map[string]any{"Number": k + 1, "Kind": wording.ID(evidenceTexts[e.Kind])})
	for _, remark := range []struct {
		applies bool
		text    string
	}{
		{used, "pane.filler.evidence_used"},
		{e.OtherSize, "pane.filler.evidence_other_size"},
		{e.Leaky, "pane.filler.evidence_leaky"},
	} {
		if remark.applies {
			label += below(p.text(remark.text))
		}
	}
	return label
}

// count is a number of grains to expect.
func (p *Filler) count(v float64) string { return p.words().Number(v, 2) }

// sure is the chance in % beyond which digits say no more.
const sure = 99.5

// percent is a chance in %.
func (p *Filler) percent(v float64) string {
	switch {
	case v >= sure:
		return p.text("pane.filler.sure")
	case v < rare:
		return p.text("chance.rare")
	}
	return p.words().Say("pane.value", map[string]any{"Value": wording.Number{Value: v, Unit: "%", Digits: 2}})
}

// chanceRemarks says what the numbers are not.
func (p *Filler) chanceRemarks(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil || !sheet.Clogging.Nozzle.Known() {
		return nil
	}
	lines := []string{p.text("pane.filler.chance_remark")}
	if sheet.Clogging.Longest.Known() {
		lines = append(lines, p.text("pane.filler.longest_remark"))
	}
	return lines
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

// fitTexts say how the largest grain that a sieve lets through stands to a bore.
var fitTexts = map[bench.SieveFit]string{
	bench.SieveKeepsAll: "pane.filler.sieve_keeps", bench.SieveMarginal: "pane.filler.sieve_marginal",
	bench.SieveCoarse: "pane.filler.sieve_coarse", bench.SieveBlocks: "pane.filler.sieve_blocks",
}

// sieveAdvice is the table of sieves in words, for one bore at a time.
func (p *Filler) sieveAdvice(i int) fyne.CanvasObject {
	var rows []bench.ClogRow
	grid := control.NewGrid(control.GridOptions{
		Label: p.text("pane.filler.which_sieve"), MaxRows: 9, Empty: p.text("pane.filler.not_in_blend"),
		Columns: []control.GridColumn{
			{Title: p.text("pane.filler.advice_sieve"), Width: 116},
			{Title: p.text("pane.filler.advice_largest"), Width: 70, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.filler.advice_fit"), Width: 120},
			{Title: p.text("pane.filler.advice_chance"), Width: 76, Align: fyne.TextAlignTrailing},
		},
		Rows: func() int { return len(rows) },
		Cell: func(row, col int) control.Cell { return p.adviceCell(&rows[row], p.bore(), col) },
	})
	bores := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.filler.advice_bore"), Choices: p.bores(), Value: func() string { return fmt.Sprint(p.bore()) },
		OnCommit: func(value string) error {
			var bore int
			_, _ = fmt.Sscan(value, &bore) // a number of the list
			p.advised = bore + 1
			grid.Sync()
			return nil
		},
	})
	advice := control.NewColumn(8, bores, grid, control.NewCaption(p.text("pane.filler.advice_remark")))
	p.remarks = append(p.remarks, func() {
		rows = nil
		if results := p.view.Results(); results != nil && results.Powder == i {
			rows = results.Clog.Table()
		}
		bores.SetChoices(p.bores())
		bores.Sync()
		grid.Sync()
		if advice.Hidden = len(rows) == 0; !advice.Hidden {
			advice.Refresh()
		}
	})
	return advice
}

// bores are the bores of the table.
func (p *Filler) bores() []control.Choice {
	var choices []control.Choice
	if results := p.view.Results(); results != nil {
		for k, mm := range results.Clog.Nozzles {
			choices = append(choices, control.Choice{
				Value: fmt.Sprint(k), Text: p.words().Say("pane.value", map[string]any{"Value": wording.Number{Value: mm, Unit: "mm"}}),
			})
		}
	}
	return choices
}

// bore is the column of the table that is looked at: the one chosen, else that
// of the printer or the next smaller one.
func (p *Filler) bore() int {
	results := p.view.Results()
	if p.advised > 0 || results == nil {
		return max(0, p.advised-1)
	}
	bore := 0
	for k, mm := range results.Clog.Nozzles {
		if p.view.Project.Print.Nozzle.Given() && mm*1e-3 <= p.view.Project.Print.Nozzle.SI()*(1+1e-9) {
			bore = k
		}
	}
	return bore
}

// adviceCell is one cell of the table: sieve, largest grain, fit or chance.
func (p *Filler) adviceCell(r *bench.ClogRow, bore, col int) control.Cell {
	switch {
	case col == 0:
		return control.Cell{Text: joined(", ", p.words().Say("pane.value", map[string]any{"Value": wording.Number{Value: r.OpeningUM, Unit: "µm"}}), r.Mesh)}
	case col == 1:
		return muted(p.words().Number(r.LargestUM, 3))
	case bore >= len(r.Cells):
		return control.Cell{}
	case col == 2:
		return control.Cell{Text: p.text(fitTexts[r.Cells[bore].Fit])}
	case r.Cells[bore].Fit == bench.SieveKeepsAll || !r.Cells[bore].Chance.Known():
		return control.Cell{}
	}
	return muted(p.percent(r.Cells[bore].Chance.Value))
}
