package bench

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/stat"
	"fillwright/internal/trace"
)

// TraceAsked is what a log is held against. Numbers that are not known are 0.
type TraceAsked struct {
	NominalM   float64 // diameter that the strand should have
	ToleranceM float64 // half width
	SpeedMS    float64 // of the puller
	LengthM    float64 // of the strand in the log, as from its mass; before the speed
	GaugeM     float64 // what the gauge may be off by (k = 2)
	OverM      float64 // stretch over which a printer feels the diameter
	InletM     float64 // bore of the printer's inlet
	PrintM     float64 // strand of one print
	Turning    []trace.Turning
	Bound      bool // also work out the exact bound of Cpk, which takes a while
}

// The usual ones.
const (
	UsualOverM  = 1.0
	UsualInletM = 2e-3 // common practice
)

// Limits are the diameters within tolerance; both 0 without one.
func (a TraceAsked) Limits() (lowM, highM float64) {
	if a.NominalM <= 0 || a.ToleranceM <= 0 {
		return 0, 0
	}
	return a.NominalM - a.ToleranceM, a.NominalM + a.ToleranceM
}

// TraceFigure names a figure of a log.
type TraceFigure string

// The figures of a log, in their order.
const (
	TraceMean      TraceFigure = "mean_diameter"
	TraceSpread    TraceFigure = "diameter_sd"
	TraceSquare    TraceFigure = "diameter_rms"
	TraceLeast     TraceFigure = "thinnest"
	TraceMost      TraceFigure = "thickest"
	TraceEffective TraceFigure = "independent_readings"
	TraceCp        TraceFigure = "cp"
	TraceCpk       TraceFigure = "cpk"
	TraceCpkLeast  TraceFigure = "cpk_at_least"
	TraceOut       TraceFigure = "out_of_tolerance"
	TraceOutLength TraceFigure = "length_out_of_tolerance"
	TraceLength    TraceFigure = "length"
	TraceGood      TraceFigure = "longest_good"
	TraceOval      TraceFigure = "ovality"
	TraceMostOval  TraceFigure = "worst_ovality"
	TraceDrift     TraceFigure = "drift"
	TraceFlow      TraceFigure = "flow_error"
	TraceFlowLow   TraceFigure = "flow_error_thinnest"
	TraceFlowHigh  TraceFigure = "flow_error_thickest"
	TraceLumps     TraceFigure = "lumps"
	TraceBlocking  TraceFigure = "blocking_lump"
)

// TraceFigures lists them.
func TraceFigures() []TraceFigure {
	return []TraceFigure{
		TraceMean, TraceSpread, TraceSquare, TraceLeast, TraceMost, TraceEffective, TraceCp, TraceCpk, TraceCpkLeast, TraceOut, TraceOutLength,
		TraceLength, TraceGood, TraceOval, TraceMostOval, TraceDrift, TraceFlow, TraceFlowLow, TraceFlowHigh, TraceLumps, TraceBlocking,
	}
}

// TraceSheet is what a log comes to.
type TraceSheet struct {
	Asked   TraceAsked
	Summary trace.Summary
	Quick   bool
	PerUnit float64 // m of strand for one unit of the log's axis; 0 while not known
	Figures map[TraceFigure]Result
	Flow    trace.FlowError
	Lumps   []TraceLump
	Waves   []TraceWave
	Steps   []TraceStep
	Verdict Answer // "answer.trace_…"
	Remarks []Answer
}

// TraceLump is a lump or a thin spot. AtM and LengthM are 0 while metres are not known, see PerUnit.
type TraceLump struct {
	trace.Lump
	AtM, LengthM float64
	Out          bool // of tolerance
	Blocks       bool // is wider than the printer's inlet
}

// TraceWave is a regular swing. Periods that are not known are 0.
type TraceWave struct {
	trace.Wave
	PeriodS, PeriodM float64
	Matches          []trace.Match
}

// TraceStep is a step, with its place in metres, 0 while not known.
type TraceStep struct {
	trace.Step
	AtM float64
}

