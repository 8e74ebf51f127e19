package figure

// headerHeight is the room above the first panel: the title and the legend.
func (p *painter) headerHeight() float64 {
	room := 0.0
	if p.detail.title && p.pic.Title != "" {
		room += 1.25 * p.line
	}
	if p.detail.legend && len(p.pic.Legend) > 0 {
		room += float64(len(p.legendRows()))*p.smallLine + 0.3*p.em
	}
	return room
}

// drawHeader draws the title and the legend.
func (p *painter) drawHeader() {
	top := p.pad
	if p.detail.title && p.pic.Title != "" {
		p.put(label{
			text: p.pic.Title, face: &p.heading, ink: p.Foreground, x: p.pad,
			base: p.heading.baseline(top + p.line/2), most: p.w - 2*p.pad,
		})
		top += 1.25 * p.line
	}
	if !p.detail.legend {
		return
	}
	for _, row := range p.legendRows() {
		for _, it := range row {
			p.drawLegendItem(it, top+p.smallLine/2)
		}
		top += p.smallLine
	}
}

// legendPlace is a legend entry with the left end of its sample.
type legendPlace struct {
	item LegendItem
	x    float64
}

// mostLegendRows bounds the height of a legend; entries beyond are left out.
const mostLegendRows = 3

// legendRows breaks the legend into rows.
func (p *painter) legendRows() [][]legendPlace {
	var rows [][]legendPlace
	x := p.w // so that the first entry opens a row
	for _, item := range p.pic.Legend {
		width := p.swatchWidth() + p.small.width(plain(item.Text))
		if x > p.pad && x+width > p.w-p.pad {
			if len(rows) == mostLegendRows {
				break
			}
			rows, x = append(rows, nil), p.pad
		}
		last := len(rows) - 1
		rows[last] = append(rows[last], legendPlace{item, x})
		x += width + 1.2*p.em
	}
	return rows
}

func (p *painter) swatchWidth() float64 { return 2 * p.em }

func (p *painter) drawLegendItem(l legendPlace, middle float64) {
	ink := p.ink(l.item.Colour)
	box := Rect{X0: l.x, Y0: middle - 0.4*p.em, X1: l.x + 1.5*p.em, Y1: middle + 0.4*p.em}
	switch l.item.Swatch {
	case SwatchLine, SwatchDash:
		p.level(stroke{ink: ink, width: 2 * p.k, dashed: l.item.Swatch == SwatchDash}, box.X0, box.X1, middle)
	case SwatchBand:
		p.fill(faint(ink, 2*bandOpacity), p.block(box, 2*p.k))
	case SwatchPoint:
		p.glyph(place{(box.X0 + box.X1) / 2, middle}, ink, pointRadius*p.k, l.item.Marker)
	default:
		p.fill(ink, p.block(box, 2*p.k))
	}
	p.put(label{
		text: l.item.Text, face: &p.small, ink: p.Foreground,
		x: l.x + p.swatchWidth(), base: p.small.baseline(middle), most: p.w - p.pad - l.x - p.swatchWidth(),
	})
}
