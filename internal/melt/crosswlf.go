package melt

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

// CrossWLF is a viscosity that falls with temperature and with shear:
//
//	η0 = D1·exp(-A1·(T - D2)/(A2 + T - D2))
//	η  = η0/(1 + (η0·γ̇/τ*)^(1 - n))
//
// Its methods give NaN for n outside 0 to 1 (both out), for τ*, D1 or A2 that
// are not above 0, and for temperatures at which A2 + T - D2 is not.
type CrossWLF struct {
	N      float64 // slope of ln τ over ln γ̇ at high shear
	TauPa  float64 // τ*, the stress about which thinning begins
	D1PaS  float64 // η0 at D2
	D2K    float64
	A1     float64
	A2K    float64
	GlassK float64 // glass transition, for WithinRange
	MaxK   float64 // the hottest melt that the constants are for
}

// GenericPLA is PLA of an extrusion grade of middling flow. Doubtful in origin:
// from memory, and found in no source that was read. It predicts 4.2 g/10 min at
// 210 °C and 2.16 kg where a grade of 180 kg/mol has 6 by its data sheet, 30 %
// less; so ScaleTo a measured rate before use.
var GenericPLA = CrossWLF{
	N: 0.25, TauPa: 1.00861e5,
	D1PaS: 3.31719e9, D2K: 373.15, A1: 20.194, A2K: 51.6,
	GlassK: 333.15, MaxK: 503.15,
}

// aboveGlassK is how far above the glass transition the law begins to hold.
const aboveGlassK = 100

// WithinRange reports whether the law may be used at tempK: more than 100 K
// above the glass transition and up to MaxK, for GenericPLA 160 to 230 °C. Below,
// a semi-crystalline polymer is no melt.
//
// Source: common practice.
func (c CrossWLF) WithinRange(tempK float64) bool {
	return tempK > c.GlassK+aboveGlassK && tempK <= c.MaxK
}

// ZeroShear returns the viscosity η0 in Pa s at rest, at tempK. See WithinRange.
//
// Source: Williams, Landel and Ferry 1955, in the form of flow simulations (from
// memory, confirm).
func (c CrossWLF) ZeroShear(tempK float64) float64 {
	above := tempK - c.D2K
	if !(c.N > 0 && c.N < 1 && c.TauPa > 0 && c.D1PaS > 0 && c.A2K > 0 && c.A2K+above > 0) {
		return math.NaN()
	}
	return c.D1PaS * math.Exp(-c.A1*above/(c.A2K+above))
}

// Viscosity returns η in Pa s at tempK and a shear rate γ̇ in 1/s, from 0.
//
// Source: Cross, J. Colloid Sci. 20 (1965) 417 (from memory, confirm).
func (c CrossWLF) Viscosity(tempK, shearRate float64) float64 {
	rest := c.ZeroShear(tempK)
	return rest / (1 + math.Pow(rest*shearRate/c.TauPa, 1-c.N))
}

// TemperatureFactor returns by what factor the flow changes from fromK to toK at
// the same stress:
//
//	η0(from)/η0(to)
//
// exactly, for at a given stress γ̇ of the Cross law is τ*/η0 times a function of
// τ/τ* alone. The alternative without these constants is ArrheniusFactor; about
// 200 °C GenericPLA has an activation energy of 85 kJ/mol.
//
// Source: as CrossWLF.
func (c CrossWLF) TemperatureFactor(fromK, toK float64) float64 {
	return c.ZeroShear(fromK) / c.ZeroShear(toK)
}

// ShearRate returns γ̇ in 1/s at which the melt is under the shear stress, in Pa,
// from 0:
//
//	τ = η(γ̇)·γ̇,  with x = η0·γ̇/τ*:  τ/τ* = x/(1 + x^(1 - n))
//
// which has no closed form for x but rises with it.
//
// Source: as Viscosity; solved by Newton's method on the logarithms.
func (c CrossWLF) ShearRate(tempK, stressPa float64) float64 {
	return c.TauPa / c.ZeroShear(tempK) * math.Exp(c.logShear(stressPa))
}

