package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Ground is an area in the colour of the window, to cover what lies below.
type Ground struct {
	widget.BaseWidget
	box *canvas.Rectangle
}

// NewGround returns a ground.
func NewGround() *Ground {
	g := &Ground{box: newBox()}
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer implements fyne.Widget.
func (g *Ground) CreateRenderer() fyne.WidgetRenderer {
	paint := func() {
		g.box.FillColor = colour(theme.ColorNameBackground)
		g.box.Refresh()
	}
	paint()
	return &parts{
		objects: fixed(g.box),
		layout:  func(size fyne.Size) { place(g.box, 0, 0, size.Width, size.Height) },
		min:     func() fyne.Size { return fyne.NewSize(0, 0) },
		refresh: paint,
	}
}
