package bench

import (
	"math"

	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
)

// FlowTestSheet is what one melt-flow test comes to.
type FlowTestSheet struct {
	Rows      []FlowRowSheet // one for each row of the document
	Procedure project.Procedure
	Verdict   FlowVerdict
	OfPlain   bool    // what was tested is a polymer without anything else
	Mean      Result  // of the rates of the rows that count, in their unit
	Spread    float64 // largest less smallest rate over the mean, %
	// By mass, by volume, and what follows from them at the wall of the standard die.
	// By the strand without the instrument there is none of them.
	MFR, MVR, MeltDensity, Stress, Rate, Viscosity Result
	MeltDensityMeasured                            bool // by this test, from mass and travel together
	Plain                                          int  // the test of the plain polymer that it is held against; -1 for none
	Later                                          int  // of a good test of the plain polymer, the last good one made alike where that is another; -1
	Ratio                                          Result
	Used                                           bool // the ratio is the melt flow of its blend
	Damper                                         bool // it was not as dry as the test of the plain polymer
	Advice                                         FlowAdvice
}

// FlowAdvice is how the standard cuts strand at such a rate.
type FlowAdvice struct {
	Known               bool
	IntervalS           float64
	ChargeLow, ChargeTo float64 // g
}

// FlowRowSheet is one reading of a melt-flow test.
type FlowRowSheet struct {
	Known  bool
	Rate   float64 // g/10 min by mass; cm3/10 min by the travel of the piston
	Remark Remark
}

// flowTestSheets are the sheets of all melt-flow tests.
func flowTestSheets(p *project.Project, m *Model) []FlowTestSheet {
	var list []FlowTestSheet
	for i := range m.tests {
		f := &m.tests[i]
		sheet := flowTestSheet(&p.Melt.Tests[i], f)
		sheet.OfPlain, sheet.Later = plainPolymer(p, f.blend) != "", laterPlain(p, m, i)
		if f.compared {
			sheet.Damper = damper(&p.Melt.Tests[i], &p.Melt.Tests[f.plain])
		}
		list = append(list, sheet)
	}
	return list
}

// laterPlain is the last good test of the same plain polymer as a good one's, made alike,
// where that comes after it; -1 for none.
func laterPlain(p *project.Project, m *Model, index int) int {
	later := -1
	f, t := &m.tests[index], &p.Melt.Tests[index]
	polymer := plainPolymer(p, f.blend)
	if f.verdict != FlowTestGood || t.SetAside || polymer == "" {
		return later
	}
	for k := index + 1; k < len(m.tests); k++ {
		other, made := &m.tests[k], &p.Melt.Tests[k]
		if other.verdict == FlowTestGood && !made.SetAside && plainPolymer(p, other.blend) == polymer && alike(t, made) {
			later = k
		}
	}
	return later
}

// damper reports whether a sample held so much more water than that of the plain polymer
// that the ratio of their flows tells of that water too (own judgement).
func damper(test, plain *project.FlowTest) bool {
	const apart = 100e-6
	return test.Moisture.Given() && plain.Moisture.Given() && test.Moisture.SI()-plain.Moisture.SI() > apart
}

// The trade units of a melt-flow test: g/10 min and cm3/10 min.
const (
	perMassRate   = 6e5
	perVolumeRate = 6e8
)

