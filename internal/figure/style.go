package figure

import (
	"image/color"
	"math"
)

// Style is how a picture looks. Colours that are nil are taken from [DefaultStyle].
type Style struct {
	Width, Height float64 // of the image in device pixels (or in units of the canvas)
	Scale         float64 // device pixels for one pixel of the layout; 0 means 1
	TextSize      float64 // of the body text in pixels of the layout; 0 means 13

	Background color.Color
	Foreground color.Color // text and axes
	Muted      color.Color // secondary text
	Grid       color.Color
	Warn       color.Color
	Palette    []color.Color // see [Palette]

	DecimalComma bool
}

const (
	defaultTextSize = 13    // body text of a style that names none, in pixels
	longestSide     = 16384 // pixels; a larger image is cut to this
)

// DefaultStyle is a complete style for a light or a dark ground at scale 1.
func DefaultStyle(width, height float64, dark bool) Style {
	s := Style{
		Width: width, Height: height, Scale: 1, TextSize: defaultTextSize,
		Background: color.NRGBA{255, 255, 255, 255},
		Foreground: color.NRGBA{31, 41, 51, 255},
		Muted:      color.NRGBA{91, 103, 115, 255},
		Grid:       color.NRGBA{228, 231, 235, 255},
		Warn:       color.NRGBA{176, 58, 0, 255},
		Palette:    Palette(dark),
	}
	if dark {
		s.Background = color.NRGBA{28, 31, 36, 255}
		s.Foreground = color.NRGBA{230, 233, 237, 255}
		s.Muted = color.NRGBA{163, 172, 182, 255}
		s.Grid = color.NRGBA{52, 57, 64, 255}
		s.Warn = color.NRGBA{255, 158, 92, 255}
	}
	return s
}

// look is a style made ready for drawing: every size in device pixels, no
// colour missing, the fonts at hand.
type look struct {
	Style
	w, h             float64 // whole pixels
	k                float64 // device pixels for one pixel of the layout
	em               float64 // size of the body text
	body, bold       typeface
	small, smallBold typeface
	heading          typeface
	hair             float64 // width of the thinnest lines
	pad              float64 // between the image's edge and what is drawn
	line, smallLine  float64 // height of a line of text
}

func newLook(s Style) look {
	l := look{Style: s.complete()}
	l.w, l.h = pixels(s.Width), pixels(s.Height)
	l.k = l.Scale
	l.em = l.TextSize * l.k
	small := max(0.9*l.em, min(11*l.k, l.em))
	l.body, l.bold = newTypeface(l.em, false), newTypeface(l.em, true)
	l.small, l.smallBold = newTypeface(small, false), newTypeface(small, true)
	l.heading = newTypeface(1.15*l.em, true)
	l.hair = max(1, math.Round(l.k))
	l.pad = math.Round(min(0.7*l.em, 0.04*min(l.w, l.h)))
	l.line, l.smallLine = math.Round(1.5*l.em), math.Round(1.35*small)
	return l
}

// complete fills in what a style leaves open and bends what cannot be drawn.
func (s Style) complete() Style {
	ground := s.Background
	d := DefaultStyle(s.Width, s.Height, ground != nil && luminance(ground) < 0.18)
	for _, c := range []struct {
		have *color.Color
		want color.Color
	}{
		{&s.Background, d.Background},
		{&s.Foreground, d.Foreground},
		{&s.Muted, d.Muted},
		{&s.Grid, d.Grid},
		{&s.Warn, d.Warn},
	} {
		if *c.have == nil {
			*c.have = c.want
		}
	}
	if len(s.Palette) == 0 {
		s.Palette = d.Palette
	}
	s.Scale = within(s.Scale, 0.25, 16, 1)
	s.TextSize = within(s.TextSize, 4, 200, defaultTextSize)
	return s
}

// within returns v when it lies between low and high, the nearer of them when
// it is above zero, and otherwise the default.
func within(v, low, high, otherwise float64) float64 {
	if !(v > 0) {
		return otherwise
	}
	return min(max(v, low), high)
}

// pixels is a length as a whole number of pixels that an image can have.
func pixels(v float64) float64 {
	return math.Round(within(v, 1, longestSide, 1))
}

// ink is the colour that a Colour of the picture stands for.
func (l *look) ink(colour int) color.Color {
	switch {
	case colour >= 0:
		return l.Palette[colour%len(l.Palette)]
	case colour == InkMuted:
		return l.Muted
	case colour == InkWarn:
		return l.Warn
	default:
		return l.Foreground
	}
}

// textInk is that colour, moved so far towards that of the text that words in it can be read.
func (l *look) textInk(colour int) color.Color {
	return readable(l.ink(colour), l.Background, l.Foreground)
}
