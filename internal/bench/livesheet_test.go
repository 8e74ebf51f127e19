package bench_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/bench"
	"fillwright/internal/trace"
)

func TestLiveSheet(t *testing.T) {
	live := trace.Live{Readings: 1000, Last: 1.752e-3, Place: 600, DriftM: -1e-7, DriftSD: 1e-8}
	s := bench.NewLiveSheet(live, trace.BySecond, bench.TraceAsked{SpeedMS: 0.05}, 330)
	assert.InDelta(t, 30, s.Wound.Value, 1e-9)
	assert.InDelta(t, 100, s.ToFull.Value, 1e-9, "300 m at 3 m a minute")
	assert.InDelta(t, -6, s.Drift.Value, 1e-9)
	assert.InDelta(t, -7.2, s.Drift.Low, 1e-9)
	assert.Equal(t, "um/min", s.Drift.Unit)

	s = bench.NewLiveSheet(live, trace.ByMetre, bench.TraceAsked{}, 330)
	assert.InDelta(t, 600, s.Wound.Value, 1e-9)
	assert.False(t, s.ToFull.Known(), "without a speed")
	assert.Equal(t, "um/m", s.Drift.Unit)

	live.DriftM = math.NaN()
	s = bench.NewLiveSheet(live, trace.ByReading, bench.TraceAsked{SpeedMS: 1}, 0)
	assert.False(t, s.Wound.Known() || s.Drift.Known() || s.ToFull.Known())
	assert.False(t, bench.NewLiveSheet(trace.Live{}, trace.BySecond, bench.TraceAsked{}, 0).Now.Known())
}

func TestFullLengthIsThatOfTheMassElseOfTheReel(t *testing.T) {
	p := ledger(t)
	p.Spool.Made = append(p.Spool.Made, spoolOf("plain", "500 g"), spoolOf("plain", ""), spoolOf("", ""))
	s := bench.Evaluate(&p)
	assert.InDelta(t, 335.284/2, bench.FullLength(s, 0), 1e-3)
	assert.InDelta(t, s.Blends[0].Winding.Capacity.Value, bench.FullLength(s, 1), 1e-9)
	assert.Zero(t, bench.FullLength(s, 2))
	assert.Zero(t, bench.FullLength(s, 3))
}
