package bench

import (
	"context"
	"math"
	"slices"

	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// Drawing says how the Monte Carlo method is run.
type Drawing struct {
	Draws    int // the most, 0 for the usual number
	Digits   int // of the uncertainty to settle to, 0 for all draws
	Seed     uint64
	Cores    int // 0 for all
	Progress func(done, most int)
}

// SeedOf is the seed that a project draws with: entered, else 1.
func SeedOf(p *project.Project) uint64 { return uint64(max(p.Loading.Seed, 1)) }

// The usual numbers of draws: of the figures of a blend, and of its limits, of which each
// takes ten times as long. Sixteen scrambled sets of points each (own judgement).
const (
	usualDraws      = 1 << 16
	usualLimitDraws = 1 << 15
)

// drawMemory is how many bytes the draws may take that are kept for the ends of intervals: a
// million draws of 15 figures. Where there are more, they are drawn anew for each group of
// figures, which takes its time, and not the memory of the maker's computer.
const drawMemory = 120_000_000

// FigureDraws are the intervals of the figures of one blend by the Monte Carlo method.
type FigureDraws struct {
	Blend   int
	Draws   int
	Settled bool
	Results [FigureCount]DrawnResult
	Change  [FigureCount]DrawnResult // against the same figure of the reference
}

// DrawnResult is one figure as it was drawn, in its trade unit.
type DrawnResult struct {
	Known               bool
	Mean, U             float64
	Low, High           float64 // as much lies below as above
	ShortLow, ShortHigh float64 // the shortest interval
	Defined             float64 // share of the draws in which there was a figure
	Valid               bool    // the first-order interval agrees (JCGM 101 clause 8)
}

// drawable are the inputs that are drawn, with their shapes.
func (m *Model) drawable(also figurePart) (inputs []uncertain.Variable) {
	inputs = make([]uncertain.Variable, len(m.inputs))
	for i := range m.inputs {
		inputs[i] = m.inputs[i].variable()
		if m.inputs[i].only == limitPart && also != limitPart {
			inputs[i].UMinus, inputs[i].UPlus = 0, 0
		}
	}
	return inputs
}

// variable is how an input is drawn. What cannot be negative and is known badly is drawn
// on the logarithm.
func (in *Input) variable() uncertain.Variable {
	v := uncertain.Variable{Input: in.Input, Shape: in.shape, Least: in.least, Most: in.most}
	const badly = 4 // standard uncertainties from the value to zero (own judgement)
	if v.Shape == uncertain.Normal && in.most > 0 && in.Value > 0 && in.Value-badly*in.UMinus < 0 {
		v.Shape = uncertain.Positive
	}
	return v
}

// DrawFigures runs the Monte Carlo method for all figures of one blend, and for how they
// differ from those of the reference: what both share is the same in each draw.
func (m *Model) DrawFigures(ctx context.Context, blend int, firstOrder [FigureCount]Result, d Drawing) (FigureDraws, error) {
	return m.drawFigures(ctx, blend, firstOrder, true, d)
}

// drawFigures leaves out the changes, and the shortest intervals, where nobody asks for them.
func (m *Model) drawFigures(ctx context.Context, blend int, firstOrder [FigureCount]Result, changes bool, d Drawing) (FigureDraws, error) {
	keep, inputs := []int{}, m.drawable(anyPart)
	for f := range FigureCount {
		if firstOrder[f].Known() {
			keep = append(keep, f)
		}
	}
	if changes && m.reference >= 0 && m.reference != blend {
		for _, f := range slices.Clone(keep) {
			keep = append(keep, FigureCount+f)
		}
	}
	pair := m.pairOf(blend, changes, keep, inputs)
	run := uncertain.Run{
		Inputs: acting(inputs, len(keep), pair.kept()), Figures: 2 * FigureCount, Model: pair.evaluator, Keep: keep, Draws: orUsualDraws(d.Draws, usualDraws),
		Digits: d.Digits, Memory: drawMemory, Shortest: changes, Seed: d.Seed, Cores: d.Cores, Progress: d.Progress,
	}
	out, err := uncertain.MonteCarlo(ctx, run)
	if err != nil {
		return FigureDraws{}, err
	}
	drawn := FigureDraws{Blend: blend, Draws: out.Draws, Settled: out.Settled}
	for k, e := range out.Estimates {
		f := Figure(keep[k] % FigureCount)
		if keep[k] < FigureCount {
			drawn.Results[f] = m.drawnResult(f, e)
			drawn.Results[f].validate(firstOrder[f])
		} else {
			drawn.Change[f] = drawnChange(f, e)
		}
	}
	return drawn, nil
}

func orUsualDraws(n, usual int) int {
	if n <= 0 {
		return usual
	}
	return n
}

// drawnResult brings the draws of a figure to its trade unit.
func (m *Model) drawnResult(f Figure, e uncertain.Estimate) DrawnResult {
	d := definitions[f]
	to := func(v float64) float64 {
		if d.chance { // of at least one, when so many are to be expected; it keeps the order
			v = -math.Expm1(-v)
		}
		return v * d.perSI
	}
	r := DrawnResult{
		Mean: to(e.Mean), U: e.U * d.perSI, Low: to(e.Low), High: to(e.High), ShortLow: to(e.ShortLow), ShortHigh: to(e.ShortHigh), Defined: e.Defined,
	}
	r.Known = finite(r.Low) && finite(r.High) && finite(r.Mean) && e.Defined > 0.5
	return r
}

// drawnChange is how far a figure lies from that of the reference, as changeOf has it.
func drawnChange(f Figure, e uncertain.Estimate) DrawnResult {
	per := 100.0
	if d := definitions[f]; d.pointsOf() {
		per = d.perSI
	}
	r := DrawnResult{Mean: per * e.Mean, U: per * e.U, Low: per * e.Low, High: per * e.High, ShortLow: per * e.ShortLow, ShortHigh: per * e.ShortHigh, Defined: e.Defined}
	r.Known = finite(r.Low) && finite(r.High) && e.Defined > 0.5
	return r
}

// validDigits is to how many digits of the uncertainty a first-order interval must agree.
const validDigits = 1

// atDrawn brings an interval of k = 2 to the 95 % that are drawn.
const atDrawn = 1.959963984540054 / coverage

// validate compares the first-order interval with the one that was drawn.
func (r *DrawnResult) validate(first Result) {
	low, high := first.Value-(first.Value-first.Low)*atDrawn, first.Value+(first.High-first.Value)*atDrawn
	r.Valid = !r.Known || uncertain.Validate(low, high, r.Low, r.High, r.U, validDigits).OK
}

// pair is a blend with the reference.
type pair struct {
	model     *Model
	reference int  // its place in the model; -1 without one, or where it is the blend itself
	changes   bool // against the figures of the reference are wanted too
	keep      []int
}

// pairOf is the model of one blend and the reference alone, for some of its figures.
func (m *Model) pairOf(blend int, changes bool, keep []int, inputs []uncertain.Variable) pair {
	only := *m
	only.blends = []blendPlan{m.blends[blend]}
	only.reference = -1
	p := pair{model: &only, reference: -1, changes: changes, keep: keep}
	switch {
	case m.reference == blend:
		only.reference = 0
	case m.reference >= 0:
		only.blends = append(only.blends, m.blends[m.reference])
		only.reference, p.reference = 1, 1
	}
	only.blends[0].noTimes = !slices.Contains(keep, int(DryingTime))
	p.model = only.lean(inputs, len(keep), func(m *Model) func(x, y []float64) {
		return pair{model: m, reference: p.reference, changes: changes, keep: keep}.kept()
	})
	return p
}

// kept is the model of the figures that are wanted alone.
func (p pair) kept() func(x, y []float64) {
	of, all := p.evaluator(), make([]float64, 2*FigureCount)
	return func(x, y []float64) {
		of(x, all)
		for k, f := range p.keep {
			y[k] = all[f]
		}
	}
}

// evaluator is the model of the figures of the blend, and behind them of their change
// against the reference where that is wanted. Else nothing but the cost of the reference
// is worked out.
func (p pair) evaluator() func(x, y []float64) {
	m := p.model
	s, plain := m.NewScratch(), make([]float64, FigureCount)
	return func(x, y []float64) {
		s.ref = reference{}
		full := m.fill(s.full, x)
		s.pinned = m.pinned(full, s)
		switch {
		case p.reference >= 0 && p.changes:
			m.evalBlend(&m.blends[p.reference], full, plain, s)
		case p.reference >= 0:
			m.evalReference(&m.blends[p.reference], full, plain, s)
		}
		m.evalBlend(&m.blends[0], full, y[:FigureCount], s)
		if p.reference >= 0 && p.changes {
			for f := range FigureCount {
				y[FigureCount+f] = changeOf(definitions[f], y[f], plain[f])
			}
		}
	}
}
