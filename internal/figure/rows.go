package figure

import (
	"image/color"
	"math"
)

// barSubs says whether any bar has a second line.
func (f *frame) barSubs() bool {
	for i := range f.Bars {
		if f.Bars[i].Sub != "" {
			return true
		}
	}
	return false
}

// row is the strip of the area that bar i stands on.
func (f *frame) row(i int) Rect {
	h := f.area.H() / float64(len(f.Bars))
	top := f.area.Y0 + float64(i)*h
	return Rect{X0: f.area.X0, Y0: top, X1: f.area.X1, Y1: top + h}
}

// drawBars draws the rows, each with its bar and its texts.
func (p *painter) drawBars(f *frame) {
	for i := range f.Bars {
		b, row := &f.Bars[i], f.row(i)
		height := min(0.56*row.H(), 1.7*p.em)
		middle := (row.Y0 + row.Y1) / 2
		strip := Rect{X0: row.X0, Y0: math.Round(middle - height/2), X1: row.X1, Y1: math.Round(middle + height/2)}
		if b.Chosen {
			p.markRow(row)
		}
		bar := p.drawBar(f, b, strip)
		name := p.rowName(f, Row{Label: b.Label, Sub: b.Sub}, p.rowFace(b.Strong), row)
		if p.detail.sides && row.H() >= lineShare*p.body.size {
			p.put(label{
				text: b.Text, face: p.rowFace(b.Strong), ink: p.Foreground, most: p.w - f.area.X1 - 0.6*p.em - 2,
				x: f.area.X1 + 0.6*p.em, base: p.body.baseline(middle),
			})
		}
		p.target(Target{Kind: OnBar, Panel: f.index, Index: i, Box: bar, Label: name, Text: b.Label})
	}
}

// drawBar draws the bar itself and returns its box: the range with a tick at
// the value, or an empty outline over the whole axis for what is not known.
func (p *painter) drawBar(f *frame, b *Bar, strip Rect) Rect {
	low, high, likely := b.on(f.x)
	if !low.ok && !likely.ok {
		half := p.hair / 2
		edge := Rect{X0: strip.X0 + half, Y0: strip.Y0 + half, X1: strip.X1 - half, Y1: strip.Y1 - half}
		p.outline(stroke{ink: p.Muted, width: p.hair}, p.block(edge, 3*p.k))
		return strip
	}
	if b.Reach {
		return p.drawReach(f, b, strip)
	}
	if f.X.Hide {
		p.fill(mix(p.Background, p.Grid, 0.6), p.block(strip, 3*p.k))
	}
	if !low.ok {
		low, high = likely, likely
	}
	ink := p.ink(b.Colour)
	bar := Rect{X0: f.x.ToPixel(low.v), Y0: strip.Y0, X1: f.x.ToPixel(high.v), Y1: strip.Y1}
	if least := 3 * p.k; bar.W() < least {
		middle := min(max((bar.X0+bar.X1)/2, strip.X0+least/2), strip.X1-least/2)
		bar.X0, bar.X1 = middle-least/2, middle+least/2
	}
	if b.Filled && likely.ok {
		whole := Rect{X0: strip.X0, Y0: strip.Y0, X1: f.x.ToPixel(likely.v), Y1: strip.Y1}
		p.fill(mix(p.Background, ink, filledTint), p.block(whole, min(3*p.k, 0.2*whole.W())))
	}
	p.fill(p.barInk(ink), p.block(bar, min(3*p.k, 0.2*bar.W())))
	if likely.ok && likely.inside {
		x := f.x.ToPixel(likely.v)
		p.upright(stroke{ink: p.Foreground, width: 2.5 * p.k}, x, bar.Y0-0.15*strip.H(), bar.Y1+0.15*strip.H())
		bar.X0, bar.X1 = min(bar.X0, x-2*p.k), max(bar.X1, x+2*p.k)
	}
	if b.Filled {
		bar.X0 = strip.X0
	}
	return bar
}

// filledTint is the share of its colour that the tint of a filled bar shows.
const filledTint = 0.3

// barInk is the colour of a bar, moved a little towards the ground so that the tick in it stands out.
func (p *painter) barInk(ink color.Color) color.Color { return mix(ink, p.Background, 0.25) }

// edge is one number of a bar, brought to the nearest place on the axis.
type edge struct {
	v          float64
	ok, inside bool
}

// on is what of a bar can be drawn: both ends, or none, and the value.
func (b *Bar) on(s Scale) (low, high, likely edge) {
	if !b.Known {
		return edge{}, edge{}, edge{}
	}
	low, high, likely = s.edge(b.Low), s.edge(b.High), s.edge(b.Likely)
	if !low.ok || !high.ok || low.v > high.v {
		low, high = edge{}, edge{}
	}
	return low, high, likely
}

// edge brings a number onto the axis. On a logarithmic axis what is not above zero lies at the lower end.
func (s Scale) edge(v float64) edge {
	if s.Log && drawable(v, false) && v <= tinest {
		return edge{v: s.Min, ok: true}
	}
	return edge{v: min(max(v, s.Min), s.Max), ok: drawable(v, s.Log), inside: s.holds(v)}
}

// subDrop is the height of a line below the name of a row, in sizes of its text.
const subDrop = 1.14

// rowName writes the name of a row, and what stands below it as far as there is room, at the
// left of the area. Either goes on in the next line before it is shortened.
func (p *painter) rowName(f *frame, r Row, face *typeface, row Rect) Rect {
	if row.H() < lineShare*face.size {
		return Rect{}
	}
	most := f.area.X0 - p.pad - 0.6*p.em
	names, subs := p.rowLines(r, face, row.H(), most)
	base := face.baseline((row.Y0+row.Y1)/2) - 0.6*face.size*float64(len(names)-1) - 0.55*p.small.size*float64(len(subs))
	var box Rect
	for i, text := range names {
		if i > 0 {
			base += 1.2 * face.size
		}
		box = box.with(p.put(label{text: text, face: face, ink: p.Foreground, x: p.pad, base: base, most: most}))
	}
	for _, text := range subs {
		base += subDrop * p.small.size
		p.put(label{text: text, face: &p.small, ink: p.Muted, x: p.pad, base: base, most: most})
	}
	return box
}

// rowLines breaks the texts of a row into as many lines as its height holds, those of the
// name before those below it.
func (p *painter) rowLines(r Row, face *typeface, height, most float64) (names, subs []string) {
	lines := max(1, 1+int((height-lineShare*face.size)/(1.2*face.size)))
	names = face.wrap(r.Label, most, lines)
	room := height - lineShare*face.size - 1.2*face.size*float64(len(names)-1)
	if n := int(room / (subDrop * p.small.size)); p.detail.subs && r.Sub != "" && n > 0 {
		subs = p.small.wrap(r.Sub, most, n)
	}
	return names, subs
}
