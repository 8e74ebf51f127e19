package figure

import (
	"image/color"
	"math"
)

// How much of a reach's colour covers what is behind it: all of it up to its low end, less
// from there to its value, and least at its high end, unless that lies beyond the axis.
const (
	likelyOpacity = 0.55
	highOpacity   = 0.08
	openOpacity   = 0.3
)

// reaching says whether any bar of a panel is a reach.
func (f *frame) reaching() bool {
	for i := range f.Bars {
		if f.Bars[i].Reach {
			return true
		}
	}
	return false
}

// drawReach draws how far something goes from the left end of the axis, and returns the box
// of all that was drawn.
func (p *painter) drawReach(f *frame, b *Bar, strip Rect) Rect {
	low, high, likely := b.on(f.x)
	if !low.ok {
		low, high = likely, likely
	}
	ink := p.barInk(p.ink(b.Colour))
	solid := Rect{X0: strip.X0, Y0: strip.Y0, X1: math.Round(f.x.ToPixel(low.v)), Y1: strip.Y1}
	if b.From > 0 {
		solid.X0 = math.Round(f.x.ToPixel(b.From))
		solid.X1 = max(solid.X1, solid.X0)
	}
	end := math.Round(f.x.ToPixel(high.v))
	if solid.W() > 0 {
		p.fill(ink, p.block(solid, min(3*p.k, 0.2*solid.W())))
	}
	if end > solid.X1 {
		square := solid // where the fade begins
		square.X0 = max(solid.X0, solid.X1-3*p.k)
		p.fill(ink, p.block(square, 0))
		p.drawFade(f, b, Rect{X0: solid.X1, Y0: strip.Y0, X1: end, Y1: strip.Y1}, ink)
	}
	if b.Rest {
		half := p.hair / 2
		rest := Rect{X0: end - half, Y0: strip.Y0 + half, X1: strip.X1 - half, Y1: strip.Y1 - half}
		if rest.W() > 0 {
			p.outline(stroke{ink: p.Muted, width: p.hair}, p.block(rest, min(3*p.k, 0.2*rest.W())))
		}
		return strip
	}
	box := Rect{X0: strip.X0, Y0: strip.Y0, X1: max(end, strip.X0+3*p.k), Y1: strip.Y1}
	if likely.ok && likely.inside && !(b.Open && likely.v >= high.v) {
		x := f.x.ToPixel(likely.v)
		p.upright(stroke{ink: p.Foreground, width: 2.5 * p.k}, x, strip.Y0-0.15*strip.H(), strip.Y1+0.15*strip.H())
		box.X1 = max(box.X1, x+2*p.k)
	}
	return box
}

// fadeStep is the least width of a step of a fade, in pixels of the layout.
const fadeStep = 4

// drawFade fills what is not certain in steps that grow fainter.
func (p *painter) drawFade(f *frame, b *Bar, r Rect, ink color.Color) {
	steps := max(1, math.Floor(r.W()/(fadeStep*p.k)))
	from := r.X0
	for i := 1.0; i <= steps; i++ {
		to := math.Round(r.X0 + r.W()*i/steps)
		if to <= from {
			continue
		}
		step := Rect{X0: from, Y0: r.Y0, X1: to, Y1: r.Y1}
		p.fill(faint(ink, b.opacity(f.x.ToValue((from+to)/2))), p.block(step, 0))
		from = to
	}
}

// opacity is how much of its colour a reach shows at a place between its ends.
func (b *Bar) opacity(v float64) float64 {
	last := highOpacity
	if b.Open {
		last = openOpacity
	}
	between := func(a, z, from, to float64) float64 {
		if !(z > a) {
			return to
		}
		return from + (to-from)*min(max((v-a)/(z-a), 0), 1)
	}
	if v <= b.Likely {
		return between(b.Low, b.Likely, 1, likelyOpacity)
	}
	return between(b.Likely, b.High, likelyOpacity, last)
}

// markRow shows that a row is the chosen one: a wash behind it, and a stroke at its left.
func (p *painter) markRow(row Rect) {
	row.X0, row.X1 = 1, p.w-1
	p.fill(faint(p.Foreground, 0.06), p.block(row, 3*p.k))
	row.X1 = row.X0 + max(2, 0.4*p.pad)
	p.fill(p.Foreground, p.block(row, p.k))
}
