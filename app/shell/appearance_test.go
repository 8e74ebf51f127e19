package shell_test

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

func TestPaneSizeThemeAndTextAreRemembered(t *testing.T) {
	r := openSample(t, olive)
	assert.Equal(t, fyne.NewSize(1280, 800), r.window.wanted, "the size of the first start")
	r.show(bench.PaneSpool)
	r.choose("menu.theme_dark")
	for _, i := range r.menuItem("menu.text").ChildMenu.Items {
		if strings.HasPrefix(i.Label, "150") {
			i.Action()
		}
	}
	r.window.Resize(fyne.NewSize(1100, 700))
	r.choose("menu.quit")
	require.True(t, r.window.closed)

	again := shell.RememberedAppearance(r.app.Preferences())
	assert.Equal(t, shell.Appearance{Variant: control.Dark, Text: 1.5}, again)
	r.open(sample(t, olive), "", again)
	assert.Equal(t, bench.PaneSpool, r.bench.Pane())
	assert.Equal(t, fyne.NewSize(1100, 700), r.window.wanted)
	assert.True(t, r.menuItem("menu.theme_dark").Checked)
	assert.False(t, r.menuItem("menu.theme_light").Checked)
}

// brightness is the mean of a picture's pixels, from 0 to 1.
func brightness(img image.Image) float64 {
	sum, n := 0.0, 0
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y += 5 {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x += 5 {
			sum += float64(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y) / 255
			n++
		}
	}
	return sum / float64(n)
}

func TestTheThemeReachesPicturesAndWindow(t *testing.T) {
	r := openSample(t, olive)
	for _, id := range bench.Panes() {
		r.show(id)
		r.choose("menu.theme_light")
		assert.Greater(t, brightness(r.picture().Image()), 0.7, "light picture of %s", id)
		r.choose("menu.theme_dark")
		assert.Less(t, brightness(r.picture().Image()), 0.4, "dark picture of %s", id)
	}
	assert.Less(t, brightness(r.canvas().Capture()), 0.4)
	r.choose("menu.theme_light")
	assert.Greater(t, brightness(r.canvas().Capture()), 0.7)
}

func TestLargerTextIsLargerInThePicture(t *testing.T) {
	r := openSample(t, olive)
	small := r.bench.TextScale()
	r.menuItem("menu.text").ChildMenu.Items[3].Action()
	assert.Equal(t, 2*small, r.bench.TextScale())
	assert.Equal(t, 2*control.NewTheme(control.Light, 1).Size("text"), r.app.Settings().Theme().Size("text"))
}

// tooWide lists the objects that stick out of a box sideways, except inside what
// is meant to scroll or to be cut off.
func tooWide(root fyne.CanvasObject, width float32) []string {
	var list []string
	var look func(o fyne.CanvasObject, x float32)
	look = func(o fyne.CanvasObject, x float32) {
		if !o.Visible() {
			return
		}
		x += o.Position().X
		if right := x + o.Size().Width; right > width+1 {
			list = append(list, fmt.Sprintf("%T to %.0f", o, right))
			return
		}
		switch o := o.(type) {
		case *container.Scroll, *container.Clip:
			return
		case *fyne.Container:
			for _, child := range o.Objects {
				look(child, x)
			}
		case fyne.Widget:
			for _, child := range test.WidgetRenderer(o).Objects() {
				look(child, x)
			}
		}
	}
	look(root, 0)
	return list
}

// scrolls lists what scrolls and must not do so sideways: not the bar of blends,
// nor text in an entry.
func scrolls(root fyne.CanvasObject) []*container.Scroll {
	var list []*container.Scroll
	var look func(o fyne.CanvasObject)
	look = func(o fyne.CanvasObject) {
		if !o.Visible() {
			return
		}
		switch o := o.(type) {
		case *control.BlendBar, *control.QuantityEntry:
			return
		case *container.Scroll:
			if o.Direction != container.ScrollHorizontalOnly {
				list = append(list, o)
			}
			look(o.Content)
		case *fyne.Container:
			for _, child := range o.Objects {
				look(child)
			}
		case fyne.Widget:
			for _, child := range test.WidgetRenderer(o).Objects() {
				look(child)
			}
		}
	}
	look(root)
	return list
}

// settle lays out again what asks for another size now that it has a width. A
// real window does so before it paints; the test driver does not.
func settle(o fyne.CanvasObject) {
	switch o := o.(type) {
	case *fyne.Container:
		for _, child := range o.Objects {
			settle(child)
		}
		if o.Layout != nil {
			o.Layout.Layout(o.Objects, o.Size())
		}
	case fyne.Widget:
		r := test.WidgetRenderer(o)
		for _, child := range r.Objects() {
			settle(child)
		}
		r.Layout(o.Size())
	}
}

