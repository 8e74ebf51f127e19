package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/line"
	"fillwright/internal/project"
)

// LineSheet is what is told of the line for all blends together.
type LineSheet struct {
	ThroughputFrom string // "measured", "entered", "drag" or ""
	Outputs        []OutputRow
	Plug           Result // share of the melt that moves as a plug, %
	PlugFrom       string // "entered", "samples", "stable" or "usual"
	ScreenChange   Result // until the pressure at the screens has doubled, h
	ScreenTop      Result // largest grain that passes the finest screen, as the standard lets its openings be, µm
	Changes        []ChangeSheet
	ChangesTime    Result // of the whole sequence, min
	ChangesMass    Result // g
	ChangesCost    Result
}

// OutputRow is one timed interval.
type OutputRow struct {
	Known bool
	KgH   float64
}

// ChangeSheet is one change of a sequence, to 99 % of the next blend.
type ChangeSheet struct {
	Blend            int // that is run next; -1 where none is named
	First            bool
	Time, Mass, Cost Result
	Content          Result // powder in what is purged until then, wt%
}

// lineSheet fills what is told of the line.
func lineSheet(p *project.Project, m *Model, s *Sheet) LineSheet {
	l := LineSheet{ThroughputFrom: string(m.line.from), PlugFrom: string(m.line.plugFrom), Plug: unknownIn("%"), ScreenChange: unknownIn("h"), ScreenTop: unknownIn("um")}
	for _, o := range p.Line.Outputs {
		row := OutputRow{}
		if o.Time.Given() && o.Mass.Given() {
			row = OutputRow{true, o.Mass.SI() / o.Time.SI() * 3600}
		}
		l.Outputs = append(l.Outputs, row)
	}
	if in := m.input(m.line.plug); in != nil {
		low, high := math.Max(0, in.Value-coverage*in.UMinus), math.Min(1, in.Value+coverage*in.UPlus)
		l.Plug = newResult(in.Value*100, low*100, high*100, "%", in.Basis)
	}
	if mass, given := p.Line.Machine.ScreenMass.Estimate(); given && m.line.throughput >= 0 {
		flow := m.input(m.line.throughput)
		l.ScreenChange = exactly(line.ScreenTime(mass.Value, flow.Value)/3600, "h", flow.Basis)
	}
	if finest, there := finestScreen(p); there {
		l.ScreenTop = exactly(filler.LargestAperture(finest)*1e6, "um", Entered)
	}
	l.changes(p, s)
	return l
}

// finestScreen is the smallest opening of the screens before the die, in m.
func finestScreen(p *project.Project) (openingM float64, there bool) {
	openingM = math.Inf(1)
	for _, screen := range p.Line.Machine.Screens {
		if e, given := screen.Estimate(); given {
			openingM = min(openingM, e.Value)
		}
	}
	return openingM, !math.IsInf(openingM, 1)
}

// changes adds up the changes of the sequence.
func (l *LineSheet) changes(p *project.Project, s *Sheet) {
	l.ChangesTime, l.ChangesMass, l.ChangesCost = unknownIn("min"), unknownIn("g"), unknownIn(s.Currency)
	var times, masses, costs []Result
	for i, c := range p.Line.Changes.Sequence {
		row := ChangeSheet{Blend: p.BlendByID(c.Blend), First: i == 0, Time: unknownIn("min"), Mass: unknownIn("g"), Cost: unknownIn(s.Currency), Content: unknownIn("wt%")}
		if row.Blend >= 0 && i > 0 {
			r := &s.Blends[row.Blend].Results
			row.Time, row.Mass, row.Cost = r[PurgeTime99], r[PurgeMass99], r[PurgeCost99]
			row.Content = l.purgeContent(s, p.BlendByID(p.Line.Changes.Sequence[i-1].Blend), row.Blend)
			times, masses, costs = append(times, row.Time), append(masses, row.Mass), append(costs, row.Cost)
		}
		l.Changes = append(l.Changes, row)
	}
	l.ChangesTime, l.ChangesMass, l.ChangesCost = addUp(times, "min"), addUp(masses, "g"), addUp(costs, s.Currency)
}

