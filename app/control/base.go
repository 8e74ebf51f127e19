package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
)

// parts is the one renderer of this package: the widget keeps its objects and
// says how they are placed, so that a renderer can be dropped and made anew.
type parts struct {
	objects func() []fyne.CanvasObject
	layout  func(fyne.Size)
	min     func() fyne.Size
	refresh func()
}

func (p *parts) Destroy()                     {}
func (p *parts) Layout(size fyne.Size)        { p.layout(size) }
func (p *parts) MinSize() fyne.Size           { return p.min() }
func (p *parts) Objects() []fyne.CanvasObject { return p.objects() }
func (p *parts) Refresh()                     { p.refresh() }

// fixed wraps a list of objects that never changes.
func fixed(objects ...fyne.CanvasObject) func() []fyne.CanvasObject {
	return func() []fyne.CanvasObject { return objects }
}

// heighter is an object whose height depends on the width it is given.
type heighter interface {
	HeightFor(width float32) float32
}

// heightFor asks an object how high it wants to be at a width.
func heightFor(o fyne.CanvasObject, width float32) float32 {
	if h, ok := o.(heighter); ok {
		return h.HeightFor(width)
	}
	return o.MinSize().Height
}

// narrower is an object whose least width costs less than its least height.
type narrower interface {
	leastWidth() float32
}

// leastWidth asks an object for its least width.
func leastWidth(o fyne.CanvasObject) float32 {
	if n, ok := o.(narrower); ok {
		return n.leastWidth()
	}
	return o.MinSize().Width
}

// widest is the least width of objects below each other.
func widest(objects []fyne.CanvasObject) float32 {
	width := float32(0)
	for _, o := range objects {
		if o.Visible() {
			width = fyne.Max(width, leastWidth(o))
		}
	}
	return width
}

// flexible is an object that is as high as its width asks for.
type flexible interface {
	heighter
	narrower
	Size() fyne.Size
}

// leastOf is the least size of an object, at the width that it has.
func leastOf(o flexible) func() fyne.Size {
	return func() fyne.Size {
		width := o.leastWidth()
		return fyne.NewSize(width, o.HeightFor(fyne.Max(width, o.Size().Width)))
	}
}

// host is what a scrolling container offers the objects in it.
type host struct {
	reveal func(fyne.CanvasObject)      // scrolls until the object can be seen
	settle func()                       // lays out again after an object changed its height
	wheel  func(*fyne.ScrollEvent) bool // takes the wheel that an object has no use for; false if nobody has
}

// under returns the host for objects inside a container: a change of height lays
// out the container first, then what is around it.
func (h *host) under(relay func()) *host {
	if h == nil {
		return &host{settle: relay}
	}
	return &host{reveal: h.reveal, wheel: h.wheel, settle: func() {
		relay()
		if h.settle != nil {
			h.settle()
		}
	}}
}

// guest is an object that can use a host.
type guest interface {
	setHost(*host)
}

// adopt hands the host to an object and to everything in plain containers under it.
func adopt(o fyne.CanvasObject, h *host) {
	if h == nil || o == nil {
		return
	}
	if g, ok := o.(guest); ok {
		g.setHost(h)
		return
	}
	if c, ok := o.(*fyne.Container); ok {
		for _, child := range c.Objects {
			adopt(child, h)
		}
	}
}

// hosted is embedded by guests.
type hosted struct {
	host *host
}

func (x *hosted) setHost(h *host) { x.host = h }

func (x *hosted) revealed(o fyne.CanvasObject) {
	if x.host != nil && x.host.reveal != nil {
		x.host.reveal(o)
	}
}

func (x *hosted) wheeled(ev *fyne.ScrollEvent) bool {
	return x.host != nil && x.host.wheel != nil && x.host.wheel(ev)
}

func (x *hosted) settled() {
	if x.host != nil && x.host.settle != nil {
		x.host.settle()
	}
}

// canvasOf finds the canvas an object is on, nil when it is on none. The driver
// knows an object only once it has been painted; one that is about to appear for
// the first time is looked for in the one window there is.
func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	driver := fyne.CurrentApp().Driver()
	if c := driver.CanvasForObject(o); c != nil {
		return c
	}
	if windows := driver.AllWindows(); len(windows) == 1 {
		return windows[0].Canvas()
	}
	return nil
}

// focusOn moves the keyboard to an object.
func focusOn(o fyne.Focusable) {
	if c := canvasOf(o.(fyne.CanvasObject)); c != nil {
		c.Focus(o)
	}
}

// shiftKeys follows the Shift keys of a focused widget. Where the driver knows
// the keys that are down its word is taken.
type shiftKeys struct {
	down bool
}

func (s *shiftKeys) key(ev *fyne.KeyEvent, down bool) {
	if ev.Name == desktop.KeyShiftLeft || ev.Name == desktop.KeyShiftRight {
		s.down = down
	}
}

func (s *shiftKeys) held() bool {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
	}
	return s.down
}

// newBox returns a rounded rectangle; paintBox gives it its colours.
func newBox() *canvas.Rectangle {
	return canvas.NewRectangle(color.Transparent)
}

func paintBox(r *canvas.Rectangle, fill, stroke fyne.ThemeColorName, width, radius float32) {
	r.FillColor, r.StrokeColor, r.StrokeWidth = color.Transparent, color.Transparent, 0
	if fill != "" {
		r.FillColor = colour(fill)
	}
	if stroke != "" {
		r.StrokeColor, r.StrokeWidth = colour(stroke), width
	}
	r.CornerRadius = radius
	r.Refresh()
}

// place moves and resizes in one go.
func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

func radius() float32 { return theme.Size(theme.SizeNameInputRadius) }
