package control

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// BlendCard is one blend in the bar.
type BlendCard struct {
	ID   string
	Name string
	Line string // "10 wt%" or "reference"
}

// BlendBarOptions say whom the bar tells.
type BlendBarOptions struct {
	// OnSelect hears the blend chosen by the user.
	OnSelect func(id string)
	// OnAdd is the plus at the end; nil for none.
	OnAdd func()
	// AddText names the plus to a screen reader.
	AddText string
	// Menu returns what can be done to a blend; nil for nothing.
	Menu func(id string) []*fyne.MenuItem
	// MenuText names the button that opens the menu to a screen reader.
	MenuText string
}

// BlendBar shows the blends side by side as cards, one of them chosen. With the
// keyboard Left and Right choose, Enter or the menu key opens the menu of a card.
type BlendBar struct {
	widget.BaseWidget

	opts    BlendBarOptions
	strip   *blendStrip
	scroll  *container.Scroll
	chosen  string
	onPlus  bool // the keyboard stands on the plus
	focused bool
}

// NewBlendBar returns an empty bar.
func NewBlendBar(opts BlendBarOptions) *BlendBar {
	b := &BlendBar{opts: opts}
	b.strip = newBlendStrip(b)
	b.scroll = container.NewHScroll(b.strip)
	b.ExtendBaseWidget(b)
	return b
}

// SetCards replaces the blends and says which is chosen.
func (b *BlendBar) SetCards(cards []BlendCard, chosen string) {
	if chosen == b.chosen && slices.Equal(cards, b.strip.cards()) {
		return
	}
	b.strip.set(cards)
	b.chosen = chosen
	b.Refresh()
	b.reveal()
}

// Select shows a blend as chosen, without calling OnSelect.
func (b *BlendBar) Select(id string) {
	b.chosen, b.onPlus = id, false
	b.Refresh()
	b.reveal()
}

// Selected is the blend chosen.
func (b *BlendBar) Selected() string { return b.chosen }

func (b *BlendBar) choose(i int) {
	tiles := b.strip.tiles
	if i < 0 || i >= len(tiles) {
		return
	}
	id := tiles[i].card.ID
	known := id == b.chosen
	b.Select(id)
	if !known && b.opts.OnSelect != nil {
		b.opts.OnSelect(id)
	}
}

func (b *BlendBar) add() {
	if b.opts.OnAdd != nil {
		b.opts.OnAdd()
	}
}

// reveal scrolls sideways until the chosen card can be seen.
func (b *BlendBar) reveal() {
	i := b.strip.at(b.chosen)
	if i < 0 || b.Size().Width <= 0 {
		return
	}
	b.strip.lay(b.strip.Size())
	var target fyne.CanvasObject = b.strip.tiles[i]
	if b.onPlus {
		target = b.strip.plus
	}
	left, right := target.Position().X, target.Position().X+target.Size().Width
	x, view := b.scroll.Offset.X, b.Size().Width
	if right > x+view {
		x = right - view
	}
	if left < x {
		x = left
	}
	b.scroll.ScrollToOffset(fyne.NewPos(x, 0))
}

func (b *BlendBar) openMenu(id string, at fyne.Position) {
	c := canvasOf(b)
	if b.opts.Menu == nil || c == nil {
		return
	}
	if items := b.opts.Menu(id); len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, at)
	}
}

func (b *BlendBar) openMenuBelow(o fyne.CanvasObject, id string) {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	b.openMenu(id, at.AddXY(0, o.Size().Height))
}

// Focus moves the keyboard to the bar.
func (b *BlendBar) Focus() { focusOn(b) }

// FocusGained implements fyne.Focusable.
func (b *BlendBar) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost implements fyne.Focusable.
func (b *BlendBar) FocusLost() { b.focused, b.onPlus = false, false; b.Refresh() }

// TypedRune implements fyne.Focusable.
func (b *BlendBar) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (b *BlendBar) TypedKey(ev *fyne.KeyEvent) {
	now, last := b.strip.at(b.chosen), len(b.strip.tiles)-1
	switch ev.Name {
	case fyne.KeyLeft:
		if b.onPlus {
			b.stand(false)
			return
		}
		b.choose(now - 1)
	case fyne.KeyRight:
		if now == last && b.opts.OnAdd != nil {
			b.stand(true)
			return
		}
		b.choose(now + 1)
	case fyne.KeyHome:
		b.choose(0)
	case fyne.KeyEnd:
		b.choose(last)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, desktop.KeyMenu:
		if b.onPlus {
			b.add()
		} else if now >= 0 {
			b.openMenuBelow(b.strip.tiles[now], b.chosen)
		}
	}
}

func (b *BlendBar) stand(onPlus bool) {
	b.onPlus = onPlus
	b.Refresh()
	b.reveal()
}

// CreateRenderer implements fyne.Widget.
func (b *BlendBar) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(b.scroll),
		layout: func(size fyne.Size) {
			b.scroll.Resize(size)
			b.reveal()
		},
		min: func() fyne.Size { return fyne.NewSize(em(160), b.strip.height()) },
		refresh: func() {
			b.strip.Refresh()
			b.scroll.Refresh()
			canvas.Refresh(b)
		},
	}
}

// blendStrip is the row of cards that scrolls sideways.
type blendStrip struct {
	widget.BaseWidget
	bar   *BlendBar
	tiles []*blendTile
	plus  *plusTile
}

func newBlendStrip(b *BlendBar) *blendStrip {
	s := &blendStrip{bar: b, plus: newPlusTile(b)}
	s.ExtendBaseWidget(s)
	return s
}

func (s *blendStrip) set(cards []BlendCard) {
	s.tiles = s.tiles[:0]
	for _, card := range cards {
		s.tiles = append(s.tiles, newBlendTile(s.bar, card))
	}
	s.Refresh()
}

func (s *blendStrip) cards() []BlendCard {
	cards := make([]BlendCard, len(s.tiles))
	for i, tile := range s.tiles {
		cards[i] = tile.card
	}
	return cards
}

func (s *blendStrip) at(id string) int {
	for i, tile := range s.tiles {
		if tile.card.ID == id {
			return i
		}
	}
	return -1
}

func (s *blendStrip) height() float32 { return tileHeight() + gap(4) }

func (s *blendStrip) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: func() []fyne.CanvasObject {
			objects := make([]fyne.CanvasObject, 0, len(s.tiles)+1)
			for _, tile := range s.tiles {
				objects = append(objects, tile)
			}
			if s.bar.opts.OnAdd != nil {
				objects = append(objects, s.plus)
			}
			return objects
		},
		layout: s.lay,
		min: func() fyne.Size {
			width := tileHeight() + gap(8)
			for _, tile := range s.tiles {
				width += tile.MinSize().Width + gap(8)
			}
			return fyne.NewSize(width, s.height())
		},
		refresh: func() {
			for _, tile := range s.tiles {
				tile.Refresh()
			}
			s.plus.Refresh()
			s.lay(s.Size())
			canvas.Refresh(s)
		},
	}
}

func (s *blendStrip) lay(fyne.Size) {
	x, h := gap(1), tileHeight()
	for _, tile := range s.tiles {
		w := tile.MinSize().Width
		place(tile, x, gap(2), w, h)
		x += w + gap(8)
	}
	place(s.plus, x, gap(2), h*0.9, h)
}
