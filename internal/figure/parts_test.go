package figure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shownTexts are the texts of a drawn picture.
func shownTexts(lay Layout) []string {
	var out []string
	for _, t := range lay.Texts {
		out = append(out, t.Shown)
	}
	return out
}

// table is a picture of tiles with headings, like that of sieves and nozzles.
func table() Picture {
	p := Panel{Y: Axis{Label: "row and column"}, Columns: []string{"0.25", "0.4", "0.6", "0.8"}}
	for row := range 3 {
		p.Rows = append(p.Rows, Row{Label: "125 µm", Sub: "up to 163 µm"})
		for col := range 4 {
			p.Tiles = append(p.Tiles, Tile{Row: row, Col: col, Text: "all below it", Sub: "7 %", Short: "<", Colour: row, Done: col == 0, Strong: col == 1})
		}
	}
	return Picture{Title: "Table", Panels: []Panel{p}}
}

func TestColumnsStandOverTheirTiles(t *testing.T) {
	lay := checkDrawn(t, table(), DefaultStyle(650, 400, false))
	panel := lay.Panels[0]
	seen := 0
	for _, text := range lay.Texts {
		for col, heading := range []string{"0.25", "0.4", "0.6", "0.8"} {
			if text.Shown == heading {
				seen++
				assert.InDelta(t, panel.X.ToPixel(float64(col)+0.5), (text.Box.X0+text.Box.X1)/2, 1)
				assert.LessOrEqual(t, text.Box.Y1, panel.Area.Y0+1)
			}
		}
	}
	assert.Equal(t, 4, seen)
	assert.Contains(t, shownTexts(lay), "row and column")
}

func TestNarrowTilesShowTheirShortText(t *testing.T) {
	wide := shownTexts(checkDrawn(t, table(), DefaultStyle(800, 400, false)))
	assert.Contains(t, wide, "all below it")
	assert.NotContains(t, wide, "<")
	narrow := shownTexts(checkDrawn(t, table(), DefaultStyle(330, 400, false)))
	assert.Contains(t, narrow, "<")
	assert.NotContains(t, narrow, "7 %", "what stands below the whole text goes with it")
}

func TestEmptyTileIsAnOutline(t *testing.T) {
	s := DefaultStyle(650, 400, false)
	img, lay := new(Renderer).Render(table(), s)
	for _, target := range lay.Targets {
		done := target.Index%4 == 0
		x, y := target.Box.X1-6, target.Box.Y1-6
		assert.Equal(t, done, near(img, x, y, s.Background, 0), "tile %d", target.Index)
		if done {
			x, edge := int(target.Box.X1)-10, false
			for y := int(target.Box.Y1) - 2; y <= int(target.Box.Y1); y++ {
				edge = edge || img.RGBAAt(x, y) != img.RGBAAt(x, int(target.Box.Y1)-6)
			}
			assert.True(t, edge, "its lower edge")
		}
	}
}

func TestSparePanelGoesFirst(t *testing.T) {
	p := costAndDensity()
	p.Panels[1].Spare = true
	p.Legend = []LegendItem{{Text: "of the spare panel"}}
	lay := checkDrawn(t, p, DefaultStyle(700, 450, false))
	assert.Len(t, lay.Panels, 2)
	small := checkDrawn(t, p, DefaultStyle(400, 190, false))
	require.Len(t, small.Panels, 1)
	shown := shownTexts(small)
	assert.Contains(t, shown, p.Title, "what is left has room for everything")
	assert.Contains(t, shown, "olive-stone flour, wt%", "and the X axis with its title")
	assert.NotContains(t, shown, "of the spare panel")

	p.Panels[0].Spare = true
	assert.Len(t, checkDrawn(t, p, DefaultStyle(400, 190, false)).Panels, 2, "one panel has to stay")
}

func TestFilledBarCountsFromZero(t *testing.T) {
	bar := Bar{Label: "a", Low: 8, Likely: 9, High: 10, Known: true, Colour: 0}
	draw := func(filled bool) (Layout, bool) {
		bar.Filled = filled
		s := DefaultStyle(500, 200, false)
		img, lay := new(Renderer).Render(Picture{Panels: []Panel{{Bars: []Bar{bar}}}}, s)
		x, y := lay.Panels[0].ToPixel(8.2, 0.5)
		require.True(t, near(img, x, y, mix(s.Palette[0], s.Background, 0.25), 1), "the range")
		mid := (lay.Panels[0].Area.X0 + x) / 2
		return lay, near(img, mid, y, mix(s.Background, s.Palette[0], filledTint), 1)
	}
	lay, tinted := draw(true)
	assert.True(t, tinted)
	assert.Zero(t, lay.Panels[0].X.Min)
	assert.Equal(t, lay.Panels[0].Area.X0, lay.Targets[0].Box.X0, "all of it can be chosen")
	lay, tinted = draw(false)
	assert.False(t, tinted)
	assert.Positive(t, lay.Panels[0].X.Min)
}

func TestLogarithmicTicksAreOnTheAxis(t *testing.T) {
	for most := range 9 {
		for _, ends := range [][2]float64{{0.01, 6000}, {0.02, 5e6}, {3e-5, 4}, {0.5, 2}, {7, 9}} {
			for _, tick := range (logTicks{most: most}).Ticks(ends[0], ends[1]) {
				assert.GreaterOrEqual(t, tick.Value, ends[0]*(1-1e-9), "%v, at most %d", ends, most)
			}
		}
	}
}

// A level's name keeps clear of points and of other levels.
func TestLevelNamesKeepClear(t *testing.T) {
	p := Picture{Panels: []Panel{{
		Y:      Axis{Min: 0, Max: 10},
		Points: []Points{{X: []float64{0, 9.5}, Y: []float64{9, 5.4}}},
		Levels: []Level{{Y: 5, Label: "target of it"}, {Y: 4.2, Label: "floor"}},
	}}}
	lay := checkDrawn(t, p, DefaultStyle(400, 300, false))
	panel := lay.Panels[0]
	for _, text := range lay.Texts {
		if text.Shown != "target of it" && text.Shown != "floor" {
			continue
		}
		for _, y := range []float64{5, 4.2} {
			at := panel.Y.ToPixel(y)
			assert.False(t, at > text.Box.Y0 && at < text.Box.Y1, "%q is crossed", text.Shown)
		}
		x, y := panel.ToPixel(9.5, 5.4)
		assert.False(t, text.Box.Contains(x, y), "%q covers a point", text.Shown)
	}
	assert.Subset(t, shownTexts(lay), []string{"target of it", "floor"})
}
