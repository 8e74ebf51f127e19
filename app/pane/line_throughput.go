package pane

import "fyne.io/fyne/v2"

// buildThroughput is that part of the line.
func (p *Line) buildThroughput() []fyne.CanvasObject {
	return nil
}
