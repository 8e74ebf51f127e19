package bench

import (
	"math"
	"slices"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// powderBench is what is worked out once for each powder, before the core: fits
// are too slow to be made anew for every x, so that their outcome, with its
// uncertainty, is an input to the core.
type powderBench struct {
	runs    []dryRun
	used    int // run that the powder at hand went through; -1 for none
	later   int // a later run that tells no moisture; -1 for none
	sieving filler.Sieving
	sizes   []filler.SizeFit
	chain   *chainPlan // nil without steps
	clog    clogBench
}

// dryRun is one log of the oven.
type dryRun struct {
	rows      []filler.Weighing // those that can be read
	of        []int             // reading of the document that each row comes from
	floor     ovenFloor
	fits      filler.DryingFits
	err       error
	curve     *filler.DryingCurve // the better one; nil for none
	timed     *filler.DryingCurve // the same for times: wider by what is not known of an entered dry mass
	low, high onFloor             // the curve at the ends of what the floor may be
	dryKg     float64             // without any water; NaN while not known
	dryU      float64             // standard uncertainty of an entered dryKg
	entered   bool                // dryKg was entered
	above     bool                // a dry mass was entered, and left aside: the charge weighs less
	dryFit    bool                // dryKg comes from the curve
	slow      bool                // dryKg comes from the last weighing, although the curve does not level off
	rule      filler.ConstantMass
	stepKg    float64 // of the scale, for a weighing of all trays
	lastS     float64
}

func newPowderBench(p *project.Project, index int) powderBench {
	b := powderBench{}
	m := &p.Materials[index]
	for i := range m.Powder.Drying.Runs {
		b.runs = append(b.runs, newDryRun(p, m, &m.Powder.Drying.Runs[i]))
	}
	b.used, b.later = usedRun(b.runs)
	return b
}

// usedRun is the run that the powder at hand went through: the last one that tells
// a moisture, because one that has just begun tells none yet; else the last one
// with weighings. later is a run behind it that does not tell one.
func usedRun(runs []dryRun) (used, later int) {
	used, later = -1, -1
	tells := false
	for i := range runs {
		_, last := runs[i].ends()
		if last < 0 {
			continue
		}
		_, _, known := runs[i].atRow(last)
		switch {
		case known || !tells:
			used, later, tells = i, -1, tells || known
		default:
			later = i
		}
	}
	return used, later
}

// resolutionKg is the step of the scale, 0 while not known.
func resolutionKg(p *project.Project) float64 {
	e, _ := scaleStep(p).Estimate()
	return e.Value
}

// scaleStep is the step of the scale: that of this batch, else that of the machine.
func scaleStep(p *project.Project) quantity.Of[quantity.Mass] {
	if p.Batch.BalanceResolution.Given() {
		return p.Batch.BalanceResolution
	}
	return p.Line.Machine.ScaleStep
}

func newDryRun(p *project.Project, m *material.Material, log *material.DryingRun) dryRun {
	r := dryRun{dryKg: math.NaN(), floor: floorIn(m, log).orOf(&p.Line.Machine, m)}
	for i := range log.Readings {
		if row, whole := logWeighing(log, i); whole {
			r.rows, r.of = append(r.rows, row), append(r.of, i)
			r.lastS = max(r.lastS, row.TimeS)
		}
	}
	r.stepKg = resolutionKg(p) * math.Sqrt(float64(max(1, len(log.Trays))))
	r.rule = filler.CheckConstantMass(r.rows, filler.UsualConstantMass, r.stepKg)
	r.enter(log)
	options := filler.DryingOptions{ResolutionKg: r.stepKg}
	if r.entered {
		options.FinalKg = r.dryKg * (1 + r.floor.dry)
	}
	r.fits, r.err = filler.FitDryingLaws(r.rows, options)
	if r.err == nil {
		r.curve = r.fits.Curve()
		r.timed = r.curve
		if r.dryU > 0 {
			r.timed = widened(r.curve, r.rows, options, r.dryU*(1+r.floor.dry))
		}
	}
	switch {
	case r.entered:
	case r.curve != nil && !r.curve.OpenEnd && r.curve.DegreesOfFreedom > 0:
		r.dryKg, r.dryFit = r.curve.DryMass(r.floor.dry).Value, true
	case r.rule.Outcome == filler.MassConstant:
		r.dryKg = r.rows[r.rule.Last].MassKg / (1 + r.floor.dry)
		r.slow = r.curve != nil && r.curve.OpenEnd
	}
	r.low, r.high = r.atFloor(r.floor.low, options), r.atFloor(r.floor.high, options)
	return r
}

// enter takes the dry mass that was entered. One that lies above the last weighing,
// beyond its ± and the step of the scale, is left aside: no powder weighs less than
// what it holds without water. The last weighing against it bounds what the oven
// leaves.
func (r *dryRun) enter(log *material.DryingRun) {
	dry, given := log.DryMass.Estimate()
	if !given {
		return
	}
	if _, last := r.ends(); last >= 0 {
		most := r.rows[last].MassKg + r.stepKg
		if dry.Value-coverage*dry.StdU > most {
			r.above = true
			return
		}
		if dry.Value > 0 {
			r.floor = r.floor.within(math.Max(0, most/dry.Value-1))
		}
	}
	r.entered, r.dryKg, r.dryU = true, dry.Value, dry.StdU
}

// widened is a curve to an end mass that was given with a standard uncertainty: what
// the curve moves by with it is added to its covariance. Where no curve ends on one
// side, the other side counts.
func widened(c *filler.DryingCurve, rows []filler.Weighing, o filler.DryingOptions, uKg float64) *filler.DryingCurve {
	end := o.FinalKg
	parameters := func(finalKg float64) ([4]float64, bool) {
		o.FinalKg = finalKg
		fit, err := filler.FitDrying(rows, c.Law, o)
		return [4]float64{fit.InitialKg, fit.FinalKg, fit.LogTauS, fit.Exponent}, err == nil
	}
	here, sides := [4]float64{c.InitialKg, c.FinalKg, c.LogTauS, c.Exponent}, 2.0
	more, up := parameters(end + uKg)
	less, down := parameters(end - uKg)
	switch {
	case !up && !down:
		return c
	case !up:
		more, sides = here, 1
	case !down:
		less, sides = here, 1
	}
	wide := *c
	for i := range here {
		for k := range here {
			wide.Covariance[i][k] += (more[i] - less[i]) / sides * (more[k] - less[k]) / sides
		}
	}
	return &wide
}

// untared is the first tray of a run without a tare; -1 for none.
func untared(log *material.DryingRun) int {
	return slices.IndexFunc(log.Trays, func(tare quantity.Of[quantity.Mass]) bool { return !tare.Given() })
}

// logWeighing is the net mass of one reading over all trays; false where a time, a
// mass or a tare is missing or the powder weighs nothing.
func logWeighing(log *material.DryingRun, i int) (filler.Weighing, bool) {
	reading := &log.Readings[i]
	trays := max(1, len(log.Trays))
	if !reading.Time.Given() || len(reading.Masses) < trays {
		return filler.Weighing{}, false
	}
	row := filler.Weighing{TimeS: reading.Time.SI()}
	for k := range trays {
		if !reading.Masses[k].Given() {
			return filler.Weighing{}, false
		}
		row.MassKg += reading.Masses[k].SI()
	}
	if untared(log) >= 0 {
		return filler.Weighing{}, false
	}
	for _, tare := range log.Trays {
		row.MassKg -= tare.SI()
	}
	return row, row.MassKg > 0
}

// ends are the earliest and the latest row; -1 without rows.
func (r *dryRun) ends() (first, last int) {
	first, last = -1, -1
	for i := range r.rows {
		if first < 0 || r.rows[i].TimeS < r.rows[first].TimeS {
			first = i
		}
		if last < 0 || r.rows[i].TimeS >= r.rows[last].TimeS {
			last = i
		}
	}
	return first, last
}
