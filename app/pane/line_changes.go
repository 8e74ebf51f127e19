package pane

import "fyne.io/fyne/v2"

// buildChanges is that part of the line.
func (p *Line) buildChanges() []fyne.CanvasObject {
	return nil
}
