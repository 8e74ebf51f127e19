package control_test

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fillwright/app/control"
)

// BenchmarkShowResults measures what the controls cost when every figure, note and
// cell of the gallery changes at once, without the toolkit's own painting.
func BenchmarkShowResults(b *testing.B) {
	test.NewTempApp(b)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	g := newGallery()
	win := test.NewTempWindow(b, g.root)
	win.Resize(fyne.NewSize(1280, 800))
	win.Canvas().Capture()
	figures, notes := galleryFigures(), galleryNotes()
	b.ResetTimer()
	for i := range b.N {
		for k := range figures {
			figures[k].Value = fmt.Sprint(i % 1000)
		}
		notes[0].Text = fmt.Sprint("changed ", i%1000)
		g.grid.Refresh()
		g.verdict.SetFigures(figures...)
		g.notes.SetNotes(notes)
		g.fields.Sync()
		g.rail.SetMark("blend", control.Mark(i%4), "")
		g.picture.Invalidate()
	}
}
