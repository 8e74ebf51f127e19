// Package plan lays out trials: which spool to make on which day, and in which
// order.
package plan

// Limits of a plan.
const (
	MaxRuns      = 1000 // spools
	MaxSpecimens = 1000 // per spool
)

// Settings say how many trials are wanted.
type Settings struct {
	Levels            int // filler contents
	SpoolsPerLevel    int // replicate spools of each
	SpecimensPerSpool int
	SpoolsPerDay      int // at most
	Seed              uint64
}

// Run is one spool to make.
type Run struct {
	Order     int // from 1, over all days
	Day       int // from 1
	Slot      int // from 1, within the day
	Level     int // from 0, which of the filler contents
	Replicate int // from 1, within the level
}

// Problem says why settings do not make a plan.
type Problem uint8

// The problems.
const (
	OK               Problem = iota
	NoLevels                 // no filler content
	NoSpools                 // no spool per content
	NoSpecimens              // no specimen per spool
	NoSpoolsPerDay           // nothing made in a day
	TooManyRuns              // more than MaxRuns spools
	TooManySpecimens         // more than MaxSpecimens per spool
)

func (s Settings) check() Problem {
	switch {
	case s.Levels < 1:
		return NoLevels
	case s.SpoolsPerLevel < 1:
		return NoSpools
	case s.SpecimensPerSpool < 1:
		return NoSpecimens
	case s.SpoolsPerDay < 1:
		return NoSpoolsPerDay
	case s.Levels > MaxRuns/s.SpoolsPerLevel:
		return TooManyRuns
	case s.SpecimensPerSpool > MaxSpecimens:
		return TooManySpecimens
	}
	return OK
}

// Runs lists the spools to make, in order. Every level gets its number of
// spools; days are blocks: within a day the numbers of spools of any two levels
// differ by at most one, and the order is random. The days are as few as
// SpoolsPerDay allows, and hold whole rounds of all levels where these fit into
// that many days, else equal numbers of spools up to one.
//
// Where a day cannot hold every level equally, the levels are dealt out round
// by round, and levels that have met less on earlier days are put together
// first.
//
// The same settings always give the same list, in every version of this
// program. For a problem the list is nil.
func Runs(s Settings) ([]Run, Problem) {
	if p := s.check(); p != OK {
		return nil, p
	}
	d := newDealer(s)
	runs := make([]Run, 0, s.Levels*s.SpoolsPerLevel)
	made := make([]int, s.Levels)
	for day, size := range daySizes(s) {
		for slot, level := range d.day(size) {
			made[level]++
			runs = append(runs, Run{
				Order: len(runs) + 1, Day: day + 1, Slot: slot + 1,
				Level: level, Replicate: made[level],
			})
		}
	}
	return runs, OK
}

// daySizes returns how many spools to make on each day.
func daySizes(s Settings) []int {
	total := s.Levels * s.SpoolsPerLevel
	days := ceilDiv(total, s.SpoolsPerDay)
	rounds := s.SpoolsPerDay / s.Levels // that fit into a day
	if rounds > 0 && ceilDiv(s.SpoolsPerLevel, rounds) == days {
		sizes := spread(s.SpoolsPerLevel, days)
		for i := range sizes {
			sizes[i] *= s.Levels
		}
		return sizes
	}
	return spread(total, days)
}

// spread splits n into parts that differ by at most one, the larger first.
func spread(n, parts int) []int {
	sizes := make([]int, parts)
	for i := range sizes {
		sizes[i] = n / parts
		if i < n%parts {
			sizes[i]++
		}
	}
	return sizes
}

func ceilDiv(a, b int) int { return (a-1)/b + 1 }

// Changeovers returns how often the material changes from one run to the next,
// over night too: the line stands full. The first filling is not a change.
func Changeovers(runs []Run) int {
	n := 0
	for i := 1; i < len(runs); i++ {
		if runs[i].Level != runs[i-1].Level {
			n++
		}
	}
	return n
}
