package bench_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/trace"
)

func TestReadTraceKeepsAndComparesWhatALogSays(t *testing.T) {
	log := storyLog(t)
	var shares []float64
	d, err := bench.ReadTrace(context.Background(), bytes.NewReader(log), trace.NothingFixed, 1.7e-3, 1.8e-3, func(share float64) { shares = append(shares, share) })
	require.NoError(t, err)
	sum := sha256.Sum256(log)
	assert.Equal(t, hex.EncodeToString(sum[:]), d.SHA256)
	assert.Equal(t, 14_700, d.Levels.Readings())
	assert.InDelta(t, 1, shares[len(shares)-1], 1e-9)
	assert.True(t, d.Preview[0].Header)
	assert.Equal(t, []string{"time_s", "diameter_mm"}, d.Preview[0].Cells)
	assert.InDelta(t, 1.75e-3, d.Preview[1].Diameter, 0.03e-3)

	var kept project.Trace
	assert.Equal(t, bench.TraceKeptNone, d.Kept(&kept, 1.7e-3, 1.8e-3))
	d.Keep(&kept, 1.7e-3, 1.8e-3)
	assert.Equal(t, bench.TraceKeptSame, d.Kept(&kept, 1.7e-3, 1.8e-3))
	assert.Equal(t, bench.TraceKeptOther, d.Kept(&kept, 1.71e-3, 1.8e-3))
	again, err := bench.ReadTrace(context.Background(), bytes.NewReader(log[:len(log)/2]), bench.RecordedLayout(&kept), 1.7e-3, 1.8e-3, nil)
	require.NoError(t, err)
	assert.Equal(t, bench.TraceKeptFile, again.Kept(&kept, 1.7e-3, 1.8e-3))
	kept.Summary.Mean = quantity.MustParse[quantity.Length]("1.7 mm")
	assert.Equal(t, bench.TraceKeptOther, d.Kept(&kept, 1.7e-3, 1.8e-3))
}

// A log without a column that looks like a diameter still shows how it is written.
func TestReadTraceOfALogWithoutADiameter(t *testing.T) {
	d, err := bench.ReadTrace(context.Background(), strings.NewReader("t,rpm\n1,20\n2,21\n3,20\n"), trace.NothingFixed, 0, 0, nil)
	require.NoError(t, err)
	assert.Equal(t, trace.NoDiameter, d.Doubt)
	assert.Len(t, d.Preview, 4)
	_, err = bench.ReadTrace(context.Background(), strings.NewReader(""), trace.NothingFixed, 0, 0, nil)
	assert.Error(t, err)
	// Told which column it is, it is read.
	d.Layout.Columns[1] = trace.Column{Role: trace.Diameter, Unit: "mm"}
	d, err = bench.ReadTrace(context.Background(), strings.NewReader("t,rpm\n1,20\n2,21\n3,20\n"), d.Layout.Fixed(), 0, 0, nil)
	require.NoError(t, err)
	assert.EqualValues(t, 3, d.Summary.Readings)
}

// What the document says of a layout is taken as far as it goes; a unit that does not belong
// to what a column holds is said, and nothing is read by it.
func TestReadTraceByWhatIsKnown(t *testing.T) {
	log := "head\n1;1750\n2;1760\n3;1755\n"
	read := func(kept project.Trace) *bench.TraceData {
		d, err := bench.ReadTrace(context.Background(), strings.NewReader(log), bench.RecordedLayout(&kept), 0, 0, nil)
		require.NoError(t, err)
		return d
	}
	assert.EqualValues(t, 3, read(project.Trace{}).Summary.Readings)
	assert.EqualValues(t, 2, read(project.Trace{Header: 2}).Summary.Readings)
	d := read(project.Trace{Separator: "semicolon", Header: 1, Columns: []project.TraceColumn{{Role: "time", Unit: "mm"}, {Role: "diameter", Unit: "um"}}})
	assert.Equal(t, trace.BadUnit, d.Doubt)
	assert.Zero(t, d.Summary.Readings)
	d = read(project.Trace{Separator: "semicolon", Header: 1, Columns: []project.TraceColumn{{Role: "diameter", Unit: "mm"}, {Role: "diameter", Unit: "um"}}})
	assert.Equal(t, trace.NoDiameter, d.Doubt)
	assert.Zero(t, d.Summary.Readings)
}
