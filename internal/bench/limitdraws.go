package bench

import (
	"context"
	"math"

	"fillwright/internal/uncertain"
)

// LimitDraws are the limits of one blend by the Monte Carlo method.
type LimitDraws struct {
	Blend   int
	Draws   int
	Settled bool
	rules   []uncertain.Estimate // filler content that each rule allows, mass fraction
	first   []float64            // share of the draws in which each is the first
	least   uncertain.Estimate
}

// limitModel computes for each rule the filler content that it allows, then the smallest of
// all, then for each rule whether it is the first (1, else 0).
func (m *Model) limitModel(blend int) func() func(x, y []float64) {
	n := len(m.limits)
	solved := func(m *Model) func(x, y []float64) { return m.newLimitSolver(blend, limitGrid).solve }
	lean := m.lean(m.drawable(limitPart), n, solved)
	return func() func(x, y []float64) {
		solve := solved(lean)
		return func(x, y []float64) {
			solve(x, y[:n])
			first, least := -1, m.upTo
			for r, w := range y[:n] {
				if w < least && !m.limits[r].advice {
					first, least = r, w
				}
				y[n+1+r] = 0
			}
			y[n] = least
			if first >= 0 {
				y[n+1+first] = 1
			}
		}
	}
}

// DrawLimits runs the Monte Carlo method for the limits of one blend. How often each is the
// first has no ends, so those draws are not kept.
func (m *Model) DrawLimits(ctx context.Context, blend int, d Drawing) (LimitDraws, error) {
	n := len(m.limits)
	model := m.limitModel(blend)
	run := uncertain.Run{
		Inputs: acting(m.drawable(limitPart), 2*n+1, model()), Figures: 2*n + 1, Model: model, Draws: orUsualDraws(d.Draws, usualLimitDraws),
		Digits: d.Digits, Ends: n + 1, Memory: drawMemory, Seed: d.Seed, Cores: d.Cores, Progress: d.Progress,
	}
	out, err := uncertain.MonteCarlo(ctx, run)
	if err != nil {
		return LimitDraws{}, err
	}
	drawn := LimitDraws{Blend: blend, Draws: out.Draws, Settled: out.Settled, rules: out.Estimates[:n], least: out.Estimates[n]}
	for _, e := range out.Estimates[n+1:] {
		drawn.first = append(drawn.first, e.Mean)
	}
	return drawn, nil
}

// limitKnown is the share of the draws from which a limit counts as known (own judgement).
const limitKnown = 0.5

// WithDraws is the sheet of limits with what was drawn: low and high as much of the draws
// lies below and above, likely their median where the best estimate lies outside them, and
// how often each limit comes first.
func (s *LimitSheet) WithDraws(m *Model, d LimitDraws) LimitSheet {
	out := *s
	if !s.Known || d.Blend != s.Blend {
		return out
	}
	out.Method, out.Draws, out.Steady = MonteCarlo, d.Draws, d.Settled
	out.Limits = nil
	for i := range s.Limits {
		l := s.Limits[i]
		if r := m.ruleOf(l.ID); r >= 0 {
			e := d.rules[r]
			l.First, l.Defined = d.first[r], e.Defined
			if l.State != LimitIdle && finite(e.Low) && e.Defined >= limitKnown && l.Allowed.Known() {
				likely := l.Allowed.Value / 100
				l.told(math.Max(e.Low, math.Min(likely, e.High)), e.Low, e.High, m.upTo)
			}
		}
		out.Limits = append(out.Limits, l)
	}
	out.settle()
	out.Least = newResult(math.Max(d.least.Low, math.Min(d.least.Median, d.least.High))*100, d.least.Low*100, d.least.High*100, "wt%", Estimated)
	out.Free = out.Least.Value >= s.Most
	return out
}

// ruleOf is the place of a limit among the rules, or -1.
func (m *Model) ruleOf(id LimitID) int {
	for r := range m.limits {
		if m.limits[r].id == id {
			return r
		}
	}
	return -1
}
