package pane

import "fyne.io/fyne/v2"

// buildSpreading is that part of the line.
func (p *Line) buildSpreading() []fyne.CanvasObject {
	return nil
}