func flowTestSheet(t *project.FlowTest, f *testedFlow) FlowTestSheet {
	s := FlowTestSheet{Procedure: procedureOf(t), Verdict: f.verdict, Plain: f.plain, Used: f.used, Rows: flowRows(t, f)}
	s.MFR, s.MVR, s.MeltDensity = unknownIn("g/10 min"), unknownIn("cm3/10 min"), unknownIn("g/cm3")
	s.Stress, s.Rate, s.Viscosity, s.Ratio = unknownIn("kPa"), unknownIn("1/s"), unknownIn("Pa.s"), unknownIn("1")
	if f.compared {
		s.Ratio = newResult(f.ratio.Ratio, f.ratio.Low, f.ratio.High, "1", Measured)
	}
	test, perSI, unit := f.byMass, perMassRate, "g/10 min"
	if s.Procedure == project.Piston {
		test, perSI, unit = f.byVolume, perVolumeRate, "cm3/10 min"
	}
	s.Mean = rateResult(test, perSI, unit)
	s.Spread = 100 * test.Spread
	if !finite(s.Spread) {
		s.Spread = 0
	}
	if s.Procedure == project.Strand || len(test.Rates) == 0 {
		return s
	}
	s.MFR, s.MVR = byMassAndVolume(f, s.Procedure)
	s.MeltDensity = newResult(f.density*1e-3, f.density*1e-3, f.density*1e-3, "g/cm3", Entered)
	if s.MeltDensityMeasured = f.weighed; f.weighed {
		_, u, _ := melt.MeltDensity(f.byMass, f.byVolume)
		s.MeltDensity = newResult(f.density*1e-3, (f.density-coverage*u)*1e-3, (f.density+coverage*u)*1e-3, "g/cm3", Measured)
	}
	if advice, ok := melt.AdviseCuts(s.MFR.Value / perMassRate); ok && s.MFR.Known() {
		s.Advice = FlowAdvice{true, advice.IntervalS, advice.ChargeLowKg * 1e3, advice.ChargeHighKg * 1e3}
	}
	s.atTheWall(t, f)
	return s
}

func unknownIn(unit string) Result { return Result{Unit: unit} }

// byMassAndVolume are both rates of a test, as far as they are known. Where one
// comes from the other, its interval is as wide.
func byMassAndVolume(f *testedFlow, procedure project.Procedure) (mfr, mvr Result) {
	byMass, byVolume := f.byMass, f.byVolume
	switch {
	case procedure == project.Piston:
		byMass = f.byVolume.ByMass(f.density)
	case len(byVolume.Rates) == 0:
		byVolume = f.byMass.ByMass(1 / f.density)
	}
	return rateResult(byMass, perMassRate, "g/10 min"), rateResult(byVolume, perVolumeRate, "cm3/10 min")
}

func rateResult(t melt.FlowTest, perSI float64, unit string) Result {
	u := coverage * t.U
	if math.IsNaN(u) { // one reading: nothing tells how far it is off
		u = 0
	}
	return newResult(t.Rate*perSI, (t.Rate-u)*perSI, (t.Rate+u)*perSI, unit, Measured)
}

// atTheWall are stress, rate and viscosity at the wall of the standard die. They are
// apparent: see melt.Die.
func (s *FlowTestSheet) atTheWall(t *project.FlowTest, f *testedFlow) {
	load, given := t.Load.Estimate()
	if !given {
		return
	}
	stress := melt.StandardDie.WallStress(load.Value, melt.PistonM) * 1e-3
	s.Stress = newResult(stress, stress, stress, "kPa", Entered)
	if !s.MVR.Known() {
		return
	}
	rate := func(mvr float64) float64 { return melt.StandardDie.ApparentRate(mvr / perVolumeRate) }
	s.Rate = newResult(rate(s.MVR.Value), rate(s.MVR.Low), rate(s.MVR.High), "1/s", Measured)
	viscosity := func(mvr float64) float64 { return stress * 1e3 / rate(mvr) }
	s.Viscosity = newResult(viscosity(s.MVR.Value), viscosity(s.MVR.High), viscosity(math.Max(s.MVR.Low, 1e-9)), "Pa.s", weakest(Measured, s.MeltDensity.Basis))
}

