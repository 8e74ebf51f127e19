package filler

import (
	"math"

	"fillwright/internal/stat"
)

// Oversize is how many grains of a kg of dry powder are above the critical size.
type Oversize struct {
	LikelyPerKg  float64
	LowPerKg     float64 // at least; 0 where nothing keeps it from 0
	HighPerKg    float64 // at most
	OtherSize    bool    // seen at another size, and LikelyPerKg carried over to the critical one
	ApertureLeak bool    // of a sieve: the largest legal aperture of the sieve lets critical grains pass
}

// tailSlope is how steeply the mass above a size falls near the end of a
// powder: as size^-6, 64-fold for each doubling. Own judgement: that is what a
// log-normal of GSD 1.6 does about its upper 2 %. Laws fall faster further out,
// so that the number is on the safe side there.
const tailSlope = 6

// tailFactor is by how much the number from a fitted tail may be wrong either
// way at the least. Own judgement: laws that fit the same sieves equally well
// differ by that much where they reach beyond the coarsest.
const tailFactor = 10

// atSize is how far two sizes may differ, by ratio, and still be the same.
const atSize = 1e-6

// Tail estimates the number above criticalM from fitted laws: LikelyPerKg by the
// one that fits best, the band from all of them at the corners of their
// parameter intervals, and at least a factor of 10 either way. topM is the
// largest legal aperture of a sieve that all powder went through after the
// analysis, +Inf for none. Where it is at most criticalM there are none. The
// most that can be is that all mass lies in grains of criticalM. False when no
// fit has a law, and for sizes that are none.
//
// It is an extrapolation: only a sieve can guarantee anything.
//
// Source: own judgement for the band; SizeLaw.NumberBetween for the number.
func Tail(fits []SizeFit, criticalM, topM float64, g Grain) (Oversize, bool) {
	best, ok := BestFit(fits)
	if !ok || !(criticalM > 0 && topM > 0) {
		return Oversize{}, false
	}
	tail := TailOf(best.Law, criticalM, topM, g)
	low, high, most := tail.LowPerKg, tail.HighPerKg, mostCritical(criticalM, topM, g)
	count := func(l SizeLaw) float64 { return min(l.NumberBetween(criticalM, topM, g), most) }
	for _, fit := range fits {
		for _, law := range fit.laws() {
			low, high = min(low, count(law)), max(high, count(law))
		}
		if fit.Law != nil && !fit.bounded() {
			low, high = 0, most
		}
	}
	tail.LowPerKg, tail.HighPerKg = low, min(high, most)
	return tail, true
}

// TailOf is Tail by one law alone, with its factor of 10 either way: for tables
// of many sizes, where the other laws would take too long.
func TailOf(law SizeLaw, criticalM, topM float64, g Grain) Oversize {
	most := mostCritical(criticalM, topM, g)
	likely := 0.0
	if most > 0 {
		likely = min(law.NumberBetween(criticalM, topM, g), most)
	}
	return Oversize{LikelyPerKg: likely, LowPerKg: likely / tailFactor, HighPerKg: min(likely*tailFactor, most)}
}

// mostCritical is the number per kg of grains that are all just critical; 0 where
// the top is not above them.
func mostCritical(criticalM, topM float64, g Grain) float64 {
	if !(topM > criticalM) {
		return 0
	}
	return MostPerKg(criticalM, g)
}

