package bench

import "slices"

// WithFigures is the sheet with the intervals of a blend's figures as they were drawn.
// Values stay those at the best estimates; what was not drawn stays as it is.
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
	return &out
}
