package bench

import (
	"context"
	"slices"

	"fillwright/internal/project"
)

// WithFigures is the sheet with the intervals of a blend's figures as they were drawn.
// Values stay those at the best estimates, and what was not drawn stays as it is; notes
// are taken anew, so that they tell the same numbers.
func (s *Sheet) WithFigures(d FigureDraws) *Sheet {
	if d.Blend < 0 || d.Blend >= len(s.Blends) {
		return s
	}
	out := *s
	out.Blends = slices.Clone(s.Blends)
	b := &out.Blends[d.Blend]
	b.Draws = d.Draws
	for f := range b.Results {
		if r := &d.Results[f]; r.Known && b.Results[f].Known() {
			b.Results[f] = drawnInterval(b.Results[f], r)
		}
	}
	if known := s.limits[d.Blend]; known != nil {
		out.limits = slices.Clone(s.limits)
		out.limits[d.Blend] = known.withHere(s.Model, b)
	}
	out.drawn = append(slices.Clone(s.drawn), &d)
	b.Answer = answer(s.project, &out, d.Blend)
	takeNotes(s.project, s.Model, &out)
	return &out
}

// drawnInterval takes the interval that was drawn, and says whether that of first order
// holds beside it.
func drawnInterval(first Result, r *DrawnResult) Result {
	out := newResult(first.Value, r.Low, r.High, first.Unit, first.Basis)
	if !out.Known() {
		return first
	}
	out.Method, out.Bent = MonteCarlo, !r.Valid
	return out
}

// WithLimits is the sheet with the limits of a blend as they were drawn.
func (s *Sheet) WithLimits(d LimitDraws) *Sheet {
	if d.Blend < 0 || d.Blend >= len(s.Blends) {
		return s
	}
	out := *s
	out.limits = slices.Clone(s.limits)
	drawn := s.Limits(d.Blend).WithDraws(s.Model, d)
	out.limits[d.Blend] = &drawn
	out.lifts = slices.Clone(s.lifts)
	out.lifts[d.Blend] = d.lift
	if d.lift == nil {
		out.lifts[d.Blend] = &lifted{} // one to first order must not stand beside what was drawn
	}
	return &out
}

// WithLimitSheet is the sheet with other limits of a blend.
func (s *Sheet) WithLimitSheet(limits *LimitSheet) *Sheet {
	if limits.Blend < 0 || limits.Blend >= len(s.Blends) {
		return s
	}
	out := *s
	out.limits = slices.Clone(s.limits)
	out.limits[limits.Blend] = limits
	return &out
}

// Draws that can be asked for.
const (
	LeastDraws = project.LeastDraws
	MostDraws  = project.MostDraws
)

// allSharePoints are the points for the shares of all limits at once (own judgement).
const allSharePoints = 1 << 10

// WithAllDraws is the sheet with figures and limits of all blends as they were drawn, and
// the shares of the inputs in the variance of the limits, by blend.
func (s *Sheet) WithAllDraws(ctx context.Context, d Drawing) (*Sheet, map[int][]Shares, error) {
	out, shares := s, map[int][]Shares{}
	for i := range s.Blends {
		figures, err := s.Model.DrawFigures(ctx, i, s.Blends[i].Results, d)
		if err != nil {
			return nil, nil, err
		}
		out = out.WithFigures(figures)
		if !s.Limits(i).Known {
			continue
		}
		limits, err := s.DrawLimits(ctx, i, d)
		if err != nil {
			return nil, nil, err
		}
		out = out.WithLimits(limits)
		fewer := d
		fewer.Draws = allSharePoints
		targets := s.Limits(i).Targets()
		if len(targets) == 0 {
			continue
		}
		if shares[i], err = s.Model.VarianceShares(ctx, s.project, i, targets, fewer); err != nil {
			return nil, nil, err
		}
	}
	return out, shares, nil
}

// Targets are the limits of which shares can be told, the first of all before them.
func (s *LimitSheet) Targets() []Target {
	if !s.Least.Known() {
		return nil
	}
	list := []Target{{Limit: TargetLeast}}
	for i := range s.Limits {
		if l := &s.Limits[i]; l.Known() && l.ID != LimitBend {
			list = append(list, Target{Limit: l.ID})
		}
	}
	return list
}
