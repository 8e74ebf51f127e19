package bench

import (
	"fmt"
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/line"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/stat"
	"fillwright/internal/uncertain"
)

// throughputFrom says where the throughput comes from, as "pane.line.throughput_<it>".
type throughputFrom string

// The sources of a throughput.
const (
	throughputUnknown  throughputFrom = ""
	throughputMeasured throughputFrom = "measured"
	throughputEntered  throughputFrom = "entered"
	throughputDrag     throughputFrom = "drag"
)

// plugFrom says where the plug share comes from, as "pane.line.plug_<it>".
type plugFrom string

// The sources of a plug share.
const (
	plugEntered plugFrom = "entered"
	plugSamples plugFrom = "samples"
	plugStable  plugFrom = "stable"
	plugUsual   plugFrom = "usual"
)

// Usual values of the line, for what was not measured.
const (
	// Output of a small screw over its drag flow at an open die, and the plug share
	// of single screws (Yeh and Jaw 1998: 0.38 to 0.65).
	dragLow, dragHigh = 0.5, 0.8 // from memory, confirm
	plugLow, plugHigh = 0.38, 0.65

	coverLow, coverHigh = 0.5, 0.6 // of a pellet by one layer of grains (own judgement)
	usualAdhesionM      = 75e-6    // from memory, confirm
	usualRest           = 0.01     // old material that the eye no longer sees (own judgement)
)

// line places what the line and the pellets are like.
func (c *compiler) line() linePlan {
	p := c.project
	m, s := &p.Line.Machine, &p.Line.Spreading
	c.only = linePart
	l := linePlan{
		dieBore:    input(c, "/line/machine/die_bore", Entered, m.DieBore),
		pelletD:    input(c, "/line/spreading/pellet_diameter", Measured, s.PelletDiameter),
		pelletL:    input(c, "/line/spreading/pellet_length", Measured, s.PelletLength),
		ground:     groundShare(c, s),
		groundSize: input(c, "/line/spreading/ground_size", Measured, s.GroundSize),
		coverage:   inputOr(c, "/line/spreading/coverage", s.Coverage, between(coverLow, coverHigh)),
		adhesion:   inputOr(c, "/line/spreading/adhesion_size", s.AdhesionSize, uncertain.Input{Value: usualAdhesionM}),
		passes:     float64(max(1, s.Passes)),

		dryAdhesion: !s.AdhesionSize.Given(),
	}
	c.only = anyPart
	if p.Melt.Residence.Given() { // else these tell the time in the melt too
		c.only = linePart
	}
	l.meltVolume = input(c, "/line/machine/melt_volume", Entered, m.MeltVolume)
	l.screens = input(c, "/line/machine/screen_volume", Entered, m.ScreenVolume)
	l.throughput, l.from = c.throughput()
	if l.from == throughputUnknown && m.ScrewDiameter.Given() && m.ChannelDepth.Given() && p.Line.ScrewSpeed.Given() {
		l.from, l.screw = throughputDrag, c.screw()
	}
	c.only = linePart
	l.plug, l.plugFrom = c.plugShare(&l)
	c.only = anyPart
	return l
}

// groundShare is that of the polymer. While it is not known how fine it is ground the
// pellets count as whole, and a note says so: that errs on the side of powder that falls off.
func groundShare(c *compiler, s *project.Spreading) at {
	if !s.GroundSize.Given() {
		return -1
	}
	return input(c, "/line/spreading/ground", Entered, s.Ground)
}

// between is a number of which only two ends are known.
func between(low, high float64) uncertain.Input {
	u := (high - low) / 2 / math.Sqrt(3)
	return uncertain.Input{Value: (low + high) / 2, UMinus: u, UPlus: u}
}

// inputOr places a quantity, or what is usual while it was not given.
func inputOr[D quantity.Dim](c *compiler, pointer string, q quantity.Of[D], usual uncertain.Input) at {
	if place := input(c, pointer, Entered, q); place >= 0 {
		return place
	}
	return c.place(pointer, Estimated, usual)
}

func (c *compiler) screw() screwPlan {
	m := &c.project.Line.Machine
	return screwPlan{
		diameter:   input(c, "/line/machine/screw_diameter", Entered, m.ScrewDiameter),
		depth:      input(c, "/line/machine/channel_depth", Entered, m.ChannelDepth),
		lead:       input(c, "/line/machine/lead", Entered, m.Lead),
		length:     input(c, "/line/machine/metering_length", Entered, m.MeteringLength),
		speed:      input(c, "/line/screw_speed", Entered, c.project.Line.ScrewSpeed),
		pressure:   input(c, "/line/die_pressure", Measured, c.project.Line.DiePressure),
		efficiency: c.place("output over drag flow", Estimated, between(dragLow, dragHigh)),
	}
}

