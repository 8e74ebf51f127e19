package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// gridBody draws the rows in view; rows out of view have no objects.
type gridBody struct {
	widget.BaseWidget
	grid   *Grid
	pool   []*gridRow
	first  int // row shown by pool[0]
	cursor *canvas.Rectangle
}

// gridRow is the objects of one row in view.
type gridRow struct {
	ground, rule *canvas.Rectangle
	cells        []*gridCell
}

// gridCell is the objects of one cell; the mark is made when it is first needed.
type gridCell struct {
	text *canvas.Text
	wash *canvas.Rectangle
	sign *sign
}

func newGridBody(g *Grid) *gridBody {
	b := &gridBody{grid: g, cursor: newBox()}
	b.ExtendBaseWidget(b)
	return b
}

func (b *gridBody) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: b.objects,
		layout:  func(fyne.Size) { b.fill() },
		min: func() fyne.Size {
			p := b.grid.plan
			return fyne.NewSize(p.content, p.rowH*float32(max(b.grid.rows(), 1)))
		},
		refresh: func() {
			b.fill()
			b.grid.editor.Refresh()
			canvas.Refresh(b)
		},
	}
}

func (b *gridBody) objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, 0, len(b.pool)*(2+len(b.grid.opts.Columns))+2)
	for _, row := range b.pool {
		objects = append(objects, row.ground)
		for _, c := range row.cells {
			if c.wash != nil {
				objects = append(objects, c.wash, c.sign.Image)
			}
			objects = append(objects, c.text)
		}
		objects = append(objects, row.rule)
	}
	return append(objects, b.grid.editor, b.cursor)
}

// fill draws the rows in view.
func (b *gridBody) fill() {
	g := b.grid
	if g.plan.rowH <= 0 {
		return
	}
	n := g.rows()
	b.first = max(int(g.scroll.Offset.Y/g.plan.rowH), 0)
	shown := min(int(g.plan.viewH/g.plan.rowH)+2, max(n-b.first, 0))
	for len(b.pool) < shown {
		b.pool = append(b.pool, &gridRow{ground: newBox(), rule: newBox()})
	}
	b.pool = b.pool[:shown]
	for i := range b.pool {
		b.drawRow(b.first + i)
	}
	b.placeCursor()
}

// at returns the objects of a row, nil when it is out of view.
func (b *gridBody) at(row int) *gridRow {
	if i := row - b.first; i >= 0 && i < len(b.pool) {
		return b.pool[i]
	}
	return nil
}

func (b *gridBody) drawRow(row int) {
	r := b.at(row)
	columns := len(b.grid.opts.Columns)
	for len(r.cells) < columns {
		r.cells = append(r.cells, &gridCell{text: canvas.NewText("", nil)})
	}
	r.cells = r.cells[:columns]
	b.refreshGround(row)
	for col := range r.cells {
		b.drawCell(row, col)
	}
}

// refreshGround paints the ground of a row and the line under it.
func (b *gridBody) refreshGround(row int) {
	r := b.at(row)
	if r == nil {
		return
	}
	g := b.grid
	y := float32(row) * g.plan.rowH
	fill := fyne.ThemeColorName("")
	switch {
	case g.opts.RowMessage != nil && g.opts.RowMessage(row) != "":
		fill = ColourStopWash
	case row == g.row && (g.focused || g.editing || g.opts.OnSelect != nil && g.told >= 0):
		fill = ColourWash
	}
	paintBox(r.ground, fill, "", 0, 0)
	place(r.ground, 1, y, fyne.Max(g.plan.content-2, 0), g.plan.rowH)
	paintBox(r.rule, ColourGridLine, "", 0, 0)
	r.rule.Hidden = row == g.rows()-1 && g.opts.Total == nil
	place(r.rule, 1, y+g.plan.rowH-1, fyne.Max(g.plan.content-2, 0), 1)
}

func (b *gridBody) refreshCell(row, col int) {
	if r := b.at(row); r != nil && row < b.grid.rows() && col < len(r.cells) {
		b.drawCell(row, col)
	}
}

func (b *gridBody) drawCell(row, col int) {
	g, c := b.grid, b.at(row).cells[col]
	cell := g.cell(row, col)
	y := float32(row) * g.plan.rowH
	x, w := g.plan.x[col], g.plan.width[col]
	c.mark(cell.State == CellRefused, x, y, w, g.plan.rowH)
	if cell.State == CellRefused {
		room := em(14) + gap(3)
		w -= room
		if g.opts.Columns[col].Align != fyne.TextAlignTrailing {
			x += room
		}
	}
	paintCell(c.text, cell, g.opts.Columns[col].Align, theme.TextSize(), x, y, w, g.plan.rowH)
}

// mark shows or hides the ground and the sign of a refused cell.
func (c *gridCell) mark(on bool, x, y, w, h float32) {
	if !on && c.wash == nil {
		return
	}
	if c.wash == nil {
		c.wash, c.sign = newBox(), newSign(iconStop)
	}
	c.wash.Hidden, c.sign.Hidden = !on, !on
	if !on {
		return
	}
	paintBox(c.wash, ColourStopWash, theme.ColorNameError, 1.5, gap(3))
	place(c.wash, x+1, y+1, w-2, h-3)
	side := em(14)
	at := x + gap(6)
	if c.text.Alignment == fyne.TextAlignTrailing {
		at = x + w - side - gap(6)
	}
	c.sign.place(at, y+(h-side)/2, side)
	c.sign.Refresh()
}

