package bench

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// Target is what is to become more certain: a figure of a blend, one of its limits, or
// where the first of all limits stops.
type Target struct {
	Figure Figure // where Limit is ""
	Limit  LimitID
}

// TargetLeast is where the first of all limits stops.
const TargetLeast LimitID = "least"

// Shares say which inputs the variance of a target comes from.
type Shares struct {
	Target  Target
	Inputs  []InputShare // largest first
	Defined float64
	Points  int
}

// InputShare is the share of one input in the variance of a target.
type InputShare struct {
	Pointer      string
	First, Total float64 // 0 to 1
	Err          float64 // standard error of the total share
	Measure      project.Measure
}

// Advice is one measurement, and what it would do for a target.
type Advice struct {
	Measure       project.Measure
	Total         float64 // share of the variance that hangs on what it settles
	Now, After    Result  // the target, with its interval now and as it is to be expected
	Effort        time.Duration
	EffortEntered bool
	PerHour       float64 // by how much the interval gets narrower, as a share, per hour of effort
	Inputs        []string
}

// usualSharePoints are the points from which shares are told: each is evaluated once for
// each input (own judgement: errors of a few percent, which is what advice needs).
const usualSharePoints = 1 << 11

// targetsModel is the model that writes some targets, all of them figures or all of them
// limits, and the inputs that it is drawn from. Of factors it writes the logarithm where
// asked: a variance that a few far draws make up tells nothing.
func (m *Model) targetsModel(blend int, targets []Target, logs bool) (model func() func(x, y []float64), inputs []uncertain.Variable) {
	if targets[0].Limit != "" {
		return m.limitTargets(blend, targets), m.drawable(limitPart)
	}
	keep := make([]int, len(targets))
	for k, t := range targets {
		keep[k] = int(t.Figure)
	}
	inputs = m.drawable(anyPart)
	pair := m.pairOf(blend, false, keep, inputs)
	return func() func(x, y []float64) {
		of, all := pair.evaluator(), make([]float64, 2*FigureCount)
		return func(x, y []float64) {
			of(x, all)
			for k, t := range targets {
				y[k] = all[t.Figure]
				if logs && definitions[t.Figure].log {
					y[k] = math.Log(y[k])
				}
			}
		}
	}, inputs
}

// limitTargets is the model of some limits.
func (m *Model) limitTargets(blend int, targets []Target) func() func(x, y []float64) {
	limits, n := m.limitModel(blend), len(m.limits)
	return func() func(x, y []float64) {
		all, of := make([]float64, m.limitFigures()), limits()
		return func(x, y []float64) {
			of(x, all)
			for k, t := range targets {
				y[k] = math.NaN()
				if t.Limit == TargetLeast {
					y[k] = all[n+leastPlace]
				} else if r := m.ruleOf(t.Limit); r >= 0 {
					y[k] = all[r]
				}
			}
		}
	}
}

// VarianceShares tells from which inputs the variance of some targets comes, which are all
// figures or all limits.
func (m *Model) VarianceShares(ctx context.Context, p *project.Project, blend int, targets []Target, d Drawing) ([]Shares, error) {
	model, inputs := m.targetsModel(blend, targets, true)
	inputs = acting(inputs, len(targets), model())
	run := uncertain.SharesRun{
		Inputs: inputs, Figures: len(targets), Model: model, Draws: orUsualDraws(d.Draws, usualSharePoints), Seed: d.Seed, Cores: d.Cores, Progress: d.Progress,
	}
	found, err := uncertain.VarianceShares(ctx, run)
	if err != nil {
		return nil, err
	}
	list := make([]Shares, len(targets))
	for k, t := range targets {
		list[k] = Shares{Target: t, Defined: found.Defined[k], Points: run.Draws}
		for i := range inputs {
			total := found.Total[k][i]
			if !(total > 0) {
				continue
			}
			measure, _, _ := m.measureOf(p, blend, &m.inputs[i])
			list[k].Inputs = append(list[k].Inputs, InputShare{
				Pointer: m.inputs[i].Pointer, First: within01(found.First[k][i]), Total: within01(total), Err: found.ErrTotal[k][i], Measure: measure,
			})
		}
		slices.SortStableFunc(list[k].Inputs, func(a, b InputShare) int { return cmp.Compare(b.Total, a.Total) })
	}
	return list, nil
}

