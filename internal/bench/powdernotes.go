package bench

import (
	"fmt"
	"math"
	"strings"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// bench is one powder of a blend while notes are taken of it.
type benchNotes struct {
	*notebook
	plan  *powderPlan
	m     *material.Material
	sheet *PowderSheet
	first bool // the powder whose sizes, moisture and preparation the blend shows
}

// powderNotes notes what the bench of each powder says and lacks.
func (n *notebook) powderNotes(sheets []PowderSheet) {
	for i := range n.plan.parts {
		k := n.plan.parts[i].powder
		if k < 0 || !n.composed {
			continue
		}
		b := &benchNotes{
			notebook: n, plan: &n.model.powders[k], m: n.material(i), sheet: &sheets[k], first: k == n.plan.powder,
		}
		b.dryingNotes()
		b.storageNotes()
		b.preparationNotes()
		b.sievingNotes()
		b.grainNotes()
		b.cloggingNotes(n.st.w[i])
	}
}

// at is the place of something below the powder's bench.
func (b *benchNotes) at(format string, args ...any) string {
	return project.MaterialPointer(b.plan.material, "powder") + fmt.Sprintf(format, args...)
}

// note adds a note of the Filler pane that names the powder.
func (b *benchNotes) note(severity Severity, field, id string, values map[string]any, blocks ...Figure) {
	if values == nil {
		values = map[string]any{}
	}
	values["Powder"] = nameOf(b.m)
	b.add(severity, PaneFiller, field, id, values, b.own(blocks)...)
}

// own leaves out figures that the blend takes from another powder.
func (b *benchNotes) own(blocks []Figure) []Figure {
	var list []Figure
	for _, f := range blocks {
		if b.first || f == GrainsPerMetre || f == ClogChancePerSpool {
			list = append(list, f)
		}
	}
	return list
}

// dryingNotes: the log itself, its fit, and whether the target can be reached.
func (b *benchNotes) dryingNotes() {
	b.hotOven()
	used := b.plan.bench.used
	if used < 0 {
		if b.first {
			b.note(Info, b.at("/drying/runs"), "drying_log_missing", nil, DryingTime)
		}
		b.oddReadings()
		return
	}
	b.oddReadings()
	run, log := &b.plan.bench.runs[used], &b.m.Powder.Drying.Runs[used]
	rows := b.at("/drying/runs/%d/readings", used)
	switch {
	case run.curve == nil:
		b.note(Caution, rows, "drying_not_fitted", map[string]any{"Why": wording.ID("fit." + whyNoFit[dryingErrorKind(run.err)])}, DryingTime)
	case run.curve.OpenEnd && !run.curve.FinalGiven:
		b.note(Caution, rows, "drying_open_end", nil, DryingTime)
	case run.curve.DegreesOfFreedom < 1:
		b.note(Caution, rows, "drying_no_interval", nil, DryingTime)
	}
	if !run.known {
		field := b.at("/drying/runs/%d/room_humidity", used)
		switch {
		case !log.OvenTemperature.Given():
			field = b.at("/drying/runs/%d/oven_temperature", used)
		case !log.RoomTemperature.Given():
			field = b.at("/drying/runs/%d/room_temperature", used)
		}
		b.note(Info, field, "oven_floor_unknown", nil)
	}
	b.target(used, run)
}

// target compares what the polymer asks for with what the oven does.
func (b *benchNotes) target(used int, run *dryRun) {
	if !b.first {
		return
	}
	u := &b.notebook.sheet.Drying
	switch {
	case !u.Target.Known():
		b.note(Info, b.at("/drying/target"), "drying_target_missing", nil, DryingTime)
	case u.Beyond:
		b.note(Caution, b.at("/drying/target"), "drying_target_beyond", map[string]any{
			"Target": number(u.Target.Value, "%", 2), "Floor": number(filler.WetBasis(run.floor)*100, "%", 2),
		}, DryingTime)
	case u.Left.Known() && u.Left.Value > 0:
		b.note(Caution, b.at("/drying/runs/%d/readings", used), "drying_goes_on", map[string]any{
			"Now": number(b.sheet.Drying.Runs[used].Now.Value, "%", 2), "Target": number(u.Target.Value, "%", 2),
			"Left": number(u.Left.Value, "h", 2), "Low": number(u.Left.Low, "h", 2), "High": number(u.Left.High, "h", 2),
		})
	}
}

// hotOven warns of an oven above what plant powder stands.
func (b *benchNotes) hotOven() {
	if b.m.Class != material.Organic {
		return
	}
	warn := func(field string, q interface{ SI() float64 }, given bool) {
		if given && q.SI() > filler.MaxOrganicK+1e-6 {
			b.note(Caution, field, "oven_too_hot", map[string]any{"Temperature": celsius(q.SI())})
		}
	}
	d := &b.m.Powder.Drying
	for i := range d.Runs {
		warn(b.at("/drying/runs/%d/oven_temperature", i), d.Runs[i].OvenTemperature, d.Runs[i].OvenTemperature.Given())
	}
	warn(b.at("/drying/other_temperature"), d.OtherTemperature, d.OtherTemperature.Given())
}

// oddRows are the remarks beside rows of a drying log that get a note.
var oddRows = []struct{ remark, note string }{
	{"mass_rises", "drying_mass_rises"},
	{"time_repeats", "drying_time_repeats"},
	{"time_goes_back", "drying_time_goes_back"},
	{"no_time", "drying_no_time"},
	{"no_mass", "drying_no_mass"},
	{"below_tare", "drying_below_tare"},
}

// oddReadings counts what is wrong with the rows of the logs, one note a kind.
func (b *benchNotes) oddReadings() {
	for i := range b.sheet.Drying.Runs {
		rows := b.sheet.Drying.Runs[i].Rows
		for _, odd := range oddRows {
			first, count := -1, 0
			for k := range rows {
				if rows[k].Remark.ID == odd.remark {
					count++
					if first < 0 {
						first = k
					}
				}
			}
			if count > 0 {
				b.note(Caution, b.at("/drying/runs/%d/readings/%d", i, first), odd.note, map[string]any{"Row": first + 1, "Count": count})
			}
		}
	}
}

// storageNotes: what the powder takes up when it is left open.
func (b *benchNotes) storageNotes() {
	s := &b.m.Powder.Storage
	if s.Humidity.Given() && s.Humidity.SI() > 0.9 {
		b.note(Info, b.at("/storage/humidity"), "humid_store", map[string]any{"Humidity": s.Humidity})
	}
	if !s.OpenTime.Given() {
		return
	}
	sheet := &b.sheet.Storage
	switch {
	case sheet.From == "":
		field := b.at("/storage/humidity")
		if s.Humidity.Given() && b.m.Class != material.Organic {
			field = b.at("/storage/equilibrium")
		} else if s.Humidity.Given() {
			field = b.at("/storage/temperature")
		}
		b.note(Caution, field, "storage_air_missing", map[string]any{"Time": s.OpenTime})
	case sheet.After.Known():
		b.note(Caution, b.at("/storage/open_time"), "left_open", map[string]any{
			"Time": s.OpenTime, "After": number(sheet.After.Value, "%", 2),
			"Low": number(sheet.After.Low, "%", 2), "High": number(sheet.After.High, "%", 2),
			"Equilibrium": number(sheet.Equilibrium.Value, "%", 2),
		})
	}
}

// preparationNotes: what the chain lacks.
func (b *benchNotes) preparationNotes() {
	chain := b.plan.bench.chain
	if chain == nil {
		if b.first {
			b.note(Info, b.at("/preparation/steps"), "preparation_missing", nil, PreparationYield, PreparedCost)
		}
		return
	}
	for i := range chain.steps {
		if chain.steps[i].kind == material.Extract && !b.has("safety_solvent") {
			b.add(Caution, PaneFiller, b.at("/preparation/steps/%d/kind", i), "safety_solvent", nil)
		}
		switch {
		case chain.steps[i].from() == "":
			b.note(Caution, b.at("/preparation/steps/%d/yield", i), "step_yield_missing", map[string]any{"Step": b.stepName(i)}, PreparationYield, PreparedCost)
		case !chain.steps[i].possible(b.x):
			b.note(Caution, b.at("/preparation/steps/%d/yield", i), "step_yield_impossible", map[string]any{"Step": b.stepName(i)}, PreparationYield, PreparedCost)
		}
	}
	if field, missing := b.unpriced(chain); field != "" {
		b.note(Caution, field, "preparation_unpriced", map[string]any{"Fields": missing}, PreparedCost)
	}
}

func (b *benchNotes) stepName(i int) any {
	s := &b.m.Powder.Preparation.Steps[i]
	switch {
	case s.Name != "":
		return s.Name
	case s.Kind != "":
		return wording.ID("step." + string(s.Kind))
	}
	return i + 1
}

// unpriced names what the cost of a usable kilogram waits for, and the first place.
func (b *benchNotes) unpriced(chain *chainPlan) (field string, missing []wording.ID) {
	prep := b.at("/preparation")
	energy, time := chain.energyBasis() == Estimated, false
	for i := range chain.steps {
		energy = energy || chain.steps[i].energy >= 0
		time = time || chain.steps[i].time >= 0
	}
	for _, f := range []struct {
		missing bool
		field   string
		name    wording.ID
	}{
		{chain.wet < 0 && chain.paysPerRun(), prep + "/wet_mass", "field.preparation.wet_mass"},
		{chain.wetPrice < 0, prep + "/wet_price", "field.preparation.wet_price"},
		{chain.transport < 0, prep + "/transport", "field.preparation.transport"},
		{chain.energyPrice < 0 && energy, "/cost/energy_price", "field.cost.energy_price"},
		{chain.labour < 0 && time, "/cost/labour", "field.cost.labour"},
	} {
		if f.missing {
			if field == "" {
				field = f.field
			}
			missing = append(missing, f.name)
		}
	}
	return field, missing
}

// sieveNotes are the findings about a stack that get a note.
var sieveNotes = map[filler.SieveProblemKind]struct {
	id       string
	severity Severity
	member   string
}{
	filler.BadPan:           {"sieve_pan_missing", Caution, "/sieving/pan"},
	filler.BadCharge:        {"sieve_charge_below", Caution, "/sieving/charge"},
	filler.NothingRecovered: {"sieve_nothing", Caution, "/sieving/pan"},
	filler.DuplicateOpening: {"sieve_twice", Caution, "/sieving/sieves"},
	filler.LossLarge:        {"sieve_loss_large", Caution, "/sieving/charge"},
	filler.LossAboveAllowed: {"sieve_loss", Caution, "/sieving/charge"},
	filler.GainAboveAllowed: {"sieve_gain", Caution, "/sieving/charge"},
	filler.OneSieve:         {"sieve_single", Info, "/sieving/sieves"},
	filler.OutOfOrder:       {"sieve_order", Caution, "/sieving/sieves"},
	filler.NotNominal:       {"sieve_not_nominal", Info, "/sieving/sieves"},
}

// sievingNotes: the stack itself, and what lies outside it.
func (b *benchNotes) sievingNotes() {
	sizes := []Figure{SizeD10, SizeD50, SizeD90}
	if len(b.m.Powder.Sieving.Sieves) == 0 {
		if b.first {
			b.note(Info, b.at("/sieving/sieves"), "sieving_missing", nil, append(sizes, TopSize)...)
		}
		return
	}
	_, of := sieveTest(&b.m.Powder.Sieving)
	b.unreadSieves()
	if len(of) == 0 {
		b.note(Caution, b.at("/sieving/sieves"), "sieving_empty", nil, append(sizes, TopSize)...)
	}
	for _, problem := range b.plan.bench.sieving.Problems {
		told, is := sieveNotes[problem.Kind]
		if !is {
			continue
		}
		values := map[string]any{"Share": number(math.Abs(problem.Value)*100, "%", 2), "Row": 0, "Count": len(problem.Rows)}
		field := b.at("%s", told.member)
		if len(problem.Rows) > 0 && problem.Rows[0] < len(of) {
			row := of[problem.Rows[len(problem.Rows)-1]]
			values["Row"], values["Opening"] = row+1, b.m.Powder.Sieving.Sieves[row].Opening
			field = b.at("/sieving/sieves/%d/opening", row)
		}
		var blocks []Figure
		if problem.Grade == filler.SieveWrong {
			blocks = append(blocks, sizes...)
			blocks = append(blocks, TopSize)
		}
		b.note(told.severity, field, told.id, values, blocks...)
	}
	b.outsideSieves()
}

// unreadSieves notes rows that lack an opening or a mass.
func (b *benchNotes) unreadSieves() {
	for i := range b.sheet.Sieving.Rows {
		id := b.sheet.Sieving.Rows[i].Remark.ID
		if id != "no_opening" && id != "no_retained" {
			continue
		}
		b.note(Caution, b.at("/sieving/sieves/%d/opening", i), "sieve_row_unread", map[string]any{"Row": i + 1})
		return
	}
}

// outsideSieves says which sizes lie beyond the stack.
func (b *benchNotes) outsideSieves() {
	s := &b.sheet.Sieving
	for _, side := range []struct {
		id    string
		which func(Percentile) bool
	}{
		{"size_below", func(d Percentile) bool { return d.Below }},
		{"size_above", func(d Percentile) bool { return d.Above }},
	} {
		var names []string
		var blocks []Figure
		bound := 0.0
		for _, d := range []struct {
			p Percentile
			f Figure
		}{{s.D10, SizeD10}, {s.D50, SizeD50}, {s.D90, SizeD90}} {
			if side.which(d.p) {
				names, blocks, bound = append(names, strings.ToUpper(d.f.Key())), append(blocks, d.f), d.p.Bound
			}
		}
		if names != nil {
			b.note(Info, b.at("/sieving/sieves"), side.id, map[string]any{"Sizes": names, "Bound": number(bound, "µm", 4)}, blocks...)
		}
	}
	if s.Known && s.TopFrom == "" {
		b.note(Info, b.at("/sieving/check_sieve"), "top_size_unknown", nil, TopSize)
	}
}

// grainNotes: weighings that cannot be.
func (b *benchNotes) grainNotes() {
	g := &b.m.Powder.Grain
	x := b.x
	if b.model.derived[b.plan.number(numDensity)].of != nil && !finite(x[b.plan.number(numDensity)]) {
		b.note(Caution, b.at("/grain/full_with_powder"), "grain_impossible", nil)
	}
	bulk, tapped := x[b.plan.number(numBulk)], x[b.plan.number(numTapped)]
	switch limit := x[b.plan.number(numPacking)]; {
	case finite(bulk) && finite(tapped) && tapped < bulk:
		b.note(Caution, b.at("/grain/tapped_volume"), "tapped_looser", nil)
	case b.model.derived[b.plan.number(numPacking)].of != nil && !finite(limit):
		b.note(Caution, b.at("/grain/tapped_volume"), "packing_impossible", nil)
	case limit > math.Pi/math.Sqrt(18):
		b.note(Info, b.at("/grain/tapped_volume"), "packing_dense", map[string]any{"Packing": number(limit*100, "%", 3)})
	}
	if temperature, given := g.LiquidTemperature.Estimate(); given && !g.LiquidDensity.Given() && !finite(filler.WaterDensity(temperature.Value)) {
		b.note(Caution, b.at("/grain/liquid_density"), "liquid_unknown", nil)
	}
}

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
	b.topAgainstNozzle(clog)
	if clog.leaks {
		b.note(Caution, b.at("/clogging/inspections"), "check_sieve_leaks", nil)
	}
	if clog.best < 0 {
		b.note(Info, b.at("/sieving/sieves"), "clog_evidence_missing", nil, GrainsPerMetre, ClogChancePerSpool)
		return
	}
	b.clogChance(clog)
}

