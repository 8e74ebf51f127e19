package control

import "fyne.io/fyne/v2/driver/desktop"

// hover is embedded by what shows that the pointer is on it.
type hover struct {
	hovered bool
	changed func()
}

// MouseIn implements desktop.Hoverable.
func (h *hover) MouseIn(*desktop.MouseEvent) { h.set(true) }

// MouseMoved implements desktop.Hoverable.
func (h *hover) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (h *hover) MouseOut() { h.set(false) }

func (h *hover) set(on bool) {
	if h.hovered == on {
		return
	}
	h.hovered = on
	if h.changed != nil {
		h.changed()
	}
}
