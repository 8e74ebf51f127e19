package figure

import (
	"cmp"
	"image/color"
	"math"
	"slices"
)

// flag is the label of a mark, flying at the side of its line above the area.
type flag struct {
	mark  int
	x     float64 // of the line
	left  bool    // flies to the left, where there is no room at the right
	box   Rect
	shown bool
}

// labelledMarks counts the marks of a panel that bring a label of their own.
func (p *painter) labelledMarks(i int) int {
	n := 0
	for j := range p.frames[i].Marks {
		if p.bringsLabel(i, j) {
			n++
		}
	}
	return n
}

// bringsLabel says whether mark j of panel i has a label that no panel above has shown.
func (p *painter) bringsLabel(i, j int) bool {
	m := &p.frames[i].Marks[j]
	if p.detail.bare && p.frames[i].hasBars() {
		return false
	}
	if m.Label == "" || p.frames[i].empty || !drawable(m.X, p.frames[i].x.Log) {
		return false
	}
	if !p.pic.SharedX {
		return true
	}
	for above := range i {
		if p.frames[above].empty {
			continue
		}
		for _, o := range p.frames[above].Marks {
			if o.X == m.X && o.Label == m.Label {
				return false
			}
		}
	}
	return true
}

// plantFlags finds a row for the label of every mark of a panel.
func (p *painter) plantFlags(f *frame) {
	f.flags, f.flagRows = f.flags[:0], 0
	if f.hasTiles() {
		return
	}
	for j := range f.Marks {
		if p.bringsLabel(f.index, j) && f.x.holds(f.Marks[j].X) {
			f.flags = append(f.flags, p.newFlag(f, j))
		}
	}
	slices.SortStableFunc(f.flags, byTurn)
	most := min(4, max(1, int(0.22*p.h/p.smallLine)))
	if p.flyFlags(f, most) {
		return
	}
	// There is not room for all: the strong ones choose first.
	slices.SortStableFunc(f.flags, func(a, b flag) int {
		return cmp.Compare(rank(f.Marks[a.mark]), rank(f.Marks[b.mark]))
	})
	p.flyFlags(f, most)
}

func rank(m Mark) int {
	if m.Strong {
		return 0
	}
	return 1
}

// byTurn is the order in which flags choose their rows: first those that fly
// to the left, from left to right, then the others from right to left. A flag
// that finds its row taken goes above it, and its line, which stands beyond
// those that have chosen, crosses none of them.
func byTurn(a, b flag) int {
	switch {
	case a.left && b.left:
		return cmp.Compare(a.x, b.x)
	case a.left:
		return -1
	case b.left:
		return 1
	}
	return cmp.Compare(b.x, a.x)
}

// flyFlags gives each flag the lowest free row of at most so many, and says whether all found one.
func (p *painter) flyFlags(f *frame, most int) bool {
	f.flagRows = 0
	all := true
	for i := range f.flags {
		fl := &f.flags[i]
		fl.shown = false
		for row := 0; fl.box.W() > 0 && row < most && !fl.shown; row++ {
			fl.box.Y1 = f.area.Y0 - float64(row)*p.smallLine
			fl.box.Y0 = fl.box.Y1 - p.smallLine
			fl.shown = !slices.ContainsFunc(f.flags[:i], func(o flag) bool { return o.shown && o.box.Overlaps(fl.box) })
			if fl.shown {
				f.flagRows = max(f.flagRows, row+1)
			}
		}
		all = all && fl.shown
	}
	return all
}

// newFlag measures the label of mark j with the gap that it keeps from others.
func (p *painter) newFlag(f *frame, j int) flag {
	m := &f.Marks[j]
	face := p.flagFace(m.Strong)
	fl := flag{mark: j, x: f.x.ToPixel(m.X)}
	width := face.width(face.fit(m.Label, p.flagMost(f)))
	if width == 0 {
		return fl
	}
	gap, limit := 4*p.k, math.Floor(p.w-1-width)
	start := math.Round(fl.x + gap)
	if before := math.Round(fl.x - gap - width); start > limit && before >= f.area.X0 {
		start, fl.left = before, true
	}
	start = min(start, limit)
	fl.box = Rect{X0: start, X1: start + width + 0.5*p.em}
	if fl.left {
		fl.box.X0, fl.box.X1 = start-0.5*p.em, start+width
	}
	return fl
}

// textStart is where the text of the flag begins.
func (fl *flag) textStart(em float64) float64 {
	if fl.left {
		return fl.box.X0 + 0.5*em
	}
	return fl.box.X0
}

// flagMost is the width beyond which the label of a mark is shortened.
func (p *painter) flagMost(f *frame) float64 {
	return min(0.4*p.w, p.w-2-f.area.X0)
}

func (p *painter) flagFace(strong bool) *typeface {
	if strong {
		return &p.smallBold
	}
	return &p.small
}

// drawMarks draws the lines of the marks, then their labels.
func (p *painter) drawMarks(f *frame) {
	from := len(p.lay.Targets)
	for j := range f.Marks {
		m := &f.Marks[j]
		if drawable(m.X, f.x.Log) && f.x.holds(m.X) {
			p.drawMark(f, j)
		}
	}
	for _, fl := range f.flags {
		if !fl.shown {
			continue
		}
		box := p.drawFlag(f, fl)
		for t := from; t < len(p.lay.Targets); t++ {
			if p.lay.Targets[t].Index == fl.mark {
				p.lay.Targets[t].Label = box
			}
		}
	}
}

