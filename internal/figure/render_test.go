package figure

import (
	"bytes"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSamePictureSameBytes(t *testing.T) {
	s := DefaultStyle(700, 450, true)
	var kept Renderer
	for range 2 {
		for _, p := range []Picture{costAndDensity(), meltFlow(), runList(), lengthAndPoints(), properties()} {
			a, la := kept.Render(p, s) // over whatever was there before
			b, lb := new(Renderer).Render(p, s)
			require.True(t, bytes.Equal(a.Pix, b.Pix), p.Title)
			require.Equal(t, la, lb)
		}
	}
}

func TestRendererKeepsItsImage(t *testing.T) {
	var r Renderer
	a, _ := r.Render(costAndDensity(), DefaultStyle(300, 200, false))
	b, _ := r.Render(meltFlow(), DefaultStyle(300, 200, true))
	assert.Same(t, a, b)
	c, _ := r.Render(meltFlow(), DefaultStyle(301, 200, true))
	assert.NotSame(t, a, c)
	assert.Equal(t, 301, c.Bounds().Dx())
}

func TestColoursCanBeSeen(t *testing.T) {
	for _, dark := range []bool{false, true} {
		s := DefaultStyle(1, 1, dark)
		for i, c := range s.Palette[:4] {
			assert.GreaterOrEqual(t, contrast(c, s.Background), 3.0, "dark %v, colour %d: WCAG 2.2, 1.4.11", dark, i)
		}
		l := newLook(s)
		for i := range s.Palette {
			assert.GreaterOrEqual(t, contrast(l.textInk(i), s.Background), textContrast, "dark %v, colour %d", dark, i)
			tint := mix(s.Background, s.Palette[i], tileTint)
			assert.GreaterOrEqual(t, contrast(s.Foreground, tint), textContrast, "text on a tile, dark %v, colour %d", dark, i)
			assert.GreaterOrEqual(t, contrast(s.Muted, tint), textContrast, "small text on a tile, dark %v, colour %d", dark, i)
		}
		for name, c := range map[string]color.Color{"foreground": s.Foreground, "muted": s.Muted, "warn": s.Warn} {
			assert.GreaterOrEqual(t, contrast(c, s.Background), textContrast, "dark %v, %s", dark, name)
		}
	}
}

// The contrast of black on white is 21 and that of a grey of 118 is 4.54 (WCAG 2.2, definition and well-known example #767676).
func TestContrast(t *testing.T) {
	assert.InDelta(t, 21, contrast(color.Black, color.White), 1e-9)
	assert.InDelta(t, 4.54, contrast(color.Gray{Y: 0x76}, color.White), 0.005)
}

// dichromat is how a colour appears without one kind of cone, in linear RGB:
// the matrices of Viénot, Brettel and Mollon (1999) for red and green; from memory, confirm.
func dichromat(c color.Color, kind string) [3]float64 {
	r, g, b, _ := c.RGBA()
	x := [3]float64{linear(r), linear(g), linear(b)}
	switch kind {
	case "protan":
		return [3]float64{0.1121*x[0] + 0.8853*x[1] - 0.0005*x[2], 0.1127*x[0] + 0.8897*x[1] - 0.0001*x[2], 0.0045*x[0] + 0.0085*x[1] + 1.0019*x[2]}
	default:
		return [3]float64{0.2920*x[0] + 0.7054*x[1] - 0.0003*x[2], 0.2934*x[0] + 0.7089*x[1], -0.0210*x[0] + 0.0256*x[1] + 1.0019*x[2]}
	}
}

func TestPalettesStayApartForColourBlindEyes(t *testing.T) {
	for _, dark := range []bool{false, true} {
		colours := Palette(dark)
		require.Len(t, colours, 8)
		for _, kind := range []string{"protan", "deutan"} {
			for i := range colours {
				for j := range i {
					a, b := dichromat(colours[i], kind), dichromat(colours[j], kind)
					d := 0.0
					for k := range a {
						d += math.Pow(math.Cbrt(max(a[k], 0))-math.Cbrt(max(b[k], 0)), 2)
					}
					assert.Greater(t, math.Sqrt(d), 0.06, "dark %v, %s: %d and %d", dark, kind, i, j)
				}
			}
		}
	}
}

func TestStyleIsCompleted(t *testing.T) {
	img, _ := new(Renderer).Render(costAndDensity(), Style{Width: 300, Height: 200})
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, img.RGBAAt(0, 0))
	s := Style{Width: math.Inf(1), Height: math.NaN(), Scale: -1, TextSize: math.NaN()}.complete()
	assert.Equal(t, 1.0, s.Scale)
	assert.Equal(t, float64(defaultTextSize), s.TextSize)
	l := newLook(Style{Background: color.Black})
	assert.Greater(t, contrast(l.Foreground, color.Black), textContrast, "a dark ground gets light text")
}

func TestWidthAgreesWithWhatIsDrawn(t *testing.T) {
	s := newSurface(300, 60)
	for _, text := range []string{"11 Te AV", "Olive 10", "1.240 g/cm³", "×0.81"} {
		face := newTypeface(24, false)
		s.wipe(color.White)
		s.SetColor(color.Black)
		s.FillString(face.face, (&painter{look: look{h: 60}}).point(10, 40), text)
		last := 0
		for y := range 60 {
			for x := range 300 {
				if s.img.RGBAAt(x, y).R < 128 {
					last = max(last, x)
				}
			}
		}
		assert.InDelta(t, 10+face.width(text), last, 4, text)
	}
}
