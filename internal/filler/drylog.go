package filler

import (
	"cmp"
	"math"
	"slices"
)

// LogProblemKind is what is odd about a row of a drying log.
type LogProblemKind int

// LogNotANumber and those below it are the kinds.
const (
	LogNotANumber   LogProblemKind = iota // time negative or missing, or mass not above 0
	LogTimeRepeats                        // the same time as another row
	LogTimeGoesBack                       // an earlier time than the row before it
	LogMassRises                          // more mass than the row before it in time
	LogTooFewRows                         // too few rows for the simplest curve; Row and Other are -1
)

// LogProblem is one finding in a drying log.
type LogProblem struct {
	Kind  LogProblemKind
	Row   int     // index of the row
	Other int     // index of the row that it is held against, or -1
	Value float64 // LogMassRises: rise in kg; LogTooFewRows: rows that are needed; else 0
}

// RiseTolerance is the share of the mass by which a row may be heavier than the
// one before, while the resolution of the scale is not known (own judgement).
const RiseTolerance = 0.001

// CheckLog looks for what is odd in a drying log. A row that is not a number is
// reported and then left aside. Times are held against the row before as
// entered, masses against the row before in time: a rise counts from above
// resolutionKg, the step of the scale, or where that is 0 from above
// RiseTolerance of the mass. Fewer usable rows than Lewis's law has parameters
// are too few. None of it keeps FitDrying from trying.
func CheckLog(rows []Weighing, resolutionKg float64) []LogProblem {
	var found []LogProblem
	usable := make([]int, 0, len(rows))
	for i, r := range rows {
		if !r.usable() {
			found = append(found, LogProblem{Kind: LogNotANumber, Row: i, Other: -1})
			continue
		}
		if n := len(usable); n > 0 && r.TimeS < rows[usable[n-1]].TimeS {
			found = append(found, LogProblem{Kind: LogTimeGoesBack, Row: i, Other: usable[n-1]})
		}
		usable = append(usable, i)
	}
	slices.SortStableFunc(usable, byTime(rows))
	for k := 1; k < len(usable); k++ {
		i, before := usable[k], usable[k-1]
		if rows[i].TimeS == rows[before].TimeS {
			found = append(found, LogProblem{Kind: LogTimeRepeats, Row: i, Other: before})
		}
		if rise := rows[i].MassKg - rows[before].MassKg; rise > riseAllowed(rows[before].MassKg, resolutionKg) {
			found = append(found, LogProblem{LogMassRises, i, before, rise})
		}
	}
	if need := parametersOf(Lewis, false); len(usable) < need {
		found = append(found, LogProblem{LogTooFewRows, -1, -1, float64(need)})
	}
	slices.SortStableFunc(found, func(a, b LogProblem) int {
		return cmp.Compare(uint(a.Row), uint(b.Row)) // -1 comes last
	})
	return found
}

// usable tells whether the row can take part in a fit.
func (w Weighing) usable() bool {
	return w.TimeS >= 0 && !math.IsInf(w.TimeS, 1) && positive(w.MassKg)
}

// byTime orders indices of rows.
func byTime(rows []Weighing) func(a, b int) int {
	return func(a, b int) int { return cmp.Compare(rows[a].TimeS, rows[b].TimeS) }
}

// riseAllowed allows for the rounding of the difference, so that one step of the
// scale is not above itself.
func riseAllowed(massKg, resolutionKg float64) float64 {
	if resolutionKg > 0 {
		return resolutionKg + 1e-12*massKg
	}
	return RiseTolerance * massKg
}
