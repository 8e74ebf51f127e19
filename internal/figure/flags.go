package figure

import (
	"cmp"
	"math"
	"slices"
)

// flag is the label of a mark, flying at the right of its line above the area.
type flag struct {
	mark  int
	x     float64 // of the line
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
	if f.hasTiles() {
		return
	}
	order := p.markOrder(f)
	most := min(4, max(1, int(0.22*p.h/p.smallLine)))
	if p.flyFlags(f, order, most) {
		return
	}
	// There is not room for all: the strong ones choose first.
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(rank(f.Marks[a]), rank(f.Marks[b]))
	})
	p.flyFlags(f, order, most)
}

func rank(m Mark) int {
	if m.Strong {
		return 0
	}
	return 1
}

// markOrder lists the marks that bring a label from right to left. In this
// order a label that finds its row taken goes above it, and its line, which
// stands further left, crosses no other label.
func (p *painter) markOrder(f *frame) []int {
	var order []int
	for j := range f.Marks {
		if p.bringsLabel(f.index, j) && f.x.holds(f.Marks[j].X) {
			order = append(order, j)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(f.Marks[b].X, f.Marks[a].X)
	})
	return order
}

// flyFlags gives each label the lowest free row of at most so many, and says whether all found one.
func (p *painter) flyFlags(f *frame, order []int, most int) bool {
	f.flags, f.flagRows = f.flags[:0], 0
	all := true
	for _, j := range order {
		fl := p.newFlag(f, j)
		width := fl.box.W()
		for row := 0; width > 0 && row < most && !fl.shown; row++ {
			fl.box.Y1 = f.area.Y0 - float64(row)*p.smallLine
			fl.box.Y0 = fl.box.Y1 - p.smallLine
			fl.shown = !slices.ContainsFunc(f.flags, func(o flag) bool { return o.shown && o.box.Overlaps(fl.box) })
			if fl.shown {
				f.flagRows = max(f.flagRows, row+1)
			}
		}
		all = all && fl.shown
		f.flags = append(f.flags, fl)
	}
	return all
}

// newFlag measures the label of mark j with the gap that it keeps from others.
func (p *painter) newFlag(f *frame, j int) flag {
	m := &f.Marks[j]
	face := p.flagFace(m.Strong)
	x := f.x.ToPixel(m.X)
	width := face.width(face.fit(m.Label, p.flagMost(f)))
	if width == 0 {
		return flag{mark: j, x: x}
	}
	left := math.Round(x + 4*p.k)
	left = min(left, math.Floor(p.w-1-width))
	return flag{mark: j, x: x, box: Rect{X0: left, X1: left + width + 0.5*p.em}}
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
		x: fl.box.X0, base: face.baseline((fl.box.Y0 + fl.box.Y1) / 2),
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
		for _, side := range [...]float64{-0.6, 0.6} { // above the line, or below it
			l := label{
				text: v.Label, face: face, ink: ink, most: f.area.W(),
				x: f.area.X1 - 2*p.k, base: face.baseline(y + side*p.smallLine), align: 1,
			}
			if box, _ := p.box(l); box.Y0 >= f.area.Y0 && box.Y1 <= f.area.Y1 && p.untouched(box) {
				p.put(l)
				break
			}
		}
	}
}
