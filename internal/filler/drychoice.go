package filler

import (
	"math"

	"fillwright/internal/stat"
)

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
// further parameter, only where the residuals fall by more than chance would have
// it in 5 % of logs of the other law (F test of the extra sum of squares),
//
//	F = (RSS_Lewis - RSS_Page)/(RSS_Page/ν) > F_0.95(1, ν),  ν = N - k,
//
// with k the fitted parameters of Page's law. Without a row more than parameters
// there are too few to prefer it. Of residuals below what the scale can show
// (resolution²/12), or a billionth of the loss, no law is the better one. The error,
// that of Lewis's law, comes only when neither law gives a curve.
//
// Source: Bates and Watts, Nonlinear Regression Analysis (1988) 103 (from memory,
// confirm).
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
	case f.PageErr == nil && f.Page.explainsMore(&f.Lewis, floorKg):
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

// explainsMore reports whether a curve with one parameter more than another misses
// the rows by so much less that chance hardly does it.
func (c *DryingCurve) explainsMore(simple *DryingCurve, floorKg float64) bool {
	if c.DegreesOfFreedom < 1 {
		return false
	}
	n, freedom := float64(len(c.ResidualsKg)), float64(c.DegreesOfFreedom)
	squares := func(rmsKg float64) float64 { return n * math.Pow(max(rmsKg, floorKg), 2) }
	ratio := (squares(simple.RMSKg) - squares(c.RMSKg)) / (squares(c.RMSKg) / freedom)
	t := stat.TFactor(confidence, c.DegreesOfFreedom)
	return ratio > t*t // F of one parameter is the square of Student's t
}
