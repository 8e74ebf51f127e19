package trace

import (
	"math"
	"slices"
)

// axis places readings along the log: from 0 on and never falling, with what is
// missing between them marked.
type axis struct {
	kind  Axis
	wraps bool // times of day without a date fall back at midnight

	begun     bool
	last      float64 // as in the log
	offset    float64 // what is added to the log's numbers
	usual     float64 // the usual step, 0 while unknown
	steps     int64
	stepsSum  float64
	missing   float64
	lastPlace float64
}

// What counts as a gap: a step of this many usual ones (own judgement).
const gapSteps = 5

// place sets the places of a piece's readings, and counts what it meets. Before is
// the number of lines before the piece.
func (a *axis) place(c *chunk, before int64, count *Count) {
	b := &c.block
	if a.kind == ByReading {
		for i, row := range c.row {
			b.At[i] = float64(before + int64(row))
		}
	}
	if len(b.At) == 0 {
		return
	}
	if !a.begun {
		a.begun, a.last, a.offset = true, b.At[0], -b.At[0]
	}
	if a.usual == 0 {
		a.usual = usualStep(b.At)
	}
	most := gapSteps * a.usual
	for i, at := range b.At {
		step := at - a.last
		if step < 0 || math.IsNaN(step) {
			step = a.restart(at, count)
		}
		gap := step > most && most > 0
		if gap {
			count.Gaps++
			a.missing += step
		} else {
			a.steps++
			a.stepsSum += step
		}
		a.last = at
		a.lastPlace = max(at+a.offset, a.lastPlace) // never less, not by rounding either
		b.At[i] = a.lastPlace
		b.Gap = append(b.Gap, gap)
	}
}

// restart takes up an axis that fell back, and returns the step that is counted.
func (a *axis) restart(at float64, count *Count) float64 {
	const day = 86400.0
	if a.wraps && a.last-at > day/2 {
		a.offset += day
		return at + day - a.last
	}
	count.Restarts++
	a.offset += a.last + a.usual - at
	return a.usual
}

// result is the mean step, and the lengths of the axis without gaps and in them.
func (a *axis) result() (step, span, missing float64) {
	if a.steps > 1 {
		step = a.stepsSum / float64(a.steps-1) // the first reading counted as a step of 0
	}
	return step, a.stepsSum, a.missing
}

// usualStep is the step that most readings have. Where a clock counts in whole
// seconds and readings come faster, most steps are 0 and some are 1: then the mean
// of them, but not less than a fifth of the smallest step there is, so that the
// step of the clock is no gap.
func usualStep(at []float64) float64 {
	var steps []float64
	smallest := math.Inf(1)
	for i := 1; i < min(len(at), 4096); i++ {
		if step := at[i] - at[i-1]; step >= 0 {
			steps = append(steps, step)
			if step > 0 {
				smallest = min(smallest, step)
			}
		}
	}
	if len(steps) == 0 || math.IsInf(smallest, 1) {
		return 0
	}
	slices.Sort(steps)
	return max(steps[len(steps)/2], smallest)
}
