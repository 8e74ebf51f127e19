package filler

import (
	"math"
	"slices"
)

// ConstantMassRule says when a powder counts as dry: two weighings at least
// MinGapS apart that differ by less than MaxChange of the mass.
type ConstantMassRule struct{ MinGapS, MaxChange float64 }

// UsualConstantMass is 0.1 % in 30 min (common practice).
var UsualConstantMass = ConstantMassRule{MinGapS: 30 * 60, MaxChange: 0.001}

// ConstantMassOutcome says how a log stands against a ConstantMassRule.
type ConstantMassOutcome int

// MassStillChanges and those below it are the outcomes.
const (
	MassStillChanges  ConstantMassOutcome = iota // weigh again later
	MassConstant                                 // dry by the rule
	MassWeighedTooNow                            // no weighing lies far enough before the last one
	MassNotKnown                                 // fewer than two usable rows
	MassTooCoarse                                // the scale does not see a change that small
)

// ConstantMass is what CheckConstantMass finds.
type ConstantMass struct {
	Outcome       ConstantMassOutcome
	Earlier, Last int     // indices of the rows compared; -1 when there are none
	GapS          float64 // time between them
	Change        float64 // mass of the last less that of the earlier row, per mass of the last
}

// CheckConstantMass compares the last row in time with the latest one that is at
// least MinGapS before it. Rows that are not numbers are left aside. resolutionKg
// is the step of the scale, 0 where it is not known: two masses that are the same
// to MaxChange by a scale of larger steps give MassTooCoarse.
//
// A rule on the rate alone is met early by a powder that dries slowly: compare
// Aitken, which says where the mass ends.
//
// Source: common practice of oven drying.
func CheckConstantMass(rows []Weighing, rule ConstantMassRule, resolutionKg float64) ConstantMass {
	order := usableByTime(rows)
	if len(order) < 2 {
		return ConstantMass{Outcome: MassNotKnown, Earlier: -1, Last: -1}
	}
	last := order[len(order)-1]
	found := ConstantMass{Outcome: MassWeighedTooNow, Earlier: -1, Last: last}
	for k := len(order) - 2; k >= 0; k-- {
		gap := rows[last].TimeS - rows[order[k]].TimeS
		if gap > 0 && gap >= rule.MinGapS {
			found.Earlier, found.GapS = order[k], gap
			found.Change = (rows[last].MassKg - rows[order[k]].MassKg) / rows[last].MassKg
			found.Outcome = MassStillChanges
			switch {
			case math.Abs(found.Change) >= rule.MaxChange:
			case resolutionKg > rule.MaxChange*rows[last].MassKg*(1+1e-9):
				found.Outcome = MassTooCoarse
			default:
				found.Outcome = MassConstant
			}
			break
		}
	}
	return found
}

// usableByTime returns the indices of the usable rows, earliest first.
func usableByTime(rows []Weighing) []int {
	order := make([]int, 0, len(rows))
	for i, r := range rows {
		if r.usable() {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, byTime(rows))
	return order
}

// AitkenOutcome says whether a final mass could be extrapolated.
type AitkenOutcome int

// AitkenFound and those below it are the outcomes.
const (
	AitkenFound        AitkenOutcome = iota
	AitkenNoTriple                   // no three weighings at equal gaps end at the last one
	AitkenNotShrinking               // the mass does not fall less and less
)

// SpacingTolerance is the share of the gap by which two gaps may differ and
// still count as equal (own judgement).
const SpacingTolerance = 0.05

// FinalMass is the extrapolation of three weighings at equal gaps.
type FinalMass struct {
	Outcome AitkenOutcome
	MassKg  float64 // the mass that is tended to; 0 unless found
	Gain    float64 // standard uncertainty of MassKg per that of a single weighing, from 1
	Rows    [3]int  // indices of the rows used; those of the least hopeless triple when not found, or -1
}

// Aitken extrapolates the mass from three weighings at equal gaps, in order of
// time:
//
//	m_∞ = m_3 - (m_3 - m_2)²/((m_3 - m_2) - (m_2 - m_1))
//
// It is exact for an exponential, Lewis's law; for Page's law with n above 1 it
// comes out too low a little, below 1 too high. AitkenNotShrinking when the mass
// rises, or the second loss is not less than the first.
//
// Source: Aitken, Proc. R. Soc. Edinb. 46 (1926) 289 (from memory, confirm).
func Aitken(m1, m2, m3 float64) FinalMass {
	first, second := m2-m1, m3-m2
	none := FinalMass{Outcome: AitkenNotShrinking, Rows: [3]int{-1, -1, -1}}
	if !positive(m1) || !positive(m2) || !positive(m3) || second > 0 || second < 0 && !(first < second) || first > 0 {
		return none
	}
	q := 0.0 // loss over curvature, 0 when nothing was lost in the second gap
	if second < 0 {
		q = second / (second - first)
	}
	mass := m3 - second*q
	if !positive(mass) {
		return none
	}
	// the derivatives by m_1, m_2 and m_3
	gain := math.Sqrt(q*q*q*q + 4*q*q*(1-q)*(1-q) + (1-q)*(1-q)*(1-q)*(1-q))
	return FinalMass{MassKg: mass, Gain: gain, Rows: none.Rows}
}

// AitkenOfLog looks for three rows at gaps that are equal within tolerance
// (SpacingTolerance) of which the last in time is the last row, and takes the
// triple with the least Gain. Rows that are not numbers are left aside. Without
// a triple that shrinks the outcome tells why.
func AitkenOfLog(rows []Weighing, tolerance float64) FinalMass {
	best := FinalMass{Outcome: AitkenNoTriple, Rows: [3]int{-1, -1, -1}}
	order := usableByTime(rows)
	if len(order) < 3 {
		return best
	}
	last := order[len(order)-1]
	for _, middle := range order[1 : len(order)-1] {
		gap := rows[last].TimeS - rows[middle].TimeS
		first, ok := rowNear(rows, order, rows[middle].TimeS-gap, tolerance*gap)
		if !ok || !(gap > 0) {
			continue
		}
		found := Aitken(rows[first].MassKg, rows[middle].MassKg, rows[last].MassKg)
		found.Rows = [3]int{first, middle, last}
		if betterTriple(found, best) {
			best = found
		}
	}
	return best
}

// betterTriple prefers what was found, and of it the least gain.
func betterTriple(a, b FinalMass) bool {
	if a.Outcome == AitkenFound && b.Outcome == AitkenFound {
		return a.Gain < b.Gain
	}
	return a.Outcome == AitkenFound || b.Outcome == AitkenNoTriple
}

// rowNear returns the row whose time is nearest to timeS, if it is within
// toleranceS.
func rowNear(rows []Weighing, order []int, timeS, toleranceS float64) (int, bool) {
	k, _ := slices.BinarySearchFunc(order, timeS, func(i int, t float64) int {
		if rows[i].TimeS < t {
			return -1
		}
		return 1
	})
	nearest, distance := -1, math.Inf(1)
	for _, k := range []int{k - 1, k} {
		if k >= 0 && k < len(order) && math.Abs(rows[order[k]].TimeS-timeS) < distance {
			nearest, distance = order[k], math.Abs(rows[order[k]].TimeS-timeS)
		}
	}
	return nearest, distance <= toleranceS*(1+1e-9)
}
