package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Column stacks objects at full width, each as high as it wants to be at that
// width. One of them may stretch over what is left.
type Column struct {
	widget.BaseWidget
	hosted

	// Gap between the objects at text scale 1.
	Gap float32
	// Stretch is the object that takes the height left over; nil for none.
	Stretch fyne.CanvasObject

	objects []fyne.CanvasObject
}

// NewColumn returns a column with a gap between its objects, measured at text scale 1.
func NewColumn(space float32, objects ...fyne.CanvasObject) *Column {
	c := &Column{Gap: space, objects: objects}
	c.ExtendBaseWidget(c)
	c.setHost(nil)
	return c
}

// Add appends objects.
func (c *Column) Add(objects ...fyne.CanvasObject) {
	c.SetObjects(append(c.objects, objects...)...)
}

// SetObjects replaces all objects.
func (c *Column) SetObjects(objects ...fyne.CanvasObject) {
	c.objects = objects
	c.setHost(c.host)
	c.Refresh()
	c.settled()
}

// Objects returns the objects in their order.
func (c *Column) Objects() []fyne.CanvasObject { return c.objects }

func (c *Column) setHost(h *host) {
	c.host = h
	inner := h.under(func() { c.lay(c.Size()) })
	for _, o := range c.objects {
		adopt(o, inner)
	}
}

// HeightFor returns the height of the column at a width.
func (c *Column) HeightFor(width float32) float32 {
	height, shown := float32(0), 0
	for _, o := range c.objects {
		if o.Visible() {
			height += heightFor(o, width)
			shown++
		}
	}
	return height + gap(c.Gap)*float32(max(shown-1, 0))
}

// CreateRenderer implements fyne.Widget.
func (c *Column) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject { return c.objects },
		layout:  c.lay,
		min:     leastOf(c),
		refresh: func() {
			c.lay(c.Size())
			canvas.Refresh(c)
		},
	}
}

func (c *Column) leastWidth() float32 { return widest(c.objects) }

func (c *Column) lay(size fyne.Size) {
	spare := size.Height - c.HeightFor(size.Width)
	y := float32(0)
	for _, o := range c.objects {
		if !o.Visible() {
			continue
		}
		h := heightFor(o, size.Width)
		if o == c.Stretch {
			h = fyne.Max(h+spare, 0)
		}
		place(o, 0, y, size.Width, h)
		y += h + gap(c.Gap)
	}
}