// topAgainstNozzle holds the largest grain against bore and critical size.
func (b *benchNotes) topAgainstNozzle(clog *clogBench) {
	values := map[string]any{"Nozzle": number(clog.boreM*1e3, "mm", 3), "Critical": number(clog.criticalM*1e6, "µm", 3)}
	top, from := topSize(&b.m.Powder.Sieving, &b.plan.bench.sieving)
	if from != "" {
		values["Top"] = number(top*1e6, "µm", 3)
	}
	field := b.at("/sieving/check_sieve")
	switch {
	case from == "":
		for _, row := range b.plan.bench.sieving.Rows { // coarse first
			if row.CumulativeRetained > 0 && row.OpeningM >= clog.boreM*(1-1e-9) {
				values["Opening"], values["Share"] = number(row.OpeningM*1e6, "µm", 3), number(row.CumulativeRetained*100, "%", 2)
				b.note(Stop, field, "grains_over_bore", values)
				return
			}
		}
	case top > clog.boreM*(1+1e-9):
		b.note(Stop, field, "top_over_bore", values)
	case top > clog.criticalM*(1+1e-9):
		id := "top_over_critical"
		if filler.CheckSieve(b.m.Powder.Sieving.CheckSieve.SI(), clog.boreM, clog.parts).Practice {
			id = "top_over_critical_practice" // the rule of a third and common practice disagree
		}
		b.note(Caution, field, id, values)
	}
	if longest := b.sheet.Clogging.Longest; longest.Known() && longest.High > clog.boreM*1e6 {
		values["Longest"], values["Ratio"] = number(longest.High, "µm", 3), b.m.AspectRatio
		b.note(Info, project.MaterialPointer(b.plan.material, "aspect_ratio"), "long_grains", values)
	}
}

