package control

import (
	"errors"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func useTheme(t *testing.T, variant Variant, scale float32) {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, NewTheme(variant, scale))
}

// A line is as wide as its words are together: the font draws no letter closer to a
// space than to another. The sums of the flow rest on it.
// No letter more would have fitted: cutting takes bisections, this every length.
func TestColumnStretches(t *testing.T) {
	useTheme(t, Light, 1)
	a, b := canvas.NewRectangle(color.Black), canvas.NewRectangle(color.Black)
	a.SetMinSize(fyne.NewSize(10, 20))
	b.SetMinSize(fyne.NewSize(30, 20))
	c := NewColumn(8, a, b)
	c.Stretch = b
	assert.Equal(t, fyne.NewSize(30, 48), c.MinSize())
	c.Resize(fyne.NewSize(100, 200))
	assert.Equal(t, fyne.NewSize(100, 20), a.Size())
	assert.Equal(t, fyne.NewSize(100, 172), b.Size())
	assert.Equal(t, float32(28), b.Position().Y)
	a.Hide()
	c.Refresh()
	assert.Equal(t, fyne.NewSize(100, 200), b.Size())
}

func TestCardKnowsItsHeight(t *testing.T) {
	useTheme(t, Light, 1)
	text := NewText("Saves 1.68 € per spool, the purge costs 2.07 €: does not pay yet.", Plain)
	card := NewCard("Olive 10", "parts in wt% of the whole", text)
	assert.Greater(t, card.HeightFor(200), card.HeightFor(500))
	card.Resize(fyne.NewSize(200, card.HeightFor(200)))
	bottom := text.Position().Y + text.HeightFor(text.Size().Width)
	assert.LessOrEqual(t, bottom, card.Size().Height)
	before := card.HeightFor(300)
	card.SetTitle("")
	card.SetSubtitle("")
	assert.Less(t, card.HeightFor(300), before)
}

func TestSplitStacksWhereItMust(t *testing.T) {
	useTheme(t, Light, 1)
	left := NewColumn(4)
	for range 30 {
		left.Add(NewText("input", Plain))
	}
	right := canvas.NewRectangle(color.Black)
	right.SetMinSize(fyne.NewSize(200, 140))
	s := NewSplit(left, right)
	s.Resize(fyne.NewSize(1150, 500))
	assert.False(t, s.Stacked())
	assert.Equal(t, float32(500), right.Size().Height)
	assert.InDelta(t, 1150-splitLeft-8, right.Size().Width, 1)

	s.Resize(fyne.NewSize(700, 500))
	assert.True(t, s.Stacked())
	assert.Greater(t, right.Size().Width, float32(650))
	assert.Greater(t, right.Size().Height, float32(139))
	assert.LessOrEqual(t, s.MinSize().Width, float32(420))

	s.Resize(fyne.NewSize(1150, 500))
	assert.False(t, s.Stacked())
	assert.Equal(t, float32(500), right.Size().Height)
}

// TestRestOfASplitGoesBelowThePicture where that goes below the inputs, and right below them
// while it is beside them.
func TestRestOfASplitGoesBelowThePicture(t *testing.T) {
	useTheme(t, Light, 1)
	left, rest := NewColumn(4, NewText("headline", Plain)), NewColumn(4, NewText("details", Plain))
	right := canvas.NewRectangle(color.Black)
	right.SetMinSize(fyne.NewSize(200, 140))
	s := NewSplit(left, right)
	s.SetRest(rest)
	s.Resize(fyne.NewSize(1150, 500))
	require.False(t, s.Stacked())
	assert.Equal(t, left.Position().Y+left.Size().Height+8, rest.Position().Y)
	beside := rest.Position().Y

	s.Resize(fyne.NewSize(700, 500))
	require.True(t, s.Stacked())
	assert.Greater(t, s.frame.Position().Y, left.Position().Y)
	assert.Greater(t, rest.Position().Y, s.frame.Position().Y+140)
	assert.Equal(t, float32(0), s.scroll.scroll.Offset.Y)
	s.Reveal(rest.Objects()[0])
	assert.Positive(t, s.scroll.scroll.Offset.Y, "what lies below can be led to")
	rest.Add(NewText("more", Plain))
	assert.Greater(t, rest.Size().Height, 2*left.Size().Height, "the column makes room for it")

	s.Resize(fyne.NewSize(1150, 500))
	assert.False(t, s.Stacked())
	assert.Equal(t, beside, rest.Position().Y)
}

func TestScrollColumnLeavesTheWheelWhileAllFits(t *testing.T) {
	useTheme(t, Light, 1)
	s := NewScrollColumn(NewColumn(4, NewText("a", Plain), NewText("b", Plain)))
	s.Resize(fyne.NewSize(100, 200))
	assert.False(t, s.scrolled)
	s.Resize(fyne.NewSize(100, 20))
	assert.True(t, s.scrolled)
}

