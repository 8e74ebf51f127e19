package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Colour names of this package, next to those of the toolkit.
const (
	ColourCard       fyne.ThemeColorName = "fillwright-card"        // a sheet that content lies on
	ColourCardBorder fyne.ThemeColorName = "fillwright-card-border" // its edge
	ColourRail       fyne.ThemeColorName = "fillwright-rail"        // the rail of panes
	ColourWash       fyne.ThemeColorName = "fillwright-wash"        // behind what is chosen
	ColourStrip      fyne.ThemeColorName = "fillwright-strip"       // heads and totals of tables
	ColourStopWash   fyne.ThemeColorName = "fillwright-stop-wash"   // behind what was refused
	ColourGridLine   fyne.ThemeColorName = "fillwright-grid-line"   // lines of tables and pictures
)

type palette map[fyne.ThemeColorName]color.Color

// rgb reads 0xRRGGBB.
func rgb(hex uint32) color.Color {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 0xff}
}

// veil reads 0xRRGGBB and an opacity.
func veil(hex uint32, alpha uint8) color.Color {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: alpha}
}

// The hues are those of Okabe and Ito's palette for all kinds of colour vision
// (from memory, confirm). Where they carry text or a thin outline on white they
// are darkened until the contrast is enough; the tests measure it.
var light = palette{
	theme.ColorNameBackground:          rgb(0xF2F4F7),
	theme.ColorNameForeground:          rgb(0x1C2733),
	theme.ColorNamePlaceHolder:         rgb(0x586574),
	theme.ColorNameDisabled:            rgb(0x7A8694),
	theme.ColorNamePrimary:             rgb(0x0072B2),
	theme.ColorNameHyperlink:           rgb(0x0072B2),
	theme.ColorNameForegroundOnPrimary: rgb(0xFFFFFF),
	theme.ColorNameFocus:               veil(0x0072B2, 0x2C),
	theme.ColorNameSelection:           veil(0x0072B2, 0x38),
	theme.ColorNameWarning:             rgb(0xBD7800),
	theme.ColorNameError:               rgb(0xB84A00),
	theme.ColorNameSuccess:             rgb(0x00835F),
	theme.ColorNameForegroundOnWarning: rgb(0xFFFFFF),
	theme.ColorNameForegroundOnError:   rgb(0xFFFFFF),
	theme.ColorNameForegroundOnSuccess: rgb(0xFFFFFF),
	theme.ColorNameButton:              rgb(0xE7EBF0),
	theme.ColorNameDisabledButton:      rgb(0xEEF1F4),
	theme.ColorNameHover:               veil(0x1C2733, 0x0F),
	theme.ColorNamePressed:             veil(0x1C2733, 0x24),
	theme.ColorNameInputBackground:     rgb(0xFFFFFF),
	theme.ColorNameInputBorder:         rgb(0x8A96A3),
	theme.ColorNameMenuBackground:      rgb(0xFFFFFF),
	theme.ColorNameOverlayBackground:   rgb(0xFFFFFF),
	theme.ColorNameHeaderBackground:    rgb(0xE7EBF0),
	theme.ColorNameSeparator:           rgb(0xDDE2E9),
	theme.ColorNameScrollBar:           veil(0x1C2733, 0x66),
	theme.ColorNameScrollBarBackground: veil(0x1C2733, 0x14),
	theme.ColorNameShadow:              veil(0x1C2733, 0x2A),
	ColourCard:                         rgb(0xFFFFFF),
	ColourCardBorder:                   rgb(0xDBE0E7),
	ColourRail:                         rgb(0xE9EDF2),
	ColourWash:                         rgb(0xE4F0F8),
	ColourStrip:                        rgb(0xF1F4F7),
	ColourStopWash:                     rgb(0xFCEEE4),
	ColourGridLine:                     rgb(0xE3E7EC),
}

