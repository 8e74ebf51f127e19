package blend

import "math"

// Physical constants.
const (
	WaterMolarMassKgMol = 0.018015    // standard atomic weights
	GasConstantJMolK    = 8.314462618 // exact since the SI of 2019, cut off here
)

// ToWeigh returns what to put on the scale to get dryKg of dry powder, and the
// water that comes with it:
//
//	m = m_dry/(1 - M),  water = m·M
//
// M is the moisture on the wet basis, from 0 to below 1; NaN outside.
//
// Source: definition of the wet basis.
func ToWeigh(dryKg, moistureWetBasis float64) (weighKg, waterKg float64) {
	weighKg = dryKg / remaining(moistureWetBasis)
	return weighKg, weighKg - dryKg
}

// remaining returns 1 - loss, and NaN when nothing would remain.
func remaining(loss float64) float64 {
	if !(loss < 1) {
		return math.NaN()
	}
	return 1 - loss
}

// WetToDry turns water per wet mass, from 0 to below 1, into water per dry
// mass: m/(1 - m). NaN from 1 on.
func WetToDry(m float64) float64 { return m / remaining(m) }

// DryToWet turns water per dry mass, from 0, into water per wet mass: m/(1 +
// m).
func DryToWet(m float64) float64 { return m / (1 + m) }

// VapourVolume returns the volume in m³ that waterKg of water takes up as an
// ideal gas at tempK and pressurePa:
//
//	V = (m/M_water)·R·T/p
//
// Source: ideal gas law.
func VapourVolume(waterKg, tempK, pressurePa float64) float64 {
	return waterKg / WaterMolarMassKgMol * GasConstantJMolK * tempK / pressurePa
}

// LetDown returns the mass share of masterbatch that brings the filler content
// to target, and the ratio of resin to masterbatch, when the masterbatch holds
// masterbatch of filler and the let-down resin already resin:
//
//	share = (w_target - w_resin)/(w_masterbatch - w_resin),  ratio = (1 - share)/share
//
// ok is false, and both are 0, unless 0 <= resin < target < masterbatch <= 1.
// What else the masterbatch holds (carrier, oil) comes along in the same share.
//
// Source: mass balance.
func LetDown(target, masterbatch, resin float64) (share, ratio float64, ok bool) {
	if !(0 <= resin && resin < target && target < masterbatch && masterbatch <= 1) {
		return 0, 0, false
	}
	share = (target - resin) / (masterbatch - resin)
	return share, (masterbatch - target) / (target - resin), true
}

// Charge returns the mass in kg to put in to get targetKg of good strand:
//
//	(m_target + m_fixed)/(1 - loss)
//
// fixedLossKg is lost once per run (start-up, hopper heel, purge),
// proportionalLoss is the share of the charge that is trimmed, spilt or off
// size, from 0 to below 1; NaN from 1 on.
//
// Source: mass balance.
func Charge(targetKg, fixedLossKg, proportionalLoss float64) float64 {
	return (targetKg + fixedLossKg) / remaining(proportionalLoss)
}

// ThroughStages returns the mass in kg to start with so that kg are left after
// stages with the given yields, each above 0 and up to 1:
//
//	m/(Y_1·Y_2·…)
//
// Source: mass balance.
func ThroughStages(kg float64, yields ...float64) float64 {
	for _, yield := range yields {
		kg /= yield
	}
	return kg
}

// PowderAfterLoss returns the powder content of a blend mixed with content w
// (from 0 to 1) of whose powder alone the share loss (from 0 to below 1) was
// lost as dust:
//
//	w·(1 - l)/(1 - w·l)
//
// Source: mass balance.
func PowderAfterLoss(w, loss float64) float64 { return w * (1 - loss) / (1 - w*loss) }

// PowderToSet returns the powder content to mix so that w is left after the
// loss of PowderAfterLoss, whose inverse it is:
//
//	w/(1 - l + w·l)
//
// Source: mass balance.
func PowderToSet(w, loss float64) float64 { return w / (1 - loss + w*loss) }

// WeighingError returns the largest relative error from the resolution d of a
// scale that shows a mass m: d/(2m). It is 0 when there is nothing to weigh.
// Warn above 0.005.
//
// Source: half a step of the display.
func WeighingError(massKg, resolutionKg float64) float64 {
	if massKg <= 0 {
		return 0
	}
	return resolutionKg / (2 * massKg)
}
