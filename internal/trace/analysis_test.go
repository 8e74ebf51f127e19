package trace_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/trace"
)

func summarise(t *testing.T, text string, want trace.Wanted) trace.Summary {
	t.Helper()
	g, err := trace.GuessLayout([]byte(text[:min(len(text), trace.GuessBytes)]))
	require.NoError(t, err)
	s, err := trace.Summarise(context.Background(), strings.NewReader(text), g.Layout, trace.Reading{TypicalM: g.TypicalM}, want)
	require.NoError(t, err)
	return s
}

// Ten readings, worked out by hand: mean 1.75, s 0.018257, mean d² 3.0628, r1 -0.433333,
// so that the effective number is held at 10.
func TestSummaryOfTenReadings(t *testing.T) {
	s := summarise(t, "1.74\n1.76\n1.75\n1.78\n1.73\n1.75\n1.77\n1.74\n1.76\n1.72\n", trace.Wanted{LowM: 1.725e-3, HighM: 1.775e-3})
	assert.InEpsilon(t, 1.75e-3, s.MeanM, 1e-12)
	assert.InEpsilon(t, 0.018257418583505537e-3, s.SDM, 1e-9)
	assert.InEpsilon(t, 3.0628e-6, s.MeanSquareM2, 1e-12)
	assert.InDelta(t, -0.433333333, s.Lag1, 1e-8)
	assert.InDelta(t, 10, s.Effective, 1e-12)
	assert.EqualValues(t, 1, s.Below)
	assert.EqualValues(t, 1, s.Above)
	assert.Equal(t, 4.0, s.GoodFrom)
	assert.Equal(t, 8.0, s.GoodTo)
}

// Two axes: 1.80 x 1.70 has an area of 2.403318 mm², against 2.405282 of 1.75 mm.
func TestSummaryOfTwoAxes(t *testing.T) {
	s := summarise(t, strings.Repeat("1.800;1.700\n1.700;1.800\n", 50), trace.Wanted{})
	assert.InEpsilon(t, 2.403318, math.Pi/4*s.MeanSquareM2*1e6, 1e-6)
	assert.InEpsilon(t, 1.75e-3, s.MeanM, 1e-12)
	assert.InDelta(t, 0.1e-3, s.Ovality.MeanM, 1e-12)
	assert.InDelta(t, 0.1e-3, s.Ovality.MaxM, 1e-12)
	assert.EqualValues(t, 100, s.Ovality.Readings)
}

// NIST StRD NumAcc4 through the file: certified mean 10000000.2 and sd 0.1. The numbers
// themselves cannot be held better than to about 8 digits of the sd.
func TestSummaryOfNumAcc4(t *testing.T) {
	text := "10000000.2\n" + rows(1000, func(i int) string { return fmt.Sprintf("10000000.%d", 1+2*(i%2)) })
	l := trace.Layout{Separator: ',', Columns: []trace.Column{{Role: trace.Diameter, Unit: "m"}}}
	s, err := trace.Summarise(context.Background(), strings.NewReader(text), l, trace.Reading{}, trace.Wanted{Quick: true})
	require.NoError(t, err)
	assert.InEpsilon(t, 10000000.2, s.MeanM, 1e-15)
	assert.Greater(t, -math.Log10(math.Abs(s.SDM-0.1)/0.1), 8.0)
}

// story is the log of a strand with a wave of the screw, a lump, a thin spot, a drift
// and a step, of 10 readings a second.
func story(n int) string {
	random := rand.New(rand.NewPCG(8, 9))
	return "time_s;diameter_mm\n" + rows(n, func(i int) string {
		d := 1.745 + 0.008*math.Sin(2*math.Pi*float64(i)/33.3) + 0.006*random.NormFloat64() + 0.01*float64(i)/float64(n)
		switch {
		case i >= 20_000 && i < 20_012:
			d += 0.3
		case i >= 31_000 && i < 31_008:
			d -= 0.2
		}
		if i >= 40_000 {
			d += 0.02
		}
		return fmt.Sprintf("%.1f;%.4f", float64(i)*.1, d)
	})
}

