package bench

import (
	"errors"
	"math"

	"fillwright/internal/filler"
)

// errDoubtful is given for a target that lies within what the oven may leave: at the
// upper end of that the powder never gets there. No time is told then, for its high
// end would be open, and the note says why.
var errDoubtful = errors.New("bench: the oven may leave more than the target")

// mostOff is how far a time may be off by the floor at one of its ends, by ratio (own
// judgement): at the low end the target may be met from the start.
const mostOff = 1000

// timeTo is the time on a curve to a target, dry basis, with what the floor may be
// off by added in squares on its logarithm; low and high are its ends.
func timeTo(targetDry float64, best, low, high onFloor) (filler.CurveValue, error) {
	time, err := best.curve.TimeTo(targetDry, best.dry)
	switch {
	case err != nil:
		return filler.CurveValue{}, err
	case !(targetDry > high.dry):
		return filler.CurveValue{}, errDoubtful
	case !time.Known || !(time.Value > 0):
		return time, nil
	}
	off := spread{}
	for _, end := range []onFloor{low, high} {
		ratio := end.curve.TimeOnly(targetDry, end.dry) / time.Value
		if !finite(ratio) {
			return filler.CurveValue{}, errDoubtful
		}
		log := math.Log(math.Min(math.Max(ratio, 1.0/mostOff), mostOff))
		off.minus, off.plus = math.Max(off.minus, -log/coverage), math.Max(off.plus, log/coverage)
	}
	return besides(time, off), nil
}

// besides adds to a time what its logarithm may be off by as well, in squares.
func besides(time filler.CurveValue, u spread) filler.CurveValue {
	if !time.Known || !(time.Value > 0) {
		return time
	}
	time.Low = time.Value * math.Exp(-math.Hypot(math.Log(time.Value/time.Low), coverage*u.minus))
	time.High = time.Value * math.Exp(math.Hypot(math.Log(time.High/time.Value), coverage*u.plus))
	return time
}

// timeTo is the time from the start of a run to a target.
func (r *dryRun) timeTo(targetDry float64) (filler.CurveValue, error) {
	return timeTo(targetDry, onFloor{r.floor.dry, r.timed}, r.low, r.high)
}

// timeOnly is its value alone, as far as it is known at all: for the core.
func (r *dryRun) timeOnly(targetDry float64) float64 {
	if !(targetDry > r.high.dry) || r.curve.DegreesOfFreedom < 1 {
		return math.NaN()
	}
	return r.curve.TimeOnly(targetDry, r.floor.dry)
}

// tells reports whether a run has a curve of moisture, not of mass alone.
func (r *dryRun) tells() bool { return r.curve != nil && (r.dryFit || r.curve.FinalGiven) }