// throughput places the mean of what was caught in timed intervals, else what was
// entered.
func (c *compiler) throughput() (at, throughputFrom) {
	if mean, u, some := outputs(c.project); some {
		return c.place("/line/outputs", Measured, uncertain.Input{Value: mean, UMinus: u, UPlus: u}), throughputMeasured
	}
	if place := input(c, "/cost/throughput", Entered, c.project.Cost.Throughput); place >= 0 {
		return place, throughputEntered
	}
	return absent, throughputUnknown
}

// outputs is the mean throughput of the timed intervals in kg/s, with its standard
// uncertainty; that of a single one is taken from its own ±, or from the last digits of
// what was read.
func outputs(p *project.Project) (mean, u float64, some bool) {
	var rates []float64
	single := 0.0
	for _, o := range p.Line.Outputs {
		time, timed := o.Time.Estimate()
		mass, weighed := o.Mass.Estimate()
		if !timed || !weighed {
			continue
		}
		rates = append(rates, mass.Value/time.Value)
		single = mass.Value / time.Value * math.Hypot(readTo(o.Mass)/mass.Value, readTo(o.Time)/time.Value)
	}
	s, some := stat.Summarise(rates)
	if s.N == 1 {
		return s.Mean, single, some
	}
	return s.Mean, meanUncertainty(s), some
}

// readTo is the standard uncertainty of a reading: by its ±, else as it was rounded to its
// last digit (GUM 4.3.7).
func readTo[D quantity.Dim](q quantity.Of[D]) float64 {
	if e, _ := q.Estimate(); e.Spread != quantity.Exact {
		return e.StdU
	}
	return q.LastDigit() / math.Sqrt(12)
}

// plugShare places the share of the melt that moves as a plug: entered, else fitted to
// samples, else from when the colour was stable, else the usual range.
func (c *compiler) plugShare(l *linePlan) (at, plugFrom) {
	ch := &c.project.Line.Changes
	mean := c.nominalMean(l)
	c.model.meanS = mean
	if place := input(c, "/line/changes/plug_share", Entered, ch.PlugShare); place >= 0 {
		return place, plugEntered
	}
	if finite(mean) {
		if share, u, ok := line.FitPlugShare(purgeSamples(ch), mean); ok {
			return c.place("/line/changes/samples", Calibrated, uncertain.Input{Value: share, UMinus: u, UPlus: u}), plugSamples
		}
		if share, ok := stablePlug(ch, mean); ok {
			return c.place("/line/changes/stable_after", Calibrated, share), plugStable
		}
	}
	return c.place("/line/changes/plug_share", Estimated, between(plugLow, plugHigh)), plugUsual
}

// stablePlug finds the plug share from when the colour was stable. It is as uncertain as
// that time was read and as the rest that the eye misses: half of it either way while
// that was not entered (own judgement). The mean time is left out, for what is known is
// when the colour was stable, whatever that time is.
func stablePlug(ch *project.Changes, mean float64) (share uncertain.Input, ok bool) {
	rest, restU := siOr(ch.StableRest, usualRest), usualRest/2
	if ch.StableRest.Given() {
		restU = readTo(ch.StableRest)
	}
	after := siOr(ch.StableAfter, math.NaN())
	value, ok := line.PlugShareFromStable(after, rest, mean)
	if !ok {
		return share, false
	}
	share.Value = value
	add := func(after, rest float64) {
		if off, possible := line.PlugShareFromStable(after, rest, mean); possible {
			share.UMinus, share.UPlus = math.Hypot(share.UMinus, math.Max(0, value-off)), math.Hypot(share.UPlus, math.Max(0, off-value))
		}
	}
	for _, way := range []float64{-1, 1} {
		add(after+way*readTo(ch.StableAfter), rest)
		add(after, rest+way*restU)
	}
	return share, true
}

