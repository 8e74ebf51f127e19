package filler

import "math"

// DryingFits holds both laws fitted to one log.
type DryingFits struct {
	Lewis, Page       DryingCurve
	LewisErr, PageErr error // *DryingError, nil where the curve stands
	Best              DryingLaw
}

// Curve returns the curve of the better law.
func (f *DryingFits) Curve() *DryingCurve {
	if f.Best == Page {
		return &f.Page
	}
	return &f.Lewis
}

// FitDryingLaws fits both laws to a log and chooses one: Page's, with its
// further parameter, only where Akaike's criterion for few rows is lower,
//
//	AICc = N·ln(RSS/N) + 2k + 2k(k + 1)/(N - k - 1),
//
// with k the fitted parameters and the variance of the residuals. Below k + 2
// rows, 7 for Page (6 where m_e is given), there are too few to prefer it. Of
// residuals below what the scale can show (resolution²/12), or a billionth of
// the loss, no law is the better one. The error, that of Lewis's law, comes only
// when neither law gives a curve.
//
// Source: Hurvich and Tsai, Biometrika 76 (1989) 297.
func FitDryingLaws(rows []Weighing, o DryingOptions) (DryingFits, error) {
	var f DryingFits
	f.Lewis, f.LewisErr = FitDrying(rows, Lewis, o)
	f.Page, f.PageErr = FitDrying(rows, Page, o)
	_, rangeKg := massRange(rows)
	floorKg := max(o.ResolutionKg/math.Sqrt(12), 1e-9*rangeKg)
	switch {
	case f.LewisErr != nil && f.PageErr != nil:
		return DryingFits{}, f.LewisErr
	case f.LewisErr != nil:
		f.Best = Page
	case f.PageErr == nil && f.Page.aicc(floorKg) < f.Lewis.aicc(floorKg):
		f.Best = Page
	}
	return f, nil
}

// massRange is the lightest weighing, and by how much the heaviest is above it.
func massRange(rows []Weighing) (lightestKg, rangeKg float64) {
	lightestKg, heaviestKg := math.Inf(1), 0.0
	for _, r := range rows {
		lightestKg, heaviestKg = min(lightestKg, r.MassKg), max(heaviestKg, r.MassKg)
	}
	return lightestKg, heaviestKg - lightestKg
}

// aicc is Akaike's criterion with its correction, +Inf for too few rows.
func (c *DryingCurve) aicc(floorKg float64) float64 {
	n := len(c.ResidualsKg)
	k := parametersOf(c.Law, c.FinalGiven) + 1
	if n-k-1 < 1 {
		return math.Inf(1)
	}
	fit := 2 * float64(n) * math.Log(max(c.RMSKg, floorKg))
	return fit + 2*float64(k) + 2*float64(k*(k+1))/float64(n-k-1)
}
