package bench

import (
	"cmp"
	"math"

	"fillwright/internal/project"
	"fillwright/internal/spool"
	"fillwright/internal/uncertain"
)

// ReelSheet is what is told of the empty spool.
type ReelSheet struct {
	Packing     Result // share of the winding that is strand, %
	PackingFrom string // "entered", "known", "usual"
}

// BlendWinding is what is told of a blend on the reel.
type BlendWinding struct {
	Capacity     Result // m that the reel takes
	CapacityMass Result // g
	Bend         BendSheet
}

// BendSheet is how far a strand can be bent.
type BendSheet struct {
	CoreStrain Result // on the core of the reel, %
	Mandrel    Result // the smallest that all pieces survived, mm
	Pieces     int    // that were bent around it
	MayBreak   Result // share that may break there all the same (95 %), %
	Allowed    Result // strain, with the safety factor, %
	SafeCore   Result // the smallest core, mm
	From       string // "tests", "elongation" or "" while it is not known
	Aged       bool   // a test was done after a week or more
	Verdict    Answer
}

// WindingFigure names a figure of a blend on the reel.
type WindingFigure string

// The figures of a blend on the reel, in their order.
const (
	WindingCapacity     WindingFigure = "capacity"
	WindingCapacityMass WindingFigure = "capacity_mass"
	WindingStrain       WindingFigure = "core_strain"
	WindingMandrel      WindingFigure = "mandrel_survived"
	WindingMayBreak     WindingFigure = "may_break"
	WindingAllowed      WindingFigure = "strain_allowed"
	WindingSafeCore     WindingFigure = "safe_core"
)

// WindingFigures lists them.
func WindingFigures() []WindingFigure {
	return []WindingFigure{WindingCapacity, WindingCapacityMass, WindingStrain, WindingMandrel, WindingMayBreak, WindingAllowed, WindingSafeCore}
}

// Result of one figure.
func (w *BlendWinding) Result(f WindingFigure) Result {
	return map[WindingFigure]Result{
		WindingCapacity: w.Capacity, WindingCapacityMass: w.CapacityMass, WindingStrain: w.Bend.CoreStrain, WindingMandrel: w.Bend.Mandrel,
		WindingMayBreak: w.Bend.MayBreak, WindingAllowed: w.Bend.Allowed, WindingSafeCore: w.Bend.SafeCore,
	}[f]
}

// reelSheet finds the packing: entered, fitted to one known spool, or the usual range.
func reelSheet(p *project.Project, m *Model, s *Sheet) ReelSheet {
	r := &p.Spool.Reel
	if e, given := r.Packing.Estimate(); given {
		return ReelSheet{newResult(e.Value*100, e.Low*100, e.High*100, "%", Entered), "entered"}
	}
	if fitted := fittedPacking(p, m, s); fitted.Known() {
		return ReelSheet{fitted, "known"}
	}
	low, high := spool.UsualPackingLow*100, spool.UsualPackingHigh*100
	return ReelSheet{newResult((low+high)/2, low, high, "%", Estimated), "usual"}
}

// fittedPacking is that of the known spool, with the strand and density of the
// reference blend, or of the first.
func fittedPacking(p *project.Project, m *Model, s *Sheet) Result {
	r := &p.Spool.Reel
	blend := max(s.Reference, 0)
	if !r.KnownMass.Given() || !r.KnownOuter.Given() || blend >= len(s.Blends) {
		return unknownIn("%")
	}
	in := []uncertain.Input{
		inputOf(r.KnownMass), inputOf(r.KnownOuter), inputOf(r.Core), inputOf(r.Width),
		inputOfResult(s.Blends[blend].Results[Density], 1000),
	}
	y, down, up := uncertain.FirstOrder(func(x, y []float64) { // mass over density is the volume of the strand
		y[0] = spool.Packing(x[0]/x[4], 1, x[1], x[2], x[3])
	}, in, nil, uncertain.NewScratch(len(in), 1))
	if !(y[0] > 0) {
		return unknownIn("%")
	}
	return newResult(y[0]*100, (y[0]-coverage*down[0])*100, (y[0]+coverage*up[0])*100, "%", Calibrated)
}

