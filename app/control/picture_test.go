package control_test

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

// checks draws a board of one-pixel squares, which no scaling survives.
func checks(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{A: 255}
			if (x+y)%2 == 0 {
				c = color.RGBA{R: 255, G: 255, B: 255, A: 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

func TestPictureDrawsOnlyWhenSomethingChanged(t *testing.T) {
	var p *control.PictureView
	drawn := 0
	win := open(t, looks[0], func() fyne.CanvasObject {
		p = control.NewPictureView(control.PictureOptions{Draw: func(w, h int, _ float32) image.Image {
			drawn++
			return checks(w, h)
		}})
		return p
	}, 300, 200)
	paint := func() { win.Canvas().Capture() }
	paint()
	assert.Equal(t, 1, drawn)
	p.Refresh()
	win.Content().Refresh()
	paint()
	paint()
	assert.Equal(t, 1, drawn, "refresh and repaint draw nothing anew")
	p.Invalidate()
	p.Invalidate()
	paint()
	assert.Equal(t, 2, drawn, "changes between two paints cost one drawing")
	win.Resize(fyne.NewSize(310, 200))
	paint()
	assert.Equal(t, 3, drawn)
	test.ApplyTheme(t, control.NewTheme(control.Dark, 1))
	paint()
	assert.Equal(t, 4, drawn, "new colours")
	test.ApplyTheme(t, control.NewTheme(control.Dark, 1.5))
	paint()
	assert.Equal(t, 5, drawn, "new text size")
	p.Hide()
	p.Invalidate()
	paint()
	assert.Equal(t, 5, drawn, "nothing is drawn for a view that is not shown")
	p.Show()
	paint()
	assert.Equal(t, 6, drawn)
	assert.NotNil(t, p.Image())
	assert.Equal(t, 6, drawn)
	p.Invalidate()
	p.Image()
	assert.Equal(t, 7, drawn, "asking for the picture draws it")
}

func TestPictureIsDrawnAtDevicePixels(t *testing.T) {
	test.NewTempApp(t)
	for _, scale := range []float32{1, 1.5, 2} {
		var gotScale float32
		p := control.NewPictureView(control.PictureOptions{Draw: func(w, h int, s float32) image.Image {
			gotScale = s
			return checks(w, h)
		}})
		c := software.NewCanvas()
		c.SetScale(scale)
		c.SetPadded(false)
		c.SetContent(container.NewStack(p))
		c.Resize(fyne.NewSize(100, 60))
		img := c.Capture()
		require.Equal(t, int(100*scale), img.Bounds().Dx())
		assert.InDelta(t, scale, gotScale, 1e-3)
		wrong := 0
		want := checks(img.Bounds().Dx(), img.Bounds().Dy())
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				r, _, _, _ := img.At(x, y).RGBA()
				w, _, _, _ := want.At(x, y).RGBA()
				if r != w {
					wrong++
				}
			}
		}
		assert.Zero(t, wrong, "pixels that were scaled at %v", scale)
	}
}

func TestPicturePassesEventsAsPixels(t *testing.T) {
	var tapped, hovered control.Pixel
	var inside bool
	var scrolled float64
	var keys []fyne.KeyName
	p := control.NewPictureView(control.PictureOptions{
		Draw:     func(w, h int, _ float32) image.Image { return checks(w, h) },
		Alt:      "cost against content",
		OnTapped: func(at control.Pixel) { tapped = at },
		OnHover:  func(at control.Pixel, in bool) { hovered, inside = at, in },
		OnScroll: func(_ control.Pixel, _, dy float64) { scrolled = dy },
		OnKey:    func(ev *fyne.KeyEvent) { keys = append(keys, ev.Name) },
	})
	win := open(t, looks[0], func() fyne.CanvasObject { return p }, 200, 100)
	win.Canvas().(interface{ SetScale(float32) }).SetScale(2)
	win.Canvas().Capture()
	test.TapCanvas(win.Canvas(), fyne.NewPos(30, 40))
	assert.Equal(t, control.Pixel{X: 60, Y: 80}, tapped)
	assert.Equal(t, fyne.Focusable(p), win.Canvas().Focused())
	win.Canvas().Focused().TypedKey(key(fyne.KeyRight))
	assert.Equal(t, []fyne.KeyName{fyne.KeyRight}, keys)
	test.MoveMouse(win.Canvas(), fyne.NewPos(10, 20))
	assert.Equal(t, control.Pixel{X: 20, Y: 40}, hovered)
	assert.True(t, inside)
	p.MouseOut()
	assert.False(t, inside)
	test.Scroll(win.Canvas(), fyne.NewPos(10, 20), 0, 5)
	assert.InDelta(t, 5, scrolled, 1e-9)
	assert.Equal(t, "cost against content", p.AccessibilityLabel())
	var _ desktop.Hoverable = p
}

func TestPictureWithoutKeysIsPassedOver(t *testing.T) {
	var f *control.Field
	win := open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewField(control.FieldOptions{ID: "/a"})
		p := control.NewPictureView(control.PictureOptions{Draw: func(w, h int, _ float32) image.Image { return checks(w, h) }})
		return container.NewVBox(p, f)
	}, 300, 300)
	win.Canvas().FocusNext()
	assert.Equal(t, fyne.Focusable(f.Entry()), win.Canvas().Focused())
	win.Canvas().FocusNext()
	assert.Equal(t, fyne.Focusable(f.Entry()), win.Canvas().Focused())
}

func TestPictureSurvivesNoImage(t *testing.T) {
	win := open(t, looks[0], func() fyne.CanvasObject {
		return control.NewPictureView(control.PictureOptions{Draw: func(int, int, float32) image.Image { return nil }})
	}, 300, 300)
	assert.NotPanics(t, func() { win.Canvas().Capture() })
}
