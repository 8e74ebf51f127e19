package control

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Pixel is a place on a picture in device pixels.
type Pixel struct{ X, Y float64 }

// PictureOptions say how a picture is drawn and whom it tells.
type PictureOptions struct {
	// Draw returns the picture at device pixels; scale is device pixels for one unit
	// of the window. It may draw over the same image each time.
	Draw func(widthPx, heightPx int, scale float32) image.Image
	// Alt says in words what the picture shows.
	Alt string
	// Min is the least size at text scale 1; 240 by 160 when zero.
	Min fyne.Size
	// TextHeight is a least height at text scale 1 that grows as the text does, for rows of
	// text; zero for none.
	TextHeight float32

	OnTapped func(at Pixel)
	// OnHover hears the pointer on the picture; inside is false when it leaves.
	OnHover func(at Pixel, inside bool)
	// OnScroll hears the wheel.
	OnScroll func(at Pixel, dx, dy float64)
	// OnDrag hears the pointer move with its button down: how far since the last time, in device pixels.
	OnDrag func(at Pixel, dx, dy float64)
	// OnKey hears keys while the picture has the focus.
	OnKey func(ev *fyne.KeyEvent)
	// OnRune hears letters while the picture has the focus.
	OnRune func(r rune)
}

// pictureKey is all that a picture depends on besides its data.
type pictureKey struct {
	width, height int
	generation    uint64
	textSize      float32
	colours       [4]color.Color
}

// PictureView shows a picture. It draws when it is painted, and only if the size
// in device pixels, the theme or the data changed since. Several changes before
// the next paint cost one drawing; a view that is not shown costs none.
//
// The picture hangs in a raster and not in an image object because only the
// painter knows the device pixels for certain, also after the window has moved to
// another screen.
type PictureView struct {
	widget.BaseWidget
	hosted

	opts       PictureOptions
	raster     *canvas.Raster
	frame      *canvas.Rectangle
	img        image.Image
	key        pictureKey
	drawn      bool
	generation uint64
	focused    bool
	scale      float32
}

// NewPictureView returns a view of a picture.
func NewPictureView(opts PictureOptions) *PictureView {
	p := &PictureView{opts: opts, frame: newBox(), scale: 1}
	p.raster = canvas.NewRaster(p.image)
	p.ExtendBaseWidget(p)
	return p
}

// Invalidate says that the data of the picture changed.
func (p *PictureView) Invalidate() {
	p.generation++
	p.raster.Refresh()
}

// SetAlt replaces the words for what the picture shows.
func (p *PictureView) SetAlt(text string) { p.opts.Alt = text }

// Image returns the picture, drawn if it is out of date, at the size it was last
// painted or, before that, at one device pixel for one unit.
func (p *PictureView) Image() image.Image {
	if p.drawn {
		return p.image(p.key.width, p.key.height)
	}
	size := p.Size()
	return p.image(int(size.Width), int(size.Height))
}

