package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// NoncentralT returns the probability that a noncentral t of nu degrees of freedom and
// noncentrality delta is at most t:
//
//	F(t) = ∫ Φ(t·s - δ) f(s) ds,  s = √(χ²(ν)/ν)
//
// Nu is above 0 and need not be whole. The integral is taken over all s that matter, so
// that it is right for large delta too, where series underflow. Anything that is not
// finite gives NaN.
//
// Source: definition of the distribution.
func NoncentralT(t, nu, delta float64) float64 {
	if !finite(t+nu+delta) || !(nu > 0) {
		return math.NaN()
	}
	logScale, _ := math.Lgamma(nu / 2)
	logScale = math.Log(2) + nu/2*math.Log(nu/2) - logScale
	density := func(s float64) float64 { return math.Exp(logScale + (nu-1)*math.Log(s) - nu*s*s/2) }
	// f is narrow around 1 for a large nu, and broad for a small one.
	const reach = 12.0
	width := reach / math.Sqrt(2*nu)
	low, high := math.Max(1e-12, 1-width), 1+width
	if nu < 3 { // and uneven near 0
		low, high = 1e-12, 1+2*reach/math.Sqrt(nu)
	}
	// Both the density and Φ(t·s - δ) must be smooth over a step.
	const least, most, fine = 400, 20_000, 20
	steps := fine * (high - low) * math.Max(math.Sqrt(2*nu), math.Abs(t))
	n := 2 * int(math.Min(math.Max(steps, least), most)/2)
	return simpson(func(s float64) float64 { return normalCDF(t*s-delta) * density(s) }, low, high, n)
}

func normalCDF(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// simpson integrates over an even number of steps.
func simpson(f func(float64) float64, low, high float64, steps int) float64 {
	h := (high - low) / float64(steps)
	sum := f(low) + f(high)
	for i := 1; i < steps; i++ {
		weight := 4.0
		if i%2 == 0 {
			weight = 2
		}
		sum += weight * f(low+float64(i)*h)
	}
	return sum * h / 3
}

// rootBetween finds where a rising function passes a value.
func rootBetween(f func(float64) float64, value, low, high float64) float64 {
	for range 200 {
		middle := (low + high) / 2
		if f(middle) < value {
			low = middle
		} else {
			high = middle
		}
		if high-low <= 1e-13*math.Abs(high) {
			break
		}
	}
	return (low + high) / 2
}

// ToleranceOneSided returns the factor k for which mean + k·s lies above a share of a
// normal population with a confidence, from n readings:
//
//	k = t(confidence; n-1, δ)/√n,  δ = z(share)·√n,  t noncentral
//
// N is 2 or more and need not be whole; share and confidence lie above 0 and below 1.
// Anything else gives NaN.
//
// Source: ISO 16269-6 (values from memory, confirm).
func ToleranceOneSided(n, share, confidence float64) float64 {
	if !(n >= 2) || !(share > 0 && share < 1) || !(confidence > 0 && confidence < 1) {
		return math.NaN()
	}
	delta := distuv.UnitNormal.Quantile(share) * math.Sqrt(n)
	f := func(t float64) float64 { return NoncentralT(t, n-1, delta) }
	high := math.Abs(delta) + 10
	for f(high) < confidence {
		high *= 2
	}
	return rootBetween(f, confidence, -high, high) / math.Sqrt(n)
}

// ToleranceTwoSided returns the factor k for which mean ± k·s hold a share of a normal
// population with a confidence, from n readings:
//
//	confidence = ∫ P(χ²(n-1) ≥ (n-1)·r(z)²/k²) φ dz over means z,  Φ(z+r) - Φ(z-r) = share
//
// Symbols as for ToleranceOneSided.
//
// Source: as for ToleranceOneSided; the exact integral, not an approximation.
func ToleranceTwoSided(n, share, confidence float64) float64 {
	if !(n >= 2) || !(share > 0 && share < 1) || !(confidence > 0 && confidence < 1) {
		return math.NaN()
	}
	const steps, reach = 200, 8.0
	chi := distuv.ChiSquared{K: n - 1}
	half := make([]float64, steps+1) // r for means from 0 on, in standard deviations of the mean
	for i := range half {
		z := reach / math.Sqrt(n) * float64(i) / steps
		half[i] = rootBetween(func(r float64) float64 { return normalCDF(z+r) - normalCDF(z-r) }, share, 0, z+10)
	}
	f := func(k float64) float64 {
		i := -1
		return 2 * simpson(func(u float64) float64 {
			i = int(math.Round(u / reach * steps))
			return chi.Survival((n-1)*half[i]*half[i]/(k*k)) * math.Exp(-u*u/2) / math.Sqrt(2*math.Pi)
		}, 0, reach, steps)
	}
	high := 10.0
	for f(high) < confidence {
		high *= 2
	}
	return rootBetween(f, confidence, 1e-6, high)
}

// CapabilityBound returns the lower bound of a one-sided capability (Cpu or Cpl) that
// holds with a confidence, from n readings:
//
//	t(3·√n·Cp; n-1, 3·√n·bound) = confidence
//
// N is 2 or more. It is exact for normal readings.
//
// Source: distribution of (limit - mean)/s, a noncentral t.
func CapabilityBound(capability, n, confidence float64) float64 {
	if !(n >= 2) || !(confidence > 0 && confidence < 1) || !finite(capability) {
		return math.NaN()
	}
	root := 3 * math.Sqrt(n)
	// The probability falls as the bound rises.
	rising := func(bound float64) float64 { return -NoncentralT(capability*root, n-1, bound*root) }
	width := 10 * (1 + math.Abs(capability))
	return rootBetween(rising, -confidence, capability-width, capability+width)
}
