package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// ScrollColumn shows an object at full width and scrolls it up and down when it is
// higher than the space. While everything fits it leaves the wheel to what
// lies around it. It scrolls by itself to the field that gets the focus.
type ScrollColumn struct {
	widget.BaseWidget
	hosted // of a scroll column around this one

	// Limit is the most height it asks for at a width; zero or nil for all of it.
	Limit func(width float32) float32

	inner    *scrollInner
	scroll   *container.Scroll
	scrolled bool
}

// NewScrollColumn returns a scrolling view of an object.
func NewScrollColumn(content fyne.CanvasObject) *ScrollColumn {
	s := &ScrollColumn{inner: newScrollInner(content)}
	s.scroll = container.NewVScroll(s.inner)
	s.ExtendBaseWidget(s)
	adopt(content, &host{reveal: s.Reveal, settle: s.relayout, wheel: s.wheel})
	return s
}

// Reveal scrolls until an object inside can be seen.
func (s *ScrollColumn) Reveal(o fyne.CanvasObject) {
	if s.scrolled {
		top, found := below(s.inner.content, o)
		if !found {
			driver := fyne.CurrentApp().Driver()
			top = driver.AbsolutePositionForObject(o).Y - driver.AbsolutePositionForObject(s.inner).Y
		}
		s.ShowSpan(top, top+o.Size().Height)
	}
	s.revealed(o)
}

// wheel takes the wheel for an object inside, or hands it on while everything fits.
func (s *ScrollColumn) wheel(ev *fyne.ScrollEvent) bool {
	if s.scrolled {
		s.scroll.Scrolled(ev)
		return true
	}
	return s.wheeled(ev)
}

// below is how far an object lies below the top of another that it is somewhere
// inside. The driver knows no place of an object before it was painted once, and a
// note may lead to a part of a pane that is just being shown.
func below(outer, o fyne.CanvasObject) (y float32, found bool) {
	if outer == o {
		return 0, true
	}
	for _, child := range childrenOf(outer) {
		if child == nil || !child.Visible() {
			continue
		}
		if y, found := below(child, o); found {
			return y + child.Position().Y, true
		}
	}
	return 0, false
}

// childrenOf are the objects inside a container of the window's columns.
func childrenOf(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *Column:
		return o.objects
	case *Card:
		return []fyne.CanvasObject{o.content, o.extra}
	case *Pairs:
		return o.objects
	case *fyne.Container:
		return o.Objects
	}
	return nil
}

// ShowSpan scrolls until the heights from top to bottom of the content are seen.
func (s *ScrollColumn) ShowSpan(top, bottom float32) {
	view := s.Size().Height
	offset := s.scroll.Offset.Y
	margin := gap(4)
	if bottom+margin > offset+view {
		offset = bottom + margin - view
	}
	if top-margin < offset {
		offset = top - margin
	}
	s.scroll.ScrollToOffset(fyne.NewPos(0, fyne.Max(offset, 0)))
}

// Offset is how far the content is scrolled down.
func (s *ScrollColumn) Offset() float32 { return s.scroll.Offset.Y }

// HeightFor returns the height wanted at a width.
func (s *ScrollColumn) HeightFor(width float32) float32 {
	h := heightFor(s.inner.content, width)
	if s.Limit != nil {
		if most := s.Limit(width); most > 0 {
			h = fyne.Min(h, most)
		}
	}
	return h
}

// CreateRenderer implements fyne.Widget.
func (s *ScrollColumn) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject {
			if s.scrolled {
				return []fyne.CanvasObject{s.scroll}
			}
			return []fyne.CanvasObject{s.inner}
		},
		layout: s.lay,
		min:    s.minSize,
		refresh: func() {
			s.lay(s.Size())
			canvas.Refresh(s)
		},
	}
}

func (s *ScrollColumn) minSize() fyne.Size {
	width := s.leastWidth()
	if s.Limit == nil {
		return fyne.NewSize(width, gap(40))
	}
	return fyne.NewSize(width, s.HeightFor(fyne.Max(width, s.Size().Width)))
}

func (s *ScrollColumn) leastWidth() float32 { return leastWidth(s.inner.content) }

func (s *ScrollColumn) lay(size fyne.Size) {
	s.inner.room = 0
	s.scrolled = s.inner.HeightFor(size.Width) > size.Height+0.5
	if !s.scrolled {
		s.scroll.Offset = fyne.Position{}
		place(s.inner, 0, 0, size.Width, size.Height)
		s.inner.lay(size)
		return
	}
	s.inner.room = gap(8)
	// The content takes its size first: the scroll asks for its least size again and
	// again, which is that one.
	width := fyne.Max(size.Width, s.leastWidth())
	inner := fyne.NewSize(width, s.inner.HeightFor(width))
	s.inner.Resize(inner)
	s.inner.lay(inner)
	s.scroll.Resize(size)
	s.scroll.Refresh()
}

func (s *ScrollColumn) relayout() {
	s.Refresh()
	s.settled()
}

// scrollInner keeps room for the scroll bar beside the content.
type scrollInner struct {
	widget.BaseWidget
	content fyne.CanvasObject
	room    float32
}

func newScrollInner(content fyne.CanvasObject) *scrollInner {
	i := &scrollInner{content: content}
	i.ExtendBaseWidget(i)
	return i
}

func (i *scrollInner) HeightFor(width float32) float32 {
	return heightFor(i.content, width-i.room)
}

func (i *scrollInner) lay(size fyne.Size) {
	place(i.content, 0, 0, fyne.Max(size.Width-i.room, 0), size.Height)
}

func (i *scrollInner) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(i.content),
		layout:  i.lay,
		min:     func() fyne.Size { return fyne.NewSize(leastWidth(i.content), i.Size().Height) },
		refresh: func() { canvas.Refresh(i) },
	}
}
