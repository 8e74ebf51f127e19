package figure

import (
	"image/color"
	"math"
)

// drawStrips fills the columns of pixels of each strip. Thousands of strokes would take
// far longer than a frame; upright runs of pixels take next to nothing.
func (p *painter) drawStrips(f *frame) {
	for i := range f.Strips {
		s := &f.Strips[i]
		ink := p.ink(s.Colour)
		n := min(len(s.X), len(s.Low), len(s.High))
		for _, r := range f.runs(n, func(j int) (x, y, z float64) { return s.X[j], s.Low[j], s.High[j] }) {
			p.drawStrip(f, s, r[0], r[1], ink)
		}
	}
}

// drawStrip draws one run without a gap: each column of pixels holds what the places in it
// span, straight between places that are farther apart, and joins the column before it.
func (p *painter) drawStrip(f *frame, s *Strip, from, to int, ink color.Color) {
	at := func(j int) (x, top, bottom float64) {
		return f.x.ToPixel(s.X[j]), f.y.ToPixel(s.High[j]), f.y.ToPixel(s.Low[j])
	}
	column, top, bottom := math.Inf(-1), 0.0, 0.0 // the one that is gathered
	flush := func() {
		if !math.IsInf(column, -1) {
			p.fillColumn(f, column, top, bottom, ink)
		}
	}
	add := func(x, t, b float64) {
		if math.Floor(x) != column {
			lastTop, lastBottom, first := top, bottom, math.IsInf(column, -1)
			flush()
			column, top, bottom = math.Floor(x), t, b
			if !first { // touch the column before
				top, bottom = min(top, lastBottom), max(bottom, lastTop)
			}
			return
		}
		top, bottom = min(top, t), max(bottom, b)
	}
	x0, t0, b0 := at(from)
	add(x0, t0, b0)
	for j := from + 1; j < to; j++ {
		x1, t1, b1 := at(j)
		for x := max(math.Floor(x0)+1, f.area.X0); x < min(math.Floor(x1), f.area.X1); x++ {
			share := (x - x0) / (x1 - x0)
			add(x, t0+share*(t1-t0), b0+share*(b1-b0))
		}
		add(x1, t1, b1)
		x0, t0, b0 = x1, t1, b1
	}
	flush()
}

// fillColumn fills one column of pixels, at least as high as the thinnest line.
func (p *painter) fillColumn(f *frame, x, top, bottom float64, ink color.Color) {
	if x < f.area.X0 || x >= f.area.X1 {
		return
	}
	if thin := p.hair - (bottom - top); thin > 0 {
		top, bottom = top-thin/2, bottom+thin/2
	}
	top, bottom = max(top, f.area.Y0), min(bottom, f.area.Y1)
	if bottom <= top {
		return
	}
	s, ok := p.c.Canvas.(*surface)
	if !ok {
		p.fill(ink, p.block(Rect{X0: x, Y0: top, X1: x + 1, Y1: bottom}, 0))
		return
	}
	c := color.RGBAModel.Convert(ink).(color.RGBA)
	low, high := int(math.Round(top)), int(math.Round(bottom))
	for y := low; y < max(high, low+1); y++ {
		if i := s.img.PixOffset(int(x), y); i >= 0 && i+3 < len(s.img.Pix) {
			s.img.Pix[i], s.img.Pix[i+1], s.img.Pix[i+2], s.img.Pix[i+3] = c.R, c.G, c.B, c.A
		}
	}
}

// stripIn reports a strip that fills some of a box.
func (f *frame) stripIn(s *Strip, box Rect) bool {
	for j := range min(len(s.X), len(s.Low), len(s.High)) {
		x := f.x.ToPixel(s.X[j])
		if x >= box.X0 && x <= box.X1 && f.y.ToPixel(s.Low[j]) >= box.Y0 && f.y.ToPixel(s.High[j]) <= box.Y1 {
			return true
		}
	}
	return false
}
