package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// gridPlan is where the columns and lines of a table are.
type gridPlan struct {
	x, width []float32 // of the columns
	content  float32   // sum of the widths
	rowH     float32
	headH    float32
	totalH   float32
	viewH    float32
}

// leastShare is how far columns shrink below the width they ask for before the table
// scrolls sideways.
const leastShare = 0.6

func (g *Grid) makePlan(width float32) gridPlan {
	p := gridPlan{rowH: fyne.Max(g.editor.MinSize().Height, em(24)), headH: lineHeight(theme.Size(theme.SizeNameCaptionText)) + 2*gap(4)}
	if g.opts.Total != nil {
		p.totalH = p.rowH
	}
	sum := float32(0)
	for _, c := range g.opts.Columns {
		sum += em(fyne.Max(c.Width, 20))
	}
	if sum <= 0 {
		return p
	}
	share := fyne.Max(width/sum, leastShare)
	for _, c := range g.opts.Columns {
		p.width = append(p.width, em(fyne.Max(c.Width, 20))*share)
	}
	g.spareNumbers(p.width)
	for _, w := range p.width {
		p.x = append(p.x, p.content)
		p.content += w
	}
	return p
}

// measuredRows is how many rows are looked at for the width of numbers.
const measuredRows = 40

// spareNumbers widens columns of numbers, which stand at the right of their column,
// until no digit is cut off: half a number is worse than half a name. Columns
// of words give the room.
func (g *Grid) spareNumbers(widths []float32) {
	need := make([]float32, len(widths))
	lack, slack := float32(0), float32(0)
	for col, c := range g.opts.Columns {
		need[col] = em(fyne.Max(c.Least, 70))
		if c.Align == fyne.TextAlignTrailing {
			need[col] = g.numberWidth(col)
		}
		if d := need[col] - widths[col]; d > 0 && c.Align == fyne.TextAlignTrailing {
			lack += d
		} else if d < 0 {
			slack -= d
		}
	}
	if lack == 0 || slack == 0 {
		return
	}
	given := fyne.Min(lack/slack, 1)
	got := fyne.Min(slack/lack, 1)
	for col, c := range g.opts.Columns {
		if d := need[col] - widths[col]; d > 0 && c.Align == fyne.TextAlignTrailing {
			widths[col] += d * got
		} else if d < 0 {
			widths[col] += d * given
		}
	}
}

// numberWidth is the width the title, the sums and the first rows of a column need.
func (g *Grid) numberWidth(col int) float32 {
	size := theme.TextSize()
	w := measure(g.opts.Columns[col].Title, theme.Size(theme.SizeNameCaptionText), fyne.TextStyle{})
	w = fyne.Max(w, measure(g.totalCell(col).Text, size, fyne.TextStyle{Bold: true}))
	for row := range min(g.rows(), measuredRows) {
		cell := g.cell(row, col)
		w = fyne.Max(w, measure(cell.Text, size, fyne.TextStyle{Bold: cell.State == CellStrong}))
	}
	return w + 2*gap(8)
}

// HeightFor returns the height of the table at a width.
func (g *Grid) HeightFor(width float32) float32 {
	p := g.makePlan(width)
	most := g.opts.MaxRows
	if most <= 0 {
		most = 8
	}
	shown := min(max(g.rows(), 1), most)
	return p.headH + p.rowH*float32(shown) + p.totalH + g.messageHeight(width)
}

func (g *Grid) signSize() float32 { return em(14) }

func (g *Grid) messageHeight(width float32) float32 {
	if g.message.String() == "" {
		return 0
	}
	return gap(4) + fyne.Max(g.message.HeightFor(width-g.signSize()-gap(5)), g.signSize())
}

