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
// fonts that it has scaled and the glyphs that it has drawn, and copies these straight into the image,
// where the canvas's own way makes a font for every text and sends every pixel
// through a transform. It also kerns in proportion to the size of the font.
type surface struct {
	*vgimg.Canvas
	img   *image.RGBA
	w, h  float64
	ink   *image.Uniform
	faces map[font.Font]xfont.Face
	drawn map[glyphKey]glyph
	buf   sfnt.Buffer
}

// glyphKey is a character in a font at a fraction of a pixel.
type glyphKey struct {
	font font.Font
	char rune
	part fixed.Point26_6
}

// glyph is a character as it was drawn, its box relative to the pixel of its dot.
type glyph struct {
	box     image.Rectangle
	mask    *image.Alpha
	advance fixed.Int26_6
}

// mostGlyphs bounds those that are kept; a picture needs some hundreds.
const mostGlyphs = 4096

// glyph is the character at a dot. What a font has no glyph for is nothing.
func (s *surface) glyph(face xfont.Face, f font.Font, dot fixed.Point26_6, char rune) glyph {
	whole := image.Pt(dot.X.Floor(), dot.Y.Floor())
	key := glyphKey{f, char, fixed.Point26_6{X: dot.X & 63, Y: dot.Y & 63}}
	if g, ok := s.drawn[key]; ok {
		return g
	}
	box, mask, from, advance, ok := face.Glyph(dot, char)
	g := glyph{advance: advance}
	if ok {
		g.box = box.Sub(whole)
		g.mask = image.NewAlpha(image.Rectangle{Max: box.Size()})
		draw.Draw(g.mask, g.mask.Rect, mask, from, draw.Src)
	}
	if len(s.drawn) >= mostGlyphs {
		clear(s.drawn)
	}
	s.drawn[key] = g
	return g
}

func newSurface(w, h float64) *surface {
	c := vgimg.NewWith(vgimg.UseWH(vg.Length(w), vg.Length(h)), vgimg.UseDPI(dotsPerInch))
	img, ok := c.Image().(*image.RGBA)
	if !ok {
		panic("figure: the image canvas does not draw to an RGBA image")
	}
	return &surface{
		Canvas: c, img: img, w: w, h: h,
		ink: image.NewUniform(color.Black), faces: map[font.Font]xfont.Face{}, drawn: map[glyphKey]glyph{},
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
		index, err := f.Face.GlyphIndex(&s.buf, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if k, err := f.Face.Kern(&s.buf, last, index, em, xfont.HintingNone); err == nil {
				dot.X += k * size / em
			}
		}
		g := s.glyph(face, f.Font, dot, r)
		if g.mask != nil {
			box := g.box.Add(image.Pt(dot.X.Floor(), dot.Y.Floor()))
			draw.DrawMask(s.img, box, s.ink, image.Point{}, g.mask, image.Point{}, draw.Over)
		}
		dot.X += g.advance
		last = index
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
