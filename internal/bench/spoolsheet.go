package bench

import (
	"cmp"
	"math"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/spool"
	"fillwright/internal/uncertain"
)

// SpoolSheet is what is told of one spool of the ledger.
type SpoolSheet struct {
	Name    string
	Blend   int // -1 where none is named
	Results map[SpoolFigure]Result
	Trace   *TraceSheet // nil without a log
	Enough  Answer      // for one more print
	Remarks []Answer
}

// SpoolFigure names a figure of a spool.
type SpoolFigure string

// The figures of a spool, in their order.
const (
	SpoolLength       SpoolFigure = "length"             // from its mass
	SpoolTraceLength  SpoolFigure = "length_in_log"      // from the log
	SpoolDensity      SpoolFigure = "density_by_log"     // from mass and log
	SpoolTaken        SpoolFigure = "printed"            // mass of the prints taken from it
	SpoolLeftMass     SpoolFigure = "left"               // strand that is left, g
	SpoolLeftLength   SpoolFigure = "left_length"        // m
	SpoolLeftByOuter  SpoolFigure = "left_length_outer"  // m, from the diameter of the winding
	SpoolPrintsLeft   SpoolFigure = "prints_left"        // of the usual mass
	SpoolMeanDiameter SpoolFigure = "diameter"           // of the log, root of the mean square
	SpoolCpk          SpoolFigure = "cpk"                // of the log
	SpoolFullOuter    SpoolFigure = "full_winding_outer" // diameter of the winding when full
)

// SpoolFigures lists them.
func SpoolFigures() []SpoolFigure {
	return []SpoolFigure{
		SpoolLength, SpoolTraceLength, SpoolDensity, SpoolMeanDiameter, SpoolCpk, SpoolFullOuter,
		SpoolTaken, SpoolLeftMass, SpoolLeftLength, SpoolLeftByOuter, SpoolPrintsLeft,
	}
}

// SpoolTotal adds up the spools of one blend.
type SpoolTotal struct {
	Blend       int
	Spools      int
	Mass, Left  Result // g
	LeftUnknown int    // spools of which what is left is not known
}

// spools fills in what is told of reels and spools.
func (s *Sheet) spools(p *project.Project, m *Model) {
	s.Reel = reelSheet(p, m, s)
	for i := range s.Blends {
		s.Blends[i].Winding = blendWinding(p, m, s, i)
	}
	s.Spools = spoolSheets(p, m, s)
	s.Totals = spoolTotals(p, s)
}

// spoolSheets tells of every spool of the ledger.
func spoolSheets(p *project.Project, m *Model, s *Sheet) []SpoolSheet {
	var out []SpoolSheet
	for i := range p.Spool.Made {
		out = append(out, spoolSheet(p, m, s, i))
	}
	return out
}

func spoolSheet(p *project.Project, m *Model, s *Sheet, index int) SpoolSheet {
	made := &p.Spool.Made[index]
	w := spoolWork{p: p, m: m, s: s, made: made, sheet: SpoolSheet{Name: made.Name, Blend: p.BlendByID(made.Blend), Results: map[SpoolFigure]Result{}}}
	w.inputs()
	w.log()
	w.lengths()
	w.left()
	w.sheet.Enough = w.enough()
	return w.sheet
}

// spoolWork is a spool while it is worked out. Inputs that are missing are NaN.
type spoolWork struct {
	p     *project.Project
	m     *Model
	s     *Sheet
	made  *project.MadeSpool
	sheet SpoolSheet

	in [spoolInputs]uncertain.Input
}

// The inputs of a spool.
const (
	inMass = iota
	inEmpty
	inWeighed
	inOuter
	inDensity
	inDiameter
	inCore
	inWidth
	inPacking
	inPrint
	inTaken
	spoolInputs
)

func inputOf[D quantity.Dim](q quantity.Of[D]) uncertain.Input {
	e, given := q.Estimate()
	if !given {
		return uncertain.Input{Value: math.NaN()}
	}
	return uncertain.Input{Value: e.Value, UMinus: e.StdU, UPlus: e.StdU}
}

// inputOfResult is a figure of the sheet as an input, in SI.
func inputOfResult(r Result, toSI float64) uncertain.Input {
	if !r.Known() {
		return uncertain.Input{Value: math.NaN()}
	}
	return uncertain.Input{Value: r.Value * toSI, UMinus: (r.Value - r.Low) * toSI / coverage, UPlus: (r.High - r.Value) * toSI / coverage}
}

