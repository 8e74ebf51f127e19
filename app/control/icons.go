package control

import (
	"embed"

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

// newIcon returns an image of an icon that fits into the space given to it.
func newIcon(res fyne.Resource) *canvas.Image {
	img := canvas.NewImageFromResource(res)
	img.FillMode = canvas.ImageFillContain
	return img
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