// within01 keeps an estimate of a share from below none and above all.
func within01(v float64) float64 { return math.Max(0, math.Min(v, 1)) }

// worthShare is the least share of the variance for a measurement to be tried.
const worthShare = 0.02

// worthGain is by how much an interval must become narrower, as a share, for a measurement to
// be told: less than that changes no decision, and may be chance of the draws (own judgement).
const worthGain = 0.05

// adviceDraws are the draws from which an expected interval is told.
const adviceDraws = 1 << 12

// MeasureNext tells what each measurement would do for a target: the interval as it is to
// be expected, if what is measured comes out as it is believed now, by drawing anew with
// the uncertainties that the measurement leaves. What does most per hour of effort comes
// first.
func (m *Model) MeasureNext(ctx context.Context, p *project.Project, blend int, shares Shares, d Drawing) ([]Advice, error) {
	now, err := m.drawTarget(ctx, blend, shares.Target, d, nil)
	if err != nil {
		return nil, err
	}
	groups := map[project.Measure]*Advice{}
	for _, in := range shares.Inputs {
		if in.Measure == "" {
			continue
		}
		if groups[in.Measure] == nil {
			groups[in.Measure] = &Advice{Measure: in.Measure, Now: now}
		}
		groups[in.Measure].Total += in.Total
		groups[in.Measure].Inputs = append(groups[in.Measure].Inputs, in.Pointer)
	}
	var list []Advice
	for _, measure := range project.Measures() {
		a := groups[measure]
		if a == nil || a.Total < worthShare {
			continue
		}
		a.Total = within01(a.Total)
		if a.After, err = m.drawTarget(ctx, blend, shares.Target, d, m.afterMeasuring(p, blend, measure)); err != nil {
			return nil, err
		}
		if a.gain() >= worthGain {
			list = append(list, *a)
		}
	}
	OrderAdvice(p, list)
	return list, nil
}

// gain is by how much the interval becomes narrower, as a share of what it is.
func (a *Advice) gain() float64 {
	width := a.Now.High - a.Now.Low
	if !a.Now.Known() || !a.After.Known() || !(width > 0) {
		return 0
	}
	return math.Max(0, 1-(a.After.High-a.After.Low)/width)
}

// afterMeasuring are the inputs with those that a measurement settles as they would be after it.
func (m *Model) afterMeasuring(p *project.Project, blend int, measure project.Measure) []Input {
	inputs := slices.Clone(m.inputs)
	for i := range inputs {
		if of, rule, is := m.measureOf(p, blend, &m.inputs[i]); is && of == measure {
			inputs[i] = rule.after(inputs[i])
		}
	}
	return inputs
}

// drawTarget draws a target, with other inputs than those of the model where there are any.
func (m *Model) drawTarget(ctx context.Context, blend int, t Target, d Drawing, inputs []Input) (Result, error) {
	other := *m
	if inputs != nil {
		other.inputs, other.nominal = inputs, nil
	}
	model, variables := other.targetsModel(blend, []Target{t}, false)
	out, err := uncertain.MonteCarlo(ctx, uncertain.Run{
		Inputs: variables, Figures: 1, Model: model, Draws: adviceDraws, Seed: d.Seed, Cores: d.Cores,
	})
	if err != nil {
		return Result{}, err
	}
	e := out.Estimates[0]
	if t.Limit != "" {
		return newResult(e.Median*100, e.Low*100, e.High*100, "wt%", Estimated), nil
	}
	r := m.drawnResult(t.Figure, e)
	median := m.drawnResult(t.Figure, uncertain.Estimate{Mean: e.Median, Low: e.Median, High: e.Median, Defined: 1}).Mean
	return newResult(median, r.Low, r.High, m.unit(definitions[t.Figure].unit), Estimated), nil
}
