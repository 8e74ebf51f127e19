package shell

import "fyne.io/fyne/v2"

// stripShare is the most of the window's height that the strip below may take;
// beyond it the strip scrolls, so that with large text the pane keeps its place.
const stripShare = 0.46

// deskLayout puts the stage above the strip. Its objects are the stage, the
// ground under the strip and the strip.
type deskLayout struct{ gap, edge float32 }

// tall is an object that knows its height for a width.
type tall interface{ HeightFor(width float32) float32 }

// Layout implements fyne.Layout.
func (l deskLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	stage, ground, strip := objects[0], objects[1], objects[2]
	height := min(strip.(tall).HeightFor(size.Width), stripShare*size.Height)
	top := size.Height - height
	stage.Move(fyne.NewPos(0, 0))
	stage.Resize(fyne.NewSize(size.Width, top-l.gap))
	ground.Move(fyne.NewPos(0, top-l.gap))
	ground.Resize(fyne.NewSize(size.Width, height+l.gap+l.edge))
	strip.Move(fyne.NewPos(0, top))
	strip.Resize(fyne.NewSize(size.Width, height))
}

// MinSize implements fyne.Layout.
func (l deskLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	const least = 120 // the strip shows a figure and a note, the rest scrolls
	stage, strip := objects[0].MinSize(), objects[2].MinSize()
	return fyne.NewSize(max(stage.Width, strip.Width), stage.Height+l.gap+least)
}
