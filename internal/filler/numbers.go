package filler

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
)

// Grain turns a size into a mass: ρ·k_v·x³.
type Grain struct {
	DensityKgM3  float64 // of the grain with its closed pores, above 0
	VolumeFactor float64 // k_v, above 0: π/6 for spheres, about 0.3 to 0.4 for chips (from memory, confirm)
}

// Sphere returns a spherical grain, k_v = π/6.
func Sphere(densityKgM3 float64) Grain { return Grain{densityKgM3, math.Pi / 6} }

// MassKg returns the mass in kg of a grain of the size.
func (g Grain) MassKg(sizeM float64) float64 {
	return g.DensityKgM3 * g.VolumeFactor * sizeM * sizeM * sizeM
}

// numberAbove is the number of grains above sizeM per kg, all of them for a size
// of 0 or less:
//
//	N = exp(4.5·s²)/(ρ·k_v·x50³)·Φ(-(ln(x/x50) + 3s²)/s),  s = ln GSD
//
// Source: Hatch and Choate, J. Franklin Inst. 207 (1929) 369 (from memory,
// confirm); the closed form is held against quadrature.
func (l LogNormal) numberAbove(sizeM float64, g Grain) float64 {
	s := l.s()
	return math.Exp(4.5*s*s+logUpperTail(l.numberScore(sizeM))) / g.MassKg(l.MedianM)
}

// NumberBetween is as in SizeLaw, the difference of two counts in closed form.
func (l LogNormal) NumberBetween(sizeM, topM float64, g Grain) float64 {
	if !(topM > max(sizeM, 0)) {
		return 0
	}
	return through(max(l.numberAbove(sizeM, g)-l.numberAbove(topM, g), 0), l.Passing(topM), topM, g)
}

// through counts per kg that went through. Where no mass of the law lies below
// the top, what goes through lies just below it.
func through(number, passing, topM float64, g Grain) float64 {
	if passing == 0 {
		return 1 / g.MassKg(topM)
	}
	return number / passing
}

// numberScore is how many standard deviations ln x lies above the median by
// number.
func (l LogNormal) numberScore(sizeM float64) float64 {
	if !(sizeM > 0) {
		return math.Inf(-1)
	}
	return math.Log(sizeM/l.MedianM)/l.s() + 3*l.s()
}

// logUpperTail returns ln(1 - Φ(z)), which 1 - Φ(z) itself is too small for
// beyond z of 38.
func logUpperTail(z float64) float64 {
	if z < 30 {
		return math.Log(normalCDF(-z))
	}
	w := 1 / (z * z)
	return -z*z/2 - math.Log(z*math.Sqrt(2*math.Pi)) + math.Log1p(-w*(1-3*w))
}

// NumberBetween is as in SizeLaw:
//
//	N = (Γ(1 - 3/n, (x/x')^n) - Γ(1 - 3/n, (top/x')^n))/(ρ·k_v·x'³)/P(top)
//
// Γ is the upper incomplete gamma function. For n of 3 or less the number of
// fine grains has no end: +Inf at a size of 0 or less.
//
// Source: the integral of SizeLaw.NumberBetween, with z = (y/x')^n.
func (l RRSB) NumberBetween(sizeM, topM float64, g Grain) float64 {
	if !(topM > max(sizeM, 0)) {
		return 0
	}
	number := gammaBetween(1-3/l.Exponent, l.z(max(sizeM, 0)), l.z(topM)) / g.MassKg(l.SizeM)
	return through(number, l.Passing(topM), topM, g)
}

// split is where counting changes from quadrature to the continued fraction,
// which converges above 1 + a and a is below 1.
const split = 2

// gammaBetween returns Γ(a, low) - Γ(a, high), a below 1 and also negative,
// 0 <= low <= high, to a relative 1e-10, or |a|·1e-16 where that is more: so far
// a power a carries the rounding of low.
func gammaBetween(a, low, high float64) float64 {
	a = max(a, -math.MaxFloat64) // 1 - 3/n of the smallest n
	if low == 0 {
		return gammaWhole(a, high)
	}
	sum := 0.0
	if low < split {
		sum = gammaPanels(a, math.Log(low), math.Log(min(high, split)))
		low = split
	}
	if high > low {
		sum += gammaFraction(a, low) - gammaFraction(a, high)
	}
	return max(sum, 0)
}

// gammaWhole returns Γ(a) - Γ(a, high).
func gammaWhole(a, high float64) float64 {
	switch {
	case a <= 0:
		return math.Inf(1)
	case math.IsInf(high, 1):
		return math.Gamma(a)
	}
	return math.Gamma(a) * mathext.GammaIncReg(a, high)
}

// gammaFraction returns Γ(a, z) for z of 2 or more and a below 1, by the
// continued fraction of Legendre in the way of Lentz.
//
// Source: Abramowitz and Stegun 6.5.31 (from memory, confirm).
func gammaFraction(a, z float64) float64 {
	if z > 745 { // exp(-z) is 0
		return 0
	}
	b := z + 1 - a
	c, d := math.Inf(1), 1/b
	h := d
	for i := 1.0; i < 1000; i++ {
		term := -i * (i - a)
		b += 2
		d = 1 / (term*d + b)
		c = b + term/c
		h *= c * d
		if math.Abs(c*d-1) < 1e-15 {
			break
		}
	}
	return math.Exp(-z+a*math.Log(z)) * h
}

// gammaPanels returns ∫ exp(a·v - e^v) dv, which is the integral of Γ over v =
// ln z, in panels short enough that 16 points see nothing but a smooth curve.
// Both factors fall with v where a is below 0, so that what lies above from +
// 45/|a| is less than e^-45 of what lies below, 3e-20; from there on a law with a
// tiny exponent would ask for millions of panels. v is counted from its lower end,
// beside which a step of such a law may be too small for its digits.
func gammaPanels(a, from, to float64) float64 {
	if a > 0 { // what lies below is less than 1e-18 of the whole
		from = max(from, to-45/a)
	}
	length := to - from
	if a < 0 {
		length = min(length, -45/a)
	}
	if length == 0 { // sizes that such a law tells apart no more
		return 0
	}
	rule := legendre()
	panels := math.Ceil(length * max(1, math.Abs(a)/8))
	half := length / panels / 2
	sum := 0.0
	for i := range int(panels) {
		middle := float64(2*i+1) * half
		for k, x := range rule.at {
			u := middle + half*x
			sum += rule.weight[k] * math.Exp(a*u-math.Exp(from+u))
		}
	}
	return sum * half * math.Exp(a*from)
}

// quadrature is where a rule looks between -1 and 1, and how much each place counts.
type quadrature struct{ at, weight []float64 }

// legendre is the rule of Gauss and Legendre with 16 points.
var legendre = sync.OnceValue(func() quadrature {
	rule := quadrature{make([]float64, 16), make([]float64, 16)}
	quad.Legendre{}.FixedLocations(rule.at, rule.weight, -1, 1)
	return rule
})
