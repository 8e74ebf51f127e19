package control

import (
	"embed"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

//go:embed icons/*.svg
var iconFiles embed.FS

// icon loads an embedded drawing that takes its colour from the theme. A missing
// file is a programmer's error.
func icon(name string, colourName fyne.ThemeColorName) fyne.Resource {
	data, err := iconFiles.ReadFile("icons/" + name + ".svg")
	if err != nil {
		panic("control: no icon " + name)
	}
	return theme.NewColoredResource(fyne.NewStaticResource("fillwright-"+name+".svg", data), colourName)
}

// The marks differ in shape first and in colour second.
var (
	iconEmpty   = icon("empty", theme.ColorNamePlaceHolder)
	iconFine    = icon("fine", theme.ColorNameSuccess)
	iconCaution = icon("caution", theme.ColorNameWarning)
	iconStop    = icon("stop", theme.ColorNameError)
	iconInfo    = icon("info", theme.ColorNamePrimary)
	iconPlus    = icon("plus", theme.ColorNamePlaceHolder)
	iconMore    = icon("more", theme.ColorNamePlaceHolder)
)

// sign is an icon in the window. The toolkit reads, colours and decodes the
// drawing of an image whenever it is refreshed, and widgets are refreshed often; a
// sign does so only when it comes to look different.
type sign struct {
	*canvas.Image
	shown signKey
}

// signKey is all that the look of a sign depends on besides its size.
type signKey struct {
	drawing fyne.Resource
	colour  color.Color
	scale   float32 // of the canvas; 0 on none
}

// newSign returns an icon that fits into the space given to it.
func newSign(res fyne.Resource) *sign {
	img := canvas.NewImageFromResource(res)
	img.FillMode = canvas.ImageFillContain
	return &sign{Image: img}
}

// Refresh follows the drawing, the theme and the canvas.
func (s *sign) Refresh() {
	if s.Hidden {
		return
	}
	key := signKey{drawing: s.Resource}
	if themed, is := s.Resource.(fyne.ThemedResource); is {
		key.colour = colour(themed.ThemeColorName())
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(s.Image); c != nil {
		key.scale = c.Scale()
	}
	if key != s.shown {
		s.shown = key
		s.Image.Refresh()
	}
}

// place puts the sign, unless it is hidden, which would decode it for nothing.
func (s *sign) place(x, y, side float32) {
	if !s.Hidden {
		place(s.Image, x, y, side, side)
	}
}

// Severity says how much a note or a mark matters.
type Severity int

// The severities, rising.
const (
	Info Severity = iota
	Caution
	Stop
)

func (s Severity) icon() fyne.Resource {
	switch s {
	case Stop:
		return iconStop
	case Caution:
		return iconCaution
	default:
		return iconInfo
	}
}

// Mark is the state of a pane as its line in the rail shows it.
type Mark int

// The marks of the rail.
const (
	MarkEmpty Mark = iota // nothing entered yet
	MarkFine
	MarkCaution
	MarkStop
)

func (m Mark) icon() fyne.Resource {
	switch m {
	case MarkFine:
		return iconFine
	case MarkCaution:
		return iconCaution
	case MarkStop:
		return iconStop
	default:
		return iconEmpty
	}
}