// NewTraceSheet works out what the summary of a log says.
func NewTraceSheet(s trace.Summary, asked TraceAsked, quick bool) *TraceSheet {
	if asked.OverM <= 0 {
		asked.OverM = UsualOverM
	}
	if asked.InletM <= 0 {
		asked.InletM = UsualInletM
	}
	t := &TraceSheet{Asked: asked, Summary: s, Quick: quick, Figures: map[TraceFigure]Result{}}
	t.PerUnit = t.metres()
	t.spread()
	t.capability()
	if !quick {
		t.lengths()
		t.ovality()
		t.flowAndDrift()
		t.lumpsAndWaves()
	}
	t.judge()
	return t
}

// metres is how much strand one unit of the axis is. Where the length is known, the log is
// taken for all of it.
func (t *TraceSheet) metres() float64 {
	s, a := &t.Summary, &t.Asked
	switch {
	case s.Axis == trace.ByMetre:
		return 1
	case a.LengthM > 0 && s.Span+s.Missing > 0:
		return a.LengthM / (s.Span + s.Missing)
	case s.Axis == trace.BySecond && a.SpeedMS > 0:
		return a.SpeedMS
	default:
		return 0
	}
}

// metresOf is a distance along the axis as a figure, NaN while that is not known.
func (t *TraceSheet) metresOf(along float64) float64 {
	if t.PerUnit == 0 {
		return math.NaN()
	}
	return along * t.PerUnit
}

func (t *TraceSheet) set(f TraceFigure, value, low, high, factor float64, unit string) {
	r := newResult(value*factor, low*factor, high*factor, unit, Measured)
	if r.Known() {
		t.Figures[f] = r
	}
}

func (t *TraceSheet) exact(f TraceFigure, value, factor float64, unit string) {
	t.set(f, value, value, value, factor, unit)
}

// spread sets mean and standard deviation with their intervals. They rest on the
// effective number of readings; what the gauge may be off by moves the mean.
func (t *TraceSheet) spread() {
	s := &t.Summary
	half := 0.0
	if s.Readings > 1 {
		half = 2 * s.SDM / math.Sqrt(s.Effective)
	}
	half = math.Hypot(half, t.Asked.GaugeM)
	t.set(TraceMean, s.MeanM, s.MeanM-half, s.MeanM+half, 1e3, "mm")
	root := math.Sqrt(s.MeanSquareM2)
	t.set(TraceSquare, root, root-half, root+half, 1e3, "mm")
	if s.Readings > 1 {
		low, high := s.SDM, s.SDM
		if s.Effective > 2 && s.SDM > 0 {
			chi := distuv.ChiSquared{K: s.Effective - 1}
			low = s.SDM * math.Sqrt((s.Effective-1)/chi.Quantile(0.975))
			high = s.SDM * math.Sqrt((s.Effective-1)/chi.Quantile(0.025))
		}
		t.set(TraceSpread, s.SDM, low, high, 1e6, "um")
	}
	t.exact(TraceLeast, s.MinM, 1e3, "mm")
	t.exact(TraceMost, s.MaxM, 1e3, "mm")
	t.exact(TraceEffective, s.Effective, 1, "1")
}

// capabilityConfidence is that of the least Cpk.
const capabilityConfidence = 0.95

// capability holds the log against the tolerance.
func (t *TraceSheet) capability() {
	s := &t.Summary
	low, high := t.Asked.Limits()
	if high == 0 {
		return
	}
	if c, ok := stat.Capable(s.MeanM, s.SDM, max(s.Effective, 2), low, high); ok {
		t.set(TraceCp, c.Cp, c.CpLow, c.CpHigh, 1, "1")
		t.set(TraceCpk, c.Cpk, c.CpkLow, c.CpkHigh, 1, "1")
		if t.Asked.Bound {
			t.exact(TraceCpkLeast, stat.CapabilityBound(c.Cpk, max(s.Effective, 2), capabilityConfidence), 1, "1")
		}
	}
	if t.Quick {
		return
	}
	t.exact(TraceOut, float64(s.Below+s.Above)/float64(s.Readings), 100, "%")
	t.exact(TraceOutLength, t.metresOf(s.Span)*float64(s.Below+s.Above)/float64(s.Readings), 1, "m")
	t.exact(TraceGood, t.metresOf(s.GoodTo-s.GoodFrom), 1, "m")
}

