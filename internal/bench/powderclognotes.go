package bench

import (
	"cmp"
	"math"
	"slices"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// cloggingNotes: grains against the nozzle. share is that of the powder in the blend.
func (b *benchNotes) cloggingNotes(share float64) {
	clog := &b.plan.bench.clog
	if share == 0 {
		return
	}
	if !finite(clog.boreM) {
		if !b.has("nozzle_missing") {
			b.note(Info, "/print/nozzle", "nozzle_missing", nil, GrainsPerMetre, ClogChancePerSpool)
		}
		return
	}
	b.unreadCounts()
	b.topAgainstNozzle(clog, share)
	if clog.best < 0 {
		if b.plan.density < 0 && b.plan.countedAnything(b.m) {
			return // what waits for the density of the grains is told with it
		}
		b.note(Info, b.at("/sieving/sieves"), "clog_evidence_missing", nil, GrainsPerMetre, ClogChancePerSpool)
		return
	}
	b.clogChance(clog, share)
}

// countedAnything reports whether anything of the powder was sieved or counted.
func (plan *powderPlan) countedAnything(m *material.Material) bool {
	c := &m.Powder.Clogging
	return len(plan.bench.sieving.Rows) > 0 || c.Control.Retained.Given() || len(c.Prints) > 0 || len(c.Inspections) > 0
}

// topAgainstNozzle holds the largest grain against bore and critical size: those that
// were seen, else those that the sieve may let pass.
func (b *benchNotes) topAgainstNozzle(clog *clogBench, share float64) {
	values := map[string]any{
		"Nozzle": number(clog.boreM*1e3, "mm", 3), "Critical": number(clog.criticalM*1e6, "µm", 3),
		"Safe": safeSieveText(clog.boreM, clog.parts), "Size": number(clog.seen.sizeM*1e6, "µm", 3),
	}
	top := topSize(&b.m.Powder.Sieving)
	if finite(top) {
		values["Top"] = number(top*1e6, "µm", 3)
	}
	field := b.at("/sieving/check_sieve")
	over := clog.seen.sizeM >= clog.boreM*(1-1e-9)
	if over {
		b.note(Stop, b.at("%s", clog.seen.field), "grains_seen_over_bore", values)
	}
	switch {
	case clog.leaks:
		b.note(Caution, b.at("%s", clog.seen.field), "check_sieve_leaks", values)
	case over:
	case !finite(top):
		if row, above := b.retainedFrom(clog.boreM); above {
			values["Opening"], values["Share"] = number(row.OpeningM*1e6, "µm", 3), number(row.CumulativeRetained*100, "%", 2)
			b.note(Stop, field, "grains_over_bore", values)
		}
	case top > clog.boreM*(1+1e-9):
		b.note(Stop, field, "top_over_bore", values)
	case top > clog.criticalM*(1+1e-9):
		id := "top_over_critical"
		if filler.CheckSieve(b.m.Powder.Sieving.CheckSieve.SI(), clog.boreM, clog.parts).Practice {
			id = "top_over_critical_practice" // the rule of a third and common practice disagree
		}
		severity := Caution
		if clog.printsShow(share * b.nominalOr(b.model.set.netMass, math.NaN())) {
			severity = Info // as the note asks for
		}
		b.note(severity, field, id, values)
	}
	if longest := b.sheet.Clogging.Longest; !clog.leaks && longest.Known() && longest.High > clog.boreM*1e6 {
		values["Longest"], values["Ratio"] = number(longest.High, "µm", 3), b.m.AspectRatio
		b.note(Info, project.MaterialPointer(b.plan.material, "aspect_ratio"), "long_grains", values)
	}
}

// printsShow reports whether prints are what counts, and allow hardly a clog per spool.
func (b *clogBench) printsShow(powderKg float64) bool {
	if b.best < 0 || b.evidence[b.best].kind != FromPrints {
		return false
	}
	return filler.BlockChance(b.evidence[b.best].n.HighPerKg, powderKg)*100 <= likelyClog
}

// retainedFrom is the coarsest sieve of the stack from an opening on that kept
// anything back.
func (b *benchNotes) retainedFrom(openingM float64) (filler.SieveRow, bool) {
	for _, row := range b.plan.bench.sieving.Rows { // coarse first
		if row.CumulativeRetained > 0 && row.OpeningM >= openingM*(1-1e-9) {
			return row, true
		}
	}
	return filler.SieveRow{}, false
}

// unreadCounts notes rows of counts that lack something, one note a table.
func (b *benchNotes) unreadCounts() {
	unread := func(r Remark) bool { return r.ID == "count_incomplete" || r.ID == "count_no_powder" }
	note := func(remarks []Remark, id, format string, missing func(i int) string) {
		if i := slices.IndexFunc(remarks, unread); i >= 0 {
			b.note(Caution, b.at(format, i, missing(i)), id, map[string]any{"Row": i + 1})
		}
	}
	in := &b.m.Powder.Clogging
	if missing := missingOfControl(&in.Control); missing != "" {
		b.note(Caution, b.at("/clogging/control/%s", missing), "control_unread", nil)
	}
	note(b.sheet.Clogging.Prints, "print_row_unread", "/clogging/prints/%d/%s", func(i int) string {
		return cmp.Or(missingOfPrint(&in.Prints[i]), "strand") // or there is no powder in it
	})
	note(b.sheet.Clogging.Inspections, "inspection_row_unread", "/clogging/inspections/%d/%s", func(i int) string {
		return cmp.Or(missingOfInspection(&in.Inspections[i]), "mass")
	})
}

// missingOfControl is the member of a control sieving that was begun which lacks or
// cannot be; empty for none.
func missingOfControl(c *material.Control) string {
	switch given := c.Opening.Given() || c.Mass.Given() || c.Retained.Given(); {
	case !given:
		return ""
	case !c.Opening.Given():
		return "opening"
	case !c.Mass.Given() || c.Mass.SI() <= 0:
		return "mass"
	case !c.Retained.Given() || c.Retained.SI() > c.Mass.SI():
		return "retained"
	}
	return ""
}

// likelyClog is the chance per spool from which a clog is worth a caution (own
// judgement: one spool in twenty).
const likelyClog = 5

// clogTold is how a chance is told by what it rests on, and where it is mended.
var clogTold = map[EvidenceKind]struct{ note, field, small string }{
	FromPrints:      {"clog_from_prints", "/clogging/prints", "clog.prints"},
	FromInspections: {"clog_from_inspections", "/clogging/inspections", "clog.inspections"},
	FromRetained:    {"clog_from_retained", "/sieving/check_sieve", "clog.retained"},
	FromTail:        {"clog_from_tail", "/sieving/check_sieve", "clog.tail"},
	FromTopSize:     {"clog_from_top_size", "/clogging/prints", "clog.top_size"},
}

// clogChance says the chance, what it rests on, and what would make it surer. share
// is that of the powder in the blend.
func (b *benchNotes) clogChance(clog *clogBench, share float64) {
	powderKg := share * b.nominalOr(b.model.set.netMass, math.NaN())
	if !finite(powderKg) {
		return
	}
	best := clog.evidence[clog.best]
	percent := func(perKg float64) float64 { return filler.BlockChance(perKg, powderKg) * 100 }
	chance, low, high := percent(best.n.LikelyPerKg), percent(best.n.LowPerKg), percent(best.n.HighPerKg)
	if all := b.notebook.sheet.Results[ClogChancePerSpool]; all.Known() && b.powdersIn() == 1 {
		chance, low, high = all.Value, all.Low, all.High // as the figure has it
	}
	told, severity := clogTold[best.kind], Caution
	id := told.note
	if best.kind == FromRetained && !clog.control {
		id = "clog_from_stack"
	}
	if high <= likelyClog {
		severity = Info
		if best.kind != FromTopSize { // which has more to say
			id = "clog_small"
		}
	}
	b.note(severity, b.at("%s", told.field), id, map[string]any{
		"Chance": number(chance, "%", 2), "Low": number(low, "%", 2), "High": number(high, "%", 2), "From": wording.ID(told.small),
		"Nozzle": number(clog.boreM*1e3, "mm", 3), "Critical": number(clog.criticalM*1e6, "µm", 3), "Parts": number(clog.parts, "", 3),
		"Sample": number(filler.MoreToLookThrough(inspections(&b.m.Powder.Clogging), clog.criticalM, surely, powderKg, claimed)*1e3, "g", 2),
		"Claim":  number(claimed*100, "%", 2), "Safe": safeSieveText(clog.boreM, clog.parts),
	})
}

// safeSieveText is the sieve to take in a sentence.
func safeSieveText(boreM, parts float64) any {
	if openingM, there := safeSieve(boreM, parts); there {
		return number(openingM*1e6, "µm", 4)
	}
	return wording.ID("sieve.none")
}

// powdersIn counts the parts of the blend that are powder.
func (b *benchNotes) powdersIn() int {
	count := 0
	for i := range b.notebook.plan.parts {
		if b.notebook.plan.parts[i].powder >= 0 && b.st.w[i] > 0 {
			count++
		}
	}
	return count
}

// clogOfAll says the chance by all powders of a blend that holds several.
func (n *notebook) clogOfAll() {
	b := benchNotes{notebook: n}
	chance := n.sheet.Results[ClogChancePerSpool]
	if !n.composed || !chance.Known() || b.powdersIn() < 2 {
		return
	}
	severity := Info
	if chance.High > likelyClog {
		severity = Caution
	}
	n.add(severity, PaneFiller, "/print/nozzle", "clog_all_powders", map[string]any{
		"Blend": n.sheet.Name, "Chance": number(chance.Value, "%", 2), "Low": number(chance.Low, "%", 2), "High": number(chance.High, "%", 2),
	})
}