var dark = palette{
	theme.ColorNameBackground:          rgb(0x161B21),
	theme.ColorNameForeground:          rgb(0xE4E9EF),
	theme.ColorNamePlaceHolder:         rgb(0x9DAAB8),
	theme.ColorNameDisabled:            rgb(0x78859A),
	theme.ColorNamePrimary:             rgb(0x56B4E9),
	theme.ColorNameHyperlink:           rgb(0x56B4E9),
	theme.ColorNameForegroundOnPrimary: rgb(0x0C1A24),
	theme.ColorNameFocus:               veil(0x56B4E9, 0x48),
	theme.ColorNameSelection:           veil(0x56B4E9, 0x48),
	theme.ColorNameWarning:             rgb(0xEBAE2B),
	theme.ColorNameError:               rgb(0xFF8B4A),
	theme.ColorNameSuccess:             rgb(0x2CC196),
	theme.ColorNameForegroundOnWarning: rgb(0x1C1606),
	theme.ColorNameForegroundOnError:   rgb(0x24100A),
	theme.ColorNameForegroundOnSuccess: rgb(0x06201A),
	theme.ColorNameButton:              rgb(0x2E3741),
	theme.ColorNameDisabledButton:      rgb(0x262D35),
	theme.ColorNameHover:               veil(0xFFFFFF, 0x14),
	theme.ColorNamePressed:             veil(0xFFFFFF, 0x2C),
	theme.ColorNameInputBackground:     rgb(0x1A2027),
	theme.ColorNameInputBorder:         rgb(0x697686),
	theme.ColorNameMenuBackground:      rgb(0x29313A),
	theme.ColorNameOverlayBackground:   rgb(0x242B33),
	theme.ColorNameHeaderBackground:    rgb(0x2A323B),
	theme.ColorNameSeparator:           rgb(0x36404B),
	theme.ColorNameScrollBar:           veil(0xFFFFFF, 0x66),
	theme.ColorNameScrollBarBackground: veil(0xFFFFFF, 0x14),
	theme.ColorNameShadow:              veil(0x000000, 0x66),
	ColourCard:                         rgb(0x20272F),
	ColourCardBorder:                   rgb(0x343E49),
	ColourRail:                         rgb(0x11161B),
	ColourWash:                         rgb(0x1E3A4E),
	ColourStrip:                        rgb(0x28303A),
	ColourStopWash:                     rgb(0x43291B),
	ColourGridLine:                     rgb(0x333D48),
}

// standIn says which colour of the toolkit to use for a name of this package
// under a theme that is not ours, as in a test with the toolkit's own theme.
var standIn = map[fyne.ThemeColorName]fyne.ThemeColorName{
	ColourCard:       theme.ColorNameOverlayBackground,
	ColourCardBorder: theme.ColorNameSeparator,
	ColourRail:       theme.ColorNameBackground,
	ColourWash:       theme.ColorNameSelection,
	ColourStrip:      theme.ColorNameHeaderBackground,
	ColourStopWash:   theme.ColorNameHover,
	ColourGridLine:   theme.ColorNameSeparator,
}

// colour looks a name up in the theme in force.
func colour(name fyne.ThemeColorName) color.Color {
	return themeColour(theme.Current(), name, fyne.CurrentApp().Settings().ThemeVariant())
}

func themeColour(th fyne.Theme, name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	if _, ours := th.(*windowTheme); !ours {
		if other, ok := standIn[name]; ok {
			name = other
		}
	}
	if c := th.Color(name, v); c != nil {
		return c
	}
	return color.Transparent
}

// PictureColours returns the colours a picture on a card is drawn in: the
// ground, text and axes, secondary text, and lines of the raster.
func PictureColours(th fyne.Theme, v fyne.ThemeVariant) (background, foreground, muted, grid color.Color) {
	return themeColour(th, ColourCard, v),
		themeColour(th, theme.ColorNameForeground, v),
		themeColour(th, theme.ColorNamePlaceHolder, v),
		themeColour(th, ColourGridLine, v)
}
