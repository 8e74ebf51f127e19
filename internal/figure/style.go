package figure

import "image/color"

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

// defaultTextSize is the body text of a style that names none, in pixels.
const defaultTextSize = 13

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
