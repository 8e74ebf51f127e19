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
	bend    float64 // share of the draws in which breaking on the core is the first
	lift    *lifted // what would lift it, drawn too; nil where nobody asked: see Sheet.DrawLimits
}

// The places behind those of the rules in what limitModel writes.
const (
	leastPlace = iota // the smallest content that is allowed
	bendPlace         // 1 where breaking on the core is the first to stop, else 0
	firstPlace        // the same for each rule
)

// limitFigures is how many numbers limitModel writes.
func (m *Model) limitFigures() int { return 2*len(m.limits) + firstPlace }

// limitModel computes for each rule the filler content that it allows, then the smallest of
// all, then which is the first: 1, or a part of it where several forbid just as much.
func (m *Model) limitModel(blend int) func() func(x, y []float64) {
	n := len(m.limits)
	solver := func(m *Model) *limitSolver { return m.newLimitSolver(blend, limitGrid) }
	lean := m.lean(m.drawable(limitPart), n, func(m *Model) func(x, y []float64) { return solver(m).solve })
	return func() func(x, y []float64) {
		v := solver(lean)
		return func(x, y []float64) {
			v.solve(x, y[:n])
			least, bend := m.axis, v.bend()
			for r, w := range y[:n] {
				if w < least && !m.limits[r].advice {
					least = w
				}
			}
			if bend < least {
				least = bend
			}
			y[n+leastPlace] = least
			m.shareFirst(y, least, bend)
		}
	}
}

// shareFirst says which limits allow the least.
func (m *Model) shareFirst(y []float64, least, bend float64) {
	n, count := len(m.limits), 0.0
	first := func(w float64, advice bool) float64 {
		if !(w <= least) || advice || least >= m.axis {
			return 0
		}
		count++
		return 1
	}
	y[n+bendPlace] = first(bend, false)
	for r, w := range y[:n] {
		y[n+firstPlace+r] = first(w, m.limits[r].advice)
	}
	if count > 1 {
		for k := bendPlace; k < firstPlace+n; k++ {
			y[n+k] /= count
		}
	}
}

// DrawLimits runs the Monte Carlo method for the limits of one blend. How often each is the
// first has no ends, so those draws are not kept.
func (m *Model) DrawLimits(ctx context.Context, blend int, d Drawing) (LimitDraws, error) {
	n := len(m.limits)
	model := m.limitModel(blend)
	run := uncertain.Run{
		Inputs: acting(m.drawable(limitPart), m.limitFigures(), model()), Figures: m.limitFigures(), Model: model, Draws: orUsualDraws(d.Draws, usualLimitDraws),
		Digits: d.Digits, Ends: n + leastPlace + 1, Memory: drawMemory, Seed: d.Seed, Cores: d.Cores, Progress: d.Progress,
	}
	out, err := uncertain.MonteCarlo(ctx, run)
	if err != nil {
		return LimitDraws{}, err
	}
	drawn := LimitDraws{Blend: blend, Draws: out.Draws, Settled: out.Settled, rules: out.Estimates[:n], least: out.Estimates[n+leastPlace], bend: out.Estimates[n+bendPlace].Mean}
	for _, e := range out.Estimates[n+firstPlace:] {
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
				l.told(math.Max(e.Low, math.Min(likely, e.High)), e.Low, e.High, m.axis)
			}
		}
		if l.ID == LimitBend && l.Known() {
			l.First, l.Defined = d.bend, 1
		}
		out.Limits = append(out.Limits, l)
	}
	out.settle()
	if !out.Least.Known() {
		return out
	}
	out.Least = newResult(math.Max(d.least.Low, math.Min(d.least.Median, d.least.High))*100, d.least.Low*100, d.least.High*100, "wt%", Estimated)
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
