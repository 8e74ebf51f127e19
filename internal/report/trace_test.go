package report_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/report"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// oddLog has a lump, a row that is no number, and nothing else to tell.
func oddLog(t *testing.T) (trace.Layout, *bench.TraceSheet) {
	t.Helper()
	var log strings.Builder
	for i := range 600 {
		d := 1.75 + 0.004*float64(i*7919%13-6)/6
		if i >= 300 && i < 306 {
			d = 2.1
		}
		fmt.Fprintf(&log, "%.1f;%.4f\n", 0.1*float64(i), d)
		if i == 100 {
			log.WriteString("gauge lost\n")
		}
	}
	g, err := trace.GuessLayout([]byte(log.String()))
	require.NoError(t, err)
	s, err := trace.Summarise(context.Background(), strings.NewReader(log.String()), g.Layout, trace.Reading{TypicalM: g.TypicalM}, trace.Wanted{LowM: 1.7e-3, HighM: 1.8e-3})
	require.NoError(t, err)
	return g.Layout, bench.NewTraceSheet(s, bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 5e-5, SpeedMS: 0.05}, false)
}

func TestTraceJSON(t *testing.T) {
	l, sheet := oddLog(t)
	var out bytes.Buffer
	require.NoError(t, report.TraceJSON(&out, "spool.csv", l, sheet, wording.New("en")))
	var got map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	assert.Equal(t, "fillwright trace", got["format"])
	assert.Equal(t, 600.0, got["readings"])
	assert.Equal(t, map[string]any{"not_a_number": 1.0}, got["left_out"])
	lump := got["lumps"].([]any)[0].(map[string]any)
	assert.InDelta(t, 30*0.05, lump["metres"], 0.05)
	assert.InDelta(t, 0.35, lump["height_mm"], 0.01)
	assert.Equal(t, true, lump["wider_than_inlet"])
	figures := got["figures"].(map[string]any)
	assert.InDelta(t, 59.9*0.05, figures["length"].(map[string]any)["value"], 1e-9)
	assert.Equal(t, ";", got["layout"].(map[string]any)["separator"])
}

func TestTraceTable(t *testing.T) {
	l, sheet := oddLog(t)
	var out bytes.Buffer
	w := wording.New("en")
	require.NoError(t, report.TraceTable(&out, "spool.csv", l, sheet, w))
	for _, want := range []string{"600 readings from 601 lines", "time (s), diameter (mm)", "Mean diameter", "wider than the inlet", "line 102: no number: gauge lost", "One row was left out"} {
		assert.Contains(t, out.String(), want)
	}
	assert.Empty(t, w.Missing())
}
