package figure

import (
	"math"
	"slices"
)

// detail is what a picture shows beside its data.
type detail struct {
	subs, legend, title, xTitle, yTitle, sides, ticks bool
	bare                                              bool // rows go without labels of marks
}

// details go from everything to nothing but the data: what is last in the list is given up last.
var details = [...]detail{
	{subs: true, legend: true, title: true, xTitle: true, yTitle: true, sides: true, ticks: true},
	{legend: true, title: true, xTitle: true, yTitle: true, sides: true, ticks: true},
	{title: true, xTitle: true, yTitle: true, sides: true, ticks: true},
	{xTitle: true, yTitle: true, sides: true, ticks: true},
	{yTitle: true, sides: true, ticks: true},
	{sides: true, ticks: true},
	{ticks: true},
	{},
	{bare: true},
}

// arrange finds the places of all panels, with as much beside the data as the image has room for.
func (p *painter) arrange() {
	for i := 0; i < len(details); i++ {
		p.detail = details[i]
		p.tryArrange()
		if p.fits() {
			return
		}
		if !p.detail.legend && p.dropSpare() {
			i = -1 // the others begin with everything again
		}
	}
}

// dropSpare leaves out the panels that a small image can do without, and the
// legend, which stands for them. It says whether there were any.
func (p *painter) dropSpare() bool {
	spare := func(panel Panel) bool { return panel.Spare }
	kept := slices.DeleteFunc(slices.Clone(p.pic.Panels), spare)
	if len(kept) == 0 || len(kept) == len(p.pic.Panels) {
		return false
	}
	short := *p.pic
	short.Panels, short.Legend = kept, nil
	p.pic, p.frames = &short, frames(&short)
	return true
}

// tryArrange places the panels with the present detail. How high the panels
// are decides which ticks they have, so how wide these are, so where the marks
// stand and how many rows their labels need, which takes from the height: the
// second round settles it.
func (p *painter) tryArrange() {
	for i := range p.frames {
		p.frames[i].flagRows = min(1, p.labelledMarks(i))
	}
	for range 2 {
		p.stack()
		left, right := p.gutter(), p.w-p.margin()
		left, right = math.Round(left), math.Round(max(right, left+1))
		for i := range p.frames {
			f := &p.frames[i]
			f.lay(left, right, p.xAxis(i), &p.look)
			p.plantFlags(f)
		}
	}
}

// xAxis is the axis that names the ticks of a panel: with a shared axis, that of the last one.
func (p *painter) xAxis(i int) *Axis {
	if p.pic.SharedX {
		i = len(p.frames) - 1
	}
	return &p.frames[i].X
}

// fits says whether the data has room enough.
func (p *painter) fits() bool {
	for i := range p.frames {
		f := &p.frames[i]
		need := 3.2 * p.em
		switch {
		case f.hasBars():
			need = min(1.3*p.em*float64(len(f.Bars)), 0.8*p.h)
			if p.detail.subs && f.barSubs() {
				need = (lineShare*p.body.size + subDrop*p.small.size) * float64(len(f.Bars))
			}
		case f.hasTiles():
			need = min(1.5*p.em*float64(f.tileRows()), 0.8*p.h)
		}
		if f.area.H() < need || f.area.W() < min(8*p.em, 0.35*p.w) {
			return false
		}
	}
	return true
}

// stack divides the height of the image among the panels.
func (p *painter) stack() {
	top := p.pad + p.headerHeight()
	free, shares := p.h-top-p.pad, 0.0
	for i := range p.frames {
		f := &p.frames[i]
		f.head, f.foot = p.headOf(f), p.footOf(f, i == len(p.frames)-1)
		free -= f.head + f.foot
		shares += f.share()
	}
	free = max(free, 0)
	for i := range p.frames {
		f := &p.frames[i]
		height := free * f.share() / shares
		if most := f.tallest(p.em); most > 0 {
			height = min(height, most)
		}
		top += f.head
		f.place(math.Round(top), math.Round(top+height), p.em, p.DecimalComma)
		top += height + f.foot
	}
}

func (f *frame) share() float64 { return within(f.Share, 1e-3, 1e3, 1) }

// tallest is the height that rows need at most; 0 for a panel that takes what there is.
func (f *frame) tallest(em float64) float64 {
	switch {
	case f.hasBars():
		return 4.0 * em * float64(len(f.Bars))
	case f.hasTiles():
		return 4.2 * em * float64(f.tileRows())
	}
	return 0
}

