package filler

import (
	"math"

	"fillwright/internal/stat"
)

// dryingLog is a log with the units that a fit works in.
type dryingLog struct {
	rows   []Weighing
	order  []int // of the rows by time
	scaled scaledLog

	lastS, zeroKg, spanKg float64 // unit of time, and zero and unit of mass
}

// times counts the rows at different times.
func (l *dryingLog) times() int {
	count := 0
	for k, i := range l.order {
		if k == 0 || l.rows[i].TimeS != l.rows[l.order[k-1]].TimeS {
			count++
		}
	}
	return count
}

// scale fills scaled. There are two rows at different times and of different
// mass.
func (l *dryingLog) scale(o DryingOptions) {
	l.lastS = l.rows[l.order[len(l.order)-1]].TimeS
	l.zeroKg, l.spanKg = massRange(l.rows)
	s := &l.scaled
	s.logTime, s.mass = make([]float64, len(l.order)), make([]float64, len(l.order))
	for k, i := range l.order {
		s.logTime[k] = math.Log(l.rows[i].TimeS / l.lastS)
		s.mass[k] = (l.rows[i].MassKg - l.zeroKg) / l.spanKg
	}
	s.given = o.FinalKg != 0
	s.least = (leastLeft - 1) * l.zeroKg / l.spanKg
	if s.given {
		s.least = (o.FinalKg - l.zeroKg) / l.spanKg
	}
}

// curve turns a fit back into kg and s.
func (l *dryingLog) curve(fit stat.Fit, law DryingLaw) (DryingCurve, error) {
	c := DryingCurve{
		Law:              law,
		InitialKg:        l.zeroKg + l.spanKg*fit.Params[atInitial],
		FinalKg:          l.zeroKg + l.spanKg*fit.Params[atFinal],
		LogTauS:          math.Log(l.lastS) + fit.Params[atLogTau],
		Exponent:         fit.Params[atExponent],
		DegreesOfFreedom: fit.DegreesOfFreedom,
		ResidualsKg:      make([]float64, len(l.order)),
		RMSKg:            l.spanKg * math.Sqrt(fit.RSS/float64(len(l.order))),
		LastS:            l.lastS,
		FinalGiven:       l.scaled.given,
	}
	for k, i := range l.order {
		c.ResidualsKg[i] = l.spanKg * fit.Residuals[k]
	}
	if fit.Params[atInitial] <= fit.Params[atFinal] {
		return DryingCurve{}, &DryingError{Kind: DryingNotSeen}
	}
	if !positive(c.FinalKg) || !positive(c.InitialKg) || !positive(math.Exp(c.LogTauS)) {
		return DryingCurve{}, &DryingError{Kind: DryingNotIdentified}
	}
	if c.DegreesOfFreedom > 0 {
		c.ResidualSDKg = l.spanKg * fit.ResidualSD
		c.student = stat.TFactor(0.95, c.DegreesOfFreedom)
		c.take(fit, l.spanKg)
	}
	c.flag(fit.AtBound)
	return c, nil
}

// take fills the covariance.
func (c *DryingCurve) take(fit stat.Fit, spanKg float64) {
	unit := [curveParameters]float64{spanKg, spanKg, 1, 1}
	for i := range unit {
		for j := range unit {
			if v := fit.Covariance[i*len(unit)+j]; !math.IsNaN(v) {
				c.Covariance[i][j] = unit[i] * unit[j] * v
			}
		}
	}
	for _, i := range fit.AtBound {
		c.Covariance[i][i] = math.Inf(1)
	}
}

// flag says what the curve does not know.
func (c *DryingCurve) flag(atBound []int) {
	for _, i := range atBound {
		c.OpenEnd = c.OpenEnd || i == atFinal
		c.ExponentEnd = c.ExponentEnd || i == atExponent
	}
	if c.FinalGiven {
		return
	}
	water := c.InitialKg - c.FinalKg
	left, _, _ := pageShare(math.Log(c.LastS)-c.LogTauS, c.Exponent)
	end := c.Final()
	wide := c.DegreesOfFreedom > 0 && !(end.Known && end.High-end.Value <= openWidth*water)
	c.OpenEnd = c.OpenEnd || left > openLeft || wide
}
