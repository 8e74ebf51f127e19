package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Widths of the two sides of a [Split] at text scale 1.
const (
	splitLeft  = 420
	splitLeast = 395
	splitRight = 420
)

// Split puts inputs at the left, in a column of fixed width that scrolls, and a
// picture at the right in the rest. Where both do not fit side by side the picture
// goes under the inputs and the whole scrolls. Inputs that explain the picture go under it
// then, see SetRest.
type Split struct {
	widget.BaseWidget

	left, right fyne.CanvasObject
	rest        fyne.CanvasObject // nil for none
	column      *Column
	scroll      *ScrollColumn
	frame       *splitFrame
	stacked     bool
}

// NewSplit returns a split of inputs and a picture.
func NewSplit(left, right fyne.CanvasObject) *Split {
	s := &Split{left: left, right: right}
	s.frame = newSplitFrame(right)
	s.column = NewColumn(8, left)
	s.column.Stretch = left
	s.scroll = NewScrollColumn(s.column)
	s.ExtendBaseWidget(s)
	return s
}

// SetRest adds inputs that stand below the others, and below the picture where that lies
// below them: what has to be read before the picture comes first.
func (s *Split) SetRest(rest fyne.CanvasObject) {
	s.rest = rest
	s.arrange()
	s.column.setHost(s.column.host)
}

// Stacked reports that the picture lies under the inputs.
func (s *Split) Stacked() bool { return s.stacked }

// Reveal scrolls until an object among the inputs can be seen.
func (s *Split) Reveal(o fyne.CanvasObject) { s.scroll.Reveal(o) }

func (s *Split) space() float32 { return gap(8) }

func (s *Split) leftWidth() float32 {
	// The least in step with the text keeps the numbers of tables whole.
	return fyne.Max(fyne.Max(gap(splitLeft), em(splitLeast)), s.inputsWidth())
}

// CreateRenderer implements fyne.Widget.
func (s *Split) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject {
			if s.stacked {
				return []fyne.CanvasObject{s.scroll}
			}
			return []fyne.CanvasObject{s.scroll, s.frame}
		},
		layout: s.lay,
		min: func() fyne.Size {
			return fyne.NewSize(fyne.Max(s.inputsWidth(), leastWidth(s.right)), gap(160))
		},
		refresh: func() {
			s.lay(s.Size())
			canvas.Refresh(s)
		},
	}
}

func (s *Split) lay(size fyne.Size) {
	left := s.leftWidth()
	right := fyne.Max(gap(splitRight), leastWidth(s.right))
	s.stack(size.Width > 0 && size.Width < left+s.space()+right)
	if s.stacked {
		height := fyne.Max(heightFor(s.right, size.Width), fyne.Min(size.Height*0.9, size.Width*0.75))
		anew := height != s.frame.height
		s.frame.height = height
		place(s.scroll, 0, 0, size.Width, size.Height)
		if anew {
			s.scroll.Refresh() // it may have kept its size
		}
		return
	}
	place(s.scroll, 0, 0, left, size.Height)
	x := left + s.space()
	place(s.frame, x, 0, fyne.Max(size.Width-x, 0), size.Height)
}

// stack moves the picture under the inputs or back beside them.
func (s *Split) stack(on bool) {
	if on == s.stacked {
		return
	}
	s.stacked = on
	s.arrange()
}

// arrange puts what scrolls into its order.
func (s *Split) arrange() {
	objects := []fyne.CanvasObject{s.left}
	if s.stacked {
		objects = append(objects, s.frame)
	} else {
		s.frame.height = 0
	}
	if s.rest != nil {
		objects = append(objects, s.rest)
	}
	s.column.objects, s.column.Stretch = objects, nil
	if len(objects) == 1 {
		s.column.Stretch = s.left
	}
	s.column.Refresh()
}

// inputsWidth is the least width of all inputs.
func (s *Split) inputsWidth() float32 {
	if s.rest == nil {
		return leastWidth(s.left)
	}
	return widest([]fyne.CanvasObject{s.left, s.rest})
}

// splitFrame gives the picture the height it gets when it lies under the inputs.
type splitFrame struct {
	widget.BaseWidget
	content fyne.CanvasObject
	height  float32
}

func newSplitFrame(content fyne.CanvasObject) *splitFrame {
	f := &splitFrame{content: content}
	f.ExtendBaseWidget(f)
	return f
}

func (f *splitFrame) HeightFor(float32) float32 { return f.height }

func (f *splitFrame) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(f.content),
		layout:  func(size fyne.Size) { place(f.content, 0, 0, size.Width, size.Height) },
		min: func() fyne.Size {
			return fyne.NewSize(leastWidth(f.content), fyne.Max(f.height, f.content.MinSize().Height))
		},
		refresh: func() { canvas.Refresh(f) },
	}
}
