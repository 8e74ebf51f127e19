package pane

import (
	"math"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/trace"
)

// The picture of the strand is zoomed with the wheel, with + and -, and moved with the
// pointer or the arrows. Page Up and Page Down go from lump to lump, Home shows all.

const (
	zoomStep   = 1.25
	panShare   = 0.2  // of what is in view
	lumpMargin = 8    // lengths of a lump that are shown at each side
	leastView  = 1e-5 // of the whole log
)

// zoomAt makes the picture larger or smaller around a place of it.
func (v *logView) zoomAt(at control.Pixel, dy float64) {
	if dy == 0 {
		return
	}
	v.zoom(v.placeAt(at), math.Pow(zoomStep, -math.Copysign(1, dy)))
}

// placeAt is the place along the log under a pixel.
func (v *logView) placeAt(at control.Pixel) float64 {
	if len(v.strand.layout.Panels) == 0 {
		return (v.view.From + v.view.To) / 2
	}
	x, _ := v.strand.layout.Panels[0].ToValue(at.X, at.Y)
	return x / v.factor()
}

// factor is how much of the picture's axis one unit of the log is.
func (v *logView) factor() float64 {
	sheet := v.sheet()
	if sheet == nil {
		return 1
	}
	_, factor := figure.TraceAxis(sheet, v.pane.words())
	return factor
}

func (v *logView) zoom(around, by float64) {
	v.setView(trace.Stretch{From: around - (around-v.view.From)*by, To: around + (v.view.To-around)*by})
}

// setView shows a stretch of the log, as far as there is one.
func (v *logView) setView(s trace.Stretch) {
	levels := v.levels()
	if levels == nil {
		return
	}
	all := levels.Span()
	width := min(max(s.To-s.From, leastView*(all.To-all.From)), all.To-all.From)
	middle := (s.From + s.To) / 2
	from := min(max(middle-width/2, all.From), all.To-width)
	v.view = trace.Stretch{From: from, To: from + width}
	v.strand.view.Invalidate()
}

// drag moves the picture by pixels.
func (v *logView) drag(dx float64) {
	if len(v.strand.layout.Panels) == 0 {
		return
	}
	area := v.strand.layout.Panels[0].Area
	v.pan(-dx / max(area.W(), 1))
}

// pan moves the picture by a share of what is in view.
func (v *logView) pan(share float64) {
	by := share * (v.view.To - v.view.From)
	v.setView(trace.Stretch{From: v.view.From + by, To: v.view.To + by})
}

// typedKey hears keys on the picture.
func (v *logView) typedKey(name fyne.KeyName) {
	middle := (v.view.From + v.view.To) / 2
	switch name {
	case fyne.KeyLeft:
		v.pan(-panShare)
	case fyne.KeyRight:
		v.pan(panShare)
	case fyne.KeyUp:
		v.zoom(middle, 1/zoomStep)
	case fyne.KeyDown:
		v.zoom(middle, zoomStep)
	case fyne.KeyHome, fyne.KeyEscape:
		v.showAll()
	case fyne.KeyPageDown:
		v.nextLump(1)
	case fyne.KeyPageUp:
		v.nextLump(-1)
	}
}

// typedRune hears letters on the picture.
func (v *logView) typedRune(r rune) {
	middle := (v.view.From + v.view.To) / 2
	switch r {
	case '+', '=':
		v.zoom(middle, 1/zoomStep)
	case '-':
		v.zoom(middle, zoomStep)
	}
}

// showAll shows the whole log.
func (v *logView) showAll() {
	if levels := v.levels(); levels != nil {
		v.choose(-1)
		v.setView(levels.Span())
	}
}

// choose makes a lump the chosen one.
func (v *logView) choose(i int) {
	v.selected = i
	if v.chooser != nil {
		v.chooser.Sync()
	}
}

// nextLump goes to the next lower lump, or back to the next higher one.
func (v *logView) nextLump(by int) {
	sheet := v.sheet()
	if sheet == nil || len(sheet.Lumps) == 0 {
		return
	}
	v.showLump(min(max(v.selected+by, 0), len(sheet.Lumps)-1))
}

// showLump brings a lump into the middle of the picture.
func (v *logView) showLump(i int) {
	sheet := v.sheet()
	if sheet == nil || i >= len(sheet.Lumps) {
		return
	}
	v.choose(i)
	v.setView(aroundLump(sheet, i))
}

// aroundLump is a stretch with a lump in its middle.
func aroundLump(sheet *bench.TraceSheet, i int) trace.Stretch {
	l := &sheet.Lumps[i]
	half := lumpMargin * max(l.To-l.From, 4*sheet.Summary.Step)
	return trace.Stretch{From: l.At - half, To: l.At + half}
}

// tap chooses the lump under the pointer.
func (v *logView) tap(at control.Pixel) {
	sheet := v.sheet()
	target, found := v.strand.layout.At(at.X, at.Y, 8)
	if sheet == nil || !found || target.Kind != figure.OnMark {
		return
	}
	place := v.placeAt(control.Pixel{X: (target.Box.X0 + target.Box.X1) / 2, Y: at.Y})
	best := -1
	for i := range sheet.Lumps {
		if best < 0 || math.Abs(sheet.Lumps[i].At-place) < math.Abs(sheet.Lumps[best].At-place) {
			best = i
		}
	}
	if best >= 0 {
		v.choose(best)
		v.strand.view.Invalidate()
	}
}