func (g *Grid) lay(size fyne.Size) {
	g.plan = g.makePlan(size.Width)
	p := &g.plan
	room := size.Height - p.headH - p.totalH - g.messageHeight(size.Width)
	all := p.rowH * float32(max(g.rows(), 1))
	p.viewH = fyne.Min(all, fyne.Max(room, p.rowH))
	g.scrolled = all > p.viewH+0.5 || p.content > size.Width+0.5

	place(g.headClip, 0, 0, size.Width, p.headH)
	place(g.sumClip, 0, p.headH+p.viewH, size.Width, p.totalH)
	g.sumClip.Hidden = g.opts.Total == nil
	g.empty.Hidden = g.rows() > 0
	place(g.empty, gap(8), p.headH+gap(5), size.Width-gap(16), p.rowH)
	place(g.frame, 0, 0, size.Width, p.headH+p.viewH+p.totalH)
	g.layView(size.Width)
	g.head.Refresh()
	g.total.Refresh()
	g.layMessage(size)
}

// layView places the rows, in a scroll only where they do not fit: a scroll would
// keep the wheel from the pane around it.
func (g *Grid) layView(width float32) {
	p := g.plan
	if g.scrolled {
		place(g.scroll, 0, p.headH, width, p.viewH)
		place(g.sideways, 0, p.headH, width, p.viewH)
		g.scroll.Refresh()
	} else {
		g.scroll.Offset = fyne.Position{}
		place(g.body, 0, p.headH, width, p.viewH)
	}
	g.sideways.Hidden = !g.scrolled || p.rowH*float32(max(g.rows(), 1)) > p.viewH+0.5
	g.followScroll()
}

func (g *Grid) layMessage(size fyne.Size) {
	y := g.plan.headH + g.plan.viewH + g.plan.totalH + gap(4)
	side := g.signSize()
	g.sign.place(0, y, side)
	place(g.message, side+gap(5), y, fyne.Max(size.Width-side-gap(5), 0), g.messageHeight(size.Width))
}

// followScroll draws the rows that have come into view and moves head and sums along.
func (g *Grid) followScroll() {
	g.body.fill()
	for _, s := range []*gridStrip{g.head, g.total} {
		s.Move(fyne.NewPos(-g.scroll.Offset.X, 0))
	}
}

// showActive scrolls until the active cell can be seen.
func (g *Grid) showActive() {
	if !g.scrolled || g.col >= len(g.plan.x) {
		return
	}
	at := g.scroll.Offset
	top, left := float32(g.row)*g.plan.rowH, g.plan.x[g.col]
	at.Y = within(at.Y, g.plan.viewH, top, top+g.plan.rowH)
	at.X = within(at.X, g.Size().Width, left, left+g.plan.width[g.col])
	if at != g.scroll.Offset {
		g.scroll.ScrollToOffset(at)
		g.followScroll()
	}
}

// within moves an offset the least way that brings a span into a view.
func within(offset, view, from, to float32) float32 {
	if to > offset+view {
		offset = to - view
	}
	return fyne.Min(offset, from)
}

// showMessage says why the active cell, or else the first refused one, was refused.
func (g *Grid) showMessage() {
	text := g.reason()
	if text == g.message.String() {
		return
	}
	g.message.SetText(text)
	g.sign.Hidden = text == ""
	g.sign.Refresh()
	if g.Size().Width > 0 {
		g.lay(g.Size())
	}
	g.settled()
}

func (g *Grid) reason() string {
	n := g.rows()
	if text := g.rowReason(g.row, n); text != "" {
		return text
	}
	for row := range n {
		if len(g.refused) == 0 && g.opts.RowMessage == nil {
			return ""
		}
		if text := g.rowReason(row, n); text != "" {
			return text
		}
	}
	return ""
}

// rowReason is why something in a row was refused, the active cell first.
func (g *Grid) rowReason(row, n int) string {
	if row >= n {
		return ""
	}
	if r, ok := g.refused[g.key(row, g.col)]; ok && row == g.row {
		return r.Message
	}
	for col := range g.opts.Columns {
		if r, ok := g.refused[g.key(row, col)]; ok {
			return r.Message
		}
	}
	if g.opts.RowMessage != nil {
		return g.opts.RowMessage(row)
	}
	return ""
}