// TestTableThatScrollsSidewaysLeavesTheWheelToThePage, but takes what turns sideways; one with
// more rows than it shows keeps the wheel, and so does one on a page that fits.
func TestTableThatScrollsSidewaysLeavesTheWheelToThePage(t *testing.T) {
	useTheme(t, Light, 1)
	rows := 3
	g := NewGrid(GridOptions{
		Columns: []GridColumn{{Title: "a", Width: 400}, {Title: "b", Width: 400}}, MaxRows: 4,
		Rows: func() int { return rows }, Cell: func(_, _ int) Cell { return Cell{Text: "x"} },
	})
	page := NewScrollColumn(NewCard("", "", NewColumn(4, g, NewText("below", Plain))))
	win := test.NewWindow(page)
	defer win.Close()
	win.Resize(fyne.NewSize(300, 130))
	require.True(t, page.scrolled)
	require.True(t, g.scrolled)
	require.False(t, g.sideways.Hidden)
	require.Equal(t, g.scroll.Size(), g.sideways.Size(), "nothing of the rows is left to the scroll")
	turn := func(dx, dy float32) { g.sideways.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(dx, dy)}) }
	turn(0, -10)
	assert.Positive(t, page.Offset())
	assert.Zero(t, g.scroll.Offset.X)
	at := page.Offset()
	turn(-10, 0)
	assert.InDelta(t, at, page.Offset(), 0)
	assert.Positive(t, g.scroll.Offset.X)

	win.Resize(fyne.NewSize(300, 800))
	require.False(t, page.scrolled)
	side := g.scroll.Offset.X
	turn(0, -10)
	assert.Greater(t, g.scroll.Offset.X, side)
	rows = 9
	g.Sync()
	assert.True(t, g.sideways.Hidden, "it has rows to scroll to")
}

// contrast is that of two colours after WCAG 2: (L1 + 0.05)/(L2 + 0.05) with the
// relative luminance L.
func contrast(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	part := func(v uint32) float64 {
		x := float64(v) / 0xffff
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*part(r) + 0.7152*part(g) + 0.0722*part(b)
}

// WCAG 2 asks for 4.5 where text is read and 3 for shapes that carry meaning.
func TestThemeContrast(t *testing.T) {
	assert.InDelta(t, 21, contrast(color.White, color.Black), 1e-9, "black on white, WCAG 2")
	for name, p := range map[string]palette{"light": light, "dark": dark} {
		grounds := []fyne.ThemeColorName{ColourCard, theme.ColorNameBackground, theme.ColorNameInputBackground, ColourWash, ColourStrip, ColourRail}
		for _, ground := range grounds {
			for _, text := range []fyne.ThemeColorName{theme.ColorNameForeground, theme.ColorNamePlaceHolder} {
				assert.GreaterOrEqual(t, contrast(p[text], p[ground]), 4.5, "%s: %s on %s", name, text, ground)
			}
			for _, shape := range []fyne.ThemeColorName{theme.ColorNamePrimary, theme.ColorNameWarning, theme.ColorNameError, theme.ColorNameSuccess} {
				assert.GreaterOrEqual(t, contrast(p[shape], p[ground]), 3.0, "%s: %s on %s", name, shape, ground)
			}
		}
		for _, ground := range []fyne.ThemeColorName{ColourCard, ColourStopWash} {
			assert.GreaterOrEqual(t, contrast(p[theme.ColorNameError], p[ground]), 4.5, "%s: refusals on %s", name, ground)
		}
		assert.GreaterOrEqual(t, contrast(p[theme.ColorNamePrimary], p[ColourCard]), 4.5, "%s: links", name)
		assert.GreaterOrEqual(t, contrast(p[theme.ColorNameInputBorder], p[ColourCard]), 2.9, "%s: borders of entries", name)
		assert.GreaterOrEqual(t, contrast(p[theme.ColorNameForegroundOnPrimary], p[theme.ColorNamePrimary]), 4.5, name)
	}
}

func TestThemeVariantsAndScale(t *testing.T) {
	test.NewTempApp(t)
	for _, v := range []fyne.ThemeVariant{theme.VariantLight, theme.VariantDark} {
		assert.Equal(t, light[ColourCard], NewTheme(Light, 1).Color(ColourCard, v))
		assert.Equal(t, dark[ColourCard], NewTheme(Dark, 1).Color(ColourCard, v))
	}
	assert.Equal(t, dark[ColourCard], NewTheme(System, 1).Color(ColourCard, theme.VariantDark))
	assert.Equal(t, light[ColourCard], NewTheme(System, 1).Color(ColourCard, theme.VariantLight))
	assert.Equal(t, 2*NewTheme(Light, 1).Size(theme.SizeNameText), NewTheme(Light, 2).Size(theme.SizeNameText))
	assert.Equal(t, NewTheme(Light, 2).Size(theme.SizeNameText), NewTheme(Light, 9).Size(theme.SizeNameText))
	for name := range light {
		assert.Contains(t, dark, name, "both variants name the same colours")
	}
	test.AssertAllColorNamesDefined(t, NewTheme(Light, 1), "light")
	test.AssertAllColorNamesDefined(t, NewTheme(Dark, 1), "dark")
}

func TestPictureColoursFollowTheVariant(t *testing.T) {
	test.NewTempApp(t)
	for _, variant := range []Variant{Light, Dark} {
		back, fore, muted, grid := PictureColours(NewTheme(variant, 1), theme.VariantLight)
		assert.Greater(t, contrast(fore, back), 7.0)
		assert.Greater(t, contrast(muted, back), 4.5)
		assert.Less(t, contrast(grid, back), 2.0, "the raster stays in the background")
	}
	back, fore, _, _ := PictureColours(test.Theme(), theme.VariantLight)
	assert.NotNil(t, back)
	assert.NotNil(t, fore)
}

func TestMarksDifferInShape(t *testing.T) {
	test.NewTempApp(t)
	seen := map[string]bool{}
	for _, m := range []Mark{MarkEmpty, MarkFine, MarkCaution, MarkStop} {
		seen[m.icon().Name()] = true
	}
	assert.Len(t, seen, 4)
	assert.NotEqual(t, Info.icon().Name(), Caution.icon().Name())
	assert.Equal(t, MarkStop.icon(), Stop.icon())
}

// ink is the colour of a sign, where it is drawn in full.
func ink(s *sign) color.Color {
	img, best := s.Image.Image, color.NRGBA{}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA); c.A > best.A {
				best = c
			}
		}
	}
	return best
}

