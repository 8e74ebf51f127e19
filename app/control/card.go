package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Card is a sheet with a title, a muted subtitle and content.
type Card struct {
	widget.BaseWidget
	hosted

	sheet           *canvas.Rectangle
	title, subtitle *Text
	extra           fyne.CanvasObject
	content         fyne.CanvasObject
}

// NewCard returns a sheet with content that fills it. Title and subtitle may be empty.
func NewCard(title, subtitle string, content fyne.CanvasObject) *Card {
	c := &Card{
		sheet:    newBox(),
		title:    NewRuns(Run{Text: title, Bold: true}),
		subtitle: NewCaption(subtitle),
		content:  content,
	}
	c.title.SizeName = theme.SizeNameSubHeadingText
	c.ExtendBaseWidget(c)
	c.setHost(nil)
	return c
}

// SetTitle replaces the title.
func (c *Card) SetTitle(text string) { c.title.SetText(text); c.Refresh() }

// SetSubtitle replaces the subtitle.
func (c *Card) SetSubtitle(text string) { c.subtitle.SetText(text); c.Refresh() }

// SetExtra puts an object, such as a button, at the right of the title.
func (c *Card) SetExtra(o fyne.CanvasObject) {
	c.extra = o
	c.setHost(c.host)
	c.Refresh()
}

// SetContent replaces the content.
func (c *Card) SetContent(o fyne.CanvasObject) {
	c.content = o
	c.setHost(c.host)
	c.Refresh()
	c.settled()
}

// Content is the object on the sheet.
func (c *Card) Content() fyne.CanvasObject { return c.content }

func (c *Card) setHost(h *host) {
	c.host = h
	inner := h.under(func() { c.lay(c.Size()) })
	adopt(c.content, inner)
	adopt(c.extra, inner)
}

// headPlan is where the head of a card goes at an inner width.
type headPlan struct {
	titleW, titleH     float32
	subX, subY         float32
	subW, subH         float32
	extraW, extraH     float32
	height, contentGap float32
}

func (c *Card) head(width float32) headPlan {
	p := headPlan{titleW: width}
	if c.extra != nil && c.extra.Visible() {
		size := c.extra.MinSize()
		p.extraW, p.extraH = size.Width, size.Height
		p.titleW = fyne.Max(width-p.extraW-gap(10), 0)
	}
	if c.title.String() != "" {
		p.titleH = c.title.HeightFor(p.titleW)
	}
	p.height = fyne.Max(p.titleH, p.extraH)
	if c.subtitle.String() != "" {
		p.placeSubtitle(c, width)
	}
	if p.height > 0 {
		p.contentGap = gap(8)
	}
	return p
}

// placeSubtitle puts the subtitle at the right of a short title, else below it.
func (p *headPlan) placeSubtitle(c *Card, width float32) {
	titleW, subW := c.title.NaturalWidth(), c.subtitle.NaturalWidth()
	if c.extra == nil && p.titleH > 0 && titleW+subW+gap(16) <= width {
		p.titleW = titleW + 1
		p.subW, p.subX = subW+1, width-subW-1
		p.subH = c.subtitle.HeightFor(p.subW)
		p.subY = fyne.Max((p.titleH-p.subH)*0.7, 0) // close to the line of the title
		return
	}
	p.subW, p.subY = p.titleW, p.height
	if p.titleH > 0 {
		p.subY = p.titleH + gap(1)
	}
	p.subH = c.subtitle.HeightFor(p.subW)
	p.height = fyne.Max(p.height, p.subY+p.subH)
}

func (c *Card) inset() (x, y float32) { return gap(14), gap(11) }

// HeightFor returns the height of the card at a width.
func (c *Card) HeightFor(width float32) float32 {
	x, y := c.inset()
	p := c.head(width - 2*x)
	return 2*y + p.height + p.contentGap + heightFor(c.content, width-2*x)
}

// CreateRenderer implements fyne.Widget.
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	c.paint()
	return &parts{
		objects: func() []fyne.CanvasObject {
			objects := []fyne.CanvasObject{c.sheet, c.title, c.subtitle}
			if c.extra != nil {
				objects = append(objects, c.extra)
			}
			return append(objects, c.content)
		},
		layout: c.lay,
		min:    c.minSize,
		refresh: func() {
			c.paint()
			c.lay(c.Size())
			canvas.Refresh(c)
		},
	}
}

func (c *Card) minSize() fyne.Size {
	x, y := c.inset()
	width := c.leastWidth()
	p := c.head(fyne.Max(width, c.Size().Width) - 2*x)
	return fyne.NewSize(width, 2*y+p.height+p.contentGap+c.content.MinSize().Height)
}

func (c *Card) leastWidth() float32 {
	x, _ := c.inset()
	return fyne.Max(leastWidth(c.content), c.title.leastWidth()) + 2*x
}

func (c *Card) paint() {
	paintBox(c.sheet, ColourCard, ColourCardBorder, 1, theme.Size(theme.SizeNameCardRadius))
}

func (c *Card) lay(size fyne.Size) {
	c.sheet.Resize(size)
	x, y := c.inset()
	width := size.Width - 2*x
	p := c.head(width)
	place(c.title, x, y, p.titleW, p.titleH)
	place(c.subtitle, x+p.subX, y+p.subY, p.subW, p.subH)
	if c.extra != nil {
		place(c.extra, x+width-p.extraW, y, p.extraW, p.extraH)
	}
	top := y + p.height + p.contentGap
	place(c.content, x, top, width, fyne.Max(size.Height-top-y, 0))
}
