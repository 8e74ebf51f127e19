package filler

import (
	"errors"
	"math"
)

// ErrCannotBeReached is given for a target moisture at or below what this oven
// leaves however long it runs.
var ErrCannotBeReached = errors.New("filler: the target moisture is at or below the equilibrium")

// DryMass returns the mass in kg of the dry powder in the log:
//
//	m_d = m_e/(1 + M_e)
//
// equilibrium is M_e, the moisture on dry basis that this oven leaves, 0 or
// above (OvenFloor for wood). NaN for a missing or negative one, here and below;
// its own uncertainty is left to the caller.
//
// Source: definition.
func (c *DryingCurve) DryMass(equilibrium float64) CurveValue {
	keep := 1 / moistened(equilibrium)
	return c.linear(c.FinalKg*keep, gradient{atFinal: keep})
}

// moistened is 1 + M, and NaN for a moisture that is missing or negative.
func moistened(moisture float64) float64 {
	if !(moisture >= 0) {
		return math.NaN()
	}
	return 1 + moisture
}

// MoistureAt returns the moisture of the powder after timeS, on dry basis:
//
//	M(t) = m(t)/m_d - 1 = (1 + M_e)·m(t)/m_e - 1
//
// Source: definition.
func (c *DryingCurve) MoistureAt(timeS, equilibrium float64) CurveValue {
	mass, g := c.at(timeS)
	wet := moistened(equilibrium) / c.FinalKg
	for i := range g {
		g[i] *= wet
	}
	g[atFinal] -= wet * mass / c.FinalKg
	return c.linear(wet*mass-1, g)
}

// TimeTo returns the time in s after which the moisture on dry basis has fallen
// to target, with its interval on the logarithm:
//
//	MR = (M - M_e)/(M_0 - M_e),   t = τ·(-ln MR)^(1/n)
//
// A target at or above the initial moisture gives 0, without an interval, and a
// missing moisture NaN. The error is ErrCannotBeReached for a target at or below
// the equilibrium. Beyond LastS the time is an extrapolation, and no interval
// covers that the law itself may be wrong.
//
// Source: Page's law.
func (c *DryingCurve) TimeTo(target, equilibrium float64) (CurveValue, error) {
	if target <= equilibrium {
		return CurveValue{}, ErrCannotBeReached
	}
	water := c.InitialKg - c.FinalKg
	logs := math.Log(moistened(equilibrium)*water/c.FinalKg) - math.Log(target-equilibrium) // -ln MR
	if logs <= 0 {
		return CurveValue{}, nil
	}
	slope := 1 / (c.Exponent * logs)
	g := gradient{
		atInitial:  slope / water,
		atFinal:    -slope / water * (c.InitialKg / c.FinalKg),
		atLogTau:   1,
		atExponent: -math.Log(logs) / (c.Exponent * c.Exponent),
	}
	return c.logarithmic(math.Exp(c.LogTauS+math.Log(logs)/c.Exponent), g), nil
}

// TimeOnly is the value of TimeTo without its interval, which takes much longer;
// NaN for a target at or below the equilibrium.
func (c *DryingCurve) TimeOnly(target, equilibrium float64) float64 {
	start := moistened(equilibrium) * (c.InitialKg - c.FinalKg) / c.FinalKg
	ratio := (target - equilibrium) / start
	if ratio >= 1 {
		return 0
	}
	return TimeToRatio(ratio, math.Exp(c.LogTauS), c.Exponent)
}

// Elsewhere returns the curve that the same powder would follow in another oven
// or layer: rateFactor times as fast (RateFactor, ThicknessFactor, or their
// product), and with another moisture in equilibrium:
//
//	τ' = τ/f,   m_e' = m_e·(1 + M_e')/(1 + M_e)
//
// What f may be off by is left to the caller. The residuals stay behind. NaN
// parameters for a factor not above 0, or a missing moisture.
//
// Source: see RateFactor and ThicknessFactor; n is taken to stay.
func (c *DryingCurve) Elsewhere(rateFactor, equilibrium, equilibriumThere float64) DryingCurve {
	there := *c
	there.ResidualsKg = nil
	there.LastS = c.LastS / rateFactor
	there.LogTauS -= math.Log(rateFactor)
	scale := moistened(equilibriumThere) / moistened(equilibrium)
	there.FinalKg *= scale
	for i := range there.Covariance {
		there.Covariance[i][atFinal] *= scale
		there.Covariance[atFinal][i] *= scale
	}
	return there
}