func TestSummaryTellsTheStory(t *testing.T) {
	const n = 60_000
	s := summarise(t, story(n), trace.Wanted{LowM: 1.70e-3, HighM: 1.80e-3})
	require.EqualValues(t, 2, s.LumpCount)
	assert.InDelta(t, 2000, s.Lumps[0].From, 0.3)
	assert.InDelta(t, 0.3e-3, s.Lumps[0].HeightM, 0.04e-3)
	assert.InDelta(t, 3100, s.Lumps[1].From, 0.3)
	assert.InDelta(t, -0.2e-3, s.Lumps[1].HeightM, 0.04e-3)
	require.NotEmpty(t, s.Waves)
	assert.InEpsilon(t, 3.33, s.Waves[0].Period*s.Step, 0.005)
	assert.InEpsilon(t, 0.008e-3, s.Waves[0].AmplitudeM, 0.03)
	require.Len(t, s.Steps, 1)
	assert.InDelta(t, 4000, s.Steps[0].At, 10)
	assert.InDelta(t, 0.02e-3, s.Steps[0].HeightM, 0.002e-3)
	assert.InDelta(t, 0.01e-3, s.Drift.OverAllM, 0.003e-3)
	assert.Greater(t, s.Drift.PerUnitM, 3*s.Drift.SD)
	assert.InDelta(t, 4000, s.GoodTo-s.GoodFrom+2000, 1100, "between the thin spot and the end")
	flow := trace.FlowErrorOf(s.Pieces, 20, 1.75e-3)
	assert.Less(t, flow.Low, flow.Mean)
	assert.Less(t, flow.Mean, flow.High)
	assert.InDelta(t, s.MeanSquareM2/1.75e-3/1.75e-3-1, flow.Mean, 1e-4)
	assert.InDelta(t, 20, flow.Over, 1)
	assert.InDelta(t, 300, flow.Stretches, 15)
	assert.InDelta(t, s.MeanM, s.Histogram.Quantile(0.5), 5e-6)
	assert.Less(t, s.Effective, 200.0, "drift and step are in it")
}

// In pieces of other lengths the log says the same.
func TestSummaryDoesNotDependOnBlocks(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 1))
	var whole trace.Block
	for i := range 30_000 {
		whole.At = append(whole.At, float64(i))
		whole.Diameter = append(whole.Diameter, 1.75e-3+1e-5*random.NormFloat64())
		whole.Gap = append(whole.Gap, i == 12_000)
	}
	var first trace.Summary
	for _, size := range []int{9000, 10_000, 30_000} {
		a := trace.NewAnalysis(trace.Wanted{LowM: 1.72e-3, HighM: 1.78e-3})
		for from := 0; from < len(whole.At); from += size {
			to := min(from+size, len(whole.At))
			a.Add(&trace.Block{At: whole.At[from:to], Diameter: whole.Diameter[from:to], Gap: whole.Gap[from:to]})
		}
		s := a.Summary(trace.Count{Readings: 30_000, Step: 1, Span: 29_999}, trace.ByReading)
		if size == 9000 {
			first = s
			continue
		}
		assert.InEpsilon(t, first.SDM, s.SDM, 1e-12)
		assert.InDelta(t, first.Lag1, s.Lag1, 1e-9)
		s.MeanM, s.SDM, s.MeanSquareM2, s.Lag1, s.Effective = first.MeanM, first.SDM, first.MeanSquareM2, first.Lag1, first.Effective
		assert.Equal(t, first, s)
	}
}

// An analysis that is given up leaves no goroutine, however early: Stop waits for it.
func TestAnalysisCanBeGivenUp(t *testing.T) {
	b := trace.Block{At: []float64{0, 1, 2}, Diameter: []float64{1.75e-3, 1.76e-3, 1.74e-3}, Gap: make([]bool, 3)}
	for range 200 {
		a := trace.NewAnalysis(trace.Wanted{})
		a.Stop()
		a = trace.NewAnalysis(trace.Wanted{})
		a.Add(&b)
		a.Stop()
		a.Stop()
	}
}
