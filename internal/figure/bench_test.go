package figure

import "testing"

// BenchmarkRenderTwoPanels draws two panels with two bands, two lines of 60
// points and three marks at 700 × 450 into an image that is kept.
func BenchmarkRenderTwoPanels(b *testing.B) {
	var r Renderer
	p, s := costAndDensity(), DefaultStyle(700, 450, false)
	r.Render(p, s)
	b.ReportAllocs()
	for b.Loop() {
		r.Render(p, s)
	}
}

// BenchmarkRenderTwoPanelsTwice is the same at twice the pixels per length.
func BenchmarkRenderTwoPanelsTwice(b *testing.B) {
	var r Renderer
	p, s := costAndDensity(), DefaultStyle(1400, 900, false)
	s.Scale = 2
	r.Render(p, s)
	b.ReportAllocs()
	for b.Loop() {
		r.Render(p, s)
	}
}

// BenchmarkRenderBars draws the rows of range bars.
func BenchmarkRenderBars(b *testing.B) {
	var r Renderer
	p, s := meltFlow(), DefaultStyle(700, 450, false)
	b.ReportAllocs()
	for b.Loop() {
		r.Render(p, s)
	}
}
