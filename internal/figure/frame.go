package figure

import (
	"math"

	"gonum.org/v1/plot"
)

// frame is one panel on its way into the image.
type frame struct {
	*Panel
	index          int
	empty          bool
	xLow, xHigh    float64 // ends of the axes before they are rounded to ticks
	yLow, yHigh    float64
	xFixed, yFixed bool // the ends stay as they are

	area           Rect
	x, y           Scale
	xTicks, yTicks []plot.Tick
	head, foot     float64 // room above and below the area
	showX          bool    // ticks and title of the X axis
	flags          []flag
	flagRows       int
}

// frames takes the panels of the picture with the ranges of their axes.
func frames(pic *Picture) []frame {
	out := make([]frame, len(pic.Panels))
	for i := range pic.Panels {
		f := frame{Panel: &pic.Panels[i], index: i}
		f.empty = !f.hasData()
		f.showX = !f.X.Hide && !f.hasTiles() && (!pic.SharedX || i == len(out)-1)
		f.rangeX(f.xData())
		out[i] = f
	}
	if pic.SharedX {
		shareX(out)
	}
	for i := range out {
		out[i].rangeY()
	}
	return out
}

// shareX gives all panels the X axis of the last one, over the data of all.
func shareX(all []frame) {
	if len(all) == 0 {
		return
	}
	last := &all[len(all)-1]
	data := extent{log: last.X.Log}
	margin := 0.0
	for i := range all {
		own := all[i].xDataOn(last.X.Log)
		if own.any {
			data.add(own.low, own.high)
		}
		if !all[i].empty {
			margin = max(margin, all[i].xMargin())
		}
	}
	low, high, fixed := last.X.span(data, margin)
	for i := range all {
		all[i].xLow, all[i].xHigh, all[i].xFixed = low, high, fixed
		all[i].x.Log = last.X.Log
	}
}

func (f *frame) hasBars() bool  { return len(f.Bars) > 0 }
func (f *frame) hasTiles() bool { return len(f.Tiles) > 0 || len(f.Rows) > 0 }

// rows counts the rows of bars or tiles; 0 for a panel of another kind.
func (f *frame) rows() int {
	switch {
	case f.hasTiles():
		return f.tileRows()
	default:
		return len(f.Bars)
	}
}

// hasData says whether the panel has anything beside marks and levels that can be drawn.
func (f *frame) hasData() bool {
	if f.hasBars() || len(f.Tiles) > 0 {
		return true
	}
	y := extent{log: f.Y.Log}
	f.addY(&y, f.xDrawable)
	return y.any
}

func (f *frame) xDrawable(x float64) bool { return drawable(x, f.X.Log) }

func (f *frame) rangeX(data extent) {
	f.xLow, f.xHigh, f.xFixed = f.X.span(data, f.xMargin())
	f.x.Log = f.X.Log
}

// xMargin is the room beside the data: none beside lines, which may touch the ends of the axis.
func (f *frame) xMargin() float64 {
	if (len(f.Lines) > 0 || len(f.Bands) > 0 || len(f.Strips) > 0) && len(f.Points) == 0 && !f.hasBars() {
		return 0
	}
	return 0.05
}

func (f *frame) xData() extent { return f.xDataOn(f.X.Log) }

func (f *frame) xDataOn(log bool) extent {
	e := extent{log: log}
	for i := range f.Lines {
		e.add(f.Lines[i].X...)
	}
	for i := range f.Bands {
		e.add(f.Bands[i].X...)
	}
	for i := range f.Strips {
		e.add(f.Strips[i].X...)
	}
	for i := range f.Points {
		e.add(f.Points[i].X...)
	}
	for i := range f.Bars {
		if b := &f.Bars[i]; b.Known {
			e.add(b.Low, b.Likely, b.High)
			if b.Filled || b.Reach {
				e.add(0)
			}
		}
	}
	for i := range f.Marks {
		e.add(f.Marks[i].X)
	}
	return e
}

// rangeY spans the data that stands over the visible part of the X axis.
func (f *frame) rangeY() {
	low, high := f.xLow, f.xHigh
	e := extent{log: f.Y.Log}
	f.addY(&e, func(x float64) bool {
		return drawable(x, f.x.Log) && x >= low && x <= high
	})
	for i := range f.Levels {
		e.add(f.Levels[i].Y)
	}
	f.yLow, f.yHigh, f.yFixed = f.Y.span(e, 0.04)
	f.y.Log = f.Y.Log
}

// addBetween adds both ends at the X values that are wanted.
func (e *extent) addBetween(x, low, high []float64, wanted func(x float64) bool) {
	for j := range min(len(x), len(low), len(high)) {
		if wanted(x[j]) {
			e.add(low[j], high[j])
		}
	}
}

