package figure

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// painter draws one picture.
type painter struct {
	look
	c      draw.Canvas
	pic    *Picture
	detail detail
	frames []frame
	lay    Layout
}

// Draw paints a picture onto a canvas of Width × Height units and tells where
// its parts went, in those units with the origin at the top left.
func Draw(c vg.Canvas, p Picture, s Style) Layout {
	l := newLook(s)
	ground := draw.NewCanvas(c, vg.Length(l.w), vg.Length(l.h))
	ground.SetColor(l.Background)
	ground.Fill(ground.Rectangle.Path())
	return paint(c, &p, l)
}

// paint draws the picture onto a ground that is already there.
func paint(c vg.Canvas, pic *Picture, l look) Layout {
	p := painter{look: l, pic: pic, c: draw.NewCanvas(c, vg.Length(l.w), vg.Length(l.h))}
	p.frames = frames(pic)
	if p.nothing() {
		p.detail = detail{title: true}
		p.drawHeader()
		p.drawEmpty(pic.Empty, Rect{X0: p.pad, Y0: p.pad + p.headerHeight(), X1: p.w - p.pad, Y1: p.h - p.pad})
		return p.lay
	}
	p.arrange()
	p.drawHeader()
	for i := range p.frames {
		f := &p.frames[i]
		p.lay.Panels = append(p.lay.Panels, PanelLayout{Area: f.area, X: f.x, Y: f.y, Rows: f.rows()})
		p.drawPanel(f)
	}
	return p.lay
}

// nothing says whether no panel has anything to draw.
func (p *painter) nothing() bool {
	for i := range p.frames {
		if !p.frames[i].empty {
			return false
		}
	}
	return true
}

func (p *painter) drawPanel(f *frame) {
	if f.hasTiles() {
		p.drawTiles(f)
		return
	}
	p.drawGrid(f)
	if f.empty {
		p.drawAxes(f)
		p.drawEmpty(f.emptyText(p.pic), f.area)
		return
	}
	if f.hasBars() {
		p.drawAxes(f)
		if f.reaching() { // marks are to be read on reaches
			p.drawBars(f)
			p.drawMarks(f)
			return
		}
		p.drawMarks(f)
		p.drawBars(f)
		return
	}
	p.drawBands(f)
	p.drawStrips(f)
	p.drawAxes(f)
	p.drawLevels(f)
	p.drawMarks(f)
	p.drawLines(f)
	p.drawPoints(f)
	p.drawEnds(f)
}

func (f *frame) emptyText(pic *Picture) string {
	if f.Panel.Empty != "" {
		return f.Panel.Empty
	}
	return pic.Empty
}

// drawEmpty writes a text in the middle of a rectangle, in as many lines as it needs.
func (p *painter) drawEmpty(text string, r Rect) {
	lines := p.body.wrap(text, min(r.W(), 36*p.em), max(1, int(r.H()/p.line)))
	top := (r.Y0+r.Y1)/2 - float64(len(lines))*p.line/2
	for i, line := range lines {
		p.put(label{
			text: line, face: &p.body, ink: p.Muted, align: 0.5, most: r.W(),
			x: (r.X0 + r.X1) / 2, base: p.body.baseline(top + (float64(i)+0.5)*p.line),
		})
	}
}

// drawGrid draws the light lines of the grid: level ones, or upright ones behind bars.
func (p *painter) drawGrid(f *frame) {
	s := stroke{ink: p.Grid, width: p.hair}
	if f.hasBars() {
		if f.X.Hide {
			return
		}
		for _, t := range f.xTicks {
			p.upright(s, f.x.ToPixel(t.Value), f.area.Y0, f.area.Y1)
		}
		return
	}
	for _, t := range f.yTicks {
		p.level(s, f.area.X0, f.area.X1, f.y.ToPixel(t.Value))
	}
}

