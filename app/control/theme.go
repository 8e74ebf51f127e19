package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Variant is the user's wish for a light or a dark window.
type Variant int

// The variants of the theme.
const (
	System Variant = iota // as the desktop is set
	Light
	Dark
)

// baseText is the size of plain text at text scale 1. Everything that has to
// grow with the text is measured in shares of it.
const baseText = 13

type windowTheme struct {
	fyne.Theme
	variant Variant
	scale   float32
}

// NewTheme returns the theme of the window. The text scale is held between 1
// and 2. Text and icons grow by all of it, headings a little less and gaps by a
// third, so that a window at 200 % text still has room for its content.
func NewTheme(variant Variant, scale float32) fyne.Theme {
	return &windowTheme{
		Theme:   theme.DefaultTheme(),
		variant: variant,
		scale:   fyne.Min(fyne.Max(scale, 1), 2),
	}
}

// Color implements fyne.Theme. A forced variant overrides that of the desktop,
// which is what the widgets of the toolkit pass in.
func (t *windowTheme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch t.variant {
	case Light:
		v = theme.VariantLight
	case Dark:
		v = theme.VariantDark
	}
	own := light
	if v == theme.VariantDark {
		own = dark
	}
	if c, ok := own[name]; ok {
		return c
	}
	return t.Theme.Color(name, v)
}

var textSizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNameText:        baseText,
	theme.SizeNameCaptionText: 11.5,
	theme.SizeNameInlineIcon:  17,
}

// headSizes grow more slowly: they are easy to read already and would take the
// room of the content.
var headSizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNameSubHeadingText: 15,
	theme.SizeNameHeadingText:    21,
}

var gapSizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNamePadding:            4,
	theme.SizeNameInnerPadding:       6,
	theme.SizeNameLineSpacing:        4,
	theme.SizeNameInputRadius:        5,
	theme.SizeNameButtonRadius:       5,
	theme.SizeNameSelectionRadius:    4,
	theme.SizeNameCardRadius:         8,
	theme.SizeNameDialogRadius:       10,
	theme.SizeNamePopupRadius:        6,
	theme.SizeNameMenuRadius:         6,
	theme.SizeNameScrollBar:          11,
	theme.SizeNameScrollBarSmall:     4,
	theme.SizeNameSeparatorThickness: 1,
	theme.SizeNameInputBorder:        1,
}

// Size implements fyne.Theme.
func (t *windowTheme) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := textSizes[name]; ok {
		return s * t.scale
	}
	if s, ok := headSizes[name]; ok {
		return s * (1 + (t.scale-1)*0.75)
	}
	s, ok := gapSizes[name]
	if !ok {
		return t.Theme.Size(name)
	}
	switch name {
	case theme.SizeNameSeparatorThickness, theme.SizeNameInputBorder:
		return s // hairlines stay hairlines
	}
	return s * (1 + (t.scale-1)/3)
}

// factor is the text scale of the theme in force.
func factor() float32 {
	return theme.TextSize() / baseText
}

// em returns a length that grows with the text: px at text scale 1.
func em(px float32) float32 {
	return px * factor()
}

// gap returns a length that grows by a third of the text scale, as the paddings of
// the theme do.
func gap(px float32) float32 {
	return px * (1 + (factor()-1)/3)
}
