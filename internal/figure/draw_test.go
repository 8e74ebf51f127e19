package figure

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg/recorder"
)

// near says whether a colour is found within so many pixels of a place.
func near(img *image.RGBA, x, y float64, want color.Color, reach int) bool {
	w := color.RGBAModel.Convert(want).(color.RGBA)
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			if img.RGBAAt(int(x)+dx, int(y)+dy) == w {
				return true
			}
		}
	}
	return false
}

// over is what a translucent colour gives on an opaque ground.
func over(c, ground color.Color, opacity float64) color.RGBA {
	return color.RGBAModel.Convert(mix(ground, c, opacity)).(color.RGBA)
}

func TestLineIsDrawnThroughItsPoints(t *testing.T) {
	for _, scale := range []float64{1, 1.5, 2} {
		s := DefaultStyle(700*scale, 450*scale, false)
		s.Scale = scale
		p := costAndDensity()
		img, lay := new(Renderer).Render(p, s)
		for i, panel := range p.Panels {
			line := panel.Lines[0]
			for _, j := range []int{1, 20, 40, 58} {
				x, y := lay.Panels[i].ToPixel(line.X[j], line.Y[j])
				assert.True(t, near(img, x, y, s.Palette[line.Colour], 1), "scale %g, panel %d, point %d", scale, i, j)
				assert.False(t, near(img, x, y+12*scale, s.Palette[line.Colour], 2), "away from the line")
			}
		}
	}
}

func TestLineOnLogarithmicAxes(t *testing.T) {
	x, y := []float64{1, 10, 100}, []float64{0.01, 1, 100}
	p := Picture{Panels: []Panel{{X: Axis{Log: true}, Y: Axis{Log: true}, Lines: []Line{{X: x, Y: y, Colour: 1}}}}}
	s := DefaultStyle(400, 300, false)
	img, lay := new(Renderer).Render(p, s)
	px, py := lay.Panels[0].ToPixel(math.Sqrt(10), 0.1) // on the straight line that a power law gives
	assert.True(t, near(img, px, py, s.Palette[1], 1))
}

func TestBandIsTranslucent(t *testing.T) {
	s := DefaultStyle(700, 450, true)
	p := costAndDensity()
	img, lay := new(Renderer).Render(p, s)
	band := p.Panels[0].Bands[0]
	x, _ := lay.Panels[0].ToPixel(band.X[50], 0)
	_, low := lay.Panels[0].ToPixel(0, band.Low[50])
	_, high := lay.Panels[0].ToPixel(0, band.High[50])
	got := img.RGBAAt(int(x), int(high+0.25*(low-high)))
	want := over(s.Palette[0], s.Background, bandOpacity)
	for i, pair := range [][2]uint8{{got.R, want.R}, {got.G, want.G}, {got.B, want.B}} {
		assert.InDelta(t, pair[1], pair[0], 2, "channel %d", i)
	}
}

func TestBarSpansItsRange(t *testing.T) {
	s := DefaultStyle(700, 450, false)
	p := meltFlow()
	img, lay := new(Renderer).Render(p, s)
	seen := 0
	for _, target := range lay.Targets {
		if target.Kind != OnBar || !p.Panels[0].Bars[target.Index].Known {
			continue
		}
		seen++
		b := p.Panels[0].Bars[target.Index]
		x := lay.Panels[0].X
		middle := (target.Box.Y0 + target.Box.Y1) / 2
		ink := mix(s.Palette[b.Colour], s.Background, 0.25)
		assert.True(t, near(img, x.ToPixel(b.Low)+3, middle, ink, 0), "%s begins", b.Label)
		assert.True(t, near(img, x.ToPixel(b.High)-3, middle, ink, 0), "%s ends", b.Label)
		assert.False(t, near(img, x.ToPixel(b.High)+4, middle, ink, 1), "%s has ended", b.Label)
		assert.True(t, near(img, x.ToPixel(b.Likely), middle, s.Foreground, 2), "%s has its tick", b.Label)
	}
	assert.Equal(t, 3, seen)
}

