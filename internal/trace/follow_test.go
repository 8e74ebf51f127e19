package trace_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/trace"
)

var timeAndDiameter = trace.Layout{Separator: ',', Header: 1, Columns: []trace.Column{{Role: trace.Time, Unit: "s"}, {Role: trace.Diameter, Unit: "mm"}}}

// growing is a log that is written row by row.
type growing struct {
	t    *testing.T
	text bytes.Buffer
	now  time.Time
	f    *trace.Follower
}

func newGrowing(t *testing.T) *growing {
	g := &growing{t: t, now: time.Date(2026, 8, 21, 9, 0, 0, 0, time.UTC), f: trace.NewFollower(timeAndDiameter, 1.75e-3, 1.7e-3, 1.8e-3)}
	g.text.WriteString("t,d\n")
	return g
}

// write writes rows of a tenth of a second, and lets as much time pass.
func (g *growing) write(from, to int, d func(i int) float64) {
	for i := from; i < to; i++ {
		fmt.Fprintf(&g.text, "%.1f,%.4f\n", 0.1*float64(i), d(i))
	}
	g.now = g.now.Add(time.Duration(to-from) * 100 * time.Millisecond)
}

func (g *growing) read() trace.Live {
	g.t.Helper()
	l, err := g.f.Read(bytes.NewReader(g.text.Bytes()), g.now)
	require.NoError(g.t, err)
	return l
}

func TestFollowerTakesWhatComes(t *testing.T) {
	g := newGrowing(t)
	assert.Equal(t, trace.Waiting, g.read().State)
	drifting := func(i int) float64 { return wobble(i) - 0.005 - 0.00001*float64(i) } // -6 µm a minute
	g.write(0, 500, drifting)
	g.text.WriteString("50.0,1.7") // a row that is not whole yet
	l := g.read()
	assert.Equal(t, trace.Growing, l.State)
	assert.EqualValues(t, 500, l.Readings)
	assert.InDelta(t, 49.9, l.Place, 1e-9)
	g.text.WriteString("450\n")
	l = g.read()
	assert.EqualValues(t, 501, l.Readings)
	g.write(501, 3000, drifting)
	l = g.read()
	assert.EqualValues(t, 3000, l.Readings)
	assert.InDelta(t, -6, l.DriftM*60*1e6, 1)
	assert.Empty(t, l.Alarms)
	assert.False(t, l.Out)
	g.now = g.now.Add(time.Minute)
	assert.Equal(t, trace.StoppedAt, g.read().State)
	g.write(3000, 3001, drifting)
	assert.Equal(t, trace.Growing, g.read().State)
}

func TestFollowerSoundsTheAlarm(t *testing.T) {
	g := newGrowing(t)
	g.write(0, 400, wobble)
	require.Empty(t, g.read().Alarms)
	g.write(400, 410, func(i int) float64 { return 1.79 }) // within tolerance, but far from what was
	l := g.read()
	require.Len(t, l.Alarms, 1, "one lump, not ten")
	assert.Equal(t, trace.AlarmLump, l.Alarms[0].Kind)
	assert.InDelta(t, 40, l.Alarms[0].At, 1e-9)
	assert.Equal(t, g.now, l.Alarms[0].Seen)
	g.write(410, 600, wobble)
	g.write(600, 603, func(i int) float64 { return 1.85 })
	l = g.read()
	assert.True(t, l.Out)
	require.Len(t, l.Alarms, 3)
	assert.ElementsMatch(t, []trace.AlarmKind{trace.AlarmLump, trace.AlarmOut}, []trace.AlarmKind{l.Alarms[0].Kind, l.Alarms[1].Kind})
	g.write(603, 700, wobble)
	l = g.read()
	assert.False(t, l.Out)
	assert.Len(t, l.Alarms, 3)
	assert.EqualValues(t, 3, l.AlarmsAll)
}

// What the log held before it was followed is no news.
func TestFollowerSaysNothingOfThePast(t *testing.T) {
	g := newGrowing(t)
	g.write(0, 400, wobble)
	g.write(400, 403, func(i int) float64 { return 1.9 })
	g.write(403, 500, wobble)
	assert.Empty(t, g.read().Alarms)
	g.write(500, 503, func(i int) float64 { return 1.9 })
	assert.Len(t, g.read().Alarms, 2)
}

// A file that became shorter or another one is said, once, and read anew.
func TestFollowerNoticesAnotherFile(t *testing.T) {
	g := newGrowing(t)
	g.write(0, 200, wobble)
	g.read()
	g.read()
	g.text.Reset()
	g.text.WriteString("t,d\n")
	g.write(0, 50, wobble)
	l := g.read()
	assert.Equal(t, trace.Shortened, l.Anew)
	assert.Equal(t, g.now, l.AnewAt)
	assert.EqualValues(t, 50, l.Readings)
	l = g.read()
	assert.Equal(t, trace.Shortened, l.Anew, "it stays said")
	assert.Equal(t, trace.Growing, l.State)
	g.text.Reset()
	g.text.WriteString("time,dia\n")
	g.write(0, 300, wobble)
	l = g.read()
	assert.Equal(t, trace.Replaced, l.Anew)
	assert.EqualValues(t, 300, l.Readings)
}

// What was told does not change when more is read.
func TestFollowerHandsOutItsOwnCopies(t *testing.T) {
	g := newGrowing(t)
	g.write(0, 12_000, wobble)
	first := g.read()
	at, d := slices.Clone(first.At), slices.Clone(first.D)
	g.write(12_000, 20_000, wobble)
	g.read()
	assert.Equal(t, at, first.At)
	assert.Equal(t, d, first.D)
}

func TestFollowerKeepsTheLastMinutes(t *testing.T) {
	g := newGrowing(t)
	for from := 0; from < 20_000; from += 1000 {
		g.write(from, from+1000, wobble)
		g.read()
	}
	l := g.read()
	assert.EqualValues(t, 20_000, l.Readings)
	assert.InDelta(t, 600, l.At[len(l.At)-1]-l.At[0], 0.2)
	assert.False(t, math.IsNaN(l.DriftM))
}

func TestFollowerOfABinaryFile(t *testing.T) {
	g := newGrowing(t)
	g.text.WriteString("\x00\x00\n")
	_, err := g.f.Read(bytes.NewReader(g.text.Bytes()), g.now)
	assert.Error(t, err)
}
