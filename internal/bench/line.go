package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/line"
	"fillwright/internal/material"
	"fillwright/internal/melt"
)

// linePlan holds the places of what the line and the pellets are like.
type linePlan struct {
	throughput          at // measured, else entered
	from                throughputFrom
	meltVolume, screens at // volumes of melt
	dieBore             at
	plug                at
	plugFrom            plugFrom
	pelletD, pelletL    at
	ground, groundSize  at
	coverage, adhesion  at
	dryAdhesion         bool // the adhesion size is the usual one of dry grains
	screw               screwPlan
	passes              float64
}

// screwPlan holds the places of what the drag flow is estimated from.
type screwPlan struct{ diameter, depth, lead, length, speed, pressure, efficiency at }

// lineState is what the line does with one blend.
type lineState struct {
	throughput float64 // kg/s
	density    float64 // of the melt
	mean       float64 // mean time in the melt that stands in the line, s
}

// lineFigures fills the figures of the line.
func (m *Model) lineFigures(b *blendPlan, x, y []float64, st *state) {
	ls, l := &st.line, &m.line
	b.rates(x, y, ls.density)
	y[Throughput] = ls.throughput
	y[PullerSpeed] = line.PullerSpeed(ls.throughput, st.density, get(x, m.set.diameter))
	y[DrawDown] = line.DrawDown(get(x, l.dieBore), get(x, m.set.diameter), ls.density, st.density)
	y[ResidenceTime] = m.residence(x, st)
	purge := line.PlugMixed{PlugShare: get(x, l.plug)}
	mass := ls.mean * ls.throughput
	y[PurgeTime95] = ls.mean * purge.Theta(0.05)
	y[PurgeTime99] = ls.mean * purge.Theta(0.01)
	y[PurgeTime999] = ls.mean * purge.Theta(0.001)
	y[PurgeMass99] = mass * purge.Theta(0.01)
	y[PurgeCost99] = y[PurgeMass99] * (y[MaterialCostPerKg] + m.conversion(x))
	m.spreadFigures(b, x, y, st)
	m.heatFigures(b, x, y, st)
	m.moistureFigures(b, x, y, st)
	y[TemperatureMargin] = m.margin(b, x, st)
	onset := b.onset()
	y[LineMargin], y[NozzleMargin] = onset-get(x, m.set.temperature), onset-get(x, m.set.printTemperature)
}

// toLine brings a blend into the line: its melt, throughput and the time that the melt
// stands there. Where only a mean time was entered, that is taken for the changes too.
func (m *Model) toLine(b *blendPlan, x []float64, st *state) {
	st.mix = mixOf(b, x, st)
	ls := lineState{density: 1 / st.mix.volume, throughput: get(x, m.line.throughput)}
	if m.line.from == throughputDrag {
		ls.throughput = m.dragThroughput(b, x, ls.density)
	}
	volume := get(x, m.line.meltVolume)
	if m.line.screens >= 0 {
		volume += x[m.line.screens]
	}
	ls.mean = line.MeanResidence(volume, ls.density, ls.throughput)
	if m.line.meltVolume < 0 {
		ls.mean = get(x, m.set.residence)
	}
	st.line = ls
}

// residence is the mean time in the melt: entered, else from the line.
func (m *Model) residence(x []float64, st *state) float64 {
	if m.set.residence >= 0 {
		return x[m.set.residence]
	}
	return st.line.mean
}

// dragThroughput estimates the throughput from the metering section of the screw; what
// the pressure at the die drives back is told by the viscosity of the plain polymer.
func (m *Model) dragThroughput(b *blendPlan, x []float64, density float64) float64 {
	s := &m.line.screw
	screw := line.Screw{DiameterM: get(x, s.diameter), DepthM: get(x, s.depth), LeadM: get(x, s.diameter), LengthM: get(x, s.length)}
	if s.lead >= 0 {
		screw.LeadM = x[s.lead]
	}
	flow := screw.DragFlow(get(x, s.speed))
	if s.pressure >= 0 && s.length >= 0 && b.flowBase.rate >= 0 {
		viscosity := melt.ApparentViscosity(x[b.flowBase.rate], b.flowBase.loadKg, density)
		flow = math.Max(0, flow-screw.PressureFlow(x[s.pressure], viscosity))
	}
	return flow * density * get(x, s.efficiency)
}

// oilFilm is the oil of a blend, as a mass fraction, from which its film holds grains of
// every size on the pellets (common practice: 0.1 to 0.3 wt% makes powder stick; own
// judgement that coarse grains then fall off no more). Where the maker entered up to which
// size grains adhere, that holds.
const oilFilm = 0.001

// addedOil is the oil that was added to a blend, as a mass fraction.
func (b *blendPlan) addedOil(st *state) (share float64) {
	for i := range b.parts {
		if b.parts[i].isOil {
			share += st.w[i]
		}
	}
	return share
}

// spreadFigures says how the powder lies on the pellets, and how evenly it can be spread.
func (m *Model) spreadFigures(b *blendPlan, x, y []float64, st *state) {
	y[LumpsPerMetre] = get(x, b.lumps) * st.density * st.area
	y[LumpChancePerPrint] = get(x, b.lumps) * get(x, m.set.printMass)
	if !b.filled || st.loose == 0 {
		return
	}
	l, p := &m.line, m.pelletsOf(b, x, st)
	whole := line.CylinderSurface(get(x, l.pelletD), get(x, l.pelletL), p.polymer)
	surface := whole
	if l.ground >= 0 && x[l.ground] > 0 {
		surface = line.MixedSurface(whole, line.GrindSurface(get(x, l.groundSize), p.polymer), x[l.ground])
	}
	y[CoatThickness] = line.CoatThickness(p.loading, p.bulk, surface)
	y[PickUpLimitWhole] = m.pickUp(x, p, whole)
	y[PickUpLimit] = m.pickUp(x, p, surface)
	y[PickUpUse] = p.loading / y[PickUpLimit]
	pellet, grain := m.pieceMasses(x, p)
	y[RandomMixRSD] = line.RandomMixRSD(p.loading, pellet, grain, mixSampleKg)
	if l.passes > 1 {
		y[RandomMixRSD] *= math.Pow(line.SecondPassFactor(st.line.mean*st.line.throughput/pellet), l.passes-1)
	}
}

