package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Stops is a slider over a row of places, for the mouse and for the arrow keys.
type Stops struct {
	slider  *widget.Slider
	object  fyne.CanvasObject
	syncing bool
}

// NewStops returns a slider over places 0 to n-1; moved hears of every other place that
// somebody puts it to.
func NewStops(n int, moved func(place int)) *Stops {
	s := &Stops{slider: widget.NewSlider(0, float64(n-1))}
	at := -1
	s.slider.OnChanged = func(v float64) {
		place := int(v + 0.5)
		if s.syncing || place == at {
			at = place
			return
		}
		at = place
		moved(place)
	}
	s.object = container.NewThemeOverride(s.slider, trackTheme{})
	return s
}

// Object is what is shown.
func (s *Stops) Object() fyne.CanvasObject { return s.object }

// Set puts the slider to a place, and tells nobody.
func (s *Stops) Set(place int) {
	s.syncing = true
	s.slider.SetValue(float64(max(place, 0)))
	s.syncing = false
}

// Place is where the slider stands.
func (s *Stops) Place() int { return int(s.slider.Value + 0.5) }

// Move puts the slider to a place as somebody at the window does.
func (s *Stops) Move(place int) { s.slider.SetValue(float64(place)) }

// trackTheme is the theme in force with a track that can be seen: that of the toolkit has
// the colour of an empty entry, which on a card is the card's.
type trackTheme struct{}

func inForce() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

// Color implements fyne.Theme.
func (trackTheme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	switch name {
	case theme.ColorNameInputBackground:
		name = theme.ColorNameInputBorder
	case theme.ColorNameForeground:
		name = theme.ColorNamePrimary
	}
	return inForce().Color(name, v)
}

// Font implements fyne.Theme.
func (trackTheme) Font(s fyne.TextStyle) fyne.Resource { return inForce().Font(s) }

// Icon implements fyne.Theme.
func (trackTheme) Icon(n fyne.ThemeIconName) fyne.Resource { return inForce().Icon(n) }

// Size implements fyne.Theme.
func (trackTheme) Size(n fyne.ThemeSizeName) float32 { return inForce().Size(n) }
