package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// gridWheel lies over the rows of a table that scrolls sideways only, and takes the wheel
// before the scroll does, which would turn it sideways and keep it from the page.
type gridWheel struct {
	widget.BaseWidget
	grid *Grid
}

func newGridWheel(g *Grid) *gridWheel {
	w := &gridWheel{grid: g}
	w.ExtendBaseWidget(w)
	return w
}

// Scrolled implements fyne.Scrollable: a wheel that turns sideways, or with the shift key,
// moves the columns, any other the page where that has somewhere to go.
func (w *gridWheel) Scrolled(ev *fyne.ScrollEvent) {
	if ev.Scrolled.DX != 0 || !w.grid.wheeled(ev) {
		w.grid.scroll.Scrolled(ev)
	}
}

func (w *gridWheel) CreateRenderer() fyne.WidgetRenderer { return nothing() }