// Retained bounds the number above criticalM by the mass that a sieve of
// openingM, at most criticalM, kept back: all grains above criticalM are in it,
// and each weighs at least ρ·k_v·x_c³, so there are never more than
//
//	N = f/(ρ·k_v·x_c³)
//
// retained is the fraction f of the powder on the sieve, and resolution the
// fraction that the scale cannot tell from nothing: HighPerKg takes both
// together, which gives a bound even when nothing was found. LowPerKg is 0, as
// all of it may lie in few large grains, or below x_c. LikelyPerKg takes at
// least half of what the scale cannot tell to be there, and the mass to fall as
// size^-6 (own judgement), of which follows N·(opening/x_c)^6·6/9. False for a sieve
// above criticalM, for fractions that are none, and for nothing found by a scale
// of unknown resolution.
//
// Apertures wider than nominal may have let some critical grains pass:
// ApertureLeak says so.
//
// Source: definition of mass and number.
func Retained(retained, resolution, openingM, criticalM float64, g Grain) (Oversize, bool) {
	most := retained + resolution
	if !(retained >= 0 && resolution >= 0 && most > 0 && retained <= 1) {
		return Oversize{}, false
	}
	if !(openingM > 0 && openingM <= criticalM*(1+atSize)) || math.IsInf(criticalM, 1) {
		return Oversize{}, false
	}
	perKg := MostPerKg(criticalM, g)
	share := math.Pow(min(openingM/criticalM, 1), tailSlope) * tailSlope / (tailSlope + 3)
	return Oversize{
		LikelyPerKg:  max(retained, resolution/2) * perKg * share,
		HighPerKg:    min(most, 1) * perKg,
		OtherSize:    openingM < criticalM*(1-atSize),
		ApertureLeak: LargestAperture(openingM) > criticalM*(1+atSize),
	}, true
}

// MostPerKg returns the number of grains in a kg of powder that all have one size
// in m: there cannot be more that are larger. NaN while the density of g is.
func MostPerKg(sizeM float64, g Grain) float64 { return 1 / g.MassKg(sizeM) }

// AtMost returns o held to a bound from above.
func (o Oversize) AtMost(highPerKg float64) Oversize {
	o.LowPerKg, o.LikelyPerKg, o.HighPerKg = min(o.LowPerKg, highPerKg), min(o.LikelyPerKg, highPerKg), min(o.HighPerKg, highPerKg)
	return o
}

// RetainedAbove is Retained for a sieve above criticalM: something on it, which
// retained says, is critical, at least one grain of the sample. False for a sieve
// that is not above criticalM and for nothing on it.
//
//	likely = f·(opening/x_c)^6·6/9/(ρ·k_v·x_c³), high = 1/(ρ·k_v·x_c³)
//
// low is that of one grain found in the sample of sampleKg, as in Counted.
//
// Source: as Retained.
func RetainedAbove(retained, sampleKg, openingM, criticalM float64, g Grain) (Oversize, bool) {
	if !(retained > 0 && retained <= 1 && openingM > criticalM*SameSize) {
		return Oversize{}, false
	}
	most := MostPerKg(criticalM, g)
	o, ok := Counted([]Count{{MassKg: sampleKg, SizeM: openingM, Found: 1}}, criticalM, most)
	if !ok {
		return Oversize{}, false
	}
	share := math.Pow(openingM/criticalM, tailSlope) * tailSlope / (tailSlope + 3)
	o.LikelyPerKg = max(o.LowPerKg, min(retained*share, 1)*most)
	return o, true
}

// BlockChance returns the chance of at least one blockage along a length,
// 1 - exp(-λL). perMetre is λ, 0 or more; grains lie at random.
func BlockChance(perMetre, lengthM float64) float64 { return -math.Expm1(-perMetre * lengthM) }

// CheckMass returns the mass of dry powder in kg in which no more than found critical
// grains may be, to be sure at the given confidence that the chance of a blockage in a
// spool stays below spoolChance:
//
//	m = χ²(confidence, 2n + 2)/2·p_c·m_powder/-ln(1 - spoolChance)
//
// n is found, 0 or more; powderPerSpoolKg is m_powder, the dry powder in a spool, and
// chance is p_c, that a critical grain really blocks. Confidence and spoolChance lie
// between 0 and 1, both out.
//
// Source: Poisson count, as in Counted.
func CheckMass(found int, confidence, chance, powderPerSpoolKg, spoolChance float64) float64 {
	return stat.PoissonUpper(found, confidence) / -math.Log1p(-spoolChance) * chance * powderPerSpoolKg
}
