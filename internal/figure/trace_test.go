package figure_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// madeTrace is a log of n readings with a wave, and one lump in its middle.
func madeTrace(t testing.TB, n int) (*bench.TraceSheet, *trace.Levels) {
	t.Helper()
	random := rand.New(rand.NewPCG(1, 2))
	var b trace.Block
	for i := range n {
		d := 1.75e-3 + 8e-6*math.Sin(2*math.Pi*float64(i)/60) + 6e-6*random.NormFloat64()
		if i >= n/2 && i < n/2+20 {
			d += 0.3e-3
		}
		b.At, b.Diameter, b.Gap = append(b.At, 0.05*float64(i)), append(b.Diameter, d), append(b.Gap, false)
	}
	a := trace.NewAnalysis(trace.Wanted{LowM: 1.7e-3, HighM: 1.8e-3})
	levels := &trace.Levels{}
	a.Add(&b)
	levels.Add(&b)
	levels.Done()
	s := a.Summary(trace.Count{Readings: int64(n), Lines: int64(n), Step: 0.05, Span: 0.05 * float64(n-1)}, trace.BySecond)
	asked := bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 5e-5, SpeedMS: 0.045, Turning: bench.TurningParts(1.0/3, 0, 0)}
	return bench.NewTraceSheet(s, asked, false), levels
}

func TestTracePictureShowsStrandToleranceAndLump(t *testing.T) {
	w := wording.New("en")
	sheet, levels := madeTrace(t, 20_000)
	p := figure.Trace(sheet, levels, levels.Span(), 600, 0, w)
	require.Len(t, p.Panels, 1)
	panel := p.Panels[0]
	assert.Equal(t, "m", panel.X.Unit)
	assert.InDelta(t, 0.05*19_999*0.045, panel.X.Max, 1e-6)
	require.Len(t, panel.Marks, 1)
	assert.InDelta(t, 0.05*10_010*0.045, panel.Marks[0].X, 0.05)
	assert.True(t, panel.Marks[0].Strong)
	assert.Len(t, panel.Levels, 2)
	assert.Greater(t, panel.Y.Max, 2.05)
	// A stretch without the lump shows none, and single readings.
	p = figure.Trace(sheet, levels, trace.Stretch{From: 10, To: 15}, 600, -1, w)
	assert.Empty(t, p.Panels[0].Marks)
	assert.InDelta(t, 101, len(p.Panels[0].Strips[0].X), 3)
	assert.Empty(t, figure.Trace(nil, nil, trace.Stretch{}, 600, -1, w).Panels)
	assert.Empty(t, w.Missing())
}

func TestTraceHistogramAndSpectrum(t *testing.T) {
	w := wording.New("en")
	sheet, _ := madeTrace(t, 20_000)
	h := figure.TraceHistogram(sheet, w).Panels[0]
	total := 0.0
	for i := 1; i < len(h.Lines[0].X)-1; i += 2 {
		total += h.Lines[0].X[i]
	}
	assert.InDelta(t, 100, total, 0.2, "all but the lump")
	s := figure.TraceSpectrum(sheet, w).Panels[0]
	require.Len(t, s.Marks, 1)
	assert.InEpsilon(t, 3.0, s.Marks[0].X, 0.01)
	assert.Equal(t, w.Text("trace.turning.screw"), s.Marks[0].Label)
	assert.Empty(t, figure.TraceSpectrum(nil, w).Panels)
	assert.Empty(t, figure.TraceHistogram(nil, w).Panels)
}

// BenchmarkTracePicture is what zoom and pan cost at 5 million readings.
func BenchmarkTracePicture(b *testing.B) {
	sheet, levels := madeTrace(b, 5_000_000)
	w := wording.New("en")
	var r figure.Renderer
	style := figure.DefaultStyle(800, 420, false)
	span := levels.Span()
	for i := 0; b.Loop(); i++ {
		view := trace.Stretch{From: span.From + float64(i%100), To: span.To - 1000*float64(i%50)}
		r.Render(figure.Trace(sheet, levels, view, 700, -1, w), style)
	}
}

// A spool without a name has its number.
func TestLedgerPictureNamesEverySpool(t *testing.T) {
	data, err := assets.Samples.ReadFile("samples/olive-stone-pla.json")
	require.NoError(t, err)
	p, _, err := project.Decode(data)
	require.NoError(t, err)
	p.Spool.Made[1].Name = ""
	picture := figure.Ledger(&p, bench.Evaluate(&p), 1, wording.New("en"))
	var labels []string
	for _, b := range picture.Panels[0].Bars {
		labels = append(labels, b.Label)
	}
	assert.Equal(t, []string{"O10-1", "Spool 2", "P-1"}, labels)
	assert.True(t, picture.Panels[0].Bars[1].Strong)
}