func (t *TraceSheet) lengths() {
	s := &t.Summary
	if s.Axis != trace.ByReading || t.PerUnit > 0 {
		t.exact(TraceLength, t.metresOf(s.Span+s.Missing), 1, "m")
	}
}

func (t *TraceSheet) ovality() {
	if o := t.Summary.Ovality; o.Readings > 0 {
		t.exact(TraceOval, o.MeanM, 1e6, "um")
		t.exact(TraceMostOval, o.MaxM, 1e6, "um")
	}
}

// flowAndDrift says what a printer feels, and how the diameter moves along the spool.
func (t *TraceSheet) flowAndDrift() {
	s := &t.Summary
	if d := s.Drift; d.Effective > 0 && d.PerUnitM != 0 {
		half := 2 * d.SD / math.Abs(d.PerUnitM) * math.Abs(d.OverAllM)
		t.set(TraceDrift, d.OverAllM, d.OverAllM-half, d.OverAllM+half, 1e6, "um")
	}
	if t.Asked.NominalM <= 0 {
		return
	}
	over := t.Asked.OverM / t.PerUnit
	if t.PerUnit == 0 {
		over = 0 // the shortest stretch there is
	}
	t.Flow = trace.FlowErrorOf(s.Pieces, over, t.Asked.NominalM)
	all := s.MeanSquareM2/(t.Asked.NominalM*t.Asked.NominalM) - 1
	t.exact(TraceFlow, all, 100, "%")
	if t.PerUnit > 0 && t.Flow.Stretches > 1 {
		t.exact(TraceFlowLow, t.Flow.Low, 100, "%")
		t.exact(TraceFlowHigh, t.Flow.High, 100, "%")
	}
}

// lumpsAndWaves takes lumps, waves and steps into metres and seconds.
func (t *TraceSheet) lumpsAndWaves() {
	s := &t.Summary
	low, high := t.Asked.Limits()
	blocking := 0
	for _, l := range s.Lumps {
		out := TraceLump{Lump: l, AtM: l.At * t.PerUnit, LengthM: (l.To - l.From + s.Step) * t.PerUnit}
		out.Out = high > 0 && (l.PeakM < low || l.PeakM > high)
		out.Blocks = l.PeakM > t.Asked.InletM
		if out.Blocks {
			blocking++
		}
		t.Lumps = append(t.Lumps, out)
	}
	t.exact(TraceLumps, float64(s.LumpCount), 1, "1")
	t.blocking(blocking)
	for _, w := range s.Waves {
		out := TraceWave{Wave: w, PeriodM: w.Period * s.Step * t.PerUnit}
		switch {
		case s.Axis == trace.BySecond:
			out.PeriodS = w.Period * s.Step
		case t.Asked.SpeedMS > 0:
			out.PeriodS = out.PeriodM / t.Asked.SpeedMS
		}
		if out.PeriodS > 0 {
			out.Matches = trace.MatchTurning(out.PeriodS, t.Asked.Turning)
		}
		t.Waves = append(t.Waves, out)
	}
	for _, st := range s.Steps {
		t.Steps = append(t.Steps, TraceStep{Step: st, AtM: st.At * t.PerUnit})
	}
}

// blocking is the chance that a lump of a print is wider than the printer's inlet, from
// the number of those in the log: they come at random, so often per metre,
//
//	P = 1 - exp(-n·L_print/L_log),
//
// with the exact bounds of a count for the interval (95 %).
func (t *TraceSheet) blocking(n int) {
	length := t.metresOf(t.Summary.Span)
	if !(length > 0) || t.Asked.PrintM <= 0 {
		return
	}
	chance := func(count float64) float64 { return -math.Expm1(-count * t.Asked.PrintM / length) }
	t.set(TraceBlocking, chance(float64(n)), chance(stat.PoissonLower(n, 0.975)), chance(stat.PoissonUpper(n, 0.975)), 100, "%")
}