// fits asserts that each pane fits into the smallest window without scrolling
// sideways.
func fits(t *testing.T, r *rig) {
	t.Helper()
	r.window.Resize(fyne.NewSize(1280, 800))
	for _, id := range bench.Panes() {
		r.show(id)
		settle(r.bench.Content())
		settle(r.bench.Content())
		min := r.bench.Content().MinSize()
		assert.LessOrEqual(t, min.Width, float32(1280), "%s is too wide", id)
		assert.LessOrEqual(t, min.Height, float32(800), "%s is too high", id)
		assert.Empty(t, tooWide(r.bench.Content(), 1280), id)
		for _, s := range scrolls(r.bench.Content()) {
			assert.LessOrEqual(t, s.Content.MinSize().Width, s.Size().Width+1, "%s: a %T scrolls sideways", id, s.Content)
		}
		picture := r.picture().Size()
		assert.Greater(t, picture.Width, float32(200), "picture of %s", id)
		assert.Greater(t, picture.Height, float32(100), "picture of %s", id)
	}
}

// scales are the sizes of text that a window of 1280 by 800 is tried with.
var scales = []float32{1, 1.5, 2}

func TestEveryPaneFitsAtEverySizeOfText(t *testing.T) {
	for _, name := range []string{olive, mussel} {
		for _, scale := range scales {
			t.Run(fmt.Sprintf("%s %v", name, scale), func(t *testing.T) {
				r := newRig(t)
				fits(t, r.open(sample(t, name), "", shell.Appearance{Variant: control.Light, Text: scale}))
			})
		}
	}
}

// wide gives every name 100 runes.
func wide(p *project.Project) {
	name := strings.Repeat("Wide name ", 10)
	for i := range p.Blends {
		p.Blends[i].Name = fmt.Sprintf("%d %s", i, name[:98])
	}
	for i := range p.Materials {
		p.Materials[i].Name = fmt.Sprintf("%d %s", i, name[:98])
	}
	p.Title = name
}

// unbroken gives every name 100 runes without a space.
func unbroken(p *project.Project) {
	wide(p)
	for i := range p.Blends {
		p.Blends[i].Name = strings.ReplaceAll(p.Blends[i].Name, " ", "W")
	}
	for i := range p.Materials {
		p.Materials[i].Name = strings.ReplaceAll(p.Materials[i].Name, " ", "W")
	}
}

// dozen makes twelve blends.
func dozen(p *project.Project) {
	for i := len(p.Blends); i < 12; i++ {
		b := project.Clone(*p).Blends[2]
		b.ID, b.Name = project.BlendID(fmt.Sprint("blend-", i)), fmt.Sprintf("Blend %d", i)
		p.Blends = append(p.Blends, b)
	}
}

func empty(p *project.Project) { *p = project.New("EUR") }

// plainOnly leaves a project with blends and no powder.
func plainOnly(p *project.Project) {
	p.Blends, p.Plan.Base = p.Blends[:1], ""
	p.Melt.Tests, p.Line.Changes.Sequence, p.Line.Runs = nil, nil, nil
	p.Spool.Made, p.Spool.Bend.Tests = nil, nil
	p.Materials = p.Materials[:1]
}

// manyMaterials puts fifteen materials into one blend.
func manyMaterials(p *project.Project) {
	for i := range 12 {
		m := p.Materials[1].Clone()
		m.ID, m.Name = material.ID(fmt.Sprint("powder-", i)), fmt.Sprintf("Powder %d", i)
		p.Materials = append(p.Materials, m)
		part := p.Blends[2].Parts[1]
		part.Material = m.ID
		p.Blends[2].Parts = append(p.Blends[2].Parts, part)
	}
}

func TestUnusualProjectsFit(t *testing.T) {
	for name, change := range map[string]func(*project.Project){
		"empty": empty, "plain only": plainOnly, "wide names": wide, "unbroken names": unbroken, "twelve blends": dozen, "many materials": manyMaterials,
	} {
		for _, scale := range []float32{1, 2} {
			t.Run(fmt.Sprintf("%s %v", name, scale), func(t *testing.T) {
				p := sample(t, olive)
				change(&p)
				r := newRig(t).open(p, "", shell.Appearance{Variant: control.Light, Text: scale})
				fits(t, r)
			})
		}
	}
}

func TestDialogsFitWithLargeText(t *testing.T) {
	r := newRig(t).open(sample(t, olive), "", shell.Appearance{Variant: control.Light, Text: 2})
	r.window.Resize(fyne.NewSize(1280, 800))
	opens := func(name, leave string) {
		t.Helper()
		require.Equal(t, 1, r.dialogs(), name)
		size := r.dialog().MinSize()
		assert.LessOrEqual(t, size.Width, float32(1280), name)
		assert.LessOrEqual(t, size.Height, float32(800), name)
		assert.Greater(t, len(texts(r.dialog())), 2, name)
		r.answer(leave)
		require.Zero(t, r.dialogs(), name)
	}
	for _, id := range []string{"menu.guide", "menu.entries", "menu.keys", "menu.models", "menu.safety", "menu.about"} {
		r.choose(id)
		opens(id, "dialog.close")
	}
	for _, id := range []string{"menu.title", "menu.currency"} {
		r.choose(id)
		opens(id, "dialog.cancel")
	}
	r.enterCell(1, amountColumn, "5 %")
	opens("of what", "pane.blend.basis_cancel")
	r.enterCell(1, amountColumn, "11 wt%")
	r.choose("menu.quit")
	opens("gate", "gate.stay")
}