// flowRows are the rates of the rows, with what is to be said of them.
func flowRows(t *project.FlowTest, f *testedFlow) []FlowRowSheet {
	rows := make([]FlowRowSheet, len(t.Rows))
	byMass := 0
	for i := range t.Rows {
		row := &t.Rows[i]
		travels := procedureOf(t) == project.Piston
		switch {
		case !row.Time.Given() && (row.Mass.Given() || row.Travel.Given()):
			rows[i].Remark = Remark{ID: "flow_no_time"}
		case !row.Time.Given():
		case travels && row.Travel.Given():
			rows[i] = FlowRowSheet{Known: true, Rate: melt.AreaISOM2 * row.Travel.SI() / row.Time.SI() * perVolumeRate}
		case travels:
			rows[i].Remark = Remark{ID: "flow_no_travel"}
		case row.Mass.Given():
			rows[i] = FlowRowSheet{Known: true, Rate: row.Mass.SI() / row.Time.SI() * perMassRate}
		default:
			rows[i].Remark = Remark{ID: "flow_no_mass"}
		}
		if row.Mass.Given() && row.Time.Given() {
			if f.byMass.Readings[byMass] == melt.ReadingBubbles && !travels {
				rows[i].Remark = Remark{ID: "flow_bubbles"}
			}
			byMass++
		}
	}
	return rows
}

// BlendMelt is what is told of the melt of one blend beside its figures.
type BlendMelt struct {
	Laws   []LawSheet
	Window WindowSheet
	// RateFrom says what the melt flow rate rests on: "own" test, test of the "plain"
	// polymer, its "data_sheet"; "" while there is none.
	RateFrom string
	RateTest int    // of the document; -1 for the data sheet
	RateAt   Result // temperature of that rate, °C
	RateLoad Result // kg
	flow     func(points int) (celsius, rate []float64)
}

// Flow follows the melt flow rate over the temperature, in °C and g/10 min, by a law of
// viscosity that was scaled to the rate of the blend at its temperature; nothing where
// there is no law for its polymer, or no rate.
func (b *BlendMelt) Flow(points int) (celsius, rate []float64) {
	if b.flow == nil {
		return nil, nil
	}
	return b.flow(points)
}

// LawSheet is one law of thickening: the melt-flow factor of the grains by it.
type LawSheet struct {
	ID     string // below "law."
	Factor Result
	Valid  bool // the law is for such a content
	Used   bool

	Content   Result // of powder in the melt, vol%
	Highest   Result // that the law is for, vol%; not known where its packing limit is not
	ByPacking bool   // which is nine tenths of the packing limit
}

// WindowSheet is the range of melt temperatures, in °C and K.
type WindowSheet struct {
	Low, High     Result // of the window
	LowOf, HighOf int    // parts that set them; -1 for none
	ByOnset       bool   // the upper end is an onset of decomposition less the margin
	Margin        Result // what is kept from an onset, K
	Empty         bool   // no temperature suits all parts
	Severity      Result // time in the melt as minutes at 200 °C
	TooLong       bool
}

// blendMelt fills what is told of the melt of a blend.
func blendMelt(p *project.Project, m *Model, s *Sheet, index int) BlendMelt {
	b := &m.blends[index]
	out := BlendMelt{RateTest: b.flowBase.test, Window: windowSheet(m, index, s.Blends[index].Results[ResidenceTime])}
	st, composed := m.nominalState(b)
	if composed {
		out.Laws = lawSheets(b, m.best(), &st, &s.Blends[index])
	}
	if b.flowBase.rate < 0 {
		return out
	}
	switch {
	case b.flowBase.own:
		out.RateFrom = "own"
	case b.flowBase.test >= 0:
		out.RateFrom = "plain"
	default:
		out.RateFrom = "data_sheet"
	}
	out.RateLoad, out.RateAt = exactly(b.flowBase.loadKg, "kg", Entered), exactly(b.flowBase.tempK-273.15, "°C", Estimated)
	out.flow = flowCurve(p, b, s.Blends[index].Results[MeltFlowRate])
	return out
}

// flowCurve is the melt flow rate over the temperature, by the law of viscosity of PLA.
func flowCurve(p *project.Project, b *blendPlan, rate Result) func(points int) (celsius, rates []float64) {
	m := p.MaterialByID(mainPolymerOf(p, b.index))
	if m < 0 || p.Materials[m].Class != material.PLA || !rate.Known() || !melt.GenericPLA.WithinRange(b.flowBase.tempK) {
		return nil
	}
	return func(points int) (celsius, rates []float64) {
		low, high := melt.GenericPLA.GlassK+100, melt.GenericPLA.MaxK
		for i := range points {
			t := low + (high-low)*(float64(i)+0.5)/float64(points)
			celsius = append(celsius, t-273.15)
			rates = append(rates, rate.Value*melt.GenericPLA.TemperatureFactor(b.flowBase.tempK, t))
		}
		return celsius, rates
	}
}

