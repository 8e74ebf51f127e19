package filler

import "math"

// NeededAperture returns the width in m of the smallest square aperture that an
// ellipsoidal grain passes, end on, by its two smaller axes:
//
//	a = √((b² + c²)/2)
//
// b is the second largest and c the smallest axis. The longest does not
// matter, and so a sieve says nothing of the length of needles. A flake with c
// far below b passes an aperture of 0.71·b on the diagonal.
//
// Source: an ellipse turned by 45° in a square; held against turning it.
func NeededAperture(secondM, smallestM float64) float64 {
	return math.Hypot(secondM, smallestM) / math.Sqrt2
}

// LongestGrain returns the length in m that a grain may have which passed an
// aperture: L = AR·a·k. aspectRatio is length over second axis, 1 or more.
// flatness is k, 1 for round cross-sections to 1.41 for thin flakes.
//
// Source: NeededAperture turned round.
func LongestGrain(apertureM, aspectRatio, flatness float64) float64 {
	return aspectRatio * apertureM * flatness
}

// GrainsBetweenJams returns the mean number of dry grains that leave a silo
// between two jams:
//
//	<s> = A/(R_c - R)^γ, R_c = 4.94, γ = 6.9, A = 9900
//
// boreRatio is R, bore over grain, above 0. +Inf from R_c on. For spheres
// without melt: melt carries grains apart, and the true risk in a nozzle is
// lower. Use it to order powders, not to count.
//
// Source: Zuriguel and others, Phys. Rev. E 71 (2005) 051303 (constants from
// memory, confirm).
func GrainsBetweenJams(boreRatio float64) float64 {
	if boreRatio >= 4.94 {
		return math.Inf(1)
	}
	return 9900 / math.Pow(4.94-boreRatio, 6.9)
}

// JamRisk orders how likely grains bridge a bore together.
type JamRisk int

// The risks, by bore over grain size.
const (
	JamUnlikely JamRisk = iota // above 6
	JamPossible                // 3 to 6
	JamLikely                  // below 3
)

// JamRiskOf returns the risk that grains of a size bridge a bore. Both above 0.
//
// Source: common practice; no tested threshold was found.
func JamRiskOf(boreM, grainM float64) JamRisk {
	switch ratio := boreM / grainM; {
	case ratio < 3:
		return JamLikely
	case ratio <= 6:
		return JamPossible
	}
	return JamUnlikely
}

// DefaultCriticalParts is bore over critical size where nothing else is said:
// a grain above a third of the bore counts as critical (common practice, not
// tested anywhere that was read; a setting).
const DefaultCriticalParts = 3

// SieveVerdict says what a sieve does about critical grains.
type SieveVerdict int

// What a sieve does about critical grains.
const (
	KeepsBackCritical    SieveVerdict = iota // every grain that may legally pass is at most critical
	MayPassCritical                          // nominal apertures keep critical grains back, the widest legal ones do not
	PassesCriticalByPlan                     // its nominal opening is above the critical size
)

// SieveForNozzle is how a sieve and a nozzle go together.
type SieveForNozzle struct {
	Verdict          SieveVerdict
	CriticalM        float64 // bore/criticalParts
	LargestApertureM float64
	AboveBore        bool // the largest legal grain is wider than the bore itself
	Practice         bool // the opening is within common practice for the bore
}

// practiceRatio is opening over bore up to which powder is commonly used: a 60
// mesh sieve, 0.25 mm, for a nozzle of 0.4 mm (common practice).
const practiceRatio = 0.25 / 0.4

// CheckSieve holds the largest grains that pass a sieve against a nozzle. It
// is about the second largest dimension of a grain; see NeededAperture. All
// arguments are above 0; criticalParts is bore over critical size.
//
// Source: definition; see LargestAperture.
func CheckSieve(openingM, boreM, criticalParts float64) SieveForNozzle {
	check := SieveForNozzle{
		Verdict:          KeepsBackCritical,
		CriticalM:        boreM / criticalParts,
		LargestApertureM: LargestAperture(openingM),
		Practice:         openingM <= practiceRatio*boreM*(1+atSize),
	}
	check.AboveBore = check.LargestApertureM > boreM*(1+atSize)
	limit := check.CriticalM * (1 + atSize)
	switch {
	case openingM > limit:
		check.Verdict = PassesCriticalByPlan
	case check.LargestApertureM > limit:
		check.Verdict = MayPassCritical
	}
	return check
}
