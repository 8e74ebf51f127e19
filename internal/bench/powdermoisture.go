package bench

import (
	"math"

	"fillwright/internal/filler"
)

// slowLoss is how much of the dry mass a powder may still lose whose last weighings
// agree while its curve does not level off (own judgement).
const slowLoss = 0.005

// apart widens the same uncertainty either way by what a value may be off by to
// either side.
func apart(u, below, above float64) spread {
	return spread{math.Hypot(u, math.Max(0, below)/coverage), math.Hypot(u, math.Max(0, above)/coverage)}
}

// moistureAt is the moisture on the dry basis at a row or any later time, with
// its standard uncertainty; not known without a dry mass.
func (r *dryRun) moistureAt(timeS float64) (dry float64, u spread, known bool) {
	if !r.tells() || r.curve.DegreesOfFreedom < 1 {
		return 0, spread{}, false
	}
	v := r.curve.MoistureAt(timeS, r.floor.dry)
	if !v.Known {
		return 0, spread{}, false
	}
	low, high := r.low.curve.MoistureAt(timeS, r.low.dry).Value, r.high.curve.MoistureAt(timeS, r.high.dry).Value
	both := math.Hypot((v.High-v.Low)/2/coverage, r.dryMassU(v.Value))
	return v.Value, apart(both, v.Value-math.Min(low, high), math.Max(low, high)-v.Value), true
}

// dryMassU is what an entered dry mass adds to the uncertainty of all moistures of
// the log.
func (r *dryRun) dryMassU(dry float64) float64 {
	if r.dryU > 0 {
		return (1 + dry) * r.dryU / r.dryKg
	}
	return 0
}

// atRow is the moisture at a weighing: from the curve where there is one, else, and
// always against a dry mass that was entered, from the mass on the scale. A curve knows
// no better how wet the powder was than its weighings lie beside it.
func (r *dryRun) atRow(i int) (dry float64, u spread, known bool) {
	if dry, u, known = r.moistureAt(r.rows[i].TimeS); known && !r.entered {
		missed := math.Max(r.curve.ResidualSDKg, r.stepKg/math.Sqrt(12)) / r.dryKg
		return dry, spread{math.Hypot(u.minus, missed), math.Hypot(u.plus, missed)}, true
	}
	dry = filler.MoistureOf(r.rows[i].MassKg, r.dryKg)
	if !finite(dry) {
		return 0, spread{}, false
	}
	both := r.stepKg / math.Sqrt(12) / r.dryKg
	if !r.entered { // the dry mass is a weighing too, and still changes within the rule
		both = math.Hypot(both*math.Sqrt2, filler.UsualConstantMass.MaxChange/coverage)
	}
	both = math.Hypot(both, r.dryMassU(dry))
	below, above := r.dryMassOff()
	return dry, apart(both, (1+dry)*below, (1+dry)*above), true
}

// dryMassOff is by which share a dry mass from the last weighing may be too large and
// too small: the oven left less or more in it than the floor, or it would have lost
// more.
func (r *dryRun) dryMassOff() (below, above float64) {
	if r.entered {
		return 0, 0
	}
	below, above = (r.floor.dry-r.floor.low)/(1+r.floor.dry), (r.floor.high-r.floor.dry)/(1+r.floor.dry)
	if r.slow {
		above = math.Hypot(above, slowLoss)
	}
	return below, above
}

// basis is that of the moistures of a run. Against a dry mass that was entered they
// are measured, whatever the oven leaves.
func (r *dryRun) basis() Basis {
	if r.entered || r.floor.known() {
		return Measured
	}
	return Estimated
}

// wetPercent is a moisture on the dry basis as people read it: on the wet basis, in %,
// and never below none.
func wetPercent(dry float64) float64 { return filler.WetBasis(math.Max(0, dry)) * 100 }

// moistures are those at a row, on the wet and on the dry basis.
func (r *dryRun) moistures(row int) (wet, dry Result) {
	value, u, known := r.atRow(row)
	if !known {
		return Result{Unit: "%"}, Result{Unit: "%"}
	}
	value = math.Max(0, value)
	low, high := math.Max(0, value-coverage*u.minus), value+coverage*u.plus
	return newResult(wetPercent(value), wetPercent(low), wetPercent(high), "%", r.basis()),
		newResult(value*100, low*100, high*100, "%", r.basis())
}

// sampler follows the better curve, on the wet basis in %.
func (r *dryRun) sampler() func(hours float64) (wet, low, high float64) {
	if !r.tells() {
		return nil
	}
	return func(hours float64) (wet, low, high float64) {
		value, u, known := r.moistureAt(hours * 3600)
		if !known {
			wet = wetPercent(r.curve.MoistureAt(hours*3600, r.floor.dry).Value)
			return wet, wet, wet
		}
		return wetPercent(value), wetPercent(value - coverage*u.minus), wetPercent(value + coverage*u.plus)
	}
}

// dryMass is the mass of the charge without any water.
func (r *dryRun) dryMass() Result {
	basis, half := r.basis(), coverage*r.dryU
	if r.dryFit {
		v := r.curve.DryMass(r.floor.dry)
		if !v.Known {
			return Result{Unit: "g", Basis: Estimated}
		}
		basis, half = Estimated, (v.High-v.Low)/2
	}
	below, above := r.dryMassOff() // of the moisture, which falls as the dry mass rises
	return newResult(r.dryKg*1e3, (r.dryKg-math.Hypot(half, r.dryKg*above))*1e3, (r.dryKg+math.Hypot(half, r.dryKg*below))*1e3, "g", basis)
}