// blendWinding tells of a blend on the reel.
func blendWinding(p *project.Project, m *Model, s *Sheet, blend int) BlendWinding {
	r := &p.Spool.Reel
	b := &s.Blends[blend]
	w := BlendWinding{Capacity: unknownIn("m"), CapacityMass: unknownIn("g"), Bend: bendSheet(p, m, blend)}
	if !r.Outer.Given() || !r.Core.Given() || !r.Width.Given() {
		return w
	}
	in := []uncertain.Input{
		inputOfResult(s.Reel.Packing, 0.01), inputOf(r.Outer), inputOf(r.Core), inputOf(r.Width),
		inputOfResult(m.Diameter(), 1e-3), inputOfResult(b.Results[Density], 1000),
	}
	y, down, up := uncertain.FirstOrder(func(x, y []float64) {
		y[0] = spool.Capacity(x[0], x[1], x[2], x[3], spool.Area(x[4]))
		y[1] = spool.Capacity(x[0], x[1], x[2], x[3], 1) * x[5]
	}, in, nil, uncertain.NewScratch(len(in), 2))
	if y[0] > 0 {
		basis := weakest(s.Reel.Packing.Basis, m.Diameter().Basis)
		w.Capacity = newResult(y[0], y[0]-coverage*down[0], y[0]+coverage*up[0], "m", basis)
		w.CapacityMass = newResult(y[1]*1e3, (y[1]-coverage*down[1])*1e3, (y[1]+coverage*up[1])*1e3, "g", weakest(basis, b.Results[Density].Basis))
	}
	return w
}

// bendConfidence is that of the share that may break.
const bendConfidence = 0.95

// bendSheet compares the strain on the core with what bend tests allow, and only
// without any with the elongation that was entered.
func bendSheet(p *project.Project, m *Model, blend int) BendSheet {
	b := BendSheet{CoreStrain: unknownIn("%"), Mandrel: unknownIn("mm"), MayBreak: unknownIn("%"), Allowed: unknownIn("%"), SafeCore: unknownIn("mm")}
	diameter := m.Diameter()
	d := diameter.Value * 1e-3
	core, hasCore := p.Spool.Reel.Core.Estimate()
	if diameter.Known() && hasCore {
		b.CoreStrain = exactly(100*spool.CoreStrain(d, core.Value), "%", diameter.Basis)
	}
	safety := cmp.Or(p.Spool.Bend.Safety.SI(), spool.UsualSafety)
	mandrel, pieces, survived := spool.Survived(b.tests(p, blend))
	elongation, hasElongation := p.Spool.Bend.Elongation.Estimate()
	allowed := math.NaN()
	switch {
	case !diameter.Known():
	case survived:
		allowed = spool.CoreStrain(d, mandrel) / safety
		b.From, b.Pieces = "tests", pieces
		b.Mandrel = exactly(mandrel*1e3, "mm", Measured)
		b.MayBreak = exactly(100*spool.MayBreak(pieces, bendConfidence), "%", Measured)
		b.Allowed = exactly(100*allowed, "%", Measured)
	case hasElongation:
		allowed, b.From = elongation.Value/safety, "elongation"
		b.Allowed = newResult(100*allowed, 100*elongation.Low/safety, 100*elongation.High/safety, "%", Estimated)
	}
	if b.From != "" {
		b.SafeCore = exactly(1e3*spool.SmallestCore(d, allowed), "mm", b.Allowed.Basis)
	}
	b.Verdict = b.verdict(safety)
	return b
}

// tests are those of a blend, and those that name none.
func (b *BendSheet) tests(p *project.Project, blend int) []spool.Bent {
	const week = 7 * 86400
	var out []spool.Bent
	for _, t := range p.Spool.Bend.Tests {
		if !t.Mandrel.Given() || t.Blend != "" && t.Blend != p.Blends[blend].ID {
			continue
		}
		out = append(out, spool.Bent{MandrelM: t.Mandrel.SI(), Pieces: t.Pieces, Broken: t.Broken})
		b.Aged = b.Aged || t.Age.SI() >= week
	}
	return out
}

func (b *BendSheet) verdict(safety float64) Answer {
	if b.From == "" {
		return Answer{"bend_not_known", nil}
	}
	values := map[string]any{"Allowed": number(b.Allowed.Value, "%", 3), "Core": number(b.SafeCore.Value, "mm", 3), "Safety": number(safety, "", 2)}
	if !b.CoreStrain.Known() {
		return Answer{"bend_core_missing", values}
	}
	values["Strain"] = number(b.CoreStrain.Value, "%", 3)
	switch {
	case b.CoreStrain.Value <= b.Allowed.Value && b.From == "tests":
		return Answer{"bend_safe", values}
	case b.CoreStrain.Value <= b.Allowed.Value:
		return Answer{"bend_perhaps", values}
	default:
		return Answer{"bend_breaks", values}
	}
}