// purgeContent is the powder in what comes out between two blends until 99 % of the strand
// is new; its ends are those for 95 and 99.9 %, as nobody stops at just 99.
func (l *LineSheet) purgeContent(s *Sheet, before, after int) Result {
	if before < 0 || !l.Plug.Known() {
		return unknownIn("wt%")
	}
	from, to := s.Blends[before].Results[FillerMassFraction], s.Blends[after].Results[FillerMassFraction]
	if !from.Known() || !to.Known() {
		return unknownIn("wt%")
	}
	of := func(from, to, plug, rest float64) float64 {
		old := line.PlugMixed{PlugShare: min(plug/100, 0.99)}.OldInPurge(rest)
		return old*from + (1-old)*to
	}
	value := of(from.Value, to.Value, l.Plug.Value, 0.01)
	low, high := value, value
	for _, plug := range []float64{l.Plug.Low, l.Plug.High} {
		for _, rest := range []float64{0.05, 0.001} {
			low, high = min(low, of(from.Low, to.Low, plug, rest)), max(high, of(from.High, to.High, plug, rest))
		}
	}
	return newResult(value, low, high, "wt%", Estimated)
}

// addUp adds results up; what their intervals share is taken as all of it, so that
// the ends add up too. One that is not known leaves the sum unknown.
func addUp(list []Result, unit string) Result {
	sum := Result{}
	for _, r := range list {
		if !r.Known() {
			return unknownIn(unit)
		}
		sum.Value, sum.Low, sum.High, sum.Basis = sum.Value+r.Value, sum.Low+r.Low, sum.High+r.High, weakest(sum.Basis, r.Basis)
	}
	if len(list) == 0 {
		return unknownIn(unit)
	}
	return newResult(sum.Value, sum.Low, sum.High, unit, sum.Basis)
}

// WashoutModel is a law of how new material replaces the old: an ID below "washout.".
type WashoutModel string

// The laws, the one that is used first.
const (
	WashoutPlug  WashoutModel = "plug_mixed"
	WashoutScrew WashoutModel = "pinto_tadmor"
	WashoutPipe  WashoutModel = "laminar_pipe"
)

// WashoutModels lists the laws.
func WashoutModels() []WashoutModel { return []WashoutModel{WashoutPlug, WashoutScrew, WashoutPipe} }

// BlendLine is what is told of the line with one blend, beside its figures.
type BlendLine struct {
	Purges []PurgeSheet // by each law
	mean   float64      // s; 0 while not known
	plug   float64

	Whole, Ground, Mixed Result // surface of the polymer, cm2/g: whole pellets, ground, as entered
	CoatWhole            Result // thickness of the powder on whole pellets, µm
	GroundNeeded         Result // share of the polymer that must be ground to carry the powder, %
	ByAdhesion           bool   // it is the coarse grains that fall off
	Hopper               Result // density of pellets and powder as poured, g/cm3
	Parting              bool   // densities as poured are so far apart that they part in the hopper
	PartingBySize        bool   // whole and ground pellets do
	Swollen              Result // strand as it leaves the die, before it is drawn, mm
	Maxwell              Result // heat conductivity by Maxwell, W/(m.K)
	Swing                Result // of a slow swing in the feed, what comes through the line, %
	Evenness             EvennessSheet
	Answer               []Answer
}

// PurgeSheet is one law of washout: minutes until so much of the strand is new.
type PurgeSheet struct {
	Model          WashoutModel
	T95, T99, T999 Result
	Mass99         Result // g
}

// Washout follows the share of new material over the time after a change, in minutes
// and %, up to untilMin; nothing while the time in the line is not known.
func (b *BlendLine) Washout(model WashoutModel, points int, untilMin float64) (minutes, fresh []float64) {
	if !(b.mean > 0) {
		return nil, nil
	}
	law := washout(model, b.plug)
	for i := range points {
		t := untilMin * float64(i) / float64(max(points-1, 1))
		minutes, fresh = append(minutes, t), append(fresh, 100*law.New(t*60/b.mean))
	}
	return minutes, fresh
}

// EvennessSheet is what measured loadings of one blend say.
type EvennessSheet struct {
	Samples int
	Mean    Result // wt%
	RSD     Result // relative standard deviation, %
	Lacey   Result // mixing index
	Needed  Result // samples for a mean known to 3 % of itself
	Random  Result // relative standard deviation of a perfect random mix in samples as large, %
	Below   BelowRandom
}

// BelowRandom says whether measured loadings spread less than pellets and powder mixed at
// random. Dry mixing cannot do that: the melt is mixed further, or the samples or the
// analysis hide the spread. An ID of the catalogue below "evenness.".
type BelowRandom string

// Whether they do.
const (
	NotBelow      BelowRandom = ""
	MaybeBelow    BelowRandom = "maybe_below" // within the interval of the spread
	CertainlyLess BelowRandom = "below"       // with all of it
)