// paintCell sets everything of the text of a cell, as the object may have shown
// another cell before.
func paintCell(t *canvas.Text, cell Cell, align fyne.TextAlign, size, x, y, w, h float32) {
	name := theme.ColorNameForeground
	switch cell.State {
	case CellMuted:
		name = theme.ColorNamePlaceHolder
	case CellRefused:
		name = theme.ColorNameError
	}
	t.TextSize = size
	t.TextStyle.Bold = cell.State == CellStrong
	t.Alignment = align
	t.Color = colour(name)
	pad := gap(8)
	t.Text = fitted(cell.Text, size, t.TextStyle, w-2*pad+1)
	line := lineHeight(size)
	place(t, x+pad, y+(h-line)/2, fyne.Max(w-2*pad, 0), line)
	t.Refresh()
}

// placeCursor frames the active cell and keeps the editor on it.
func (b *gridBody) placeCursor() {
	g := b.grid
	shown := g.rows() > 0 && g.col < len(g.plan.x) && (g.focused || g.editing)
	b.cursor.Hidden = !shown
	if !shown {
		return
	}
	x, y := g.plan.x[g.col], float32(g.row)*g.plan.rowH
	w, h := g.plan.width[g.col], g.plan.rowH
	stroke := theme.ColorNamePrimary
	if _, bad := g.refused[g.key(g.row, g.col)]; bad {
		stroke = theme.ColorNameError
	}
	paintBox(b.cursor, "", stroke, 2, gap(3))
	place(b.cursor, x, y-0.5, w, h)
	if g.editing {
		place(g.editor, x, y-0.5, w, h)
	}
}

// cellAt finds the cell under a place in the body.
func (b *gridBody) cellAt(at fyne.Position) (row, col int, ok bool) {
	g := b.grid
	row = int(at.Y / g.plan.rowH)
	if at.Y < 0 || row >= g.rows() {
		return 0, 0, false
	}
	for col, x := range g.plan.x {
		if at.X >= x && at.X < x+g.plan.width[col] {
			return row, col, true
		}
	}
	return 0, 0, false
}

// Tapped makes a cell the active one; a second tap edits it.
func (b *gridBody) Tapped(ev *fyne.PointEvent) {
	g := b.grid
	row, col, ok := b.cellAt(ev.Position)
	if !ok {
		focusOn(g)
		return
	}
	again := row == g.row && col == g.col && g.wasFocused()
	focusOn(g)
	g.Select(row, col)
	if again {
		g.startEdit(nil)
	}
}

// TappedSecondary opens the menu of a row.
func (b *gridBody) TappedSecondary(ev *fyne.PointEvent) {
	if row, col, ok := b.cellAt(ev.Position); ok {
		focusOn(b.grid)
		b.grid.Select(row, col)
		b.grid.openMenu(ev.AbsolutePosition)
	}
}

// gridStrip is the head of a table or its row of sums.
type gridStrip struct {
	widget.BaseWidget
	grid   *Grid
	fill   fyne.ThemeColorName
	cell   func(col int) Cell
	small  bool
	ground *canvas.Rectangle
	texts  []*canvas.Text
}

func newGridStrip(g *Grid, fill fyne.ThemeColorName, cell func(col int) Cell) *gridStrip {
	s := &gridStrip{grid: g, fill: fill, cell: cell, ground: newBox()}
	s.ExtendBaseWidget(s)
	return s
}

func (s *gridStrip) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject {
			objects := []fyne.CanvasObject{s.ground}
			for _, t := range s.texts {
				objects = append(objects, t)
			}
			return objects
		},
		layout: s.lay,
		min:    func() fyne.Size { return fyne.NewSize(s.grid.plan.content, 1) },
		refresh: func() {
			s.lay(s.Size())
			canvas.Refresh(s)
		},
	}
}

func (s *gridStrip) lay(size fyne.Size) {
	columns := s.grid.opts.Columns
	for len(s.texts) < len(columns) {
		s.texts = append(s.texts, canvas.NewText("", nil))
	}
	s.texts = s.texts[:len(columns)]
	paintBox(s.ground, s.fill, "", 0, radius())
	place(s.ground, 1, 0.5, fyne.Max(size.Width-2, 0), fyne.Max(size.Height-1, 0))
	fontSize := theme.TextSize()
	if s.small {
		fontSize = theme.Size(theme.SizeNameCaptionText)
	}
	for col, t := range s.texts {
		if col < len(s.grid.plan.x) {
			paintCell(t, s.cell(col), columns[col].Align, fontSize, s.grid.plan.x[col], 0, s.room(col), size.Height)
		}
	}
}

// room is the width for a text, which may run on over empty cells at its right.
func (s *gridStrip) room(col int) float32 {
	w := s.grid.plan.width[col]
	if s.grid.opts.Columns[col].Align != fyne.TextAlignLeading {
		return w
	}
	for next := col + 1; next < len(s.grid.plan.width) && s.cell(next).Text == ""; next++ {
		w += s.grid.plan.width[next]
	}
	return w
}