func TestUnknownBarIsHollow(t *testing.T) {
	s := DefaultStyle(700, 450, false)
	img, lay := new(Renderer).Render(meltFlow(), s)
	box := lay.Targets[2+1].Box // after the mark
	require.Equal(t, "Oil", lay.Targets[3].Text)
	assert.InDelta(t, lay.Panels[0].Area.X0, box.X0, 1)
	assert.InDelta(t, lay.Panels[0].Area.X1, box.X1, 1)
	assert.True(t, near(img, box.X0+0.37*box.W(), (box.Y0+box.Y1)/2, s.Background, 0))
}

func TestTilesKeepApart(t *testing.T) {
	s := DefaultStyle(700, 450, false)
	img, lay := new(Renderer).Render(runList(), s)
	require.Len(t, lay.Targets, 9)
	for i, a := range lay.Targets {
		for _, b := range lay.Targets[i+1:] {
			assert.False(t, a.Box.Overlaps(b.Box))
		}
	}
	sixth := lay.Targets[5]
	assert.Equal(t, over(s.Palette[1], s.Background, tileTint), img.RGBAAt(int(sixth.Box.X1)-6, int(sixth.Box.Y1)-6))
}

func TestGroundIsThatOfTheStyle(t *testing.T) {
	for _, ground := range []color.Color{color.White, color.NRGBA{12, 34, 56, 255}, color.Transparent} {
		s := DefaultStyle(300, 200, false)
		s.Background = ground
		img, _ := new(Renderer).Render(costAndDensity(), s)
		for _, corner := range []image.Point{{0, 0}, {299, 0}, {0, 199}, {299, 199}} {
			assert.Equal(t, color.RGBAModel.Convert(ground), img.At(corner.X, corner.Y))
		}
	}
}

func TestColoursComeFromTheStyleOnly(t *testing.T) {
	s := Style{Width: 500, Height: 300, Background: color.White, Foreground: color.Black, Muted: color.Black, Grid: color.Black, Warn: color.Black, Palette: []color.Color{color.Black}}
	for _, p := range []Picture{costAndDensity(), meltFlow(), runList(), lengthAndPoints(), properties()} {
		img, _ := new(Renderer).Render(p, s)
		for i := 0; i < len(img.Pix); i += 4 {
			require.True(t, img.Pix[i] == img.Pix[i+1] && img.Pix[i] == img.Pix[i+2], "a colour in a style of greys")
		}
	}
}

func TestGapInALine(t *testing.T) {
	x, y := []float64{0, 1, 2, 3, 4}, []float64{1, 1, math.NaN(), 1, 1}
	p := Picture{Panels: []Panel{{Y: Axis{Min: 0, Max: 2}, Lines: []Line{{X: x, Y: y, Colour: 0}}}}}
	s := DefaultStyle(400, 300, false)
	img, lay := new(Renderer).Render(p, s)
	for v, want := range map[float64]bool{0.5: true, 1.5: false, 2.5: false, 3.5: true} {
		px, py := lay.Panels[0].ToPixel(v, 1)
		assert.Equal(t, want, near(img, px, py, s.Palette[0], 1), "at %g", v)
	}
}

func TestDrawOnAnyCanvas(t *testing.T) {
	var c recorder.Canvas
	s := DefaultStyle(700, 450, false)
	lay := Draw(&c, costAndDensity(), s)
	_, want := new(Renderer).Render(costAndDensity(), s)
	assert.Equal(t, want, lay, "the same layout on every canvas")
	var written []string
	for _, action := range c.Actions {
		if a, ok := action.(*recorder.FillString); ok {
			written = append(written, a.String)
		}
	}
	assert.Contains(t, written, "Olive 10")
	assert.Contains(t, written, "olive-stone flour, wt%")
}