// belowRandom holds a measured spread against that of a random mix.
func belowRandom(measured, random Result) BelowRandom {
	switch {
	case !random.Known() || !measured.Known() || measured.Value >= random.Value:
		return NotBelow
	case measured.High < random.Value:
		return CertainlyLess
	}
	return MaybeBelow
}

func washout(model WashoutModel, plug float64) line.Washout {
	switch model {
	case WashoutScrew:
		return line.PintoTadmor{}
	case WashoutPipe:
		return line.LaminarPipe{}
	}
	return line.PlugMixed{PlugShare: plug}
}

// blendLine fills what is told of the line with one blend.
func blendLine(p *project.Project, m *Model, s *Sheet, index int) BlendLine {
	b, x := &m.blends[index], m.best()
	out := BlendLine{plug: get(x, m.line.plug)}
	st, composed := m.nominalState(b)
	if !composed {
		return out
	}
	ls := st.line
	if finite(ls.mean) {
		out.mean = ls.mean
	}
	for _, model := range WashoutModels() {
		out.Purges = append(out.Purges, purgeSheet(washout(model, out.plug), model, ls))
	}
	out.Swollen = m.swollen(x, &st)
	out.spreading(p, m, s, index, &st, ls)
	return out
}

// swollen is how thick the strand leaves the die. The recoverable shear of the melt is not
// known: the ends are those of a melt that is viscous only and of an elastic one.
func (m *Model) swollen(x []float64, st *state) Result {
	const viscous, usual, elastic = 0, 1, 2
	of := func(recoverableShear float64) float64 {
		swell := line.DieSwell(recoverableShear)
		if st.powder > 0 {
			swell = line.FilledDieSwell(swell, st.mix.phi(), st.mix.limit())
		}
		return get(x, m.line.dieBore) * swell * 1e3
	}
	return newResult(of(usual), of(viscous), of(elastic), "mm", Estimated)
}

func purgeSheet(law line.Washout, model WashoutModel, ls lineState) PurgeSheet {
	minutes := func(rest float64) Result { return exactly(ls.mean*law.Theta(rest)/60, "min", Estimated) }
	return PurgeSheet{
		Model: model, T95: minutes(0.05), T99: minutes(0.01), T999: minutes(0.001),
		Mass99: exactly(ls.mean*ls.throughput*law.Theta(0.01)*1e3, "g", Estimated),
	}
}

// spreading fills what is told of powder on pellets.
func (out *BlendLine) spreading(p *project.Project, m *Model, s *Sheet, index int, st *state, ls lineState) {
	b, x, l := &m.blends[index], m.best(), &m.line
	const perGram = 10 // m2/kg in cm2/g
	on := m.pelletsOf(b, x, st)
	whole := line.CylinderSurface(get(x, l.pelletD), get(x, l.pelletL), on.polymer)
	ground := line.GrindSurface(get(x, l.groundSize), on.polymer)
	fine := ground // of pellets that would be ground
	if l.groundSize < 0 {
		fine = line.GrindSurface(usualGrindM, on.polymer)
	}
	out.Whole, out.Ground = exactly(whole*perGram, "cm2/g", Estimated), exactly(ground*perGram, "cm2/g", Estimated)
	out.Mixed = out.Whole
	if share := get(x, l.ground); share > 0 {
		out.Mixed = exactly(line.MixedSurface(whole, ground, share)*perGram, "cm2/g", Estimated)
	}
	out.CoatWhole, out.GroundNeeded, out.Swing = unknownIn("um"), unknownIn("%"), unknownIn("%")
	if b.filled && st.loose > 0 {
		out.CoatWhole = exactly(line.CoatThickness(on.loading, on.bulk, whole)*1e6, "um", Estimated)
		limit := on.grains()
		_, out.ByAdhesion = line.PickUpLimit(limit, get(x, l.coverage), whole)
		if share, ok := line.GroundShareFor(on.loading, limit, get(x, l.coverage), whole, fine); ok {
			out.GroundNeeded = exactly(100*share, "%", Estimated)
		}
	}
	out.Hopper, out.Maxwell = unknownIn("g/cm3"), unknownIn("W/(m.K)")
	if pellets := pouredPellets(p, index); b.filled && st.loose > 0 && finite(pellets) && finite(on.bulk) {
		out.Hopper = exactly(line.BulkOfMix(on.loading, on.bulk, pellets)*1e-3, "g/cm3", Estimated)
		out.Parting = line.Segregates(on.bulk, pellets)
	}
	out.PartingBySize = get(x, l.ground) > 0 && line.SegregatesBySize(get(x, l.pelletD), get(x, l.groundSize))
	if first := m.firstPowder(b); first >= 0 && b.main >= 0 {
		k := line.MaxwellConductivity(get(x, b.parts[b.main].conductivity), get(x, b.parts[first].conductivity), st.powderVolume)
		out.Maxwell = exactly(k, "W/(m.K)", Estimated)
	}
	if period, given := p.Line.Spreading.FeedPeriod.Estimate(); given {
		mixed := (1 - out.plug) * ls.mean // the plug does not even out
		out.Swing = exactly(100*line.Smoothing(mixed, period.Value), "%", Estimated)
	}
	out.Evenness = evennessSheet(p, m, index, on, st)
	out.Answer = spreadAnswer(p, s, index, out)
}