// addY gathers the Y values of the data at the X values that are wanted.
func (f *frame) addY(e *extent, wanted func(x float64) bool) {
	for i := range f.Lines {
		l := &f.Lines[i]
		for j := range min(len(l.X), len(l.Y)) {
			if wanted(l.X[j]) {
				e.add(l.Y[j])
			}
		}
	}
	for i := range f.Bands {
		b := &f.Bands[i]
		e.addBetween(b.X, b.Low, b.High, wanted)
	}
	for i := range f.Strips {
		s := &f.Strips[i]
		e.addBetween(s.X, s.Low, s.High, wanted)
	}
	for i := range f.Points {
		s := &f.Points[i]
		for j := range min(len(s.X), len(s.Y)) {
			if wanted(s.X[j]) && drawable(s.Y[j], e.log) {
				low, high := s.errorBar(j)
				e.add(s.Y[j], low, high)
			}
		}
	}
}

// errorBar is the range that the error bar of point j spans; its Y where there is none.
func (s *Points) errorBar(j int) (low, high float64) {
	low, high = s.Y[j], s.Y[j]
	if j < len(s.LowErr) && s.LowErr[j] > 0 {
		low -= s.LowErr[j]
	}
	if j < len(s.HighErr) && s.HighErr[j] > 0 {
		high += s.HighErr[j]
	}
	return low, high
}

// place sets the area of the panel between two heights of the image and its Y axis.
func (f *frame) place(top, bottom, em float64, comma bool) {
	f.area.Y0, f.area.Y1 = top, max(bottom, top+1)
	if rows := f.rows(); rows > 0 {
		f.y = Scale{Max: float64(rows), From: f.area.Y0, To: f.area.Y1}
		return
	}
	f.y = Scale{Log: f.Y.Log, From: f.area.Y1, To: f.area.Y0}
	most := max(1, min(int(f.area.H()/(2.4*em)), 7))
	f.setY(most, true, comma)
	// One number alone gives no scale: finer steps are tried, and ends that are
	// no ticks, as long as the numbers keep apart.
	for try := 0; try < 8 && !f.readable(1.3*em); try++ {
		f.setY(most+try/2, try%2 == 0, comma)
	}
	if f.Y.Hide || f.empty || f.area.H() < 1.2*em {
		f.yTicks = nil
	}
}

// setY sets the Y axis with at most so many ticks.
func (f *frame) setY(most int, rounded, comma bool) {
	f.y.Min, f.y.Max = f.yLow, f.yHigh
	if rounded && !f.yFixed {
		f.y.Min, f.y.Max = f.Y.rounded(f.yLow, f.yHigh, most)
	}
	f.yTicks = f.Y.ticks(f.y.Min, f.y.Max, most, comma)
}

// readable says whether the Y axis has at least two ticks, and those a gap apart.
func (f *frame) readable(gap float64) bool {
	for i := 1; i < len(f.yTicks); i++ {
		if math.Abs(f.y.ToPixel(f.yTicks[i].Value)-f.y.ToPixel(f.yTicks[i-1].Value)) < gap {
			return false
		}
	}
	return len(f.yTicks) > 1
}

// lay sets the X axis of the panel between two sides of the image, with as
// many ticks as their labels leave room for.
func (f *frame) lay(left, right float64, axis *Axis, l *look) {
	f.area.X0, f.area.X1 = left, max(right, left+1)
	if f.hasTiles() {
		columns := float64(f.tileColumns())
		f.area.X1 = min(f.area.X1, f.area.X0+10*l.em*columns)
		f.x = Scale{Max: columns, From: f.area.X0, To: f.area.X1}
		return
	}
	gap := 0.8 * l.em
	for most := max(2, int(min(f.area.W()/(5*l.em), 8))); ; most-- { // one number alone gives no scale
		low, high := f.xLow, f.xHigh
		if !f.xFixed {
			low, high = axis.rounded(low, high, max(most, 1))
		}
		f.x = Scale{Min: low, Max: high, Log: f.x.Log, From: f.area.X0, To: f.area.X1}
		f.xTicks = axis.ticks(low, high, most, l.DecimalComma)
		if most < 1 || len(axis.Ticks) > 0 || f.roomy(f.xTicks, l, gap) {
			return
		}
	}
}

// roomy says whether the labels of the ticks of the X axis keep apart.
func (f *frame) roomy(ticks []plot.Tick, l *look, gap float64) bool {
	end := math.Inf(-1)
	for _, t := range ticks {
		half := l.small.width(t.Label) / 2
		at := f.x.ToPixel(t.Value)
		if at-half < end+gap {
			return false
		}
		end = at + half
	}
	return true
}