// headOf is the room above the area of a panel: its title and the labels of its marks.
func (p *painter) headOf(f *frame) float64 {
	if f.hasTiles() {
		room := 0.3 * p.em
		if p.detail.yTitle && len(f.Columns) > 0 {
			room += p.smallLine
		}
		return room
	}
	room := 0.55 * p.em // half a tick label
	if f.hasBars() && f.X.Hide {
		room = 0.1 * p.em
	}
	if p.detail.yTitle && f.Y.title() != "" {
		room = 1.65 * p.em
	}
	if f.flagRows > 0 {
		room += float64(f.flagRows) * p.smallLine
	}
	return room
}

// footOf is the room below the area of a panel: ticks and title of the X axis.
func (p *painter) footOf(f *frame, last bool) float64 {
	room := 0.5 * p.em
	if f.hasBars() && f.X.Hide {
		room = 0.2 * p.em
	}
	if last {
		room = 0.1 * p.em
	}
	if f.showX && p.detail.ticks {
		room += tickRoom * p.smallLine
		if p.detail.xTitle && f.X.title() != "" {
			room += p.line
		}
	}
	if last && !(f.showX && p.detail.ticks) {
		room += 0.3 * p.em
	}
	return room
}

// gutter is the room at the left of every area: tick labels of the Y axes and names of rows.
func (p *painter) gutter() float64 {
	room := p.pad
	for i := range p.frames {
		f := &p.frames[i]
		switch {
		case f.hasBars() || f.hasTiles():
			room = max(room, p.pad+p.nameColumn(f))
		case p.detail.ticks:
			for _, t := range f.yTicks {
				room = max(room, p.pad+p.small.width(t.Label)+0.5*p.em)
			}
		}
		if f.showX && p.detail.ticks && len(f.xTicks) > 0 {
			room = max(room, 2+p.small.width(f.xTicks[0].Label)/2)
		}
	}
	return min(room, 0.45*p.w)
}

// margin is the room at the right of every area: names of lines, texts of bars, half a tick label.
func (p *painter) margin() float64 {
	room := p.pad
	for i := range p.frames {
		f := &p.frames[i]
		if p.detail.sides {
			room = max(room, p.sideColumn(f))
		}
		if f.showX && p.detail.ticks && len(f.xTicks) > 0 {
			room = max(room, 2+p.small.width(f.xTicks[len(f.xTicks)-1].Label)/2)
		}
	}
	return min(room, 0.38*p.w)
}

// rowsHoldText says whether the rows of a panel are high enough for a line of text.
func (p *painter) rowsHoldText(f *frame) bool {
	return f.area.H() >= lineShare*p.em*float64(f.rows())
}

// nameColumn is the width that the names of the rows take.
func (p *painter) nameColumn(f *frame) float64 {
	room := 0.0
	if !p.rowsHoldText(f) {
		return 0
	}
	for i := range f.Bars {
		b := &f.Bars[i]
		room = max(room, p.widestFace(b).width(plain(b.Label)))
		if p.detail.subs {
			room = max(room, p.small.width(plain(b.Sub)))
		}
	}
	for i := range f.Rows {
		room = max(room, p.bold.width(plain(f.Rows[i].Label)))
		if p.detail.subs {
			room = max(room, p.small.width(plain(f.Rows[i].Sub)))
		}
	}
	if len(f.Columns) > 0 && p.detail.yTitle {
		room = max(room, p.small.width(plain(f.Y.Label)))
	}
	if room == 0 {
		return 0
	}
	return min(room+0.9*p.em, 0.4*p.w)
}

func (p *painter) rowFace(strong bool) *typeface {
	if strong {
		return &p.bold
	}
	return &p.body
}

// widestFace is the type of a row that room is kept for. Which reach is strong changes while
// levers are moved: the axis must not jump then.
func (p *painter) widestFace(b *Bar) *typeface { return p.rowFace(b.Strong || b.Reach) }

// sideColumn is the width of what stands at the right of the area of a panel.
func (p *painter) sideColumn(f *frame) float64 {
	room := 0.0
	for _, n := range f.ends() {
		room = max(room, p.smallBold.width(plain(n.text)))
	}
	for i := range f.Bars {
		if p.rowsHoldText(f) {
			room = max(room, p.widestFace(&f.Bars[i]).width(plain(f.Bars[i].Text)))
		}
	}
	if room == 0 {
		return 0
	}
	most := 0.3 * p.w
	if f.hasBars() { // numbers stand there, which should not be cut
		most = 0.37 * p.w
	}
	return min(room+0.6*p.em+p.pad, most)
}