// mixSampleKg is the strand for which the unevenness of a perfect random mixture is told.
const mixSampleKg = 1e-3

func cube(v float64) float64 { return v * v * v }

// pickUp is the powder that pellets of a surface carry, per mass of powder and polymer.
func (m *Model) pickUp(x []float64, p onPellets, surface float64) float64 {
	limit, _ := line.PickUpLimit(p.grains(), get(x, m.line.coverage), surface)
	return limit
}

// heatFigures are the heat that a kilogram takes up in the line, and how well the
// strand conducts it.
func (m *Model) heatFigures(b *blendPlan, x, y []float64, st *state) {
	y[HeatPerKg] = m.heatOf(b, x, st)
	if st.powder == 0 {
		y[Conductivity] = b.plainConductivity(x, st)
	}
	if b.powder >= 0 && b.main >= 0 {
		f := &b.parts[m.firstPowder(b)]
		shape := line.SphereShape
		if f.aspect >= 0 {
			shape = line.FibreShape(x[f.aspect])
		}
		y[Conductivity] = line.LewisNielsenConductivity(get(x, b.parts[b.main].conductivity), get(x, f.conductivity),
			st.powderVolume, get(x, f.packing), shape)
	}
}

// plainConductivity is that of polymers without powder or oil: their mean by volume, which
// is that of one polymer however many bags of it there are.
func (b *blendPlan) plainConductivity(x []float64, st *state) float64 {
	sum := 0.0
	for i := range b.parts {
		switch {
		case st.w[i] == 0:
			continue
		case b.parts[i].kind != material.Polymer:
			return math.NaN()
		}
		sum += st.v[i] * get(x, b.parts[i].conductivity)
	}
	return sum
}

// heatOf is the heat that a kilogram of a blend takes up. Of an additive of which no
// heat capacity is given that of the main polymer stands in: there is little of it.
func (m *Model) heatOf(b *blendPlan, x []float64, st *state) float64 {
	capacity, melting := 0.0, 0.0
	for i := range b.parts {
		p := &b.parts[i]
		own := p.heatCapacity
		if own < 0 && p.kind == material.Additive && b.main >= 0 {
			own = b.parts[b.main].heatCapacity
		}
		within := p.powderWithin(x)
		capacity += st.w[i] * (1 - within) * get(x, own)
		if within > 0 {
			capacity += st.w[i] * within * get(x, p.regrind.heatCapacity)
		}
		if p.kind == material.Polymer {
			melting += st.w[i] * (1 - within) * get(x, p.meltingHeat)
		}
	}
	return line.HeatToMelt(capacity, roomK, get(x, m.set.temperature), 1, melting)
}

// roomK is what pellets and powder come at: 20 °C.
const roomK = 293.15

// rates fills the melt flow rates of a blend: its own where it was tested, else that
// of its plain polymer times the melt-flow factor.
func (b *blendPlan) rates(x, y []float64, density float64) {
	base := &b.flowBase
	if base.rate < 0 {
		return
	}
	rate := x[base.rate]
	if !base.own || !math.IsNaN(b.content) {
		rate *= y[MeltFlow]
	}
	y[MeltFlowRate] = rate
	y[MeltVolumeRate] = rate / density
	y[ApparentViscosity] = melt.ApparentViscosity(rate, base.loadKg, density)
}

// moistureFigures are the moisture of the powder at which the water on the polymer
// reaches its limit, and the bubbles that all the water could make.
func (m *Model) moistureFigures(b *blendPlan, x, y []float64, st *state) {
	own, added := pelletAndPowderWater(b, x, st)
	if b.filled && b.limit > 0 {
		y[WaterUse] = (knownPelletWater(b, x, st) + added) / b.limit
	}
	y[VapourFraction] = bubbleShare((own+added)*st.polymer, get(x, m.set.temperature), 1/st.line.density)
	if b.powder >= 0 && st.powder > 0 {
		y[MoistureLimit] = limitMoisture(b, x, st)
	}
}

// bubbleShare is the share of bubbles in the melt if all of some water, in kg per kg of
// blend, turned to vapour at normal pressure and none of it escaped:
//
//	V_gas/(V_gas + V_melt)
//
// The volume of the melt is in m3 per kg of blend.
func bubbleShare(water, tempK, volumeM3Kg float64) float64 {
	const normalPressurePa = 101325
	gas := blend.VapourVolume(water, tempK, normalPressurePa)
	return gas / (gas + volumeM3Kg)
}

// onset is where the part that stands least heat begins to decompose; NaN while no part
// says what it stands.
func (b *blendPlan) onset() float64 {
	least := math.NaN()
	for i := range b.heat {
		if onset := b.heat[i].OnsetK; !(onset >= least) && finite(onset) {
			least = onset
		}
	}
	return least
}

// margin is how far the melt lies below the upper end of its window.
func (m *Model) margin(b *blendPlan, x []float64, st *state) float64 {
	w, _ := melt.MeltWindow(b.heat, m.residence(x, st))
	return w.HighK - get(x, m.set.temperature)
}
