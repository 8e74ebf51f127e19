package figure

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// point is a place of the image, whose origin is at the top, on the canvas, whose origin is at the bottom.
func (p *painter) point(x, y float64) vg.Point {
	return vg.Point{X: vg.Length(x), Y: vg.Length(p.h - y)}
}

// rectangle is a rectangle of the image on the canvas.
func (p *painter) rectangle(r Rect) vg.Rectangle {
	return vg.Rectangle{Min: p.point(r.X0, r.Y1), Max: p.point(r.X1, r.Y0)}
}

// stroke is how a line looks.
type stroke struct {
	ink    color.Color
	width  float64
	dashed bool
}

func (p *painter) lineStyle(s stroke) draw.LineStyle {
	style := draw.LineStyle{Color: s.ink, Width: vg.Length(s.width)}
	if s.dashed {
		style.Dashes = []vg.Length{vg.Length(5 * p.k), vg.Length(4 * p.k)}
	}
	return style
}

// crisp moves the middle of an upright or level line so that its edges fall between pixels.
func crisp(v, width float64) float64 {
	if odd := math.Mod(math.Round(width), 2) == 1; odd {
		return math.Floor(v) + 0.5
	}
	return math.Round(v)
}

// upright draws a vertical line from one height to another.
func (p *painter) upright(s stroke, x, y0, y1 float64) {
	s.width = max(1, math.Round(s.width))
	x = crisp(min(max(x, s.width/2), p.w-s.width/2), s.width)
	a, b := p.point(x, y0), p.point(x, y1)
	p.c.StrokeLine2(p.lineStyle(s), a.X, a.Y, b.X, b.Y)
}

// level draws a horizontal line from one side to another.
func (p *painter) level(s stroke, x0, x1, y float64) {
	s.width = max(1, math.Round(s.width))
	y = crisp(min(max(y, s.width/2), p.h-s.width/2), s.width)
	a, b := p.point(x0, y), p.point(x1, y)
	p.c.StrokeLine2(p.lineStyle(s), a.X, a.Y, b.X, b.Y)
}

// block is the path of a rectangle with rounded corners.
func (p *painter) block(r Rect, radius float64) vg.Path {
	v := p.rectangle(r)
	rad := vg.Length(min(radius, r.W()/2, r.H()/2))
	var path vg.Path
	if rad < 0.5 {
		path.Move(v.Min)
		path.Line(vg.Point{X: v.Max.X, Y: v.Min.Y})
		path.Line(v.Max)
		path.Line(vg.Point{X: v.Min.X, Y: v.Max.Y})
		path.Close()
		return path
	}
	in := vg.Rectangle{
		Min: vg.Point{X: v.Min.X + rad, Y: v.Min.Y + rad},
		Max: vg.Point{X: v.Max.X - rad, Y: v.Max.Y - rad},
	}
	path.Move(vg.Point{X: in.Min.X, Y: v.Min.Y})
	path.Line(vg.Point{X: in.Max.X, Y: v.Min.Y})
	path.Arc(vg.Point{X: in.Max.X, Y: in.Min.Y}, rad, -math.Pi/2, math.Pi/2)
	path.Line(vg.Point{X: v.Max.X, Y: in.Max.Y})
	path.Arc(in.Max, rad, 0, math.Pi/2)
	path.Line(vg.Point{X: in.Min.X, Y: v.Max.Y})
	path.Arc(vg.Point{X: in.Min.X, Y: in.Max.Y}, rad, math.Pi/2, math.Pi/2)
	path.Line(vg.Point{X: v.Min.X, Y: in.Min.Y})
	path.Arc(in.Min, rad, math.Pi, math.Pi/2)
	path.Close()
	return path
}

func (p *painter) fill(ink color.Color, path vg.Path) {
	p.c.SetColor(ink)
	p.c.Fill(path)
}

func (p *painter) outline(s stroke, path vg.Path) {
	p.c.SetLineStyle(p.lineStyle(s))
	p.c.Stroke(path)
}

// ringGlyph, crossGlyph and diamondGlyph are those that gonum draws too thin or not at all.
type (
	ringGlyph    struct{}
	crossGlyph   struct{}
	diamondGlyph struct{}
)

// DrawGlyph implements draw.GlyphDrawer.
func (ringGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(draw.LineStyle{Color: s.Color, Width: 0.5 * s.Radius})
	var path vg.Path
	path.Move(vg.Point{X: at.X + 0.85*s.Radius, Y: at.Y})
	path.Arc(at, 0.85*s.Radius, 0, 2*math.Pi)
	path.Close()
	c.Stroke(path)
}

// DrawGlyph implements draw.GlyphDrawer.
func (crossGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(draw.LineStyle{Color: s.Color, Width: 0.5 * s.Radius})
	r := 0.85 * s.Radius
	for _, up := range [...]vg.Length{r, -r} {
		var path vg.Path
		path.Move(vg.Point{X: at.X - r, Y: at.Y - up})
		path.Line(vg.Point{X: at.X + r, Y: at.Y + up})
		c.Stroke(path)
	}
}

// DrawGlyph implements draw.GlyphDrawer.
func (diamondGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	r := 1.25 * s.Radius
	c.FillPolygon(s.Color, []vg.Point{
		{X: at.X - r, Y: at.Y},
		{X: at.X, Y: at.Y - r},
		{X: at.X + r, Y: at.Y},
		{X: at.X, Y: at.Y + r},
	})
}

func (m Marker) glyph() draw.GlyphDrawer {
	switch m {
	case Square:
		return draw.BoxGlyph{}
	case Triangle:
		return draw.PyramidGlyph{}
	case Ring:
		return ringGlyph{}
	case Cross:
		return crossGlyph{}
	case Diamond:
		return diamondGlyph{}
	default:
		return draw.CircleGlyph{}
	}
}
