package bench

import (
	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// powderSheets tells what the bench of every filler comes to; numbers are the
// results of the derived numbers, in their order.
func powderSheets(p *project.Project, m *Model, numbers []Result) []PowderSheet {
	sheets := make([]PowderSheet, len(m.powders))
	x := m.best()
	for i := range m.powders {
		plan := &m.powders[i]
		sheets[i] = powderSheet(p, plan, x, func(n powderNumber) Result { return numbers[plan.number(n)] })
	}
	return sheets
}

func powderSheet(p *project.Project, plan *powderPlan, x []float64, number func(powderNumber) Result) PowderSheet {
	index := plan.material
	s := PowderSheet{
		Material:    index,
		Drying:      dryingSheet(p, index, &plan.bench),
		Storage:     storageSheet(p, index, number),
		Preparation: preparationSheet(plan, x, number),
		Sieving:     sievingSheet(p, index, &plan.bench),
		Clogging:    cloggingSheet(p, index, &plan.bench),
		Grain: GrainSheet{
			Density: number(numDensity), Bulk: number(numBulk), Tapped: number(numTapped),
			Packing: number(numPacking), Hausner: number(numHausner),
		},
	}
	s.Feeds = feeds(&p.Materials[index].Powder, plan, number)
	return s
}

// feeds lists what the bench puts in the place of properties.
func feeds(in *material.Powder, plan *powderPlan, number func(powderNumber) Result) []Feed {
	var list []Feed
	add := func(member string, n powderNumber, used bool) {
		if r := number(n); r.Known() {
			list = append(list, Feed{member, r, used})
		}
	}
	add("moisture", numMoisture, true)
	add("price", numCostDry, !in.Preparation.SetAside)
	add("density", numDensity, !in.Grain.DensitySetAside)
	add("packing_limit", numPacking, !in.Grain.PackingSetAside)
	return list
}

// powderUnits are the trade units of the derived numbers, with their factor
// from SI.
var powderUnits = [powderNumbers]struct {
	unit  string
	perSI float64
}{
	numEquilibrium: {"%", 100}, numMoisture: {"%", 100}, numDensity: {"g/cm3", 1e-3}, numBulk: {"g/cm3", 1e-3},
	numTapped: {"g/cm3", 1e-3}, numHausner: {"1", 1}, numPacking: {"%", 100},
	numYield: {"%", 100}, numYieldOnce: {"%", 100}, numYieldAgain: {"%", 100},
	numWetPerUsable: {"kg/kg", 1}, numWater: {"kg/kg", 1}, numEnergy: {"kWh/kg", 1 / 3.6e6},
	numCost: {"CUR/kg", 1}, numCostOnce: {"CUR/kg", 1}, numCostAgain: {"CUR/kg", 1}, numCostDry: {"CUR/kg", 1},
}

// share reports whether a derived number is part of a whole.
func (n powderNumber) share() bool {
	switch n {
	case numMoisture, numPacking, numYield, numYieldOnce, numYieldAgain:
		return true
	}
	return false
}

// storageSheet tells what the air of the store does to the powder.
func storageSheet(p *project.Project, index int, number func(powderNumber) Result) StorageSheet {
	m := &p.Materials[index]
	in := &m.Powder.Storage
	s := StorageSheet{From: equilibriumFrom(p, index), EquilibriumDry: number(numEquilibrium)}
	if dry := s.EquilibriumDry; dry.Known() {
		s.Equilibrium = newResult(wetPercent(dry.Value/100), wetPercent(dry.Low/100), wetPercent(dry.High/100), "%", dry.Basis)
	}
	if leftOpen(in) && s.From != "" { // else nothing says what it took up
		s.After = number(numMoisture)
	}
	switch {
	case in.UptakeTime.Given():
		e, _ := in.UptakeTime.Estimate()
		s.Uptake = newResult(e.Value/3600, e.Low/3600, e.High/3600, "h", Entered)
	default:
		s.Uptake = newResult(2.8, filler.UptakeFastS/3600, filler.UptakeSlowS/3600, "h", Estimated)
	}
	s.isotherm = isotherm(m)
	return s
}

// isotherm is the law by which the powder takes up water, for the picture.
func isotherm(m *material.Material) func(humidity float64) float64 {
	in := &m.Powder.Storage
	switch {
	case in.Monolayer.Given() && in.GABC.Given() && in.GABK.Given():
		law := filler.GAB{Monolayer: in.Monolayer.SI(), C: in.GABC.SI(), K: in.GABK.SI()}
		return func(humidity float64) float64 { return filler.WetBasis(law.Moisture(humidity)) }
	case likeWood(m) && in.Temperature.Given() && filler.WoodMoistureKnown(in.Temperature.SI()):
		temperature := in.Temperature.SI()
		return func(humidity float64) float64 { return filler.WetBasis(filler.WoodMoisture(temperature, humidity)) }
	}
	return nil
}

// preparationSheet tells what the chain comes to, step by step.
func preparationSheet(plan *powderPlan, x []float64, number func(powderNumber) Result) PreparationSheet {
	s := PreparationSheet{
		Yield: number(numYield), WetPerUsable: number(numWetPerUsable), WaterPerUsable: number(numWater),
		EnergyPerKg: number(numEnergy), Cost: number(numCost), CostDry: number(numCostDry),
		Once:  Preparing{number(numYieldOnce), number(numCostOnce)},
		Again: Preparing{number(numYieldAgain), number(numCostAgain)},
	}
	if chain := plan.bench.chain; chain != nil {
		s.Steps = chain.sheets(x)
	}
	return s
}
