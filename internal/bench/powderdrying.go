package bench

import (
	"errors"
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// drying places what the log of the oven says: the moistures at its start and
// at its end, as inputs with the uncertainty of the fit.
func (c *compiler) drying(plan *powderPlan) {
	plan.firstDry, plan.lastDry, plan.nowDry = absent, absent, absent
	b := &plan.bench
	if b.used < 0 {
		return
	}
	run := &b.runs[b.used]
	first, last := run.ends()
	place := func(row int, name string) at {
		dry, u, known := run.atRow(row)
		if !known {
			return absent
		}
		pointer := project.MaterialPointer(plan.material, "powder") + "/drying/" + name
		dry = math.Max(0, dry)
		minus := math.Min(u.minus, dry/coverage) // no powder holds less than no water
		return c.place(pointer, run.basis(), uncertain.Input{Value: dry, UMinus: minus, UPlus: u.plus})
	}
	plan.firstDry, plan.lastDry = place(first, "initial"), place(last, "now")
	if !c.project.Materials[plan.material].Powder.Drying.SetAside {
		plan.nowDry = plan.lastDry
	}
}

// dryingSheet tells what each log comes to.
func dryingSheet(p *project.Project, index int, b *powderBench) DryingSheet {
	m := &p.Materials[index]
	s := DryingSheet{Used: b.used}
	for i := range b.runs {
		s.Runs = append(s.Runs, runSheet(p, &m.Powder.Drying.Runs[i], &b.runs[i]))
	}
	ea := activationEnergy(&m.Powder.Drying, b)
	s.Energy = newResult(ea.jMol/1e3, (ea.jMol-coverage*ea.u.minus)/1e3, (ea.jMol+coverage*ea.u.plus)/1e3, "kJ/mol", ea.basis)
	s.EnergyFrom = ea.from
	exponent, um, basis := layerExponent(&m.Powder.Drying)
	s.Exponent = newResult(exponent, exponent-coverage*um, exponent+coverage*um, "1", basis)
	return s
}

func runSheet(p *project.Project, log *material.DryingRun, r *dryRun) RunSheet {
	s := RunSheet{Better: -1, LastH: r.lastS / 3600}
	s.Fits[0] = dryFit(r, &r.fits.Lewis, r.fits.LewisErr)
	s.Fits[1] = dryFit(r, &r.fits.Page, r.fits.PageErr)
	if r.curve != nil {
		s.Better = int(r.fits.Best)
		s.moistureAt = r.sampler()
	}
	if f := r.floor; f.known() {
		s.FloorDry = newResult(f.dry*100, f.low*100, f.high*100, "%", Estimated)
		s.Floor = newResult(wetPercent(f.dry), wetPercent(f.low), wetPercent(f.high), "%", Estimated)
	}
	s.FloorFrom = r.floor.from
	if first, last := r.ends(); first >= 0 {
		s.Initial, s.InitialDry = r.moistures(first)
		s.Now, s.NowDry = r.moistures(last)
		_, _, s.ByCurve = r.moistureAt(r.rows[last].TimeS)
		s.ByCurve = s.ByCurve && !r.entered
	}
	s.DryMass = r.dryMass()
	s.Constant = ConstantMass{
		Known:         r.rule.Outcome == filler.MassConstant || r.rule.Outcome == filler.MassStillChanges || r.rule.Outcome == filler.MassTooCoarse,
		Reached:       r.rule.Outcome == filler.MassConstant,
		TooCoarse:     r.rule.Outcome == filler.MassTooCoarse,
		ChangePercent: r.rule.Change * 100, GapH: r.rule.GapS / 3600,
	}
	s.Extrapolated = extrapolated(p, r)
	s.Rows = dryingRows(p, log, r)
	return s
}

// exactly is a result without an interval.
func exactly(value float64, unit string, basis Basis) Result {
	return newResult(value, value, value, unit, basis)
}

// curveResult is a number of a curve; without its interval it stays unknown.
func curveResult(v filler.CurveValue, perSI float64, unit string, basis Basis) Result {
	if !v.Known {
		return Result{Unit: unit, Basis: basis}
	}
	return newResult(v.Value*perSI, v.Low*perSI, v.High*perSI, unit, basis)
}

// extrapolated is the end mass from the last three weighings at even steps.
func extrapolated(p *project.Project, r *dryRun) Result {
	final := filler.AitkenOfLog(r.rows, filler.SpacingTolerance)
	if final.Outcome != filler.AitkenFound {
		return Result{Unit: "g"}
	}
	u := final.Gain * resolutionKg(p) / math.Sqrt(12)
	return newResult(final.MassKg*1e3, (final.MassKg-coverage*u)*1e3, (final.MassKg+coverage*u)*1e3, "g", Measured)
}

// whyNoFit names the reasons why a law was not fitted.
var whyNoFit = map[filler.DryingErrorKind]string{
	filler.DryingBadRow: "bad_row", filler.DryingTooFewRows: "too_few_rows", filler.DryingBadFinal: "bad_final",
	filler.DryingNotSeen: "not_seen", filler.DryingNotIdentified: "not_identified", filler.DryingNotConverged: "not_converged",
}

func dryFit(r *dryRun, curve *filler.DryingCurve, err error) DryFit {
	if r.err != nil && err == nil {
		err = r.err
	}
	if err != nil {
		return DryFit{Why: whyNoFit[dryingErrorKind(err)]}
	}
	fit := DryFit{
		Known: true, ResidualG: curve.ResidualSDKg * 1e3, Freedom: curve.DegreesOfFreedom, OpenEnded: curve.OpenEnd,
		K: asFitted(curve.Rate(60), 1, "1/min^n"), N: asFitted(curve.ExponentN(), 1, "1"), End: asFitted(curve.Final(), 1e3, "g"),
	}
	if curve.Law == filler.Lewis {
		fit.K.Unit = "1/min"
	}
	return fit
}

// asFitted is a parameter of a fit. Without degrees of freedom or at an open end
// it stands without an interval; DryFit says which.
func asFitted(v filler.CurveValue, perSI float64, unit string) Result {
	if !v.Known {
		return exactly(v.Value*perSI, unit, Estimated)
	}
	return curveResult(v, perSI, unit, Estimated)
}

// dryingRows tells what each weighing of the document comes to.
func dryingRows(p *project.Project, log *material.DryingRun, r *dryRun) []DryingRow {
	rows := make([]DryingRow, len(log.Readings))
	for i := range rows {
		rows[i] = DryingRow{Remark: unreadable(log, i)}
	}
	for k, i := range r.of {
		w := r.rows[k]
		row := DryingRow{TimeH: w.TimeS / 3600, NetG: w.MassKg * 1e3, Known: true}
		if dry := filler.MoistureOf(w.MassKg, r.dryKg); finite(dry) {
			row.DryPercent, row.WetPercent, row.HasMoisture = dry*100, (w.MassKg-r.dryKg)/w.MassKg*100, true
		}
		if r.curve != nil && k < len(r.curve.ResidualsKg) {
			row.ResidualG, row.HasResidual = r.curve.ResidualsKg[k]*1e3, true
		}
		rows[i] = row
	}
	for _, problem := range filler.CheckLog(r.rows, resolutionKg(p)) {
		if problem.Row >= 0 {
			rows[r.of[problem.Row]].Remark = logRemark(r, problem)
		}
	}
	return rows
}

// unreadable says why a reading takes no part; nothing of one in which nothing stands.
func unreadable(log *material.DryingRun, i int) Remark {
	reading := &log.Readings[i]
	trays := max(1, len(log.Trays))
	masses := 0
	for k := range min(trays, len(reading.Masses)) {
		if reading.Masses[k].Given() {
			masses++
		}
	}
	switch {
	case !reading.Time.Given() && masses == 0:
		return Remark{}
	case !reading.Time.Given():
		return Remark{ID: "no_time"}
	case masses < trays:
		return Remark{ID: "no_mass", Values: map[string]any{"Trays": trays, "Masses": masses}}
	}
	if tray := untared(log); tray >= 0 {
		return Remark{ID: "no_tare", Values: map[string]any{"Tray": tray + 1}}
	}
	return Remark{ID: "below_tare"}
}

// logRemark says what is odd about a row.
func logRemark(r *dryRun, problem filler.LogProblem) Remark {
	values := map[string]any{}
	if problem.Other >= 0 {
		values["Other"] = r.of[problem.Other] + 1
	}
	switch problem.Kind {
	case filler.LogTimeRepeats:
		return Remark{ID: "time_repeats", Values: values}
	case filler.LogTimeGoesBack:
		return Remark{ID: "time_goes_back", Values: values}
	case filler.LogMassRises:
		values["Rise"] = number(problem.Value*1e3, "g", 2)
		return Remark{ID: "mass_rises", Values: values}
	}
	return Remark{ID: "no_mass", Values: map[string]any{"Trays": 1, "Masses": 0}}
}

func dryingErrorKind(err error) filler.DryingErrorKind {
	var drying *filler.DryingError
	if errors.As(err, &drying) {
		return drying.Kind
	}
	return filler.DryingNotConverged
}
