package trace_test

import (
	"bytes"
	"context"
	"math"
	"testing"

	"fillwright/internal/trace"
)

// Whatever a file holds, it is read or refused, and every line is accounted for.
func FuzzLog(f *testing.F) {
	for _, seed := range []string{
		"time_s,diameter_mm\n0.00,1.7500\n0.01,1.7512\n", "1,75\n1,76\n", "10:00:00;1.75;1.74\n10:00:01;1.76;1.75\n",
		"21.08.2026 14:03:22,5;1750\n", "\"1,75\",\"x\"\r\n\"1,76\",\"y\"\r\n", "1.75\r1.76\r", "NaN\ninf\n-1\n1e400\n",
		"\xff\xfe1\x00\n\x00", "a|b|c\n1.75|1.70|0.1\n", "  1  1.75 \n\t2\t1.76", "1.75,,,\n,1.75\n",
	} {
		f.Add([]byte(seed), false)
	}
	f.Fuzz(func(t *testing.T, data []byte, shuffle bool) {
		text := new(bytes.Buffer)
		_, _ = text.ReadFrom(trace.Text(bytes.NewReader(data)))
		g, err := trace.GuessLayout(text.Bytes()[:min(text.Len(), trace.GuessBytes)])
		if err != nil {
			return
		}
		if shuffle && len(g.Layout.Columns) > 0 {
			g.Layout.Columns[0].Role = trace.Time
			g.Layout.Columns[0].Unit = trace.DayFirst
		}
		var readings int64
		before := math.Inf(-1)
		count, err := trace.Scan(context.Background(), trace.Text(bytes.NewReader(data)), g.Layout, trace.Reading{TypicalM: g.TypicalM}, func(b *trace.Block) error {
			for i, at := range b.At {
				if !(at >= before) || !(b.Diameter[i] > 0) || math.IsInf(b.Diameter[i], 0) {
					t.Fatalf("reading %v at %v after %v", b.Diameter[i], at, before)
				}
				before = at
			}
			readings += int64(len(b.Diameter))
			return nil
		})
		if readings != count.Readings || count.Readings+count.LeftOut() > count.Lines || (err == nil) != (readings > 0) {
			t.Fatalf("%d readings, counted %+v, %v", readings, count, err)
		}
		if err != nil {
			return
		}
		s, err := trace.Summarise(context.Background(), trace.Text(bytes.NewReader(data)), g.Layout, trace.Reading{TypicalM: g.TypicalM}, trace.Wanted{HighM: 2e-3})
		if err != nil {
			t.Fatal(err)
		}
		flow := trace.FlowErrorOf(s.Pieces, 1, 1.75e-3)
		for _, v := range []float64{s.MeanM, s.SDM, s.MeanSquareM2, s.Lag1, s.Effective, s.Drift.PerUnitM, flow.Mean, flow.SD} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("mean %v, sd %v, mean square %v, lag %v, effective %v, drift %+v, flow %+v", s.MeanM, s.SDM, s.MeanSquareM2, s.Lag1, s.Effective, s.Drift, flow)
			}
		}
	})
}
