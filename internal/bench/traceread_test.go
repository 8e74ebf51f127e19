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
	d, err := bench.ReadTrace(context.Background(), bytes.NewReader(log), nil, 1.7e-3, 1.8e-3, func(share float64) { shares = append(shares, share) })
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
	l, ok := bench.RecordedLayout(&kept)
	require.True(t, ok)
	again, err := bench.ReadTrace(context.Background(), bytes.NewReader(log[:len(log)/2]), &l, 1.7e-3, 1.8e-3, nil)
	require.NoError(t, err)
	assert.Equal(t, bench.TraceKeptFile, again.Kept(&kept, 1.7e-3, 1.8e-3))
	kept.Summary.Mean = quantity.MustParse[quantity.Length]("1.7 mm")
	assert.Equal(t, bench.TraceKeptOther, d.Kept(&kept, 1.7e-3, 1.8e-3))
}

// A log without a column that looks like a diameter still shows how it is written.
func TestReadTraceOfALogWithoutADiameter(t *testing.T) {
	d, err := bench.ReadTrace(context.Background(), strings.NewReader("t,rpm\n1,20\n2,21\n3,20\n"), nil, 0, 0, nil)
	require.NoError(t, err)
	assert.Equal(t, trace.NoDiameter, d.Doubt)
	assert.Len(t, d.Preview, 4)
	_, err = bench.ReadTrace(context.Background(), strings.NewReader(""), nil, 0, 0, nil)
	assert.Error(t, err)
	// Told which column it is, it is read.
	d.Layout.Columns[1] = trace.Column{Role: trace.Diameter, Unit: "mm"}
	d, err = bench.ReadTrace(context.Background(), strings.NewReader("t,rpm\n1,20\n2,21\n3,20\n"), &d.Layout, 0, 0, nil)
	require.NoError(t, err)
	assert.EqualValues(t, 3, d.Summary.Readings)
}
