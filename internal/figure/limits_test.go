package figure

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// limitRow is the bar of one limit of a sample's blend.
func limitRow(t *testing.T, name string, blend int, id bench.LimitID, change func(*project.Project)) Bar {
	t.Helper()
	_, s := evaluated(t, name, change)
	panel := Limits(s, blend, "", wording.New("en")).Panels[0]
	for i, l := range s.Limits(blend).Limits {
		if l.ID == id {
			return panel.Bars[i]
		}
	}
	require.Fail(t, "no such limit", id)
	return Bar{}
}

// TestLimitsOfEachState: a bar as far as it is allowed, none for what is not known, and words.
func TestLimitsOfEachState(t *testing.T) {
	binds := limitRow(t, oliveSample, 2, bench.LimitUpright, nil)
	assert.True(t, binds.Known && binds.Low < binds.Likely && binds.Likely < binds.High)
	assert.Equal(t, "≥ 70 % of the plain polymer", plainSpaces(binds.Sub))
	assert.Contains(t, binds.Text, "wt%")
	assert.False(t, binds.Rest)

	free := limitRow(t, oliveSample, 2, bench.LimitCost, nil)
	assert.True(t, free.Known && free.Open)
	assert.Equal(t, "> 30 wt%", free.Text)

	none := limitRow(t, oliveSample, 2, bench.LimitTopSize, func(p *project.Project) { p.Loading.TopShare = quantity.MustParse[quantity.Fraction]("2 %") })
	assert.True(t, none.Known)
	assert.Zero(t, none.Likely)
	assert.Equal(t, "0 wt%", none.Text)
	assert.Equal(t, "≤ 2 % of the nozzle's bore", plainSpaces(none.Sub), "the maker's own")

	tested := limitRow(t, oliveSample, 2, bench.LimitBend, nil)
	assert.True(t, tested.Known && tested.Rest)
	assert.Equal(t, "10 wt%, tested", tested.Text)

	unknown := limitRow(t, musselSample, 2, bench.LimitBend, nil)
	assert.False(t, unknown.Known)
	assert.Equal(t, "not known", unknown.Sub)
	assert.Empty(t, unknown.Text)

	idle := limitRow(t, oliveSample, 2, bench.LimitHydrolysis, func(p *project.Project) { p.Materials[0].Class = material.ABS })
	assert.False(t, idle.Known)
	assert.Equal(t, "does not apply", idle.Sub)

	floor := limitRow(t, oliveSample, 2, bench.LimitUpright, func(p *project.Project) { p.Loading.FloorUpright = quantity.MustParse[quantity.Pressure]("25 MPa") })
	assert.Equal(t, "≥ 25 MPa", plainSpaces(floor.Sub))
}

