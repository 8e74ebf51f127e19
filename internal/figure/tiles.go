package figure

// Rows and columns of tiles beyond these are not drawn.
const (
	mostTileRows    = 400
	mostTileColumns = 200
)

// tileTint is the share of its colour that a tile shows.
const tileTint = 0.15

// onGrid says whether a tile has a place.
func (t *Tile) onGrid() bool {
	return t.Row >= 0 && t.Row < mostTileRows && t.Col >= 0 && t.Col < mostTileColumns
}

// tileRows and tileColumns count those that the tiles of a panel need, at least one.
func (f *frame) tileRows() int {
	n := min(max(1, len(f.Rows)), mostTileRows)
	for i := range f.Tiles {
		if t := &f.Tiles[i]; t.onGrid() {
			n = max(n, t.Row+1)
		}
	}
	return n
}

func (f *frame) tileColumns() int {
	n := min(max(1, len(f.Columns)), mostTileColumns)
	for i := range f.Tiles {
		if t := &f.Tiles[i]; t.onGrid() {
			n = max(n, t.Col+1)
		}
	}
	return n
}

// drawTiles draws the grid with the names of its rows.
func (p *painter) drawTiles(f *frame) {
	rows, columns := f.tileRows(), f.tileColumns()
	height := f.area.H() / float64(rows)
	width := f.area.W() / float64(columns)
	for i := range min(len(f.Rows), rows) {
		top := f.area.Y0 + float64(i)*height
		p.rowName(f, f.Rows[i], &p.bold, Rect{X0: f.area.X0, Y0: top, X1: f.area.X1, Y1: top + height})
	}
	gap := min(0.35*p.em, 0.15*min(width, height))
	p.drawColumns(f, width, gap)
	for i := range f.Tiles {
		t := &f.Tiles[i]
		if !t.onGrid() {
			continue
		}
		x, y := f.area.X0+float64(t.Col)*width, f.area.Y0+float64(t.Row)*height
		box := Rect{X0: x + gap/2, Y0: y + gap/2, X1: x + width - gap/2, Y1: y + height - gap/2}
		text := p.drawTile(t, box)
		p.target(Target{Kind: OnTile, Panel: f.index, Index: i, Box: box, Label: text, Text: t.Text})
	}
}

// drawTile draws one tile: a tint of its colour with a bar of the full colour at its left, so that its
// text, which is always that of the style, can be read.
func (p *painter) drawTile(t *Tile, box Rect) Rect {
	ink := p.ink(t.Colour)
	radius := 2 * p.k
	if !t.Done {
		p.fill(mix(p.Background, ink, tileTint), p.block(box, radius))
	} else {
		p.fill(p.Grid, p.frameBlock(box, radius, p.hair))
	}
	stripe := box
	stripe.X1 = stripe.X0 + p.stripe(box)
	p.fill(ink, p.block(stripe, radius))
	if t.Strong {
		p.fill(p.Foreground, p.frameBlock(box, radius, 2*p.k))
	}
	return p.writeTile(t, p.tileRoom(box))
}

// stripe is the width of the bar of colour at the left of a tile.
func (p *painter) stripe(box Rect) float64 { return min(4*p.k, 0.2*box.W()) }

// tileRoom is where the texts of a tile stand.
func (p *painter) tileRoom(box Rect) Rect {
	box.X0 += p.stripe(box) + 0.45*p.em
	box.X1 -= 0.3 * p.em
	return box
}

// drawColumns writes the headings of the columns over their tiles, and what they are about before them.
func (p *painter) drawColumns(f *frame, width, gap float64) {
	if !p.detail.yTitle || len(f.Columns) == 0 {
		return
	}
	base := p.small.baseline(f.area.Y0 - 0.2*p.em - p.smallLine/2)
	p.put(label{text: f.Y.Label, face: &p.small, ink: p.Muted, x: p.pad, base: base, most: f.area.X0 - p.pad - 0.6*p.em})
	for i := range min(len(f.Columns), mostTileColumns) {
		x := f.area.X0 + (float64(i)+0.5)*width
		p.put(label{text: f.Columns[i], face: &p.smallBold, ink: p.Foreground, align: 0.5, x: x, base: base, most: max(width-gap, 1)})
	}
}

// writeTile writes the texts of a tile as far as they fit.
func (p *painter) writeTile(t *Tile, room Rect) Rect {
	ink := p.Foreground
	if t.Done {
		ink = p.Muted
	}
	if room.H() < lineShare*p.body.size || room.W() < p.em {
		return Rect{}
	}
	middle := (room.Y0 + room.Y1) / 2
	text, sub := t.Text, t.Sub
	if t.Short != "" && p.bold.width(plain(text)) > room.W() {
		text, sub = t.Short, ""
	}
	name := label{text: text, face: &p.bold, ink: ink, x: room.X0, base: p.bold.baseline(middle), most: room.W()}
	if sub == "" || room.H() < p.body.size+p.small.size+0.5*p.em {
		return p.put(name)
	}
	name.base -= 0.55 * p.small.size
	box := p.put(name)
	p.put(label{text: sub, face: &p.small, ink: p.Muted, x: room.X0, base: name.base + 1.3*p.small.size, most: room.W()})
	return box
}