// logShear returns y = ln x for a stress. ln(τ/τ*) = y - ln(1 + e^((1-n)y)) rises
// with y and bends downwards, so that from below each of Newton's steps stays
// below the root and none goes astray; the start is the nearer of the two
// asymptotes, both below.
func (c CrossWLF) logShear(stressPa float64) float64 {
	target := math.Log(stressPa / c.TauPa)
	if math.IsNaN(target) || math.IsInf(target, 0) {
		return target
	}
	bend := 1 - c.N
	y := max(target, target/c.N)
	for range 60 {
		thinned := math.Exp(-bend * math.Abs(y))
		slope := 1 - bend*upperShare(y, thinned)
		step := (target - y + max(bend*y, 0) + math.Log1p(thinned)) / slope
		y += step
		if math.Abs(step) <= 1e-14*max(1, math.Abs(y)) {
			break
		}
	}
	return y
}

// upperShare is V/(1 + V) for ln V of the sign of y, and small = e^-|ln V|.
func upperShare(y, small float64) float64 {
	if y > 0 {
		return 1 / (1 + small)
	}
	return small / (1 + small)
}

// Flow returns the flow in m³/s through a die at the shear stress in Pa at its
// wall:
//
//	Q = π·R³/τ_w³·∫ τ²·γ̇(τ) dτ over 0 to τ_w
//
// Without stress nothing flows. Entrance losses are not in it, see WallStress.
//
// With τ in units of its value at the wall, s, and γ̇ likewise, v, integration by
// parts leaves
//
//	Q = π·R³/3·γ̇_w·(1 - ∫ s(v)³ dv over 0 to 1)
//
// which needs γ̇(τ) once only. The quadrature, over v = w⁴ where the integrand is
// smooth, is good to 1e-10.
//
// Source: Rabinowitsch 1929, for any law of viscosity without slip at the wall.
func (c CrossWLF) Flow(tempK, stressPa float64, die Die) float64 {
	r := die.DiameterM / 2
	return math.Pi * r * r * r / 3 * c.ShearRate(tempK, stressPa) * (1 - c.cubeMean(stressPa))
}

// cubeMean is ∫ s(v)³ dv over 0 to 1: 1/4 for a melt that does not thin and 1/(3n
// + 1) for one that follows a power law. s = v/(1 - W + W·v^(1-n)) with W =
// V/(1 + V) and V = x_w^(1-n).
func (c CrossWLF) cubeMean(stressPa float64) float64 {
	bend := 1 - c.N
	y := c.logShear(stressPa)
	share := upperShare(y, math.Exp(-bend*math.Abs(y)))
	sum := 0.0
	for _, p := range nodes() {
		s := p.v / (1 - share + share*math.Exp(bend*p.logV))
		sum += p.weight * s * s * s
	}
	return sum
}

// node is a place v between 0 and 1, and how much it counts.
type node struct{ v, logV, weight float64 }

// nodes are those of Gauss and Legendre in w, v = w⁴.
var nodes = sync.OnceValue(func() []node {
	const n = 40
	var at, weight [n]float64
	quad.Legendre{}.FixedLocations(at[:], weight[:], 0, 1)
	list := make([]node, n)
	for i, w := range at {
		list[i] = node{v: w * w * w * w, logV: 4 * math.Log(w), weight: weight[i] * 4 * w * w * w}
	}
	return list
})

// FlowConditions are those of a melt-flow test; all above 0.
type FlowConditions struct{ TempK, LoadKg, MeltDensityKgM3 float64 }

// MeltFlowRate returns the melt-flow rate in kg/s that the law predicts for the
// standard die and piston.
//
// Source: Flow at WallStress.
func (c CrossWLF) MeltFlowRate(at FlowConditions) float64 {
	return at.MeltDensityKgM3 * c.Flow(at.TempK, StandardDie.WallStress(at.LoadKg, PistonM), StandardDie)
}

// ScaleTo returns the law with the D1 that makes MeltFlowRate give the rate in
// kg/s, above 0, that was measured at the conditions; what it says of temperature
// and shear stays. At a given stress the flow is as 1/D1, so that
//
//	D1' = D1·MeltFlowRate/measured
//
// without a search. It returns false, with the law as it was, when the
// temperature is not WithinRange, or the outcome is not a number above 0.
//
// Source: as TemperatureFactor.
func (c CrossWLF) ScaleTo(measuredKgS float64, at FlowConditions) (CrossWLF, bool) {
	scaled := c
	scaled.D1PaS = c.D1PaS * c.MeltFlowRate(at) / measuredKgS
	if !c.WithinRange(at.TempK) || !(scaled.D1PaS > 0) || math.IsInf(scaled.D1PaS, 1) {
		return c, false
	}
	return scaled, true
}
