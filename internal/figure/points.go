package figure

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// place is a place of the image.
type place struct{ x, y float64 }

// at is where a pair of values is in the image.
func (f *frame) at(x, y float64) place {
	return place{f.x.ToPixel(x), f.y.ToPixel(y)}
}

// holds says whether a pair of values lies in the area of the panel.
func (f *frame) holds(x, y float64) bool { return f.x.holds(x) && f.y.holds(y) }

// glyph draws a marker.
func (p *painter) glyph(at place, ink color.Color, radius float64, m Marker) {
	style := draw.GlyphStyle{Color: ink, Radius: vg.Length(radius), Shape: m.glyph()}
	p.c.DrawGlyph(style, p.point(at.x, at.y))
}

// pointRadius is the size of the markers in pixels at scale 1.
const pointRadius = 4.5

// drawPoints draws the points with their error bars, and then their labels, which keep clear of them.
func (p *painter) drawPoints(f *frame) {
	from := len(p.lay.Targets)
	for i := range f.Points {
		s := &f.Points[i]
		for j := range min(len(s.X), len(s.Y)) {
			if drawable(s.X[j], f.x.Log) && drawable(s.Y[j], f.Y.Log) && f.x.holds(s.X[j]) {
				p.drawPoint(f, i, j)
			}
		}
	}
	for t := from; t < len(p.lay.Targets); t++ {
		p.labelPoint(f, &p.lay.Targets[t], from)
	}
}

func (p *painter) drawPoint(f *frame, i, j int) {
	s := &f.Points[i]
	ink := p.ink(s.Colour)
	p.drawErrorBar(f, s, j, ink)
	if !f.y.holds(s.Y[j]) {
		return
	}
	at, r := f.at(s.X[j], s.Y[j]), pointRadius*p.k
	// A rim of the ground lifts the point off the lines behind it.
	if s.Marker != Cross {
		rim := Disc
		if s.Marker == Square || s.Marker == Triangle || s.Marker == Diamond {
			rim = s.Marker
		}
		p.glyph(at, p.Background, r+1.5*p.k, rim)
	}
	p.glyph(at, ink, r, s.Marker)
	p.target(Target{
		Kind: OnPoint, Panel: f.index, Series: i, Index: j, Text: s.label(j),
		Box: Rect{X0: at.x - r, Y0: at.y - r, X1: at.x + r, Y1: at.y + r},
	})
}

func (s *Points) label(j int) string {
	if j < len(s.Labels) {
		return s.Labels[j]
	}
	return ""
}

// drawErrorBar draws the bar of a point with its caps, as far as it lies in the area.
func (p *painter) drawErrorBar(f *frame, s *Points, j int, ink color.Color) {
	low, high := s.errorBar(j)
	if !(high > low) || !drawable(high, f.y.Log) {
		return
	}
	if !drawable(low, f.y.Log) {
		low = f.y.Min
	}
	line := stroke{ink: ink, width: 1.5 * p.k}
	x, half := f.x.ToPixel(s.X[j]), 3*p.k
	bottom, top := max(low, f.y.Min), min(high, f.y.Max)
	if bottom >= top {
		return
	}
	p.upright(line, x, f.y.ToPixel(top), f.y.ToPixel(bottom))
	for _, v := range [...]float64{low, high} {
		if f.y.holds(v) {
			p.level(line, x-half, x+half, f.y.ToPixel(v))
		}
	}
}

// labelPoint writes the label of a point beside it, where it covers nothing
// that can be chosen and no other text; when there is no such place, the label is left out.
func (p *painter) labelPoint(f *frame, t *Target, from int) {
	if t.Text == "" {
		return
	}
	x, y := (t.Box.X0+t.Box.X1)/2, (t.Box.Y0+t.Box.Y1)/2
	gap := t.Box.W()/2 + 4*p.k
	tries := [...]label{
		{x: x + gap, base: p.small.baseline(y)},
		{x: x - gap, base: p.small.baseline(y), align: 1},
		{x: x, base: p.small.baseline(y - gap - 0.4*p.em), align: 0.5},
		{x: x, base: p.small.baseline(y + gap + 0.4*p.em), align: 0.5},
	}
	for _, l := range tries {
		l.text, l.face, l.ink, l.most = t.Text, &p.small, p.Foreground, 0.5*f.area.W()
		box, shown := p.box(l)
		if shown != "" && p.clear(f, box, t, from) {
			// Lines behind the label fade, so that it can be read.
			patch := Rect{X0: box.X0 - 2*p.k, Y0: box.Y0, X1: box.X1 + 2*p.k, Y1: box.Y1}
			p.fill(faint(p.Background, 0.75), p.block(patch, 3*p.k))
			t.Label = p.put(l)
			return
		}
	}
}

// clear says whether a label of a point would stand in the area and cover nothing.
func (p *painter) clear(f *frame, box Rect, own *Target, from int) bool {
	if box.X0 < f.area.X0 || box.X1 > p.w-1 || box.Y0 < f.area.Y0-0.5*p.em || box.Y1 > f.area.Y1 {
		return false
	}
	for i := from; i < len(p.lay.Targets); i++ {
		if o := &p.lay.Targets[i]; o != own && o.Box.Overlaps(box) {
			return false
		}
	}
	return !box.Overlaps(own.Box) && p.untouched(box)
}

// untouched says whether no text stands in a rectangle yet.
func (p *painter) untouched(box Rect) bool {
	for i := range p.lay.Texts {
		if p.lay.Texts[i].Box.Overlaps(box) {
			return false
		}
	}
	return true
}
