package filler

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Range in which a fit keeps the exponent n of Page's law (own judgement; plant
// powders in thin layers lie between about 0.7 and 1.6).
const (
	ExponentLow  = 0.2
	ExponentHigh = 4.0
)

// DryingOptions is what is known beside the log.
type DryingOptions struct {
	FinalKg      float64 // m_e where it is known, such as dry mass times 1 + M_e; 0: fitted
	ResolutionKg float64 // step of the scale; 0: not known
}

// DryingErrorKind says why a log gives no curve.
type DryingErrorKind int

// The kinds.
const (
	DryingBadRow        DryingErrorKind = iota // Row: time negative or missing, or mass not above 0
	DryingTooFewRows                           // Have rows at different times, Need of them
	DryingBadFinal                             // the given final mass is not above 0, or not below the first weighing
	DryingNotSeen                              // the mass does not fall
	DryingNotIdentified                        // the rows do not determine the curve
	DryingNotConverged                         // the fit ran out of steps
)

// DryingError says why a log gives no curve.
type DryingError struct {
	Kind       DryingErrorKind
	Row        int // DryingBadRow: index of the row
	Have, Need int // DryingTooFewRows
}

// Error is for the log of a developer; people read texts made from the fields.
func (e *DryingError) Error() string { return fmt.Sprintf("filler: no drying curve: %+v", *e) }

// parametersOf counts what a fit has to find, and so the rows that it needs.
func parametersOf(law DryingLaw, finalGiven bool) int {
	n := 3
	if law == Page {
		n++
	}
	if finalGiven {
		n--
	}
	return n
}

// FitDrying fits one law to a drying log.
func FitDrying(rows []Weighing, law DryingLaw, o DryingOptions) (DryingCurve, error) {
	return DryingCurve{}, &DryingError{Kind: DryingNotConverged} // the solver comes next
}

func student95(degreesOfFreedom int) float64 {
	if degreesOfFreedom < 1 {
		return math.NaN()
	}
	return distuv.StudentsT{Sigma: 1, Nu: float64(degreesOfFreedom)}.Quantile(0.975)
}
