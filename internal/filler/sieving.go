package filler

import (
	"cmp"
	"math"
	"slices"
)

// SieveMass is what one sieve kept back.
type SieveMass struct {
	OpeningM   float64 // above 0
	RetainedKg float64 // 0 or more
}

// SieveTest is a sieve analysis as it was weighed.
type SieveTest struct {
	Sieves   []SieveMass // in any order
	PanKg    float64     // what passed the finest sieve; NaN: not weighed
	ChargeKg float64     // what was put on the stack; 0 or NaN: not weighed
}

// SieveRow is one sieve of a Sieving. The fractions are of the recovered mass.
type SieveRow struct {
	OpeningM           float64
	RetainedKg         float64
	Retained           float64 // fraction on this sieve
	CumulativeRetained float64 // fraction on this sieve and all coarser ones
	Passing            float64 // fraction that passed this sieve
	Entered            int     // index in SieveTest.Sieves, the first where several are of one opening
}

// Sieving is a sieve analysis worked out. Without usable masses it has no rows,
// and its problems say why.
type Sieving struct {
	Rows        []SieveRow // coarse first
	PanKg       float64
	RecoveredKg float64 // on all sieves and in the pan
	Balance     float64 // (recovered - charge)/charge: negative for a loss; 0 when not HasBalance
	HasBalance  bool    // whether the charge and the pan were weighed
	Problems    []SieveProblem
}

// SieveProblemKind says what a SieveProblem is about.
type SieveProblemKind int

// NoSieves and those below it are what can be odd about a sieve analysis. Value is a
// fraction of the charge.
const (
	NoSieves         SieveProblemKind = iota // wrong: no row at all
	BadOpening                               // wrong: not above 0; Rows
	BadRetained                              // wrong: below 0 or no number; Rows
	BadPan                                   // wrong: below 0 or no number, or neither pan nor charge weighed
	BadCharge                                // wrong: below 0 or no number, or below what lies on the sieves where the pan is to follow from it
	NothingRecovered                         // wrong: no mass on any sieve and none in the pan
	DuplicateOpening                         // caution: masses of these Rows were added up
	LossLarge                                // caution: Value is the loss, above LargeLoss
	LossAboveAllowed                         // caution: Value is the loss, above AllowedLoss
	GainAboveAllowed                         // caution: Value is how much more was recovered than charged
	SlightGain                               // information: the same, within AllowedLoss
	OneSieve                                 // caution: bounds only, no curve
	PanFromCharge                            // information: the pan was not weighed and takes what the charge leaves
	OutOfOrder                               // information: these Rows were entered out of order, and were sorted
	NotNominal                               // information: the openings of these Rows are no nominal ones
)

// SieveProblem is something odd about a sieve analysis.
type SieveProblem struct {
	Kind  SieveProblemKind
	Grade SieveGrade
	Rows  []int   // indices in SieveTest.Sieves, rising; may be empty
	Value float64 // what Kind says; else 0
}

// SieveGrade says how much a SieveProblem matters.
type SieveGrade int

// SieveInformation and those below it are the grades.
const (
	SieveInformation SieveGrade = iota // nothing to do
	SieveCaution                       // the numbers stand, and may mislead
	SieveWrong                         // no numbers until it is mended
)

// sieveGrades are the grades of all kinds.
var sieveGrades = map[SieveProblemKind]SieveGrade{
	NoSieves: SieveWrong, BadOpening: SieveWrong, BadRetained: SieveWrong,
	BadPan: SieveWrong, BadCharge: SieveWrong, NothingRecovered: SieveWrong,
	DuplicateOpening: SieveCaution, LossLarge: SieveCaution, LossAboveAllowed: SieveCaution,
	GainAboveAllowed: SieveCaution, OneSieve: SieveCaution,
	SlightGain: SieveInformation, PanFromCharge: SieveInformation,
	OutOfOrder: SieveInformation, NotNominal: SieveInformation,
}

// AllowedLoss and LargeLoss are shares of the charge that may be missing after
// sieving.
const (
	AllowedLoss = 0.003 // ASTM C136 and its kin discard a test beyond this (from memory, confirm)
	LargeLoss   = 0.02  // common practice: find out where it went and sieve again
)

// rounding is the ratio below which two openings are one, or two masses: what
// a conversion of units and a few sums may change.
const rounding = 1e-9

// Analyse works out a sieve analysis on a mass basis:
//
//	retained fraction = m_i/M
//	passing           = (pan + Σ m_j of finer sieves)/M
//
// m_i is the mass on sieve i and M the recovered mass, that on all sieves and
// in the pan: what was lost counts as if it had been spread like the rest.
// Rows come in any order; rows of one opening are added up and reported. A pan
// that was not weighed takes what the charge leaves, and then nothing can be
// said of losses. Anything that is no mass or opening leaves no rows.
//
// Source: definition, as in ISO 2591-1 and ASTM C136 (from memory, confirm).
func (t SieveTest) Analyse() Sieving {
	s := Sieving{Problems: t.wrong()}
	if len(s.Problems) > 0 {
		return s
	}
	var duplicates []int
	s.Rows, duplicates = sortedRows(t.Sieves)
	onSieves := 0.0
	for _, row := range s.Rows {
		onSieves += row.RetainedKg
	}
	charged := t.ChargeKg > 0
	s.PanKg = t.PanKg
	if math.IsNaN(t.PanKg) {
		s.PanKg = t.ChargeKg - onSieves
		if math.Abs(s.PanKg) < rounding*t.ChargeKg {
			s.PanKg = 0
		}
		s.report(PanFromCharge, nil, 0)
	} else if charged {
		s.HasBalance = true
	}
	s.RecoveredKg = onSieves + s.PanKg
	if !s.total() {
		return s
	}
	if len(duplicates) > 0 {
		s.report(DuplicateOpening, duplicates, 0)
	}
	if s.HasBalance {
		s.Balance = s.RecoveredKg/t.ChargeKg - 1
		s.balance()
	}
	s.order(t.Sieves)
	return s
}

