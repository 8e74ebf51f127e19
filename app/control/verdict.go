package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// unknownValue stands where a figure has no value.
const unknownValue = "—"

// Figure is one figure of the verdict strip, already worded.
type Figure struct {
	Label    string // what it is
	Value    string // the number; empty when not known
	Unit     string // small, after the number
	Interval string // second line: how sure
	Change   string // against the reference, at the right
	Reason   string // second line instead, when the value is not known
}

// Verdict is the strip of figures for the chosen blend. It breaks into more
// lines where the figures do not fit side by side.
type Verdict struct {
	widget.BaseWidget
	hosted

	cells   []*verdictCell
	rules   []*canvas.Rectangle
	figures []Figure
}

// NewVerdict returns a strip of figures.
func NewVerdict(figures ...Figure) *Verdict {
	v := &Verdict{}
	v.ExtendBaseWidget(v)
	v.SetFigures(figures...)
	return v
}

// SetFigures replaces the figures.
func (v *Verdict) SetFigures(figures ...Figure) {
	before := v.HeightFor(v.Size().Width)
	v.figures = figures
	for len(v.cells) < len(figures) {
		v.cells = append(v.cells, newVerdictCell())
		v.rules = append(v.rules, newBox())
	}
	v.cells, v.rules = v.cells[:len(figures)], v.rules[:len(figures)]
	for i, f := range figures {
		v.cells[i].set(f)
	}
	v.Refresh()
	if v.Size().Width > 0 && v.HeightFor(v.Size().Width) != before {
		v.settled()
	}
}

func (v *Verdict) space() float32 { return gap(14) }

// columns says how many figures stand side by side, so that the lines are evenly full.
func (v *Verdict) columns(width float32) int {
	n := len(v.cells)
	if n == 0 {
		return 1
	}
	widest := float32(1)
	for _, c := range v.cells {
		widest = fyne.Max(widest, c.wanted())
	}
	fit := min(max(int((width+v.space())/(widest+v.space())), 1), n)
	lines := (n + fit - 1) / fit
	return (n + lines - 1) / lines
}

// HeightFor returns the height of the strip at a width.
func (v *Verdict) HeightFor(width float32) float32 {
	if len(v.cells) == 0 {
		return 0
	}
	_, heights := v.lines(width)
	total := v.lineGap() * float32(len(heights)-1)
	for _, h := range heights {
		total += h
	}
	return total
}

func (v *Verdict) lineGap() float32 { return gap(10) }

// lines returns the width of a cell and the height of each line of cells.
func (v *Verdict) lines(width float32) (cell float32, heights []float32) {
	columns := v.columns(width)
	cell = (width - v.space()*float32(columns-1)) / float32(columns)
	for i, c := range v.cells {
		if i%columns == 0 {
			heights = append(heights, 0)
		}
		last := len(heights) - 1
		heights[last] = fyne.Max(heights[last], c.HeightFor(cell))
	}
	return cell, heights
}

func (v *Verdict) leastWidth() float32 { return em(120) }

// CreateRenderer implements fyne.Widget.
func (v *Verdict) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject {
			objects := make([]fyne.CanvasObject, 0, 2*len(v.cells))
			for i, c := range v.cells {
				objects = append(objects, c, v.rules[i])
			}
			return objects
		},
		layout: v.lay,
		min:    leastOf(v),
		refresh: func() {
			v.lay(v.Size())
			canvas.Refresh(v)
		},
	}
}

func (v *Verdict) lay(size fyne.Size) {
	if len(v.cells) == 0 || size.Width <= 0 {
		return
	}
	columns := v.columns(size.Width)
	cell, heights := v.lines(size.Width)
	y := float32(0)
	for line, h := range heights {
		for col := 0; col < columns && line*columns+col < len(v.cells); col++ {
			i := line*columns + col
			x := float32(col) * (cell + v.space())
			place(v.cells[i], x, y, cell, h)
			v.rules[i].Hidden = col == 0
			paintBox(v.rules[i], theme.ColorNameSeparator, "", 0, 0)
			place(v.rules[i], x-v.space()/2, y+1, 1, h-2)
		}
		y += h + v.lineGap()
	}
}

