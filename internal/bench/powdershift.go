package bench

import (
	"errors"
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// shift is the time in another oven or layer: an extrapolation.
func (u *DryingUse) shift(plan *powderPlan, index int, m *material.Material, targetDry float64) {
	d, run := &m.Powder.Drying, &plan.bench.runs[index]
	log := &d.Runs[index]
	factor, off := 1.0, spread{}
	floor, known := run.floor, true
	if other := d.OtherTemperature; other.Given() && log.OvenTemperature.Given() {
		f, o := toOven(d, &plan.bench, log.OvenTemperature, other)
		factor, off = factor*f, off.with(o)
		u.ShiftedTo = "temperature"
		floor, known = floorThere(m, log, run)
	}
	if other := d.OtherLayer; other.Given() && log.Layer.Given() {
		f, o := toLayer(d, log.Layer, other)
		factor, off = factor*f, off.with(o)
		if u.ShiftedTo == "temperature" {
			u.ShiftedTo = "both"
		} else {
			u.ShiftedTo = "layer"
		}
	}
	switch {
	case u.ShiftedTo == "":
		return
	case !known:
		u.ShiftedWhy = "floor"
		return
	}
	time, err := run.elsewhere(targetDry, factor, floor)
	switch {
	case errors.Is(err, errDoubtful) && !floor.known():
		u.ShiftedWhy = "floor"
	case errors.Is(err, errDoubtful):
		u.ShiftedWhy = "doubtful"
	case err != nil:
		u.ShiftedWhy = "beyond"
	default:
		u.Shifted = timeResult(besides(time, off), Estimated)
	}
}

// elsewhere is the time to a target where the powder dries so many times as fast, down
// to another floor. Both floors are at the same end at once: it is one powder.
func (r *dryRun) elsewhere(targetDry, factor float64, floor ovenFloor) (filler.CurveValue, error) {
	there := func(here onFloor, dry float64) onFloor {
		curve := here.curve.Elsewhere(factor, here.dry, dry)
		return onFloor{dry, &curve}
	}
	return timeTo(targetDry, there(onFloor{r.floor.dry, r.timed}, floor.dry), there(r.low, floor.low), there(r.high, floor.high))
}

// floorThere is the moisture that the other oven leaves in the same room, and
// whether a time can rest on it. Where it is known of neither oven, what stays is
// taken as nothing in both.
func floorThere(m *material.Material, log *material.DryingRun, run *dryRun) (floor ovenFloor, known bool) {
	there := *log
	there.OvenTemperature = m.Powder.Drying.OtherTemperature
	floor = floorIn(m, &there)
	return floor, floor.known() || !run.floor.known()
}

// toOven is how many times as fast powder dries at another temperature, and what the
// logarithm of the time there may be off by: by the activation energy, of which more
// makes it longer in a colder oven and shorter in a hotter one, and by both ovens.
func toOven(d *material.Drying, b *powderBench, from, to quantity.Of[quantity.Temperature]) (factor float64, off spread) {
	ea := activationEnergy(d, b)
	longer := (1/to.SI() - 1/from.SI()) / filler.GasConstantJMolK
	off = spread{longer * ea.u.minus, longer * ea.u.plus}
	if longer < 0 {
		off = spread{-longer * ea.u.plus, -longer * ea.u.minus}
	}
	for _, oven := range []quantity.Of[quantity.Temperature]{from, to} {
		off = off.with(even(ea.jMol / filler.GasConstantJMolK / math.Pow(oven.SI(), 2) * half(oven) / coverage))
	}
	return filler.RateFactor(ea.jMol, from.SI(), to.SI()), off
}

// toLayer is the same for another thickness of the layer.
func toLayer(d *material.Drying, from, to quantity.Of[quantity.Length]) (factor float64, off spread) {
	m, u, _ := layerExponent(d)
	off = even(math.Log(to.SI()/from.SI()) * u)
	for _, layer := range []quantity.Of[quantity.Length]{from, to} {
		off = off.with(even(m * half(layer) / coverage / layer.SI()))
	}
	return filler.ThicknessFactor(from.SI(), to.SI(), m), off
}

// spread is a standard uncertainty that may differ below and above.
type spread struct{ minus, plus float64 }

// even is a spread that is the same either way.
func even(u float64) spread { return spread{math.Abs(u), math.Abs(u)} }

// with adds another spread in squares.
func (s spread) with(o spread) spread {
	return spread{math.Hypot(s.minus, o.minus), math.Hypot(s.plus, o.plus)}
}

// leastApartK is how far apart the ovens of two runs must be at least for an
// activation energy (own judgement): nearer than that, the ovens themselves are
// not known well enough.
const leastApartK = 10

// unstatedOvenK is the standard uncertainty of an oven that was entered without a ±
// (own judgement): what a thermostat and its dial are off by.
const unstatedOvenK = 1

// energyUsed is an activation energy in J/mol with what it rests on; see
// DryingSheet.EnergyFrom.
type energyUsed struct {
	jMol  float64
	u     spread
	basis Basis
	from  string
}

// activationEnergy is the maker's own, or fitted to runs at several
// temperatures with one thickness, or the usual one.
func activationEnergy(d *material.Drying, b *powderBench) energyUsed {
	if e, given := d.ActivationEnergy.Estimate(); given {
		return energyUsed{e.Value, spread{e.StdU, e.StdU}, Entered, "entered"}
	}
	rates := ratesOf(d, b)
	a, err := filler.FitArrhenius(rates)
	switch {
	case err != nil || !a.Known:
		return usualEnergy("usual")
	case apartK(rates) < leastApartK-1e-6:
		return usualEnergy("too_close")
	case a.EaJMol <= 0:
		return usualEnergy("not_faster")
	}
	minus, plus := halfWidths(a.EaJMol, math.Max(0, a.Low), a.High) // nothing dries more slowly in the heat
	return energyUsed{a.EaJMol, spread{minus, plus}, Calibrated, "runs"}
}

// usualEnergy is that of wet plant powder, and why it has to do.
func usualEnergy(from string) energyUsed {
	minus, plus := halfWidths(filler.DryingEaJMol, filler.DryingEaLowJMol, filler.DryingEaHighJMol)
	return energyUsed{filler.DryingEaJMol, spread{minus, plus}, Estimated, from}
}

// ratesOf lists the rates of the runs with the layer of the one that is used. A
// curve without an interval tells too little of its rate.
func ratesOf(d *material.Drying, b *powderBench) []filler.RateAt {
	if b.used < 0 {
		return nil
	}
	var rates []filler.RateAt
	layer := d.Runs[b.used].Layer
	for i := range b.runs {
		curve, oven := b.runs[i].timed, d.Runs[i].OvenTemperature
		if curve == nil || curve.OpenEnd || !oven.Given() || d.Runs[i].Layer.SI() != layer.SI() {
			continue
		}
		tau := curve.TauS()
		if !tau.Known {
			continue
		}
		rate := filler.RateAt{TempK: oven.SI(), Rate: 1 / tau.Value, ULogRate: math.Log(tau.High/tau.Low) / 2 / coverage, UTempK: unstatedOvenK}
		if u := half(oven) / coverage; u > 0 {
			rate.UTempK = u
		}
		rates = append(rates, rate)
	}
	return rates
}

// apartK is how far the coldest and the hottest oven are apart.
func apartK(rates []filler.RateAt) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rates {
		low, high = math.Min(low, r.TempK), math.Max(high, r.TempK)
	}
	return high - low
}

// layerExponent is the maker's own, or the usual one.
func layerExponent(d *material.Drying) (m, u float64, basis Basis) {
	if e, given := d.LayerExponent.Estimate(); given {
		return e.Value, e.StdU, Entered
	}
	return filler.ThicknessExponent, (filler.ThicknessExponentHigh - filler.ThicknessExponentLow) / 2 / coverage, Estimated
}