func plainSpaces(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// TestLimitThatStopsFirstStandsOut: by its place, its colour and its bold name.
func TestLimitThatStopsFirstStandsOut(t *testing.T) {
	_, s := evaluated(t, oliveSample, nil)
	panel := Limits(s, 2, bench.LimitCost, wording.New("en")).Panels[0]
	for i, bar := range panel.Bars {
		assert.Equal(t, i == 0, bar.Strong, bar.Label)
		assert.Equal(t, i == 0, bar.Colour == 1, bar.Label)
		assert.Equal(t, s.Limits(2).Limits[i].ID == bench.LimitCost, bar.Chosen, bar.Label)
	}
	require.Len(t, panel.Marks, 3, "the blends with powder, not the plain polymer")
	for _, m := range panel.Marks {
		assert.Equal(t, m.Label == s.Blends[2].Name, m.Strong)
	}
}

// TestBlendsBeyondTheAxisAreMarkedAtItsEnd, with an arrow to their content, in both pictures:
// nothing is silently missing.
func TestBlendsBeyondTheAxisAreMarkedAtItsEnd(t *testing.T) {
	w := wording.New("en")
	for most, want := range map[string]map[string]float64{
		"8 %":  {"Olive 5": 5, "Olive 10 → 10 wt%": 8, "Olive 10, with regrind → 10 wt%": 8},
		"10 %": {"Olive 5": 5, "Olive 10": 10, "Olive 10, with regrind": 10},
	} {
		p, s := evaluated(t, oliveSample, func(p *project.Project) { p.Loading.Most = quantity.MustParse[quantity.Fraction](most) })
		for _, picture := range []Picture{Limits(s, 2, "", w), Strength(p, s, 2, w)} {
			marked := map[string]float64{}
			for _, m := range picture.Panels[0].Marks {
				marked[plainSpaces(m.Label)] = m.X
				assert.Equal(t, strings.HasPrefix(plainSpaces(m.Label)+" →", "Olive 10 →"), m.Strong, m.Label)
			}
			assert.Len(t, marked, len(want))
			for label, x := range want {
				assert.InDelta(t, x, marked[label], 1e-9, "%s: %s", most, label)
			}
			shown := plainSpaces(strings.Join(shownTexts(checkDrawn(t, picture, DefaultStyle(686, 501, false))), "\n"))
			for label := range want {
				assert.Contains(t, shown, label)
			}
		}
	}
}

// TestLimitsWithoutThemSayWhy: no blend, no powder, an unfinished recipe.
func TestLimitsWithoutThemSayWhy(t *testing.T) {
	w := wording.New("en")
	empty := project.New("EUR")
	p, s := evaluated(t, oliveSample, func(p *project.Project) { p.Blends[2].Parts[0].Amount = project.Amount{} })
	nothing := bench.Evaluate(&empty)
	for name, pictures := range map[string][2]Picture{
		"There is no blend":        {Limits(nothing, -1, "", w), Strength(&empty, nothing, -1, w)},
		"holds no powder":          {Limits(s, 0, "", w), Strength(p, s, 0, w)},
		"make no whole":            {Limits(s, 2, "", w), Strength(p, s, 2, w)},
		"see the strength against": {{}, Strength(strengthless(t))},
	} {
		for _, picture := range pictures {
			if picture.Title == "" {
				continue
			}
			assert.Empty(t, picture.Panels, name)
			assert.Contains(t, picture.Empty, name)
			assert.NotEmpty(t, picture.Alt, name)
			lay := checkDrawn(t, picture, DefaultStyle(686, 501, false))
			assert.Greater(t, len(lay.Texts), 1, name)
		}
	}
}

// strengthless is a blend of which neither strength nor what is kept of it is known.
func strengthless(t *testing.T) (*project.Project, *bench.Sheet, int, *wording.Words) {
	p, s := evaluated(t, oliveSample, func(p *project.Project) {
		p.Materials[0].Strength = quantity.Of[quantity.Pressure]{}
		p.Materials[1].Class = material.Fibre
	})
	return p, s, 2, wording.New("en")
}

// TestNothingKnownIsStillAPicture: outlines only, and no limit blamed.
func TestNothingKnownIsStillAPicture(t *testing.T) {
	_, s := evaluated(t, oliveSample, func(p *project.Project) {
		p.Materials[0].Strength, p.Materials[0].Class = quantity.Of[quantity.Pressure]{}, ""
		p.Materials[1] = material.Material{ID: p.Materials[1].ID, Name: "Unknown", Kind: material.Filler, Class: material.Fibre}
		p.Print, p.Line, p.Cost, p.Melt, p.Spool.Bend, p.Spool.Made = project.Print{}, project.Line{}, project.Cost{}, project.Melt{}, project.Bend{}, nil
	})
	panel := Limits(s, 2, "", wording.New("en")).Panels[0]
	for _, bar := range panel.Bars {
		assert.False(t, bar.Known, bar.Label)
		assert.False(t, bar.Strong, bar.Label)
	}
	checkDrawn(t, Picture{Panels: []Panel{panel}}, DefaultStyle(686, 501, false))
}

// TestReachIsSolidThenFades: the colours along the bar.
func TestReachIsSolidThenFades(t *testing.T) {
	s := DefaultStyle(600, 200, false)
	draw := func(b Bar) (func(x float64) float64, Layout) {
		b.Label, b.Reach, b.Known = "a", true, true
		img, lay := new(Renderer).Render(Picture{Panels: []Panel{{X: Axis{Min: 0, Max: 30}, Bars: []Bar{b}}}}, s)
		return func(x float64) float64 {
			px, py := lay.Panels[0].ToPixel(x, 0.5)
			return luminance(img.RGBAAt(int(px), int(py)+3))
		}, lay
	}
	at, lay := draw(Bar{Low: 5, Likely: 12, High: 20})
	white := luminance(s.Background)
	assert.InDelta(t, at(1), at(4.5), 1e-9, "solid")
	assert.Less(t, at(4.5), at(8))
	assert.Less(t, at(8), at(14))
	assert.Less(t, at(14), at(19))
	assert.Less(t, at(19), white)
	assert.InDelta(t, white, at(23), 1e-9, "nothing beyond")
	assert.Less(t, at(12), at(4.5), "the tick")
	assert.Equal(t, lay.Panels[0].Area.X0, lay.Targets[0].Box.X0)

	open, _ := draw(Bar{Low: 5, Likely: 12, High: 30, Open: true})
	closed, _ := draw(Bar{Low: 5, Likely: 12, High: 30})
	assert.Less(t, open(29), closed(29), "it goes on beyond the axis")
	full, _ := draw(Bar{Low: 30, Likely: 30, High: 30, Open: true})
	assert.InDelta(t, at(1), full(29.5), 1e-9)
	rest, _ := draw(Bar{Low: 10, Likely: 10, High: 10, Rest: true})
	assert.InDelta(t, white, rest(22), 1e-9, "an outline is empty")
	none, _ := draw(Bar{Low: 0, Likely: 0, High: 0})
	assert.InDelta(t, white, none(1), 1e-9)
	assert.Less(t, none(0.05), 0.5, "a tick at nothing")
}

// TestLongNamesOfRowsGoOnInTheNextLine instead of being cut off.
func TestLongNamesOfRowsGoOnInTheNextLine(t *testing.T) {
	p := Picture{Panels: []Panel{{X: Axis{Min: 0, Max: 30}}}}
	for range 4 {
		p.Panels[0].Bars = append(p.Panels[0].Bars, Bar{Label: "Powder that the pellets carry without a binder", Sub: "≤ 100 % of what they carry", Reach: true, Known: true, Low: 5, Likely: 10, High: 20})
	}
	shown := strings.Join(shownTexts(checkDrawn(t, p, DefaultStyle(420, 460, false))), " ")
	assert.NotContains(t, shown, "…")
	assert.Contains(t, shown, "≤ 100 %")
	crowded := strings.Join(shownTexts(checkDrawn(t, p, DefaultStyle(420, 120, false))), " ")
	assert.Contains(t, crowded, "Powder that", "what there is room for")
}

// TestLimitsAtTheSizeOfTheWindow: names with what is allowed, numbers, axis and blends, none
// cut off; with large text the names and the axis at least.
func TestLimitsAtTheSizeOfTheWindow(t *testing.T) {
	w := wording.New("en")
	for _, sample := range []string{oliveSample, musselSample} {
		_, s := evaluated(t, sample, nil)
		picture := Limits(s, 2, bench.LimitBend, w)
		style := DefaultStyle(686, 501, true)
		style.TextSize = 12.5
		shown := strings.Join(shownTexts(checkDrawn(t, picture, style)), "\n")
		assert.NotContains(t, shown, "…")
		for _, bar := range picture.Panels[0].Bars {
			for _, want := range []string{bar.Label, bar.Sub, bar.Text} {
				assert.Contains(t, plainSpaces(shown), plainSpaces(want))
			}
		}
		for i := 1; i < len(s.Blends); i++ {
			assert.Contains(t, shown, s.Blends[i].Name)
		}
		assert.Contains(t, shown, "filler content, wt%")
		style = DefaultStyle(940, 690, false)
		style.TextSize = 25
		shown = strings.Join(shownTexts(checkDrawn(t, picture, style)), "\n")
		for _, bar := range picture.Panels[0].Bars {
			assert.Contains(t, shown, bar.Label)
		}
		assert.Contains(t, shown, "filler content, wt%")
		for _, size := range sizes {
			checkDrawn(t, picture, DefaultStyle(size[0], size[1], false))
		}
	}
}

// TestRowUnderThePointer: the whole height of a row, its name included.
func TestRowUnderThePointer(t *testing.T) {
	_, s := evaluated(t, oliveSample, nil)
	lay := checkDrawn(t, Limits(s, 2, "", wording.New("en")), DefaultStyle(686, 501, false))
	for _, target := range lay.Targets {
		if target.Kind == OnBar {
			_, row, found := lay.Row((target.Box.Y0 + target.Box.Y1) / 2)
			assert.True(t, found)
			assert.Equal(t, target.Index, row)
		}
	}
	_, _, found := lay.Row(lay.Panels[0].Area.Y0 - 1)
	assert.False(t, found)
	_, _, found = lay.Row(lay.Panels[0].Area.Y1 + 1)
	assert.False(t, found)
	_, _, found = checkDrawn(t, costAndDensity(), DefaultStyle(686, 501, false)).Row(200)
	assert.False(t, found, "no rows")
}

// TestStrengthShowsBothDirections: curves with bands, points with the ± with which they
// count, and what is wanted.
func TestStrengthShowsBothDirections(t *testing.T) {
	w := wording.New("en")
	point := func(blend, mean string, d project.Direction, spools int) project.StrengthPoint {
		return project.StrengthPoint{Blend: project.BlendID(blend), Direction: d, Mean: quantity.MustParse[quantity.Pressure](mean), Spools: spools}
	}
	p, s := evaluated(t, oliveSample, func(p *project.Project) {
		p.Strength.Points = []project.StrengthPoint{
			point("neat", "58 ± 1 MPa", project.Flat, 2), point("olive-5", "53 ± 1 MPa", project.Flat, 2),
			point("olive-5", "27 ± 1 MPa", project.Upright, 1),
			{Blend: "olive-5", Direction: project.Flat},
			{Direction: project.Flat},
		}
		p.Loading.FloorUpright = quantity.MustParse[quantity.Pressure]("25 MPa")
	})
	panel := Strength(p, s, 2, w).Panels[0]
	require.Len(t, panel.Lines, 2)
	require.Len(t, panel.Bands, 2)
	require.Len(t, panel.Points, 2)
	assert.Equal(t, []float64{0, 5}, rounded(panel.Points[0].X))
	assert.InDelta(t, 1, panel.Points[0].HighErr[1], 1e-9)
	assert.Greater(t, panel.Points[1].HighErr[0], 4.0, "one spool leaves more open than its ± says")
	assert.NotEqual(t, panel.Points[0].Marker, panel.Points[1].Marker)
	assert.Equal(t, []string{"curve, flat", "curve, upright"}, []string{panel.Lines[0].Name, panel.Lines[1].Name}, "told from the bars")
	require.Len(t, panel.Points[0].Labels, 2)
	assert.Equal(t, "bars: 58 MPa", plainSpaces(panel.Points[0].Labels[0]))
	assert.Equal(t, "bars: 27 MPa", plainSpaces(panel.Points[1].Labels[0]))
	require.Len(t, panel.Levels, 2)
	assert.InDelta(t, 0.7*58, panel.Levels[0].Y, 1e-6, "70 % of the plain polymer")
	assert.InDelta(t, 25, panel.Levels[1].Y, 1e-9)
	checkDrawn(t, Picture{Panels: []Panel{panel}}, DefaultStyle(686, 501, false))

	p, s = evaluated(t, oliveSample, func(p *project.Project) { p.Materials[0].Strength = quantity.Of[quantity.Pressure]{} })
	panel = Strength(p, s, 2, w).Panels[0]
	assert.Equal(t, []string{"printed flat", "printed upright"}, []string{panel.Lines[0].Name, panel.Lines[1].Name}, "no bars to tell it from")
	assert.Equal(t, "%", panel.Y.Unit, "what is kept, while the plain polymer is not known")
	for _, line := range panel.Lines {
		assert.Equal(t, []float64{0, 100}, []float64{line.X[0], line.Y[0]}, fmt.Sprint("all is kept of the plain polymer: ", line.Name))
	}
	assert.InDelta(t, 70, panel.Levels[0].Y, 1e-9)
}

// TestAdviceIsCalledSo in its name, which stands where there is no room for more.
func TestAdviceIsCalledSo(t *testing.T) {
	assert.Equal(t, "Moisture limit (advice)", limitRow(t, oliveSample, 1, bench.LimitMoisture, nil).Label)
	entered := func(p *project.Project) {
		p.Loading.WaterShare = quantity.MustParse[quantity.Fraction]("100 %")
	}
	assert.Equal(t, "Moisture limit of the polymer", limitRow(t, oliveSample, 1, bench.LimitMoisture, entered).Label)
}

// TestBarOfCostBeginsWhereItIsKept: little powder does not pay for the change of material.
func TestBarOfCostBeginsWhereItIsKept(t *testing.T) {
	assert.Greater(t, limitRow(t, oliveSample, 1, bench.LimitCost, nil).From, 1.0)
	assert.Zero(t, limitRow(t, oliveSample, 1, bench.LimitPickUp, nil).From)
}

// TestAxisStaysWhereItIsWhicheverLimitIsFirst: the row of what stops first is bold, and its turn
// to the next while a lever is moved leaves the axis alone.
func TestAxisStaysWhereItIsWhicheverLimitIsFirst(t *testing.T) {
	_, s := evaluated(t, oliveSample, nil)
	area := func(first int) Rect {
		picture := Limits(s, 2, "", wording.New("en"))
		for i := range picture.Panels[0].Bars {
			picture.Panels[0].Bars[i].Strong = i == first
		}
		_, lay := new(Renderer).Render(picture, DefaultStyle(700, 520, true))
		return lay.Panels[0].Area
	}
	want := area(-1)
	for i := range Limits(s, 2, "", wording.New("en")).Panels[0].Bars {
		assert.Equal(t, want, area(i), i)
	}
}
