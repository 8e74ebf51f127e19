package figure

import (
	"image"
	"image/color"
	"image/draw"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// dotsPerInch makes one unit of a canvas one pixel of its image.
const dotsPerInch = 72

// Renderer draws pictures into an image. It keeps the image and its canvas as
// long as the size stays the same. The zero value is ready. Not for use from
// several goroutines at a time.
type Renderer struct {
	on *surface
}

// Render draws the picture at Width × Height pixels. The image is the
// renderer's own and holds the picture until the next call.
func (r *Renderer) Render(p Picture, s Style) (*image.RGBA, Layout) {
	l := newLook(s)
	if r.on == nil || r.on.w != l.w || r.on.h != l.h {
		r.on = newSurface(l.w, l.h)
	}
	r.on.wipe(l.Background)
	lay := paint(r.on, &p, l)
	return r.on.img, lay
}

// surface is gonum's image canvas with a shorter way for text: it keeps the
// fonts that it has scaled, and copies the glyphs straight into the image,
// where the canvas's own way makes a font for every text and sends every pixel
// through a transform. It also kerns in proportion to the size of the font.
type surface struct {
	*vgimg.Canvas
	img   *image.RGBA
	w, h  float64
	ink   *image.Uniform
	faces map[font.Font]xfont.Face
	buf   sfnt.Buffer
}

func newSurface(w, h float64) *surface {
	c := vgimg.NewWith(vgimg.UseWH(vg.Length(w), vg.Length(h)), vgimg.UseDPI(dotsPerInch))
	img, ok := c.Image().(*image.RGBA)
	if !ok {
		panic("figure: the image canvas does not draw to an RGBA image")
	}
	return &surface{
		Canvas: c, img: img, w: w, h: h,
		ink: image.NewUniform(color.Black), faces: map[font.Font]xfont.Face{},
	}
}

// wipe fills the image with the ground.
func (s *surface) wipe(ground color.Color) {
	c := color.RGBAModel.Convert(ground).(color.RGBA)
	pix := s.img.Pix
	copy(pix, []uint8{c.R, c.G, c.B, c.A})
	for done := 4; done < len(pix); done *= 2 {
		copy(pix[done:], pix[:done])
	}
}

// SetColor implements vg.Canvas.
func (s *surface) SetColor(c color.Color) {
	s.Canvas.SetColor(c)
	s.ink.C = c
}

// FillString implements vg.Canvas for a canvas that is not turned or scaled.
func (s *surface) FillString(f font.Face, at vg.Point, text string) {
	face := s.scaled(f)
	dot := fixed.Point26_6{X: fixed.Int26_6(64 * float64(at.X)), Y: fixed.Int26_6(64 * (s.h - float64(at.Y)))}
	em := fixed.Int26_6(f.Face.UnitsPerEm())
	size := fixed.Int26_6(64 * float64(f.Font.Size))
	var last sfnt.GlyphIndex
	for i, r := range text {
		glyph, err := f.Face.GlyphIndex(&s.buf, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if k, err := f.Face.Kern(&s.buf, last, glyph, em, xfont.HintingNone); err == nil {
				dot.X += k * size / em
			}
		}
		box, mask, from, advance, _ := face.Glyph(dot, r)
		draw.DrawMask(s.img, box, s.ink, image.Point{}, mask, from, draw.Over)
		dot.X += advance
		last = glyph
	}
}

// mostFaces bounds the fonts that are kept; a picture needs five.
const mostFaces = 32

// scaled is the font at its size in pixels.
func (s *surface) scaled(f font.Face) xfont.Face {
	if face, ok := s.faces[f.Font]; ok {
		return face
	}
	if len(s.faces) >= mostFaces {
		clear(s.faces)
	}
	face := f.FontFace(dotsPerInch)
	s.faces[f.Font] = face
	return face
}
