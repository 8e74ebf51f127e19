package control_test

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

// gallery builds a window's worth of controls with invented content.
type gallery struct {
	root    fyne.CanvasObject
	rail    *control.Rail
	bar     *control.BlendBar
	grid    *control.Grid
	fields  control.Inputs
	split   *control.Split
	verdict *control.Verdict
	notes   *control.NoteList
	picture *control.PictureView
}

func newGallery() *gallery {
	g := &gallery{}
	g.rail = control.NewRail(nil,
		control.Item{ID: "filler", Title: "Filler", Mark: control.MarkCaution},
		control.Item{ID: "blend", Title: "Blend", Mark: control.MarkFine},
		control.Item{ID: "melt", Title: "Melt", Mark: control.MarkStop},
		control.Item{ID: "spool", Title: "Spool", Mark: control.MarkFine},
		control.Item{ID: "plan", Title: "Plan", Mark: control.MarkEmpty},
	)
	g.rail.Select("blend")
	g.rail.SetFooter("2 cautions\n1 not entered")
	g.bar = control.NewBlendBar(control.BlendBarOptions{
		OnAdd: func() {}, Menu: func(string) []*fyne.MenuItem { return []*fyne.MenuItem{fyne.NewMenuItem("Rename", nil)} },
	})
	g.bar.SetCards([]control.BlendCard{
		{ID: "neat", Name: "Neat", Line: "reference"},
		{ID: "five", Name: "Olive 5", Line: "5 wt%"},
		{ID: "ten", Name: "Olive 10", Line: "10 wt%"},
	}, "ten")
	g.picture = control.NewPictureView(control.PictureOptions{Draw: stripes, OnKey: func(*fyne.KeyEvent) {}})
	card := control.NewCard("Olive 10", "parts in wt% of the whole", g.inputs())
	g.split = control.NewSplit(card, control.NewCard("Cost and density against filler content", "", g.picture))
	g.verdict = control.NewVerdict(galleryFigures()...)
	g.notes = control.NewNoteList(2, nil)
	g.notes.SetNotes(galleryNotes())
	foot := control.NewCard("", "", control.NewColumn(8, g.verdict, widget.NewSeparator(), g.notes))
	right := control.NewColumn(8, g.bar, g.split, foot)
	right.Stretch = g.split
	g.root = container.NewBorder(nil, nil, g.rail, nil, container.NewPadded(container.NewPadded(right)))
	return g
}

func galleryFigures() []control.Figure {
	return []control.Figure{
		{Label: "Density", Value: "1.250", Unit: "g/cm³", Interval: "1.238 to 1.262", Change: "+0.8 %"},
		{Label: "Cost per metre", Value: "5.21", Unit: "ct", Interval: "4.9 to 5.6", Change: "−8.1 %"},
		{Label: "Length", Value: "333", Unit: "m", Interval: "± 9", Change: "−0.8 %"},
		{Label: "Melt flow", Value: "×1.8", Interval: "1.1 to 9.9", Change: "easier"},
		{Label: "Clog chance", Value: "18 %", Interval: "6 to 40 %", Change: "per spool"},
		{Label: "Strength retention", Reason: "no specimens broken yet"},
	}
}

func galleryNotes() []control.Note {
	return []control.Note{
		{control.Info, "Wear of the nozzle is not counted.", "", "Blend, price"},
		{control.Caution, "At 10 wt% powder falls off whole pellets (they hold about 6 wt%): expect lumps.", "Grind part of the pellets, and dry them again just before use.", "Line, pellet size"},
		{control.Stop, "The parts add up to 104 wt%.", "Make one part the balance.", "Blend, parts"},
		{control.Caution, "Powder is at 1.1 % moisture: hydrolysis may outweigh the viscosity rise.", "Aim for 0.2 % and dry the pellets too; attended, thin layer.", "Filler, target"},
	}
}

func (g *gallery) inputs() fyne.CanvasObject {
	rows := [][]string{
		{"PLA pellets", "balance", "89.7", "1 053", "1 053"},
		{"Olive-stone flour", "10 wt%", "8.9", "118.3", "119.6"},
		{"White mineral oil", "0.2 wt%", "0.3", "2.4", "2.4"},
	}
	g.grid = control.NewGrid(control.GridOptions{
		Label: "Parts", Empty: "No part yet",
		Columns: []control.GridColumn{
			{Title: "part", Width: 130, Editable: true},
			{Title: "amount", Width: 80, Editable: true},
			{Title: "vol%", Width: 50, Align: fyne.TextAlignTrailing},
			{Title: "dry, g", Width: 58, Align: fyne.TextAlignTrailing},
			{Title: "to weigh, g", Width: 72, Align: fyne.TextAlignTrailing},
		},
		Rows: func() int { return len(rows) },
		Cell: func(r, c int) control.Cell {
			state := []control.CellState{control.CellNormal, control.CellNormal, control.CellMuted, control.CellMuted, control.CellStrong}[c]
			return control.Cell{Text: rows[r][c], State: state}
		},
		Total: func(c int) control.Cell {
			return control.Cell{Text: []string{"Total, 5 % lost on the way", "", "", "1 183", "1 185"}[c], State: control.CellStrong}
		},
		OnEdit: func(r, c int, text string) error {
			if text == "bad" {
				return errors.New("“bad” has no unit. Accepted: wt%, vol%, phr or balance.")
			}
			rows[r][c] = text
			return nil
		},
	})
	density := control.NewField(control.FieldOptions{ID: "/density", Label: "Measured density", Hint: "1.24 g/cm³", Remark: "estimated 1.250 g/cm³"})
	price := control.NewField(control.FieldOptions{
		ID: "/price", Label: "Pellet price", Remark: "entered",
		Text:     func() string { return "18.90 €/kg" },
		OnCommit: func(string) error { return errors.New("“18.90” has no unit. Accepted: €/kg, €/g, €/lb.") },
	})
	basis := control.NewSelectField(control.SelectOptions{
		ID: "/basis", Label: "Basis", Remark: "10 % is of the whole, not on the pellets",
		Choices: []control.Choice{{Value: "w", Text: "wt% of the whole"}, {Value: "p", Text: "phr on the polymer"}},
		Value:   func() string { return "w" },
	})
	wet := control.NewCheckField(control.CheckOptions{ID: "/wet", Label: "Weighed damp", Remark: "the water is a part of its own"})
	spools := control.NewNumberField(control.NumberOptions{ID: "/n", Label: "Spools", Min: 1, Max: 99, Remark: "+ 120 g purge", Number: func() (int, bool) { return 1, true }})
	g.fields.Add(density, price, basis, wet, spools)
	words := control.NewColumn(2,
		control.NewText("Saves 1.68 € per spool, the purge costs 2.07 €: does not pay yet.", control.Plain),
		control.NewCaption("Pays from two spools in a row. 10 % is of the whole, not on the pellets."))
	tabs := control.NewTabs(control.TabsOptions{Items: benchSections, Chosen: func() string { return "storage" }})
	return control.NewColumn(9, tabs, g.grid, spools, density, price, basis, wet, words)
}

