package bench

import (
	"fillwright/internal/filler"
	"fillwright/internal/wording"
)

// dryingNotes: the log itself, its fit, and whether the target can be reached.
func (b *benchNotes) dryingNotes() {
	b.hotOven()
	used := b.plan.bench.used
	odd := b.oddReadings(used < 0)
	b.heavyDryMass()
	if used < 0 {
		if b.first && !odd {
			b.note(Info, b.at("/drying/runs"), "drying_log_missing", nil, DryingTime)
		}
		return
	}
	if later := b.plan.bench.later; later >= 0 {
		b.note(Info, b.at("/drying/runs/%d/readings", later), "drying_later_run", map[string]any{"Run": b.runName(later), "Used": b.runName(used)})
	}
	run := &b.plan.bench.runs[used]
	rows := b.at("/drying/runs/%d/readings", used)
	switch {
	case run.curve == nil:
		b.note(Caution, rows, "drying_not_fitted", map[string]any{"Why": wording.ID("fit." + whyNoFit[dryingErrorKind(run.err)])}, DryingTime)
	case run.slow:
		b.note(Caution, rows, "drying_slow_end", map[string]any{"More": number(slowLoss*100, "%", 1)}, DryingTime)
	case run.curve.OpenEnd && !run.curve.FinalGiven:
		b.note(Caution, rows, "drying_open_end", nil, DryingTime)
	case run.curve.DegreesOfFreedom < 1:
		b.note(Caution, rows, "drying_no_interval", nil, DryingTime)
	}
	b.misfit(used, run)
	b.unknownFloor(used, run)
	b.looseTarget()
	b.target(used, run)
}

// roughFit is the share of the water that went by which a curve may miss the weighings
// before it is worth a caution, and roughSteps the same in steps of the scale (own
// judgement).
const (
	roughFit   = 0.005
	roughSteps = 3
)

// misfit notes a curve that misses its weighings by more than the scale explains.
func (b *benchNotes) misfit(used int, run *dryRun) {
	if run.curve == nil || run.curve.DegreesOfFreedom < 1 {
		return
	}
	water, missed := run.curve.InitialKg-run.curve.FinalKg, run.curve.ResidualSDKg
	if missed > roughFit*water && missed > roughSteps*run.stepKg {
		b.note(Caution, b.at("/drying/runs/%d/readings", used), "drying_misfit", map[string]any{
			"Residual": number(missed*1e3, "g", 2), "Share": number(missed/water*100, "%", 2),
		})
	}
}

// looseTarget notes a target of the maker's own that leaves the polymer more water
// than it takes.
func (b *benchNotes) looseTarget() {
	if !b.first || b.plan.target < 0 {
		return
	}
	entered, limit := b.x[b.plan.target], limitMoisture(b.notebook.plan, b.x, &b.st)
	if finite(limit) && entered > limit*(1+1e-6) {
		b.note(Caution, b.at("/drying/target"), "drying_target_loose", map[string]any{
			"Target": number(entered*100, "%", 2), "Limit": number(limit*100, "%", 2),
		})
	}
}

// unknownFloor says what is missing to tell what the oven leaves, or that nobody knows
// it. The time waits for it where the target lies within what a humid room leaves.
func (b *benchNotes) unknownFloor(used int, run *dryRun) {
	if run.floor.known() {
		return
	}
	log := &b.m.Powder.Drying.Runs[used]
	member, id := "room_humidity", "oven_floor_unknown"
	switch {
	case run.floor.beyond:
		member, id = "oven_temperature", "oven_floor_beyond"
	case !log.OvenTemperature.Given():
		member = "oven_temperature"
	case !log.RoomTemperature.Given():
		member = "room_temperature"
	}
	severity, blocks := Info, []Figure(nil)
	if b.first && b.notebook.sheet.Drying.Doubtful {
		severity, blocks = Caution, []Figure{DryingTime}
	}
	b.note(severity, b.at("/drying/runs/%d/%s", used, member), id, map[string]any{
		"Most": number(wetPercent(run.floor.high), "%", 2),
	}, blocks...)
}

// runName is the name of a run, or its number.
func (b *benchNotes) runName(i int) any {
	if name := b.m.Powder.Drying.Runs[i].Name; name != "" {
		return name
	}
	return i + 1
}

// heavyDryMass notes dry masses that were entered and that are left aside.
func (b *benchNotes) heavyDryMass() {
	for i := range b.plan.bench.runs {
		run, log := &b.plan.bench.runs[i], &b.m.Powder.Drying.Runs[i]
		if !run.above {
			continue
		}
		_, last := run.ends()
		b.note(Caution, b.at("/drying/runs/%d/dry_mass", i), "drying_dry_mass_above", map[string]any{
			"Dry": log.DryMass, "Last": number(run.rows[last].MassKg*1e3, "g", 4),
		})
	}
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
		field, id := b.at("/drying/target"), "drying_target_beyond"
		if u.TargetFrom == "limit" {
			field, id = b.at("/drying/runs/%d/oven_temperature", used), "drying_limit_beyond"
		}
		b.note(Caution, field, id, map[string]any{
			"Target": number(u.Target.Value, "%", 2), "Floor": number(wetPercent(run.floor.dry), "%", 2),
		}, DryingTime)
	case u.Doubtful && run.floor.known():
		field, id := b.at("/drying/target"), "drying_target_doubtful"
		if u.TargetFrom == "limit" {
			field, id = b.at("/drying/runs/%d/oven_temperature", used), "drying_limit_doubtful"
		}
		b.note(Caution, field, id, map[string]any{
			"Target": number(u.Target.Value, "%", 2), "Floor": number(wetPercent(run.floor.dry), "%", 2),
			"Most": number(wetPercent(run.floor.high), "%", 2),
		}, DryingTime)
	case u.Left.Known() && u.Left.Value > 0:
		b.note(Caution, b.at("/drying/runs/%d/readings", used), "drying_goes_on", map[string]any{
			"Now": number(b.sheet.Drying.Runs[used].Now.Value, "%", 2), "Target": number(u.Target.Value, "%", 2),
			"Left": number(u.Left.Value, "h", 2), "Low": number(u.Left.Low, "h", 2), "High": number(u.Left.High, "h", 2),
		})
	}
}

// hotOven warns of an oven above what plant powder stands, and any powder of which
// nobody said what it is.
func (b *benchNotes) hotOven() {
	if !likeWood(b.m) {
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
	{"no_tare", "drying_no_tare"},
	{"below_tare", "drying_below_tare"},
}

// oddReadings counts what is wrong with the rows of the logs, one note a kind, and
// reports whether anything is. While no run can be read the time waits for them.
func (b *benchNotes) oddReadings(unread bool) (found bool) {
	var blocks []Figure
	if unread {
		blocks = []Figure{DryingTime}
	}
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
			if count == 0 {
				continue
			}
			found = true
			field := b.at("/drying/runs/%d/readings/%d", i, first)
			if tray := untared(&b.m.Powder.Drying.Runs[i]); tray >= 0 && odd.remark == "no_tare" {
				field = b.at("/drying/runs/%d/trays/%d", i, tray)
			}
			b.note(Caution, field, odd.note, map[string]any{"Row": first + 1, "Count": count}, blocks...)
		}
	}
	return found
}