// likelyClog is the chance per spool from which a clog is worth a caution (own
// judgement: one spool in twenty).
const likelyClog = 5

// clogNotes are the notes of a chance by what it rests on.
var clogNotes = map[EvidenceKind]string{
	FromPrints: "clog_from_prints", FromInspections: "clog_from_inspections", FromRetained: "clog_from_retained",
	FromTail: "clog_from_tail", FromTopSize: "clog_from_top_size",
}

// clogChance says the chance, what it rests on, and what would make it surer.
func (b *benchNotes) clogChance(clog *clogBench) {
	chance := b.notebook.sheet.Results[ClogChancePerSpool]
	if !b.first || !chance.Known() {
		return
	}
	kind := clog.evidence[clog.best].kind
	severity := Info
	if chance.High > likelyClog {
		severity = Caution
	}
	powderKg := b.st.w[b.firstPart()] * b.nominalOr(b.model.set.netMass, 1)
	b.note(severity, b.at("/clogging/prints"), clogNotes[kind], map[string]any{
		"Chance": number(chance.Value, "%", 2), "Low": number(chance.Low, "%", 2), "High": number(chance.High, "%", 2),
		"Nozzle": number(clog.boreM*1e3, "mm", 3), "Critical": number(clog.criticalM*1e6, "µm", 3), "Parts": number(clog.parts, "", 3),
		"Sample": number(filler.CheckMass(surely, 1, powderKg, claimed)*1e3, "g", 2),
		"Claim":  number(claimed*100, "%", 2),
	})
}

// firstPart is the part of the blend that is its first powder.
func (b *benchNotes) firstPart() int {
	for i := range b.notebook.plan.parts {
		if b.notebook.plan.parts[i].powder == b.notebook.plan.powder {
			return i
		}
	}
	return 0
}
