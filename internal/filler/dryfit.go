package filler

import (
	"errors"
	"fmt"
	"math"

	"fillwright/internal/stat"
)

// ExponentLow and ExponentHigh are the ends of the range in which a fit keeps the
// exponent n of Page's law (own judgement; plant powders in thin layers lie between
// about 0.7 and 1.6).
const (
	ExponentLow  = 0.2
	ExponentHigh = 4.0
)

// openLeft and openWidth say when the end of a curve counts as open (own judgement):
// more than this share of the water was still to go at the last row, or the half
// width of the interval of m_e is more than this share of the water.
const (
	openLeft  = 0.2
	openWidth = 0.1
)

// leastLeft is the least share of the lightest weighing that m_e may be: nothing
// holds more than 99 % of water and still counts as powder (own judgement).
const leastLeft = 0.01

// DryingOptions is what is known beside the log.
type DryingOptions struct {
	FinalKg      float64 // m_e where it is known, such as dry mass times 1 + M_e; 0: fitted
	ResolutionKg float64 // step of the scale; 0: not known
}

// DryingErrorKind says why a log gives no curve.
type DryingErrorKind int

// DryingBadRow and those below it are the kinds.
const (
	DryingBadRow        DryingErrorKind = iota // Row: time negative or missing, or mass not above 0
	DryingTooFewRows                           // Have rows at different times, Need of them
	DryingBadFinal                             // the given final mass is not above 0, or not below the first weighing
	DryingNotSeen                              // the mass does not fall
	DryingNotIdentified                        // the rows do not determine the curve
	DryingNotConverged                         // the search for the curve did not settle
)

// DryingError says why a log gives no curve.
type DryingError struct {
	Kind       DryingErrorKind
	Row        int // DryingBadRow: index of the row
	Have, Need int // DryingTooFewRows
}

// Error is for developers; people read texts made from the fields.
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

// FitDrying fits a law to a drying log by least squares of the masses:
//
//	m(t) = m_e + (m_0 - m_e)·exp(-(t/τ)^n)
//
// over m_0, ln τ, m_e unless it is given, and n for Page's law, kept between
// ExponentLow and ExponentHigh. All weighings count alike. Rows may come in any
// order and at equal times. As many rows as parameters give a curve without
// intervals: Lewis 3, Page 4, one less where m_e is given.
//
// The errors are *DryingError. A curve may come with a flag instead: OpenEnd
// when m_e was fitted and ran down to a hundredth of the lightest weighing, or
// more than a fifth of the water was still to go at the last row, or m_e is
// known to no better than a tenth of the water only. ExponentEnd when n ended on
// an end of its range. The variance of a parameter that ran to an end is +Inf,
// so that nothing that hangs on it has an interval.
//
// Source: stat.LeastSquares; laws of Lewis 1921 and Page 1949 (from memory,
// confirm).
func FitDrying(rows []Weighing, law DryingLaw, o DryingOptions) (DryingCurve, error) {
	l, err := readLog(rows, law, o)
	if err != nil {
		return DryingCurve{}, err
	}
	start, ok := l.scaled.start(law)
	if !ok {
		return DryingCurve{}, &DryingError{Kind: DryingNotSeen}
	}
	fit, err := stat.LeastSquares(l.scaled.problem(start, law))
	switch {
	case errors.Is(err, stat.ErrSingular), err == nil && !l.scaled.determined(fit.Params, law):
		return DryingCurve{}, &DryingError{Kind: DryingNotIdentified}
	case errors.Is(err, stat.ErrNotConverged) && !l.scaled.determined(fit.Params, law): // it ran away
		return DryingCurve{}, &DryingError{Kind: DryingNotIdentified}
	case err != nil:
		return DryingCurve{}, &DryingError{Kind: DryingNotConverged}
	}
	return l.curve(fit, law)
}

// determined tells whether there are as many different times as ln τ and n need
// at which the curve is on its way: neither all nor nothing of the water is
// gone, within a ten-thousandth. In rows that are exact a fit finds meaning in
// less.
func (l *scaledLog) determined(params []float64, law DryingLaw) bool {
	const whole = 1e-4
	count, before := 0, math.Inf(-1)
	for _, lt := range l.logTime {
		share, _, _ := pageShare(lt-params[atLogTau], params[atExponent])
		if lt != before && share > whole && share < 1-whole {
			count++
		}
		before = lt
	}
	return count >= parametersOf(law, true)-1
}

// problem is the fit of a curve as stat sees it.
func (l *scaledLog) problem(g guess, law DryingLaw) stat.Problem {
	p := stat.Problem{
		Model:    l.model,
		Slopes:   l.slopes,
		Observed: l.mass,
		Start:    []float64{atInitial: g.initial, atFinal: g.final, atLogTau: g.logTau, atExponent: g.n},
		Lower:    []float64{math.Inf(-1), l.least, math.Inf(-1), ExponentLow},
		Upper:    []float64{math.Inf(1), math.Inf(1), math.Inf(1), ExponentHigh},
	}
	if l.given {
		p.Upper[atFinal] = l.least
	}
	if law == Lewis {
		p.Lower[atExponent], p.Upper[atExponent] = 1, 1
	}
	return p
}

// model is the masses on the curve of some parameters.
func (l *scaledLog) model(params, y []float64) {
	for i, lt := range l.logTime {
		share, _, _ := pageShare(lt-params[atLogTau], params[atExponent])
		y[i] = params[atFinal] + (params[atInitial]-params[atFinal])*share
	}
}

// slopes are the derivatives of model by its parameters.
func (l *scaledLog) slopes(params []float64, slopes [][]float64) {
	water := params[atInitial] - params[atFinal]
	for i, lt := range l.logTime {
		share, byLogTau, byExponent := pageShare(lt-params[atLogTau], params[atExponent])
		slopes[atInitial][i] = share
		slopes[atFinal][i] = 1 - share
		slopes[atLogTau][i] = water * byLogTau
		slopes[atExponent][i] = water * byExponent
	}
}

// readLog checks a log and brings it into units of its own.
func readLog(rows []Weighing, law DryingLaw, o DryingOptions) (*dryingLog, error) {
	for i, r := range rows {
		if !r.usable() {
			return nil, &DryingError{Kind: DryingBadRow, Row: i}
		}
	}
	l := &dryingLog{order: usableByTime(rows), rows: rows}
	given := o.FinalKg != 0
	if have, need := l.times(), parametersOf(law, given); have < need {
		return nil, &DryingError{Kind: DryingTooFewRows, Have: have, Need: need}
	}
	first, last := rows[l.order[0]], rows[l.order[len(l.order)-1]]
	if given && !(o.FinalKg > 0 && o.FinalKg < first.MassKg) {
		return nil, &DryingError{Kind: DryingBadFinal}
	}
	if !(first.MassKg-last.MassKg > max(o.ResolutionKg, 0)) {
		return nil, &DryingError{Kind: DryingNotSeen}
	}
	l.scale(o)
	return l, nil
}
