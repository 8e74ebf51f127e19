package bench

import (
	"math"

	"fillwright/internal/trace"
)

// LiveSheet is what is told of a log while the line writes it.
type LiveSheet struct {
	Live   trace.Live
	Now    Result  // mean of the last few readings, mm
	Wound  Result  // m
	Drift  Result  // over the last minutes, µm/min where there is time, else µm/m
	ToFull Result  // until the spool is full, min
	Full   float64 // m, 0 while not known
	Left   int64   // rows left out
}

// NewLiveSheet takes a log that is being written into metres and minutes. FullM is the length
// at which the spool is full, 0 while not known.
func NewLiveSheet(l trace.Live, axis trace.Axis, asked TraceAsked, fullM float64) *LiveSheet {
	s := &LiveSheet{Live: l, Now: unknownIn("mm"), Wound: unknownIn("m"), Drift: unknownIn("um/min"), ToFull: unknownIn("min"), Full: fullM, Left: l.LeftOut}
	if l.Readings == 0 {
		return s
	}
	s.Now = exactly(l.Last*1e3, "mm", Measured)
	perUnit := 0.0
	switch {
	case axis == trace.ByMetre:
		perUnit = 1
	case axis == trace.BySecond:
		perUnit = asked.SpeedMS
	}
	if perUnit > 0 {
		s.Wound = exactly(l.Place*perUnit, "m", Measured)
	}
	if !math.IsNaN(l.DriftM) {
		factor, unit := 1e6/math.Max(perUnit, 1), "um/m"
		if axis == trace.BySecond {
			factor, unit = 60e6, "um/min"
		}
		s.Drift = newResult(l.DriftM*factor, (l.DriftM-2*l.DriftSD)*factor, (l.DriftM+2*l.DriftSD)*factor, unit, Measured)
	}
	if speed := asked.SpeedMS; s.Wound.Known() && fullM > 0 && speed > 0 {
		s.ToFull = exactly(math.Max(fullM-s.Wound.Value, 0)/speed/60, "min", Estimated)
	}
	return s
}

// FullLength is the length at which a spool of the ledger is full: that of the mass that is to
// be wound, else what the reel takes; 0 while neither is known.
func FullLength(s *Sheet, index int) float64 {
	if index < len(s.Spools) {
		if r, known := s.Spools[index].Results[SpoolLength]; known {
			return r.Value
		}
		if b := s.Spools[index].Blend; b >= 0 && s.Blends[b].Winding.Capacity.Known() {
			return s.Blends[b].Winding.Capacity.Value
		}
	}
	return 0
}
