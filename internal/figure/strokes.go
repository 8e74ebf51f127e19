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
	var path vg.Path
	p.addBlock(&path, r, radius)
	return path
}

// addBlock adds a rectangle to a path. Its corners are parabolas: at a few
// pixels nobody sees that they are no arcs, which take several times as long.
func (p *painter) addBlock(path *vg.Path, r Rect, radius float64) {
	v := p.rectangle(r)
	rad := vg.Length(min(radius, r.W()/2, r.H()/2))
	if rad < 0.5 {
		rad = 0
	}
	corners := [...]struct{ at, to vg.Point }{ // each with the way that leads on from it
		{vg.Point{X: v.Max.X, Y: v.Min.Y}, vg.Point{Y: 1}},
		{v.Max, vg.Point{X: -1}},
		{vg.Point{X: v.Min.X, Y: v.Max.Y}, vg.Point{Y: -1}},
		{v.Min, vg.Point{X: 1}},
	}
	from := corners[3].to
	path.Move(v.Min.Add(from.Scale(rad)))
	for _, c := range corners {
		path.Line(c.at.Sub(from.Scale(rad)))
		if rad > 0 {
			path.QuadTo(c.at, c.at.Add(c.to.Scale(rad)))
		}
		from = c.to
	}
	path.Close()
}

// frameBlock is the path between a rounded rectangle and another within it.
func (p *painter) frameBlock(r Rect, radius, width float64) vg.Path {
	path := p.block(r, radius)
	if in := (Rect{X0: r.X0 + width, Y0: r.Y0 + width, X1: r.X1 - width, Y1: r.Y1 - width}); in.W() > 0 && in.H() > 0 {
		v := p.rectangle(in) // the other way round, so that it is a hole
		path.Move(v.Min)
		path.Line(vg.Point{X: v.Min.X, Y: v.Max.Y})
		path.Line(v.Max)
		path.Line(vg.Point{X: v.Max.X, Y: v.Min.Y})
		path.Close()
	}
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