// Lines below a figure: of how sure it is, and of why it is not known, which is a sentence
// with the name of a material in it.
const (
	mostInterval = 2
	mostReason   = 4
)

// verdictCell shows one figure.
type verdictCell struct {
	widget.BaseWidget
	figure              Figure
	label, second       *Text
	value, unit, change *canvas.Text
}

func newVerdictCell() *verdictCell {
	c := &verdictCell{label: NewCaption(""), second: NewCaption("")}
	c.label.Lines = 1
	for _, t := range []**canvas.Text{&c.value, &c.unit, &c.change} {
		*t = canvas.NewText("", nil)
	}
	c.value.TextStyle.Bold = true
	c.ExtendBaseWidget(c)
	return c
}

func (c *verdictCell) set(f Figure) {
	c.figure = f
	c.label.SetText(f.Label)
	second := f.Interval
	c.second.Lines = mostInterval
	if f.Value == "" {
		second, c.second.Lines = f.Reason, mostReason
	}
	c.second.SetText(second)
	c.Refresh()
}

func (c *verdictCell) style() {
	f := c.figure
	c.value.Text, c.unit.Text, c.change.Text = hardSpaces.Replace(f.Value), hardSpaces.Replace(f.Unit), hardSpaces.Replace(f.Change)
	c.value.Color = colour(theme.ColorNameForeground)
	if f.Value == "" {
		c.value.Text, c.unit.Text, c.change.Text = unknownValue, "", ""
		c.value.Color = colour(theme.ColorNamePlaceHolder)
	}
	c.value.TextSize = theme.Size(theme.SizeNameHeadingText)
	for _, t := range []*canvas.Text{c.unit, c.change} {
		t.TextSize = theme.Size(theme.SizeNameCaptionText)
		t.Color = colour(theme.ColorNamePlaceHolder)
	}
}

func (c *verdictCell) between() float32 { return gap(5) }

// wanted is the width at which nothing has to be shortened.
func (c *verdictCell) wanted() float32 {
	c.style()
	line := c.value.MinSize().Width
	if c.unit.Text != "" {
		line += c.between() + c.unit.MinSize().Width
	}
	if c.change.Text != "" {
		line += c.between() + c.change.MinSize().Width
	}
	widest := fyne.Max(line, c.label.NaturalWidth())
	return fyne.Max(widest, fyne.Min(c.second.NaturalWidth(), em(130))) + 1
}

func (c *verdictCell) HeightFor(width float32) float32 {
	c.style()
	h := c.label.HeightFor(width) + c.value.MinSize().Height
	if c.second.String() != "" {
		h += c.second.HeightFor(width)
	}
	return h
}

func (c *verdictCell) leastWidth() float32 { return em(60) }

func (c *verdictCell) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(c.label, c.value, c.unit, c.change, c.second),
		layout:  c.lay,
		min:     leastOf(c),
		refresh: func() {
			c.lay(c.Size())
			canvas.Refresh(c)
		},
	}
}

func (c *verdictCell) lay(size fyne.Size) {
	c.style()
	y := c.label.HeightFor(size.Width)
	place(c.label, 0, 0, size.Width, y)
	value := c.value.MinSize()
	place(c.value, 0, y, value.Width, value.Height)
	base := y + baseline(c.value)
	x := value.Width + c.between()
	place(c.unit, x, base-baseline(c.unit), c.unit.MinSize().Width, c.unit.MinSize().Height)
	change := c.change.MinSize()
	place(c.change, fyne.Max(size.Width-change.Width, 0), base-baseline(c.change), change.Width, change.Height)
	place(c.second, 0, y+value.Height, size.Width, fyne.Max(size.Height-y-value.Height, 0))
	for _, t := range []*canvas.Text{c.value, c.unit, c.change} {
		t.Refresh()
	}
}

// baseline is the height of the letters above the line they stand on.
func baseline(t *canvas.Text) float32 {
	_, base := fyne.CurrentApp().Driver().RenderedTextSize(t.Text, t.TextSize, t.TextStyle, nil)
	return base
}