// drawAxes draws the axes with their ticks and titles.
func (p *painter) drawAxes(f *frame) {
	line := stroke{ink: p.Muted, width: p.hair}
	if !f.X.Hide || p.pic.SharedX {
		p.level(line, f.area.X0, f.area.X1, f.area.Y1)
	}
	p.drawYAxis(f)
	if f.showX && p.detail.ticks {
		p.drawXAxis(f)
	}
}

func (p *painter) drawYAxis(f *frame) {
	if f.hasBars() {
		return
	}
	if p.detail.ticks {
		p.drawYTicks(f)
	}
	if title := f.Y.title(); title != "" && p.detail.yTitle {
		ink := p.Foreground
		if colour, one := f.onlyColour(); one {
			ink = p.textInk(colour)
		}
		middle := f.area.Y0 - f.head + 0.58*p.em
		x := min(f.area.X0, max(p.pad, p.w-p.pad-p.bold.width(plain(title))))
		p.put(label{text: title, face: &p.bold, ink: ink, x: x, base: p.bold.baseline(middle), most: p.w - x - p.pad})
	}
}

// drawYTicks writes the numbers of the Y axis; named ticks that would cover another are left out.
func (p *painter) drawYTicks(f *frame) {
	var last Rect
	for _, t := range f.yTicks {
		l := label{
			text: t.Label, face: &p.small, ink: p.Muted, align: 1,
			x: f.area.X0 - 0.4*p.em, base: p.small.baseline(f.y.ToPixel(t.Value)), most: f.area.X0 - 0.4*p.em,
		}
		if box, _ := p.box(l); !box.Overlaps(last) {
			if drawn := p.put(l); drawn.W() > 0 {
				last = drawn
			}
		}
	}
}

// onlyColour is the colour that all lines and bands of a panel have, which its Y axis then has too.
func (f *frame) onlyColour() (colour int, one bool) {
	for i := range f.Lines {
		if one && f.Lines[i].Colour != colour {
			return 0, false
		}
		colour, one = f.Lines[i].Colour, true
	}
	for i := range f.Bands {
		if one && f.Bands[i].Colour != colour {
			return 0, false
		}
		colour, one = f.Bands[i].Colour, true
	}
	return colour, one
}

// The numbers of the X axis stand so far below it that those of the Y axis, which
// reach half their height below it, do not touch them; both in lines of small text.
const (
	tickDrop = 0.84 // to their middle
	tickRoom = 1.25 // to below them
)

func (p *painter) drawXAxis(f *frame) {
	end := 0.0
	middle := f.area.Y1 + tickDrop*p.smallLine
	for _, t := range f.xTicks {
		x := f.x.ToPixel(t.Value)
		p.upright(stroke{ink: p.Muted, width: p.hair}, x, f.area.Y1, f.area.Y1+3*p.k)
		l := label{text: t.Label, face: &p.small, ink: p.Muted, align: 0.5, x: x, base: p.small.baseline(middle), most: 0.5 * p.w}
		if box, _ := p.box(l); box.X0 >= end {
			end = p.put(l).X1 + 0.3*p.em
		}
	}
	if title := f.X.title(); title != "" && p.detail.xTitle {
		p.put(label{
			text: title, face: &p.small, ink: p.Foreground, align: 0.5, x: (f.area.X0 + f.area.X1) / 2,
			base: p.small.baseline(f.area.Y1 + tickRoom*p.smallLine + 0.6*p.line), most: p.w - 2*p.pad,
		})
	}
}

// target records a part that can be chosen, as far as it lies in the image.
func (p *painter) target(t Target) {
	t.Box = Rect{
		X0: min(max(t.Box.X0, 0), p.w), Y0: min(max(t.Box.Y0, 0), p.h),
		X1: min(max(t.Box.X1, 0), p.w), Y1: min(max(t.Box.Y1, 0), p.h),
	}
	p.lay.Targets = append(p.lay.Targets, t)
}
