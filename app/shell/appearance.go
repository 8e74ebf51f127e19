package shell

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fillwright/app/control"
)

// Names under which the window remembers what is not part of a project.
const (
	prefPane   = "pane"
	prefTheme  = "theme"
	prefText   = "text"
	prefWidth  = "width"
	prefHeight = "height"
	prefRecent = "recent"
)

// Appearance is how the window looks.
type Appearance struct {
	Variant control.Variant
	Text    float32 // scale of text, 1 to 2
}

// variants are the themes by the name under which they are remembered.
var variants = map[string]control.Variant{"system": control.System, "light": control.Light, "dark": control.Dark}

// textScales are the sizes of text to choose from, in percent.
var textScales = []int{100, 125, 150, 200}

// ParseVariant reads the name of a theme.
func ParseVariant(name string) (control.Variant, bool) {
	v, ok := variants[name]
	return v, ok
}

// RememberedAppearance is the one chosen last.
func RememberedAppearance(p fyne.Preferences) Appearance {
	v := variants[p.StringWithFallback(prefTheme, "system")]
	percent := p.IntWithFallback(prefText, 100)
	if !slices.Contains(textScales, percent) {
		percent = 100
	}
	return Appearance{Variant: v, Text: float32(percent) / 100}
}

// Theme is the theme of an appearance.
func (a Appearance) Theme() fyne.Theme { return control.NewTheme(a.Variant, a.Text) }

// setVariant changes between the light, the dark and the system's theme.
func (b *Workbench) setVariant(name string) {
	b.appearance.Variant = variants[name]
	b.prefs.SetString(prefTheme, name)
	b.dress()
}

// setText changes the size of text.
func (b *Workbench) setText(percent int) {
	b.appearance.Text = float32(percent) / 100
	b.prefs.SetInt(prefText, percent)
	b.dress()
}

// dress puts the appearance on and draws the pictures again.
func (b *Workbench) dress() {
	fyne.CurrentApp().Settings().SetTheme(b.appearance.Theme())
	for _, p := range b.panes {
		p.Redraw()
	}
	b.showView()
}

// Colours implements pane.Desk.
func (b *Workbench) Colours() (background, foreground, muted, grid color.Color) {
	return control.PictureColours(theme.Current(), fyne.CurrentApp().Settings().ThemeVariant())
}

// TextScale implements pane.Desk.
func (b *Workbench) TextScale() float32 { return b.appearance.Text }