// nominalMean is the mean time that the melt stands in the line, for fits: of the
// reference, else of the first blend with a polymer.
func (c *compiler) nominalMean(l *linePlan) float64 {
	p := c.project
	if l.meltVolume < 0 || l.throughput < 0 {
		return siOr(p.Melt.Residence, math.NaN())
	}
	density := math.NaN()
	for i := range p.Blends {
		m := p.MaterialByID(mainPolymerOf(p, i))
		if m >= 0 && p.Materials[m].MeltDensity.Given() && (!finite(density) || p.Blends[i].ID == p.Reference) {
			density = siOr(p.Materials[m].MeltDensity, density)
		}
	}
	volume := siOr(p.Line.Machine.MeltVolume, math.NaN()) + siOr(p.Line.Machine.ScreenVolume, 0)
	return line.MeanResidence(volume, density, c.model.input(l.throughput).Value)
}

func purgeSamples(ch *project.Changes) []line.Sample {
	var list []line.Sample
	for _, s := range ch.Samples {
		if s.Time.Given() && s.New.Given() {
			list = append(list, line.Sample{TimeS: s.Time.SI(), New: s.New.SI()})
		}
	}
	return list
}

// onPellets places what says how a powder lies on pellets.
func (c *compiler) onPellets(plan *powderPlan) {
	m := &c.project.Materials[plan.material]
	plan.bulk, plan.finer = of(c, plan.material, "bulk_density", m.BulkDensity), absent
	if c.model.derived[plan.number(numBulk)].of != nil {
		plan.bulk = plan.number(numBulk)
	}
	size := siOr(c.project.Line.Spreading.AdhesionSize, usualAdhesionM)
	if share, low, high, basis, ok := passingAt(&plan.bench, size); ok {
		minus, plus := halfWidths(share, low, high)
		pointer := project.MaterialPointer(plan.material, "powder") + "/sieving/finer"
		plan.finer = c.place(pointer, basis, uncertain.Input{Value: share, UMinus: minus, UPlus: plus})
		c.model.input(plan.finer).most = 1
	}
}

// passingAt is the share of a powder's mass below a size: between two sieves of the
// analysis, which bound it, else by the law that fits best.
func passingAt(b *powderBench, sizeM float64) (share, low, high float64, basis Basis, ok bool) {
	rows := b.sieving.Rows // coarse first
	for i := range rows {
		if rows[i].OpeningM > sizeM {
			continue
		}
		if i == 0 {
			break
		}
		coarse, fine := rows[i-1], rows[i]
		t := (math.Log(sizeM) - math.Log(fine.OpeningM)) / (math.Log(coarse.OpeningM) - math.Log(fine.OpeningM))
		low, high = fine.Passing, coarse.Passing
		return low + t*(high-low), low, high, Measured, true
	}
	if fit, found := filler.BestFit(b.sizes); found {
		share = fit.Law.Passing(sizeM)
		return share, 0.8 * share, math.Min(1, 1.2*share), Estimated, true
	}
	return 0, 0, 0, Estimated, false
}

// lumpsOf places the lumps per kilogram of strand that were found in a blend.
func (c *compiler) lumpsOf(blend int) at {
	e := &c.project.Blends[blend].Evenness
	searched, given := e.Searched.Estimate()
	if !given || searched.Value <= 0 {
		return absent
	}
	const side = 0.975 // of either end, so that 95 % lie between
	value := float64(e.Lumps) / searched.Value
	minus, plus := halfWidths(value, stat.PoissonLower(e.Lumps, side)/searched.Value, stat.PoissonUpper(e.Lumps, side)/searched.Value)
	c.only = linePart
	defer func() { c.only = anyPart }()
	return c.place(fmt.Sprintf("/blends/%d/evenness", blend), Measured, uncertain.Input{Value: value, UMinus: minus, UPlus: plus})
}

// heatOf finds what the parts of a blend say about the temperature of the melt.
func (c *compiler) heatOf(recipe *project.Blend) []melt.HeatLimits {
	list := make([]melt.HeatLimits, len(recipe.Parts))
	for i, part := range recipe.Parts {
		index := c.project.MaterialByID(part.Material)
		m := &c.project.Materials[c.bodyOf(index)]
		list[i] = melt.HeatLimits{LowK: math.NaN(), HighK: math.NaN(), OnsetK: math.NaN()}
		if r, given := m.MeltRange.Estimate(); given && m.Kind == material.Polymer && r.High > r.Low {
			list[i].LowK, list[i].HighK = r.Low, r.High
		}
		if powder := c.project.MaterialByID(c.project.Materials[index].Regrind.Filler); powder >= 0 {
			m = &c.project.Materials[powder]
		}
		if onset, given := m.Onset.Estimate(); given {
			list[i].OnsetK = onset.Low // of a range, where the first of it begins
		}
	}
	return list
}