// report adds a problem.
func (s *Sieving) report(kind SieveProblemKind, rows []int, value float64) {
	s.Problems = append(s.Problems, SieveProblem{kind, sieveGrades[kind], rows, value})
}

// wrong lists what leaves nothing to work out.
func (t SieveTest) wrong() []SieveProblem {
	var s Sieving
	var openings, masses []int
	for i, row := range t.Sieves {
		if !(row.OpeningM > 0) || math.IsInf(row.OpeningM, 1) {
			openings = append(openings, i)
		}
		if !isMass(row.RetainedKg) {
			masses = append(masses, i)
		}
	}
	if len(t.Sieves) == 0 {
		s.report(NoSieves, nil, 0)
	}
	if len(openings) > 0 {
		s.report(BadOpening, openings, 0)
	}
	if len(masses) > 0 {
		s.report(BadRetained, masses, 0)
	}
	charged := t.ChargeKg > 0
	if !isMass(t.PanKg) && !(math.IsNaN(t.PanKg) && charged) {
		s.report(BadPan, nil, 0)
	}
	if !isMass(t.ChargeKg) && !math.IsNaN(t.ChargeKg) {
		s.report(BadCharge, nil, 0)
	}
	return s.Problems
}

// isMass tells whether kg is a mass; nothing is one.
func isMass(kg float64) bool { return kg >= 0 && !math.IsInf(kg, 1) }

// sortedRows sorts the sieves, coarse first, adds up those of one opening, and
// lists the indices of all rows that share an opening with another.
func sortedRows(entered []SieveMass) (rows []SieveRow, duplicates []int) {
	rows = make([]SieveRow, len(entered))
	for i, e := range entered {
		rows[i] = SieveRow{OpeningM: e.OpeningM, RetainedKg: e.RetainedKg, Entered: i}
	}
	slices.SortFunc(rows, func(a, b SieveRow) int {
		return cmp.Or(cmp.Compare(b.OpeningM, a.OpeningM), cmp.Compare(b.RetainedKg, a.RetainedKg), a.Entered-b.Entered)
	})
	kept := 0
	for i := 1; i < len(rows); i++ {
		last := &rows[kept]
		if rows[i].OpeningM < last.OpeningM*(1-rounding) {
			kept++
			rows[kept] = rows[i]
			continue
		}
		last.RetainedKg += rows[i].RetainedKg
		duplicates = append(duplicates, last.Entered, rows[i].Entered)
		last.Entered = min(last.Entered, rows[i].Entered)
	}
	slices.Sort(duplicates)
	return rows[:kept+1], slices.Compact(duplicates)
}

// total fills in the fractions. Both sums start at their own end, so that the
// little above the coarsest and below the finest sieve keeps its digits.
func (s *Sieving) total() bool {
	total := s.RecoveredKg
	switch {
	case s.PanKg < 0:
		s.report(BadCharge, nil, 0)
	case total == 0:
		s.report(NothingRecovered, nil, 0)
	case math.IsInf(total, 1):
		s.report(BadRetained, nil, 0)
	default:
		above, below := 0.0, s.PanKg
		for i := range s.Rows {
			row := &s.Rows[i]
			above += row.RetainedKg
			row.Retained = row.RetainedKg / total
			row.CumulativeRetained = min(above/total, 1)
		}
		for i := len(s.Rows) - 1; i >= 0; i-- {
			s.Rows[i].Passing = min(below/total, 1)
			below += s.Rows[i].RetainedKg
		}
		return true
	}
	*s = Sieving{Problems: s.Problems}
	return false
}

// balance reports what was lost or gained beyond what weighing explains.
func (s *Sieving) balance() {
	switch loss := -s.Balance; {
	case loss > LargeLoss+rounding:
		s.report(LossLarge, nil, loss)
	case loss > AllowedLoss+rounding:
		s.report(LossAboveAllowed, nil, loss)
	case loss < -AllowedLoss-rounding:
		s.report(GainAboveAllowed, nil, -loss)
	case loss < -rounding:
		s.report(SlightGain, nil, -loss)
	}
}

// order reports what may be meant otherwise than it was entered.
func (s *Sieving) order(entered []SieveMass) {
	if len(s.Rows) == 1 {
		s.report(OneSieve, nil, 0)
	}
	var rising, falling, odd []int
	for i, e := range entered {
		if i > 0 && e.OpeningM > entered[i-1].OpeningM {
			rising = append(rising, i)
		}
		if i > 0 && e.OpeningM < entered[i-1].OpeningM {
			falling = append(falling, i)
		}
		if _, nominal := NearestSieve(e.OpeningM); !nominal {
			odd = append(odd, i)
		}
	}
	// a stack may be written from either end; what goes against most is odd
	if len(falling) < len(rising) {
		rising = falling
	}
	if len(rising) > 0 {
		s.report(OutOfOrder, rising, 0)
	}
	if len(odd) > 0 {
		s.report(NotNominal, odd, 0)
	}
}