// inputs collects what the spool rests on. Its empty mass and its blend's density are
// the usual ones while it has none of its own.
func (w *spoolWork) inputs() {
	w.in[inMass] = inputOf(w.made.Mass)
	empty := w.made.EmptyMass
	if !empty.Given() {
		empty = w.p.Spool.EmptyMass
	}
	w.in[inEmpty], w.in[inWeighed], w.in[inOuter] = inputOf(empty), inputOf(w.made.Weighed), inputOf(w.made.Outer)
	w.in[inDensity] = uncertain.Input{Value: math.NaN()}
	if w.sheet.Blend >= 0 {
		w.in[inDensity] = inputOfResult(w.s.Blends[w.sheet.Blend].Results[Density], 1000)
	}
	w.in[inDiameter] = inputOfResult(w.m.Diameter(), 1e-3)
	w.in[inCore], w.in[inWidth] = inputOf(w.p.Spool.Reel.Core), inputOf(w.p.Spool.Reel.Width)
	w.in[inPacking] = inputOfResult(w.s.Reel.Packing, 0.01)
	w.in[inPrint] = inputOf(w.p.Print.Mass)
	taken := uncertain.Input{}
	for _, print := range w.made.Prints {
		if e, given := print.Mass.Estimate(); given {
			taken.Value += e.Value
			taken.UPlus = math.Hypot(taken.UPlus, e.StdU)
			taken.UMinus = taken.UPlus
		}
	}
	w.in[inTaken] = taken
}

// log takes what the log of the spool said.
func (w *spoolWork) log() {
	t := &w.made.Trace
	if t.Summary.Readings == 0 {
		return
	}
	s := RecordedTrace(&t.Summary)
	sheet := NewTraceSheet(s, TraceAskedOf(w.p, w.made, w.s), false)
	w.sheet.Trace = sheet
	if r, ok := sheet.Figures[TraceSquare]; ok {
		w.in[inDiameter] = inputOfResult(r, 1e-3)
		w.sheet.Results[SpoolMeanDiameter] = r
	}
	if r, ok := sheet.Figures[TraceCpk]; ok {
		w.sheet.Results[SpoolCpk] = r
	}
	if r, ok := sheet.Figures[TraceLength]; ok {
		w.sheet.Results[SpoolTraceLength] = r
	}
}

// set works a figure out with its first-order interval; it stays away where an input is missing.
func (w *spoolWork) set(f SpoolFigure, unit string, perSI float64, basis Basis, formula func(x []float64) float64) {
	y, down, up := uncertain.FirstOrder(func(x, y []float64) { y[0] = formula(x) }, w.in[:], nil, uncertain.NewScratch(spoolInputs, 1))
	r := newResult(y[0]*perSI, (y[0]-coverage*down[0])*perSI, (y[0]+coverage*up[0])*perSI, unit, basis)
	if r.Known() {
		w.sheet.Results[f] = r
	}
}

func lengthFormula(x []float64, mass float64) float64 {
	return spool.Length(mass, x[inDensity], x[inDiameter]*x[inDiameter])
}

// lengths are those of the full spool.
func (w *spoolWork) lengths() {
	basis := w.densityBasis()
	w.set(SpoolLength, "m", 1, basis, func(x []float64) float64 { return lengthFormula(x, x[inMass]) })
	if t := w.sheet.Results[SpoolTraceLength]; t.Known() {
		w.set(SpoolDensity, "g/cm3", 1e-3, Measured, func(x []float64) float64 {
			return spool.Density(x[inMass], t.Value, x[inDiameter]*x[inDiameter])
		})
		w.holdAgainst(t)
	}
	w.set(SpoolFullOuter, "mm", 1e3, Estimated, func(x []float64) float64 {
		return spool.Outer(lengthFormula(x, x[inMass]), x[inPacking], x[inCore], x[inWidth], spool.Area(x[inDiameter]))
	})
}

func (w *spoolWork) densityBasis() Basis {
	if w.sheet.Blend < 0 {
		return Estimated
	}
	return w.s.Blends[w.sheet.Blend].Results[Density].Basis
}

// holdAgainst says when the length by mass and that in the log do not agree.
func (w *spoolWork) holdAgainst(inLog Result) {
	byMass := w.sheet.Results[SpoolLength]
	const known = 0.03 // own judgement: speeds of pullers are known no better
	if byMass.Known() && (inLog.Value < (1-known)*byMass.Low || inLog.Value > (1+known)*byMass.High) {
		w.remark("spool_lengths_differ", map[string]any{"Mass": number(byMass.Value, "m", 4), "Log": number(inLog.Value, "m", 4)})
	}
}

func (w *spoolWork) remark(id string, values map[string]any) {
	w.sheet.Remarks = append(w.sheet.Remarks, Answer{id, values})
}