// lawSheets are the laws of thickening. Their bands are those of what goes into them,
// the content in the melt and the packing limit; how far a law itself is off, nobody
// knows.
func lawSheets(b *blendPlan, x []float64, st *state, sheet *BlendSheet) []LawSheet {
	if !b.filled || st.powder == 0 {
		return nil
	}
	mix := &st.mix
	phi, limit := ends(sheet.Results[FillerMeltFraction], mix.phi()), ends(sheet.Results[PackingLimit], mix.limit())
	factor := func(law melt.ThickeningLaw, phi, limit float64) float64 {
		return melt.GrainsFactor(law.Relative(phi, limit), 1/mix.volume, mix.matrixMass/mix.matrixVolume)
	}
	var list []LawSheet
	for _, law := range melt.ThickeningLaws() {
		list = append(list, LawSheet{
			ID:     law.ID,
			Factor: newResult(factor(law, mix.phi(), mix.limit()), factor(law, phi.high, limit.low), factor(law, phi.low, limit.high), "1", Estimated),
			Valid:  law.Valid(mix.phi(), mix.limit()), Used: law.ID == "maron_pierce",
			Content: sheet.Results[FillerMeltFraction], Highest: exactly(law.Highest(mix.limit())*100, "vol%", Estimated),
			ByPacking: law.Highest(mix.limit()) < law.HighPhi,
		})
	}
	return list
}

// span is a number in SI between two ends.
type span struct{ low, high float64 }

// ends are those of a share in percent, or the value itself where it is not known.
func ends(r Result, value float64) span {
	if !r.Known() {
		return span{value, value}
	}
	return span{r.Low / 100, r.High / 100}
}

// windowSheet is the window of melt temperatures of a blend.
func windowSheet(m *Model, index int, inMelt Result) WindowSheet {
	b, x := &m.blends[index], m.best()
	out := WindowSheet{Low: unknownIn("°C"), High: unknownIn("°C"), Margin: unknownIn("K"), Severity: unknownIn("min")}
	st, composed := m.nominalState(b)
	residence := math.NaN()
	if composed {
		residence = m.residence(x, &st)
	}
	w, ok := melt.MeltWindow(b.heat, residence)
	out.LowOf, out.HighOf, out.ByOnset = w.LowBy, w.HighBy, w.ByOnset
	out.Low, out.High = exactly(w.LowK-273.15, "°C", Estimated), exactly(w.HighK-273.15, "°C", Estimated)
	out.Empty = !ok && out.Low.Known() && out.High.Known()
	out.Margin = exactly(melt.HeatMargin(residence), "K", Estimated)
	out.Severity = severityResult(inMelt, m.input(m.set.temperature))
	out.TooLong = melt.HeatSeverity(residence, get(x, m.set.temperature)) > melt.SeverityLimitS
	return out
}

// severityResult is the time in the melt as minutes at 200 °C. Time and temperature are
// off independently of each other; their logarithms are taken as straight.
func severityResult(inMelt Result, temperature *Input) Result {
	if !inMelt.Known() || temperature == nil {
		return unknownIn("min")
	}
	value := melt.HeatSeverity(inMelt.Value, temperature.Value)
	end := func(minutes, tempK float64) float64 {
		byTime, byHeat := math.Log(minutes/inMelt.Value), math.Log(melt.HeatSeverity(inMelt.Value, tempK)/value)
		return math.Hypot(byTime, byHeat)
	}
	low := end(inMelt.Low, temperature.Value-coverage*temperature.UMinus)
	high := end(inMelt.High, temperature.Value+coverage*temperature.UPlus)
	return newResult(value, value*math.Exp(-low), value*math.Exp(high), "min", Estimated)
}
