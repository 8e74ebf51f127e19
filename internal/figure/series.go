package figure

import (
	"cmp"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"
)

// plane is the area of a panel as gonum's plotters take it: the canvas to clip to, and the axes.
func (p *painter) plane(f *frame) (draw.Canvas, *plot.Plot) {
	c := draw.Canvas{Canvas: p.c.Canvas, Rectangle: p.rectangle(f.area)}
	return c, &plot.Plot{X: f.x.axis(), Y: f.y.axis()}
}

// bandOpacity is how much of a band's colour covers what is behind it.
const bandOpacity = 0.17

func (p *painter) drawBands(f *frame) {
	c, plt := p.plane(f)
	for i := range f.Bands {
		b := &f.Bands[i]
		n := min(len(b.X), len(b.Low), len(b.High))
		area := plotter.Polygon{Color: faint(p.ink(b.Colour), bandOpacity)}
		for _, r := range f.runs(n, func(j int) (x, y, z float64) { return b.X[j], b.Low[j], b.High[j] }) {
			ring := make(plotter.XYs, 0, 2*(r[1]-r[0]))
			for j := r[0]; j < r[1]; j++ {
				ring = append(ring, plotter.XY{X: f.x.clamp(b.X[j]), Y: f.y.clamp(b.Low[j])})
			}
			for j := r[1] - 1; j >= r[0]; j-- {
				ring = append(ring, plotter.XY{X: f.x.clamp(b.X[j]), Y: f.y.clamp(b.High[j])})
			}
			area.XYs = []plotter.XYs{ring}
			area.Plot(c, plt)
		}
	}
}

func (p *painter) drawLines(f *frame) {
	c, plt := p.plane(f)
	for i := range f.Lines {
		l := &f.Lines[i]
		width := within(l.Width, 0.5, 20, 2) * p.k
		style := p.lineStyle(stroke{ink: p.ink(l.Colour), width: width, dashed: l.Dash})
		for _, r := range f.runs(min(len(l.X), len(l.Y)), func(j int) (x, y, z float64) { return l.X[j], l.Y[j], l.Y[j] }) {
			points := make(plotter.XYs, 0, r[1]-r[0])
			for j := r[0]; j < r[1]; j++ {
				points = append(points, plotter.XY{X: f.x.clamp(l.X[j]), Y: f.y.clamp(l.Y[j])})
			}
			if len(points) == 1 && f.holds(points[0].X, points[0].Y) {
				p.glyph(f.at(points[0].X, points[0].Y), style.Color, 0.75*width, Disc)
				continue
			}
			(&plotter.Line{XYs: points, LineStyle: style}).Plot(c, plt)
		}
	}
}

// runs lists the stretches [from, to) of a series in which every number can be drawn.
func (f *frame) runs(n int, at func(j int) (x, y, z float64)) [][2]int {
	var out [][2]int
	from := -1
	for j := range n {
		x, y, z := at(j)
		good := drawable(x, f.x.Log) && drawable(y, f.y.Log) && drawable(z, f.y.Log)
		if good && from < 0 {
			from = j
		}
		if !good && from >= 0 {
			out, from = append(out, [2]int{from, j}), -1
		}
	}
	if from >= 0 {
		out = append(out, [2]int{from, n})
	}
	return out
}

// end is the direct label of a line or a band, at the right of the area.
type end struct {
	text   string
	colour int
	y      float64
}

// ends lists the direct labels of a panel: the names of its lines, and of bands whose colour no named line has.
func (f *frame) ends() []end {
	var out []end
	for i := range f.Lines {
		if l := &f.Lines[i]; l.Name != "" {
			if y, ok := f.lastIn(l.X, l.Y); ok {
				out = append(out, end{l.Name, l.Colour, y})
			}
		}
	}
	for i := range f.Bands {
		b := &f.Bands[i]
		named := func(e end) bool { return e.colour == b.Colour }
		if b.Name == "" || slices.ContainsFunc(out, named) {
			continue
		}
		low, ok := f.lastIn(b.X, b.Low)
		high, also := f.lastIn(b.X, b.High)
		if ok && also {
			out = append(out, end{b.Name, b.Colour, f.between(low, high)})
		}
	}
	return out
}

// between is the value in the middle of two on the Y axis.
func (f *frame) between(a, b float64) float64 {
	if f.y.To == f.y.From {
		return a
	}
	return f.y.ToValue((f.y.ToPixel(a) + f.y.ToPixel(b)) / 2)
}

// lastIn is the last Y of a series whose X is on the axis.
func (f *frame) lastIn(xs, ys []float64) (float64, bool) {
	for j := min(len(xs), len(ys)) - 1; j >= 0; j-- {
		if drawable(xs[j], f.x.Log) && drawable(ys[j], f.Y.Log) && xs[j] <= f.xHigh {
			return ys[j], true
		}
	}
	return 0, false
}

// drawEnds writes the names of the lines beside their ends, spread so that none covers another.
func (p *painter) drawEnds(f *frame) {
	if !p.detail.sides {
		return
	}
	ends := f.ends()
	for i := range ends {
		ends[i].y = min(max(f.y.ToPixel(f.y.clamp(ends[i].y)), f.area.Y0), f.area.Y1)
	}
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.y, b.y) })
	spread(ends, f.area.Y0+0.5*p.smallLine, f.area.Y1, p.smallLine)
	for _, e := range ends {
		l := label{
			text: e.text, face: &p.smallBold, ink: p.textInk(e.colour), most: p.w - f.area.X1 - 0.4*p.em - 2,
			x: f.area.X1 + 0.4*p.em, base: p.smallBold.baseline(e.y),
		}
		if box, _ := p.box(l); p.untouched(box) {
			p.put(l)
		}
	}
}

// spread moves heights that are in order apart until they keep the gap, within the two ends as far as that goes.
func spread(ends []end, top, bottom, gap float64) {
	for i := 1; i < len(ends); i++ {
		ends[i].y = max(ends[i].y, ends[i-1].y+gap)
	}
	limit := bottom
	for i := len(ends) - 1; i >= 0; i-- {
		ends[i].y = max(min(ends[i].y, limit), top)
		limit = ends[i].y - gap
	}
}
