// Command emptywindow opens a Fyne window that holds one coloured rectangle,
// as large as Fillwright's. packaging/bench measures Fillwright's start against
// it: what it takes is the toolkit's share.
package main

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
)

func main() {
	window := app.NewWithID("org.fillwright.EmptyWindow").NewWindow("Empty")
	// Inside the padding of the window it makes a second colour, without which
	// nobody could tell the painted window from one that is merely cleared.
	window.SetContent(canvas.NewRectangle(color.NRGBA{R: 90, G: 120, B: 150, A: 255}))
	window.Resize(fyne.NewSize(1280, 800))
	window.ShowAndRun()
}
