package filler

import "math"

// UptakeFastS and UptakeSlowS are time constants of re-uptake in s, between which a
// thin open layer is taken to lie. Own judgement, not from the literature; weigh a
// tray twice to know yours.
const (
	UptakeFastS = 1 * 3600.0
	UptakeSlowS = 8 * 3600.0
)

// Reuptake returns the moisture, on dry basis, of powder that was left open, of
// whose way to equilibrium with the air the share left is still to go:
//
//	M = M_eq + (M_start - M_eq)·left
//
// M_start is the moisture at first and M_eq that in equilibrium with the air,
// both on dry basis and 0 or above; left is 0 to 1, see UptakeLeft. The moisture
// goes one way, towards M_eq, and never beyond it: powder wetter than the air
// allows dries. NaN for a missing or negative number, and a share above 1.
//
// Source: first-order approach to equilibrium; own judgement for powder beds.
func Reuptake(start, equilibrium, left float64) float64 {
	if !(start >= 0 && equilibrium >= 0 && left >= 0 && left <= 1) {
		return math.NaN()
	}
	m := equilibrium + (start-equilibrium)*left
	return min(max(m, min(start, equilibrium)), max(start, equilibrium)) // rounding must not pass either end
}

// UptakeLeft returns the share of the way from M_start to M_eq that powder still has
// to go after timeS, exp(-t/τ), from 1 down to 0. τ is the time constant in s, above
// 0. What is left, and not what is gone: that rounds to 1 after 37 τ, from where no
// number leads back. Layers that are thick or covered take longer than UptakeSlowS.
// NaN for a negative time, or τ not above 0.
func UptakeLeft(timeS, tauS float64) float64 {
	if !(timeS >= 0 && tauS > 0) {
		return math.NaN()
	}
	return math.Exp(-timeS / tauS)
}
