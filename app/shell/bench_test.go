package shell_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// median runs work until the benchmark has had enough and reports the median of
// its times, which a pause of the machine does not move.
func median(b *testing.B, work func(i int)) {
	b.Helper()
	work(0) // what is made once
	work(1)
	var times []time.Duration
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		work(i)
		times = append(times, time.Since(start))
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2])/1e6, "median-ms")
	b.ReportMetric(float64(times[len(times)*9/10])/1e6, "p90-ms")
}

// toggle changes an amount of the blend at work between 10 and 11 wt%.
func toggle(b *testing.B, r *rig, i int) {
	text := []string{"11 wt%", "10 wt%"}[i%2]
	err := r.bench.Edit("Change amount", "/blends/2/parts/1/amount", func(p *project.Project) error {
		return set(p, "/blends/2/parts/1/amount", text)
	})
	require.NoError(b, err)
}

// BenchmarkEditToPicture measures one edit in the Blend pane at 1280 by 800 and
// scale 1, from the document to all labels set and the picture drawn, without
// the toolkit's own painting. The parts of it are measured beside the whole:
// the edit of the document, the evaluation, everything up to the labels, and the
// picture.
func BenchmarkEditToPicture(b *testing.B) {
	r := openSample(b, olive)
	settle(r.bench.Content())
	settle(r.bench.Content())
	r.canvas().Capture()
	picture := r.picture()
	size := picture.Image().Bounds().Size()
	require.Greater(b, size.X, 600)
	require.Greater(b, size.Y, 350)
	b.Run("whole", func(b *testing.B) {
		median(b, func(i int) {
			toggle(b, r, i)
			picture.Image()
		})
		b.ReportMetric(float64(size.X), "px-wide")
		b.ReportMetric(float64(size.Y), "px-high")
	})
	b.Run("edit", func(b *testing.B) {
		h := project.NewHistory(sample(b, olive), 1<<20) // as full as it gets
		median(b, func(i int) {
			text := []string{"11 wt%", "10 wt%"}[i%2]
			require.NoError(b, h.Edit("", "", func(p *project.Project) error { return set(p, "/blends/2/parts/1/amount", text) }))
		})
	})
	b.Run("evaluate", func(b *testing.B) {
		p := sample(b, olive)
		median(b, func(int) { bench.Evaluate(&p) })
	})
	b.Run("to-labels", func(b *testing.B) { median(b, func(i int) { toggle(b, r, i) }) })
	b.Run("picture", func(b *testing.B) {
		median(b, func(int) {
			picture.Invalidate()
			picture.Image()
		})
	})
}
