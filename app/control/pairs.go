package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// The least width of a field beside another, and the space between, at text scale 1.
const (
	pairLeast = 165
	pairGap   = 12
)

// Pairs puts short fields side by side, two to a line, and one below the other
// where two would be too narrow.
type Pairs struct {
	widget.BaseWidget
	hosted

	// Gap between the lines at text scale 1.
	Gap float32

	objects []fyne.CanvasObject
}

// NewPairs returns fields in pairs with a gap between the lines, measured at text scale 1.
func NewPairs(space float32, objects ...fyne.CanvasObject) *Pairs {
	p := &Pairs{Gap: space, objects: objects}
	p.ExtendBaseWidget(p)
	return p
}

func (p *Pairs) setHost(h *host) {
	p.host = h.under(func() { p.lay(p.Size()) })
	for _, o := range p.objects {
		adopt(o, p.host)
	}
}

// cell is the width of a field, and how many stand on a line.
func (p *Pairs) cell(width float32) (each float32, columns int) {
	half := (width - gap(pairGap)) / 2
	if half < fyne.Max(em(pairLeast), widest(p.objects)) {
		return width, 1
	}
	return half, 2
}

// lines calls put for every field with its place, and returns the height of all.
func (p *Pairs) lines(width float32, put func(o fyne.CanvasObject, x, y, h float32)) float32 {
	each, columns := p.cell(width)
	y, tallest, col := float32(0), float32(0), 0
	for i, o := range p.objects {
		h := heightFor(o, each)
		put(o, float32(col)*(each+gap(pairGap)), y, h)
		tallest = fyne.Max(tallest, h)
		col++
		if col == columns && i < len(p.objects)-1 {
			y, tallest, col = y+tallest+gap(p.Gap), 0, 0
		}
	}
	return y + tallest
}

// HeightFor returns the height at a width.
func (p *Pairs) HeightFor(width float32) float32 {
	return p.lines(width, func(fyne.CanvasObject, float32, float32, float32) {})
}

func (p *Pairs) leastWidth() float32 { return widest(p.objects) }

func (p *Pairs) lay(size fyne.Size) {
	each, _ := p.cell(size.Width)
	p.lines(size.Width, func(o fyne.CanvasObject, x, y, h float32) { place(o, x, y, each, h) })
}

// CreateRenderer implements fyne.Widget.
func (p *Pairs) CreateRenderer() fyne.WidgetRenderer {
	if p.host == nil {
		p.setHost(nil)
	}
	return &parts{
		objects: func() []fyne.CanvasObject { return p.objects },
		layout:  p.lay,
		min:     leastOf(p),
		refresh: func() {
			p.lay(p.Size())
			canvas.Refresh(p)
		},
	}
}