// usualGrindM is how fine pellets are ground where that was not entered (common practice).
const usualGrindM = 0.5e-3

// grains is the powder as line sees it: of what holds on, the size is settled.
func (p *onPellets) grains() line.Grains {
	return line.Grains{SizeM: p.size, DensityKgM3: p.density, FinerShare: p.finer, AdhesionM: p.size}
}

// claimedError is the error of a mean loading for which samples are counted (own judgement).
const claimedError = 0.03

// evennessSheet works out the measured loadings of a blend.
func evennessSheet(p *project.Project, m *Model, index int, on onPellets, st *state) EvennessSheet {
	e := EvennessSheet{Mean: unknownIn("wt%"), RSD: unknownIn("%"), Lacey: unknownIn("1"), Needed: unknownIn("1"), Random: unknownIn("%")}
	recorded := &p.Blends[index].Evenness
	var loadings []float64
	for _, q := range recorded.Loadings {
		if q.Given() {
			loadings = append(loadings, q.SI())
		}
	}
	e.Samples = len(loadings)
	spread, ok := line.RelativeSD(loadings)
	if !ok {
		return e
	}
	e.Mean = exactly(100*spread.Mean, "wt%", Measured)
	e.RSD = newResult(100*spread.RSD, 100*spread.Low, 100*spread.High, "%", Measured)
	e.Needed = exactly(math.Ceil(line.SamplesNeeded(spread.RSD, claimedError)), "1", Measured)
	sample, given := recorded.SampleMass.Estimate()
	if !given || on.loading == 0 {
		return e
	}
	pellet, grain := m.pieceMasses(m.best(), on)
	random := line.RandomMixRSD(on.loading, pellet, grain, sample.Value)
	e.Random = exactly(100*random, "%", Estimated)
	e.Below = belowRandom(e.RSD, e.Random)
	e.Lacey = exactly(line.Lacey(spread.RSD*spread.Mean, spread.Mean, random*spread.Mean), "1", Estimated)
	return e
}

// spreadAnswer says in words whether the powder stays on the pellets.
func spreadAnswer(p *project.Project, s *Sheet, index int, out *BlendLine) []Answer {
	r := &s.Blends[index].Results
	content, limit, whole := s.Blends[index].Loose(), r[PickUpLimit], r[PickUpLimitWhole]
	if !limit.Known() || !content.Known() || content.Value == 0 {
		return nil
	}
	values := map[string]any{
		"Content": number(content.Value, "wt%", 3), "Limit": number(limit.Value, "wt%", 2),
		"Low": number(limit.Low, "wt%", 2), "High": number(limit.High, "wt%", 2), "Whole": number(whole.Value, "wt%", 2),
	}
	ground := p.Line.Spreading.Ground.Given() && p.Line.Spreading.Ground.SI() > 0
	switch {
	case content.Value <= limit.Low && ground:
		return []Answer{{"spread_on_ground", values}}
	case content.Value <= limit.Low:
		return []Answer{{"spread_on_whole", values}}
	case content.Value <= limit.High:
		return []Answer{{"spread_hardly", values}, {"spread_masterbatch", nil}}
	}
	if out.GroundNeeded.Known() {
		values["Share"] = number(math.Ceil(out.GroundNeeded.Value), "%", 2)
		return []Answer{{"spread_falls_off_grind", values}, {"spread_masterbatch", nil}}
	}
	return []Answer{{"spread_falls_off", values}, {"spread_masterbatch", nil}}
}

// pouredPellets is the density of the main polymer of a blend as poured; NaN while it
// was not given.
func pouredPellets(p *project.Project, index int) float64 {
	m := p.MaterialByID(mainPolymerOf(p, index))
	if m < 0 {
		return math.NaN()
	}
	return siOr(p.Materials[m].BulkDensity, math.NaN())
}
