package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

func tileHeight() float32 {
	return lineHeight(theme.TextSize()) + lineHeight(theme.Size(theme.SizeNameCaptionText)) + 2*gap(4)
}

// blendTile is the card of one blend. The chosen one carries a button for its menu.
type blendTile struct {
	widget.BaseWidget
	hover
	bar        *BlendBar
	card       BlendCard
	ground     *canvas.Rectangle
	name, line *canvas.Text
	menu       *menuButton
}

func newBlendTile(b *BlendBar, card BlendCard) *blendTile {
	t := &blendTile{
		bar: b, card: card, ground: newBox(),
		name: canvas.NewText(card.Name, nil), line: canvas.NewText(card.Line, nil),
	}
	t.menu = newMenuButton(t)
	t.hover.changed = t.Refresh
	t.ExtendBaseWidget(t)
	return t
}

func (t *blendTile) chosen() bool { return t.bar.chosen == t.card.ID }

// AccessibilityLabel implements fyne.Accessible.
func (t *blendTile) AccessibilityLabel() string { return t.card.Name + ", " + t.card.Line }

// AccessibilityRole implements fyne.Accessible.
func (t *blendTile) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// Tapped also moves the keyboard to the bar, so that the keys go on from there.
func (t *blendTile) Tapped(*fyne.PointEvent) {
	focusOn(t.bar)
	t.bar.choose(t.bar.strip.at(t.card.ID))
}

func (t *blendTile) TappedSecondary(ev *fyne.PointEvent) {
	t.bar.openMenu(t.card.ID, ev.AbsolutePosition)
}

func (t *blendTile) CreateRenderer() fyne.WidgetRenderer {
	t.paint()
	return &parts{
		objects: fixed(t.ground, t.name, t.line, t.menu),
		layout:  t.lay,
		min:     func() fyne.Size { return fyne.NewSize(t.width(), tileHeight()) },
		refresh: func() {
			t.paint()
			t.lay(t.Size())
			t.menu.Refresh()
			canvas.Refresh(t)
		},
	}
}

// width follows the text between a least and a most width, so that one long name
// does not push the others away.
func (t *blendTile) width() float32 {
	text := fyne.Max(
		measure(t.card.Name, theme.TextSize(), fyne.TextStyle{Bold: true}),
		measure(t.card.Line, theme.Size(theme.SizeNameCaptionText), fyne.TextStyle{}),
	)
	return fyne.Min(fyne.Max(text+2*gap(11)+t.menuWidth(), em(112)), em(220))
}

func (t *blendTile) menuWidth() float32 {
	if t.bar.opts.Menu == nil {
		return 0
	}
	return em(18)
}

func (t *blendTile) paint() {
	switch {
	case t.chosen() && t.bar.focused && !t.bar.onPlus:
		paintBox(t.ground, ColourWash, theme.ColorNamePrimary, 2.5, gap(7))
	case t.chosen():
		paintBox(t.ground, ColourCard, theme.ColorNamePrimary, 2, gap(7))
	case t.hovered:
		paintBox(t.ground, ColourCard, theme.ColorNameInputBorder, 1, gap(7))
	default:
		paintBox(t.ground, ColourCard, ColourCardBorder, 1, gap(7))
	}
	room := t.width() - 2*gap(11) - t.menuWidth() + 1
	t.name.TextSize, t.line.TextSize = theme.TextSize(), theme.Size(theme.SizeNameCaptionText)
	t.name.TextStyle.Bold = true
	t.name.Text = fitted(t.card.Name, t.name.TextSize, t.name.TextStyle, room)
	t.line.Text = fitted(t.card.Line, t.line.TextSize, t.line.TextStyle, room)
	t.name.Color, t.line.Color = colour(theme.ColorNameForeground), colour(theme.ColorNamePlaceHolder)
	t.name.Refresh()
	t.line.Refresh()
	t.menu.Hidden = t.bar.opts.Menu == nil || !t.chosen()
}

func (t *blendTile) lay(size fyne.Size) {
	t.ground.Resize(size)
	h := t.name.MinSize().Height
	place(t.name, gap(11), gap(4), size.Width-gap(11), h)
	place(t.line, gap(11), gap(4)+h, size.Width-gap(11), t.line.MinSize().Height)
	side := em(18)
	place(t.menu, size.Width-side-gap(5), (size.Height-side)/2, side, side)
}

// menuButton opens the menu of the chosen card.
type menuButton struct {
	widget.BaseWidget
	hover
	tile   *blendTile
	ground *canvas.Rectangle
	sign   *sign
}

func newMenuButton(t *blendTile) *menuButton {
	m := &menuButton{tile: t, ground: newBox(), sign: newSign(iconMore)}
	m.hover.changed = m.Refresh
	m.ExtendBaseWidget(m)
	return m
}

// AccessibilityLabel implements fyne.Accessible.
func (m *menuButton) AccessibilityLabel() string { return m.tile.bar.opts.MenuText }

// AccessibilityRole implements fyne.Accessible.
func (m *menuButton) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

func (m *menuButton) Tapped(*fyne.PointEvent) {
	m.tile.bar.openMenuBelow(m.tile, m.tile.card.ID)
}

func (m *menuButton) CreateRenderer() fyne.WidgetRenderer {
	return &parts{
		objects: fixed(m.ground, m.sign.Image),
		layout: func(size fyne.Size) {
			m.ground.Resize(size)
			m.sign.place(0, 0, size.Height)
		},
		min: func() fyne.Size { return fyne.NewSquareSize(em(18)) },
		refresh: func() {
			fill := fyne.ThemeColorName("")
			if m.hovered {
				fill = theme.ColorNameHover
			}
			paintBox(m.ground, fill, "", 0, gap(4))
			m.sign.Refresh()
			canvas.Refresh(m)
		},
	}
}

// plusTile adds a blend.
type plusTile struct {
	widget.BaseWidget
	hover
	bar    *BlendBar
	ground *canvas.Rectangle
	sign   *sign
}

func newPlusTile(b *BlendBar) *plusTile {
	p := &plusTile{bar: b, ground: newBox(), sign: newSign(iconPlus)}
	p.hover.changed = p.Refresh
	p.ExtendBaseWidget(p)
	return p
}

// AccessibilityLabel implements fyne.Accessible.
func (p *plusTile) AccessibilityLabel() string { return p.bar.opts.AddText }

// AccessibilityRole implements fyne.Accessible.
func (p *plusTile) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

func (p *plusTile) Tapped(*fyne.PointEvent) { p.bar.add() }

func (p *plusTile) CreateRenderer() fyne.WidgetRenderer {
	p.paint()
	return &parts{
		objects: fixed(p.ground, p.sign.Image),
		layout: func(size fyne.Size) {
			p.ground.Resize(size)
			side := em(18)
			p.sign.place((size.Width-side)/2, (size.Height-side)/2, side)
		},
		min: func() fyne.Size { return fyne.NewSquareSize(tileHeight()) },
		refresh: func() {
			p.paint()
			canvas.Refresh(p)
		},
	}
}

func (p *plusTile) paint() {
	switch {
	case p.bar.focused && p.bar.onPlus:
		paintBox(p.ground, ColourWash, theme.ColorNamePrimary, 2.5, gap(7))
	case p.hovered:
		paintBox(p.ground, ColourCard, theme.ColorNameInputBorder, 1, gap(7))
	default:
		paintBox(p.ground, "", ColourCardBorder, 1, gap(7))
	}
	p.sign.Refresh()
}
