package pane

import (
	"image"

	"fillwright/app/control"
	"fillwright/internal/figure"
)

// drawn is a picture with what it was drawn with, and where its parts are.
type drawn struct {
	view     *control.PictureView
	renderer figure.Renderer
	layout   figure.Layout
}

// newDrawn makes a picture that is drawn at device pixels; width is in these.
func (b *base) newDrawn(picture func(width int) figure.Picture, opts control.PictureOptions) *drawn {
	d := &drawn{}
	opts.Draw = func(width, height int, scale float32) image.Image {
		if b.view.Project == nil {
			return nil
		}
		pic := picture(width)
		d.view.SetAlt(pic.Alt)
		img, layout := d.renderer.Render(pic, b.style(width, height, scale))
		d.layout = layout
		return img
	}
	d.view = control.NewPictureView(opts)
	return d
}

// newPicture makes the live picture of a pane.
func (b *base) newPicture(picture func(View) figure.Picture) *control.PictureView {
	b.drawing = b.newDrawn(func(int) figure.Picture { return picture(b.view) }, control.PictureOptions{}).view
	return b.drawing
}

func (b *base) style(width, height int, scale float32) figure.Style {
	background, foreground, muted, grid := b.desk.Colours()
	return figure.Style{
		Width: float64(width), Height: float64(height),
		Scale: float64(scale), TextSize: pictureText * float64(b.desk.TextScale()),
		Background: background, Foreground: foreground, Muted: muted, Grid: grid,
		DecimalComma: b.words().DecimalComma(),
	}
}

// pictureText is the size of body text in pictures at text scale 1.
const pictureText = 12.5

// Redraw draws the picture again.
func (b *base) Redraw() {
	if b.drawing != nil {
		b.drawing.Invalidate()
	}
}
