package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// shift is the time in another oven or layer: an extrapolation.
func (u *DryingUse) shift(run *dryRun, d *material.Drying, plan *powderPlan, targetDry float64) {
	log := &d.Runs[plan.bench.used]
	factor, variance := 1.0, 0.0
	floor := run.floor
	if other := d.OtherTemperature; other.Given() && log.OvenTemperature.Given() {
		f, v := toOven(d, &plan.bench, log.OvenTemperature, other)
		factor, variance = factor*f, variance+v
		u.ShiftedTo = "temperature"
		if log.RoomTemperature.Given() && log.RoomHumidity.Given() && run.floor > 0 {
			if there := filler.OvenFloor(log.RoomTemperature.SI(), log.RoomHumidity.SI(), other.SI()); finite(there) {
				floor = there
			}
		}
	}
	if other := d.OtherLayer; other.Given() && log.Layer.Given() {
		f, v := toLayer(d, log.Layer, other)
		factor, variance = factor*f, variance+v
		if u.ShiftedTo == "temperature" {
			u.ShiftedTo = "both"
		} else {
			u.ShiftedTo = "layer"
		}
	}
	if u.ShiftedTo == "" {
		return
	}
	there := run.timed.Elsewhere(factor, math.Sqrt(variance), run.floor, floor)
	if time, err := there.TimeTo(targetDry, floor); err == nil {
		u.Shifted = timeResult(time, Estimated)
	}
}

// toOven is how many times as fast powder dries at another temperature, and the
// variance of the logarithm of that: of the activation energy and of both ovens.
func toOven(d *material.Drying, b *powderBench, from, to quantity.Of[quantity.Temperature]) (factor, variance float64) {
	ea, spread, _ := activationEnergy(d, b)
	byEnergy := (1/from.SI() - 1/to.SI()) / filler.GasConstantJMolK
	variance = math.Pow(byEnergy*math.Max(spread.minus, spread.plus), 2)
	for _, oven := range []quantity.Of[quantity.Temperature]{from, to} {
		variance += math.Pow(ea/filler.GasConstantJMolK/math.Pow(oven.SI(), 2)*half(oven)/coverage, 2)
	}
	return filler.RateFactor(ea, from.SI(), to.SI()), variance
}

// toLayer is the same for another thickness of the layer.
func toLayer(d *material.Drying, from, to quantity.Of[quantity.Length]) (factor, variance float64) {
	m, u, _ := layerExponent(d)
	variance = math.Pow(math.Log(to.SI()/from.SI())*u, 2)
	for _, layer := range []quantity.Of[quantity.Length]{from, to} {
		variance += math.Pow(m*half(layer)/coverage/layer.SI(), 2)
	}
	return filler.ThicknessFactor(from.SI(), to.SI(), m), variance
}

// spread is a standard uncertainty that may differ below and above.
type spread struct{ minus, plus float64 }

// activationEnergy is the maker's own, or fitted to runs at several
// temperatures with one thickness, or the usual one.
func activationEnergy(d *material.Drying, b *powderBench) (jMol float64, u spread, basis Basis) {
	if e, given := d.ActivationEnergy.Estimate(); given {
		return e.Value, spread{e.StdU, e.StdU}, Entered
	}
	if a, err := filler.FitArrhenius(ratesOf(d, b)); err == nil && a.EaJMol > 0 {
		half := 0.25 * a.EaJMol / coverage // two runs give no interval: a quarter either way (own judgement)
		if a.Known {
			half = (a.High - a.Low) / 2 / coverage
		}
		return a.EaJMol, spread{half, half}, Calibrated
	}
	return filler.DryingEaJMol, spread{
		(filler.DryingEaJMol - filler.DryingEaLowJMol) / coverage,
		(filler.DryingEaHighJMol - filler.DryingEaJMol) / coverage,
	}, Estimated
}

// ratesOf lists the rates of the runs with the layer of the one that is used.
func ratesOf(d *material.Drying, b *powderBench) []filler.RateAt {
	if b.used < 0 {
		return nil
	}
	var rates []filler.RateAt
	layer := d.Runs[b.used].Layer
	for i := range b.runs {
		curve := b.runs[i].curve
		if curve == nil || curve.OpenEnd || !d.Runs[i].OvenTemperature.Given() || d.Runs[i].Layer.SI() != layer.SI() {
			continue
		}
		rates = append(rates, filler.RateAt{TempK: d.Runs[i].OvenTemperature.SI(), Rate: math.Exp(-curve.LogTauS)})
	}
	return rates
}

// layerExponent is the maker's own, or the usual one.
func layerExponent(d *material.Drying) (m, u float64, basis Basis) {
	if e, given := d.LayerExponent.Estimate(); given {
		return e.Value, e.StdU, Entered
	}
	return filler.ThicknessExponent, (filler.ThicknessExponentHigh - filler.ThicknessExponentLow) / 2 / coverage, Estimated
}