// left is what is still on the spool: from the scale, else what the prints left of it.
func (w *spoolWork) left() {
	weighed := !math.IsNaN(w.in[inWeighed].Value) && !math.IsNaN(w.in[inEmpty].Value)
	rest := func(x []float64) float64 {
		if weighed {
			return x[inWeighed] - x[inEmpty]
		}
		return x[inMass] - x[inTaken]
	}
	basis := Entered
	if weighed {
		basis = Measured
	}
	if len(w.made.Prints) > 0 {
		w.set(SpoolTaken, "g", 1e3, Entered, func(x []float64) float64 { return x[inTaken] })
	}
	w.set(SpoolLeftMass, "g", 1e3, basis, rest)
	w.set(SpoolLeftLength, "m", 1, weakest(basis, w.densityBasis()), func(x []float64) float64 { return lengthFormula(x, rest(x)) })
	w.set(SpoolPrintsLeft, "1", 1, basis, func(x []float64) float64 { return rest(x) / x[inPrint] })
	w.set(SpoolLeftByOuter, "m", 1, Estimated, func(x []float64) float64 {
		return spool.Capacity(x[inPacking], x[inOuter], x[inCore], x[inWidth], spool.Area(x[inDiameter]))
	})
	left := w.sheet.Results[SpoolLeftMass]
	switch {
	case left.Known() && left.Value < 0 && weighed:
		w.remark("spool_lighter", map[string]any{"Weighed": w.made.Weighed})
	case left.Known() && left.Value < 0:
		w.remark("spool_overdrawn", map[string]any{"Taken": number(w.in[inTaken].Value*1e3, "g", 3), "Mass": w.made.Mass})
	case left.Known() && weighed && !math.IsNaN(w.in[inMass].Value) && w.in[inWeighed].Value-w.in[inEmpty].Value > w.in[inMass].Value*1.02:
		w.remark("spool_heavier", map[string]any{"Left": number(left.Value, "g", 3), "Mass": w.made.Mass})
	}
}

// Told is all that is said of a spool in words.
func (s *SpoolSheet) Told() []Answer {
	if s.Enough.ID == "" {
		return s.Remarks
	}
	return append([]Answer{s.Enough}, s.Remarks...)
}

// enough says whether the strand that is left does for a print of the usual mass; "" while
// that is not known.
func (w *spoolWork) enough() Answer {
	left, print := w.sheet.Results[SpoolLeftMass], w.in[inPrint].Value*1e3
	if !left.Known() || !(print > 0) {
		return Answer{}
	}
	values := map[string]any{"Print": number(print, "g", 3), "Left": number(left.Value, "g", 3)}
	switch {
	case left.Low >= print:
		return Answer{"enough", values}
	case left.High >= print:
		return Answer{"enough_perhaps", values}
	default:
		values["Short"] = number(print-left.Value, "g", 3)
		return Answer{"enough_not", values}
	}
}

// spoolTotals adds the ledger up for each blend, in the order of the blends.
func spoolTotals(p *project.Project, s *Sheet) []SpoolTotal {
	var out []SpoolTotal
	for b := -1; b < len(p.Blends); b++ {
		t := SpoolTotal{Blend: b, Mass: exactly(0, "g", Entered), Left: exactly(0, "g", Entered)}
		for i := range s.Spools {
			if s.Spools[i].Blend != b {
				continue
			}
			t.Spools++
			if e, given := p.Spool.Made[i].Mass.Estimate(); given {
				t.Mass = exactly(t.Mass.Value+e.Value*1e3, "g", Entered)
			}
			if left := s.Spools[i].Results[SpoolLeftMass]; left.Known() {
				t.Left = exactly(t.Left.Value+left.Value, "g", weakest(t.Left.Basis, left.Basis))
			} else {
				t.LeftUnknown++
			}
		}
		if t.Spools > 0 {
			out = append(out, t)
		}
	}
	return out
}

// TraceAskedOf is what the log of a spool is held against. Where the log has no speed of
// its own its length is that of the spool's mass.
func TraceAskedOf(p *project.Project, made *project.MadeSpool, s *Sheet) TraceAsked {
	sp := &p.Spool
	a := TraceAsked{
		NominalM: sp.Diameter.SI(), ToleranceM: sp.Tolerance.SI(), SpeedMS: made.Trace.Speed.SI(), GaugeM: sp.Gauge.SI(),
		OverM: cmp.Or(sp.Felt.SI(), UsualOverM), InletM: cmp.Or(p.Print.Inlet.SI(), UsualInletM),
	}
	a.Turning = TurningParts(p.Line.ScrewSpeed.SI(), p.Line.Machine.Roller.SI(), a.SpeedMS)
	blend := p.BlendByID(made.Blend)
	if blend < 0 {
		return a
	}
	perKg := s.Blends[blend].Results[MetresPerKg]
	if perKg.Known() {
		a.PrintM = perKg.Value * p.Print.Mass.SI()
		if a.SpeedMS == 0 {
			a.LengthM = perKg.Value * made.Mass.SI()
		}
	}
	return a
}