func (p *PictureView) image(width, height int) image.Image {
	if width <= 0 || height <= 0 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	key := pictureKey{width: width, height: height, generation: p.generation, textSize: theme.TextSize()}
	v := fyne.CurrentApp().Settings().ThemeVariant()
	key.colours[0], key.colours[1], key.colours[2], key.colours[3] = PictureColours(theme.Current(), v)
	if p.drawn && key == p.key {
		return p.img
	}
	if w := p.raster.Size().Width; w > 0 {
		p.scale = float32(width) / w
	}
	p.img = p.opts.Draw(width, height, p.scale)
	if p.img == nil {
		p.img = image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	p.key, p.drawn = key, true
	return p.img
}

// pixel turns a place in the view into device pixels.
func (p *PictureView) pixel(at fyne.Position) Pixel {
	size := p.raster.Size()
	if !p.drawn || size.Width <= 0 || size.Height <= 0 {
		return Pixel{float64(at.X), float64(at.Y)}
	}
	return Pixel{
		X: float64(at.X) * float64(p.key.width) / float64(size.Width),
		Y: float64(at.Y) * float64(p.key.height) / float64(size.Height),
	}
}

// AccessibilityLabel implements fyne.Accessible.
func (p *PictureView) AccessibilityLabel() string { return p.opts.Alt }

// AccessibilityRole implements fyne.Accessible.
func (p *PictureView) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// Tapped implements fyne.Tappable.
func (p *PictureView) Tapped(ev *fyne.PointEvent) {
	if p.opts.OnKey != nil {
		focusOn(p)
	}
	if p.opts.OnTapped != nil {
		p.opts.OnTapped(p.pixel(ev.Position))
	}
}

// MouseIn implements desktop.Hoverable.
func (p *PictureView) MouseIn(ev *desktop.MouseEvent) { p.MouseMoved(ev) }

// MouseMoved implements desktop.Hoverable.
func (p *PictureView) MouseMoved(ev *desktop.MouseEvent) {
	if p.opts.OnHover != nil {
		p.opts.OnHover(p.pixel(ev.Position), true)
	}
}

// MouseOut implements desktop.Hoverable.
func (p *PictureView) MouseOut() {
	if p.opts.OnHover != nil {
		p.opts.OnHover(Pixel{}, false)
	}
}

// FocusGained implements fyne.Focusable.
func (p *PictureView) FocusGained() { p.focused = true; p.paint(); p.revealed(p) }

// FocusLost implements fyne.Focusable.
func (p *PictureView) FocusLost() { p.focused = false; p.paint() }

// TypedKey implements fyne.Focusable.
func (p *PictureView) TypedKey(ev *fyne.KeyEvent) {
	if p.opts.OnKey != nil {
		p.opts.OnKey(ev)
	}
}

// TypedRune implements fyne.Focusable.
func (p *PictureView) TypedRune(r rune) {
	if p.opts.OnRune != nil {
		p.opts.OnRune(r)
	}
}

// Disabled reports a picture without keys, which the tab order then skips.
func (p *PictureView) Disabled() bool { return p.opts.OnKey == nil }

// Enable implements fyne.Disableable; it has no effect.
func (p *PictureView) Enable() {}

// Disable implements fyne.Disableable; it has no effect.
func (p *PictureView) Disable() {}

// Focus moves the keyboard to the picture.
func (p *PictureView) Focus() { focusOn(p) }

// CreateRenderer implements fyne.Widget.
func (p *PictureView) CreateRenderer() fyne.WidgetRenderer {
	objects := []fyne.CanvasObject{p.raster, p.frame}
	if p.opts.OnScroll != nil {
		objects = append(objects, newWheel(p))
	}
	if p.opts.OnDrag != nil {
		objects = append(objects, newDragger(p))
	}
	return &parts{
		objects: fixed(objects...),
		layout: func(size fyne.Size) {
			for _, o := range objects {
				o.Resize(size)
			}
		},
		min: func() fyne.Size {
			size := p.opts.Min
			if size.IsZero() {
				size = fyne.NewSize(240, 160)
			}
			return fyne.NewSize(gap(size.Width), fyne.Max(gap(size.Height), em(p.opts.TextHeight)))
		},
		refresh: func() {
			p.paint()
			canvas.Refresh(p)
		},
	}
}

func (p *PictureView) paint() {
	if p.focused && p.opts.OnKey != nil {
		paintBox(p.frame, "", theme.ColorNamePrimary, 2, radius())
		return
	}
	paintBox(p.frame, "", "", 0, 0)
}

// dragger takes drags for a picture, and is an object of its own for the same reason as
// wheel is.
type dragger struct {
	widget.BaseWidget
	picture *PictureView
}

func newDragger(p *PictureView) *dragger {
	d := &dragger{picture: p}
	d.ExtendBaseWidget(d)
	return d
}

// Dragged implements fyne.Draggable.
func (d *dragger) Dragged(ev *fyne.DragEvent) {
	at, from := d.picture.pixel(ev.Position), d.picture.pixel(ev.Position.Subtract(ev.Dragged))
	d.picture.opts.OnDrag(at, at.X-from.X, at.Y-from.Y)
}

// DragEnd implements fyne.Draggable.
func (d *dragger) DragEnd() {}

func (d *dragger) CreateRenderer() fyne.WidgetRenderer { return nothing() }

// wheel takes the wheel for a picture. It is an object of its own because
// whatever can be scrolled keeps the wheel from what lies around it, so a picture
// that has no use for it must not be scrollable.
type wheel struct {
	widget.BaseWidget
	picture *PictureView
}

func newWheel(p *PictureView) *wheel {
	w := &wheel{picture: p}
	w.ExtendBaseWidget(w)
	return w
}

// Scrolled implements fyne.Scrollable.
func (w *wheel) Scrolled(ev *fyne.ScrollEvent) {
	w.picture.opts.OnScroll(w.picture.pixel(ev.Position), float64(ev.Scrolled.DX), float64(ev.Scrolled.DY))
}

func (w *wheel) CreateRenderer() fyne.WidgetRenderer { return nothing() }

// nothing renders an object that is only there to hear events.
func nothing() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(),
		layout:  func(fyne.Size) {},
		min:     func() fyne.Size { return fyne.NewSize(1, 1) },
		refresh: func() {},
	}
}
