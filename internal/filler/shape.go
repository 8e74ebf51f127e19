package filler

// LongestGrain returns the length in m that a grain may have which passed a
// square aperture of apertureM end on, above 0:
//
//	L = AR·a·k
//
// The second largest of its axes decides, so that a sieve says nothing of the
// length of needles. aspectRatio is AR, length over that axis, 1 or more. flatness
// is k, 1 for round cross-sections to √2 for thin flakes, which lie on the diagonal.
//
// Source: an ellipse of axes b and c passes √((b² + c²)/2), turned by 45°.
func LongestGrain(apertureM, aspectRatio, flatness float64) float64 {
	return aspectRatio * apertureM * flatness
}

// DefaultCriticalParts is bore over critical size where nothing else is said:
// a grain above a third of the bore counts as critical (common practice, not
// tested anywhere that was read; a setting).
const DefaultCriticalParts = 3

// SieveVerdict says what a sieve does about critical grains.
type SieveVerdict int

// KeepsBackCritical and those below it are what a sieve does about critical grains.
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
// is about the second largest dimension of a grain; see LongestGrain. All
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
