package filler

import "math"

// UptakeFastS and UptakeSlowS are time constants of re-uptake in s, between which a
// thin open layer is taken to lie. Own judgement, not from the literature; weigh a
// tray twice to know yours.
const (
	UptakeFastS = 1 * 3600.0
	UptakeSlowS = 8 * 3600.0
)

// Reuptake returns the moisture, on dry basis, of powder that was left open for
// timeS:
//
//	M(t) = M_eq + (M_start - M_eq)·exp(-t/τ)
//
// M_start is the moisture at first and M_eq that in equilibrium with the air,
// both on dry basis and 0 or above; τ is the time constant in s, above 0. The
// moisture goes one way, towards M_eq, and never beyond it: powder wetter than
// the air allows dries. Layers that are thick or covered take longer than
// UptakeSlowS. NaN for a missing or negative number, or τ not above 0.
//
// Source: first-order approach to equilibrium; own judgement for powder beds.
func Reuptake(start, equilibrium, timeS, tauS float64) float64 {
	if !(start >= 0 && equilibrium >= 0 && timeS >= 0 && tauS > 0) {
		return math.NaN()
	}
	m := equilibrium + (start-equilibrium)*math.Exp(-timeS/tauS)
	return min(max(m, min(start, equilibrium)), max(start, equilibrium)) // rounding must not pass either end
}

// UptakeShare returns the share of the way from M_start to M_eq that powder has gone
// after timeS, 1 - exp(-t/τ), from 0 to 1. Both numbers as in Reuptake.
func UptakeShare(timeS, tauS float64) float64 { return -math.Expm1(-timeS / tauS) }

// UptakeTime returns the time constant τ in s of powder that has gone a share of the
// way after timeS, the inverse of UptakeShare: -t/ln(1 - share). +Inf for a share of
// 0 and 0 for one of 1; NaN beyond.
func UptakeTime(share, timeS float64) float64 { return -timeS / math.Log1p(-share) }