func (p *painter) drawMark(f *frame, j int) {
	m := &f.Marks[j]
	x, top := f.x.ToPixel(m.X), f.area.Y0
	for _, fl := range f.flags {
		if fl.mark == j && fl.shown {
			top = fl.box.Y0 + 0.15*p.em
		}
	}
	s := stroke{ink: p.Muted, width: p.hair, dashed: m.Dashed}
	if m.Strong {
		s.ink, s.width = p.Foreground, 1.5*p.k
	}
	if f.reaching() {
		p.upright(stroke{ink: faint(p.Background, 0.6), width: s.width + 2*p.k}, x, f.area.Y0, f.area.Y1)
	}
	p.upright(s, x, top, f.area.Y1)
	box := Rect{X0: x - 4*p.k, Y0: top, X1: x + 4*p.k, Y1: f.area.Y1}
	p.target(Target{Kind: OnMark, Panel: f.index, Index: j, Box: box, Text: m.Label})
}

// drawFlag writes the label of a mark. A line that has to pass behind it is covered first.
func (p *painter) drawFlag(f *frame, fl flag) Rect {
	for _, o := range f.flags {
		if o.shown && o.x > fl.box.X0-2*p.k && o.x < fl.box.X1 {
			p.fill(p.Background, p.block(fl.box, 0))
			break
		}
	}
	m := &f.Marks[fl.mark]
	face, ink := p.flagFace(m.Strong), p.Muted
	if m.Strong {
		ink = p.Foreground
	}
	return p.put(label{
		text: m.Label, face: face, ink: ink, most: p.flagMost(f),
		x: fl.textStart(p.em), base: face.baseline((fl.box.Y0 + fl.box.Y1) / 2),
	})
}

// drawLevels draws the horizontal lines with their labels.
func (p *painter) drawLevels(f *frame) {
	for i := range f.Levels {
		v := &f.Levels[i]
		if !drawable(v.Y, f.Y.Log) || !f.y.holds(v.Y) {
			continue
		}
		y := f.y.ToPixel(v.Y)
		s := stroke{ink: p.Muted, width: p.hair, dashed: v.Dashed}
		face, ink := &p.small, p.Muted
		if v.Strong {
			s.ink, s.width = p.Foreground, 1.5*p.k
			face, ink = &p.smallBold, p.Foreground
		}
		p.level(s, f.area.X0, f.area.X1, y)
		p.levelLabel(f, v.Label, y, face, ink)
	}
}

// levelLabel writes the name of a level at its right end or, where a curve runs
// there, at its left; above it or below. A place that no curve crosses is best.
func (p *painter) levelLabel(f *frame, text string, y float64, face *typeface, ink color.Color) {
	var fallback *label
	for _, at := range [...]struct{ x, align, side float64 }{
		{f.area.X1 - 2*p.k, 1, -0.6},
		{f.area.X1 - 2*p.k, 1, 0.6},
		{f.area.X0 + 4*p.k, 0, -0.6},
		{f.area.X0 + 4*p.k, 0, 0.6},
	} {
		l := label{text: text, face: face, ink: ink, most: f.area.W(), x: at.x, base: face.baseline(y + at.side*p.smallLine), align: at.align}
		box, _ := p.box(l)
		if box.Y0 < f.area.Y0 || box.Y1 > f.area.Y1 || !p.untouched(box) {
			continue
		}
		if !f.crossed(box) {
			p.put(l)
			return
		}
		if fallback == nil {
			fallback = &l
		}
	}
	if fallback != nil {
		p.put(*fallback)
	}
}

// crossed says whether a line, a level or a mark of the panel runs through a box, or a point lies in it.
func (f *frame) crossed(box Rect) bool {
	for i := range f.Levels {
		if y := f.y.ToPixel(f.Levels[i].Y); y > box.Y0 && y < box.Y1 {
			return true
		}
	}
	for i := range f.Points {
		s := &f.Points[i]
		for j := range min(len(s.X), len(s.Y)) {
			if box.Contains(f.x.ToPixel(s.X[j]), f.y.ToPixel(s.Y[j])) {
				return true
			}
		}
	}
	for i := range f.Marks {
		if x := f.x.ToPixel(f.Marks[i].X); x > box.X0 && x < box.X1 {
			return true
		}
	}
	if slices.ContainsFunc(f.Strips, func(s Strip) bool { return f.stripIn(&s, box) }) {
		return true
	}
	for i := range f.Lines {
		l := &f.Lines[i]
		for j := 1; j < min(len(l.X), len(l.Y)); j++ {
			x0, x1 := f.x.ToPixel(l.X[j-1]), f.x.ToPixel(l.X[j])
			y0, y1 := f.y.ToPixel(l.Y[j-1]), f.y.ToPixel(l.Y[j])
			if max(x0, x1) >= box.X0 && min(x0, x1) <= box.X1 && max(y0, y1) >= box.Y0 && min(y0, y1) <= box.Y1 {
				return true
			}
		}
	}
	return false
}