// stripes is a picture that shows whether it was drawn at device pixels.
func stripes(w, h int, scale float32) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	back, fore, _, grid := control.PictureColours(fyne.CurrentApp().Settings().Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	draw.Draw(img, img.Bounds(), image.NewUniform(back), image.Point{}, draw.Src)
	for x := 0; x < w; x += int(40 * scale) {
		draw.Draw(img, image.Rect(x, 0, x+1, h), image.NewUniform(grid), image.Point{}, draw.Src)
	}
	for x := range w {
		y := h - 1 - x*h/w
		draw.Draw(img, image.Rect(x, y-1, x+1, y+1), image.NewUniform(fore), image.Point{}, draw.Src)
	}
	return img
}

type look struct {
	name    string
	variant control.Variant
	scale   float32
}

var looks = []look{{"light", control.Light, 1}, {"dark", control.Dark, 1}, {"light200", control.Light, 2}, {"dark150", control.Dark, 1.5}}

// open shows content in a window of a size under a theme.
func open(t *testing.T, l look, content func() fyne.CanvasObject, w, h float32) fyne.Window {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, control.NewTheme(l.variant, l.scale))
	win := test.NewTempWindow(t, content())
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	return win
}

// TestGallery draws every control in every look. With FILLWRIGHT_SHOTS set to a
// folder the pictures are kept to be looked at.
func TestGallery(t *testing.T) {
	for _, l := range looks {
		t.Run(l.name, func(t *testing.T) {
			var g *gallery
			win := open(t, l, func() fyne.CanvasObject { g = newGallery(); return g.root }, 1280, 800)
			keep(t, l.name, win.Canvas().Capture())
			require.LessOrEqual(t, win.Content().MinSize().Width, float32(1280), "must not be wider than the window")

			g.refuse()
			win.Content().Refresh()
			img := win.Canvas().Capture()
			keep(t, l.name+"-refused", img)
			require.Greater(t, colours(img), 20, "a drawn window has many colours")
		})
	}
}

// refuse brings the gallery into the states of refusal, focus and highlight.
func (g *gallery) refuse() {
	price := g.fields.At("/price").(*control.Field)
	test.Type(price.Entry(), "")
	price.Entry().SetText("18.90")
	price.Commit()
	price.Entry().FocusLost()
	g.fields.At("/density").Highlight()
	g.grid.Refuse(1, 1, "10", "“10” has no unit. Accepted: wt%, vol%, phr or balance.")
	g.grid.FocusCell(2, 1)
	g.rail.FocusGained()
	g.notes.FocusGained()
}

func colours(img image.Image) int {
	seen := map[color.Color]bool{}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 3 {
		for x := b.Min.X; x < b.Max.X; x += 3 {
			seen[img.At(x, y)] = true
		}
	}
	return len(seen)
}

func keep(t *testing.T, name string, img image.Image) {
	t.Helper()
	dir := os.Getenv("FILLWRIGHT_SHOTS")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, fmt.Sprintf("control-%s.png", name)))
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, img))
	require.NoError(t, f.Close())
}

// A window whose theme was switched must look like one that was opened with it.
func TestThemeSwitchReachesEverything(t *testing.T) {
	for _, to := range looks[1:] {
		t.Run(to.name, func(t *testing.T) {
			fresh := open(t, to, func() fyne.CanvasObject { return newGallery().root }, 1280, 800).Canvas().Capture()
			win := open(t, looks[0], func() fyne.CanvasObject { return newGallery().root }, 1280, 800)
			win.Canvas().Capture()
			test.ApplyTheme(t, control.NewTheme(to.variant, to.scale))
			win.Content().Refresh() // a real window lays out again when least sizes change
			switched := win.Canvas().Capture()
			if n := differing(fresh, switched); n > 0 {
				keep(t, "fresh-"+to.name, fresh)
				keep(t, "switched-"+to.name, switched)
				t.Errorf("%d pixels differ from a window opened in this theme", n)
			}
		})
	}
}

func differing(a, b image.Image) int {
	n := 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			if a.At(x, y) != b.At(x, y) {
				n++
			}
		}
	}
	return n
}