func TestSignsFollowWhatTheyDependOn(t *testing.T) {
	useTheme(t, Light, 1)
	s := newSign(iconStop)
	look := func(p palette, name fyne.ThemeColorName) {
		t.Helper()
		s.Refresh()
		s.place(0, 0, 14)
		assert.Equal(t, p[name], ink(s))
	}
	look(light, theme.ColorNameError)
	s.Resource = iconFine
	look(light, theme.ColorNameSuccess)
	test.ApplyTheme(t, NewTheme(Dark, 1))
	look(dark, theme.ColorNameSuccess)
	s.Hide()
	test.ApplyTheme(t, NewTheme(Light, 1))
	s.Refresh()
	s.Show()
	look(light, theme.ColorNameSuccess)

	s.Image.Image = nil
	s.Refresh()
	assert.Nil(t, s.Image.Image, "what looks the same is not drawn again")
	c := test.NewTempWindow(t, s.Image).Canvas().(software.WindowlessCanvas)
	c.SetScale(2)
	s.Refresh()
	assert.NotNil(t, s.Image.Image, "other pixels want another drawing")
}

// A sign that was hidden while the theme changed has its colour when it is seen.
func TestSignsOfRefusalsFollowTheTheme(t *testing.T) {
	useTheme(t, Light, 1)
	f := NewField(FieldOptions{ID: "/x", Label: "X", OnCommit: func(string) error { return errors.New("no") }})
	f.Resize(fyne.NewSize(300, 100)) // in no window, which would refresh it itself
	refuse := func() { f.RestoreRefused("y", "no") }
	refuse()
	require.False(t, f.sign.Hidden)
	assert.Equal(t, light[theme.ColorNameError], ink(f.sign))
	f.RestoreRefused("", "")
	require.True(t, f.sign.Hidden)
	test.ApplyTheme(t, NewTheme(Dark, 1))
	refuse()
	assert.Equal(t, dark[theme.ColorNameError], ink(f.sign))
}

// The place of a field is known before it was painted, as the driver knows it later.
func TestBelowIsWhatTheDriverSays(t *testing.T) {
	useTheme(t, Light, 1)
	field := NewField(FieldOptions{ID: "/x", Label: "X"})
	pair := NewPairs(8, NewText("A", Plain), field)
	card := NewCard("Title", "", NewColumn(6, NewText("Above", Plain), pair))
	hidden := NewText("Hidden", Plain)
	hidden.Hidden = true
	outer := NewColumn(8, NewText("One", Plain), hidden, card)
	win := test.NewTempWindow(t, outer)
	win.Resize(fyne.NewSize(420, 400))
	got, found := below(outer, field)
	require.True(t, found)
	driver := fyne.CurrentApp().Driver()
	assert.Equal(t, driver.AbsolutePositionForObject(field).Y-driver.AbsolutePositionForObject(outer).Y, got)
	_, found = below(outer, NewText("elsewhere", Plain))
	assert.False(t, found)
}

// A text that appears later, as when a log has been read, makes the column around
// it longer: its last line can be scrolled to.
func TestTextThatAppearsMakesRoom(t *testing.T) {
	useTheme(t, Light, 1)
	text := NewText("", Plain)
	text.Tell("")
	s := NewScrollColumn(NewCard("Log", "", NewColumn(4, NewText("a", Plain), text)))
	w := test.NewTempWindow(t, s)
	w.Resize(fyne.NewSize(200, 90))
	assert.False(t, s.scrolled)
	text.Tell("one\ntwo\nthree\nfour\nfive\nsix\nseven\neight")
	require.True(t, s.scrolled)
	assert.GreaterOrEqual(t, s.inner.Size().Height, text.HeightFor(text.Size().Width))
	assert.Positive(t, text.Size().Width)
	text.Tell("")
	assert.False(t, s.scrolled)
}
