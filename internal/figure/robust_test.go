package figure

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// checkDrawn holds what is true of every drawn picture.
func checkDrawn(t *testing.T, p Picture, s Style) Layout {
	t.Helper()
	img, lay := new(Renderer).Render(p, s)
	b := img.Bounds()
	all := Rect{X1: float64(b.Dx()), Y1: float64(b.Dy())}
	inside := func(r Rect) bool {
		const slack = 1.5
		return r.X0 >= -slack && r.Y0 >= -slack && r.X1 <= all.X1+slack && r.Y1 <= all.Y1+slack
	}
	for i, a := range lay.Texts {
		require.True(t, inside(a.Box), "%q at %v leaves the image", a.Shown, a.Box)
		require.NotContains(t, a.Shown, "NaN")
		require.NotContains(t, a.Shown, "Inf")
		for _, o := range lay.Texts[i+1:] {
			require.False(t, shrunk(a.Box).Overlaps(shrunk(o.Box)), "%q %v covers %q %v", a.Shown, a.Box, o.Shown, o.Box)
		}
	}
	for _, target := range lay.Targets {
		require.True(t, inside(target.Box), "%v", target)
		require.False(t, math.IsNaN(target.Box.X0+target.Box.Y0+target.Box.X1+target.Box.Y1), "%v", target)
	}
	return lay
}

// shrunk is the box less the rounding of its place to whole pixels.
func shrunk(r Rect) Rect {
	return Rect{X0: r.X0 + 0.6, Y0: r.Y0 + 0.6, X1: r.X1 - 0.6, Y1: r.Y1 - 0.6}
}

var sizes = [][2]float64{{700, 450}, {320, 200}, {120, 80}, {1400, 300}, {200, 900}, {40, 30}, {1, 1}, {0, 0}, {math.NaN(), -5}}

func TestEveryPictureAtEverySize(t *testing.T) {
	for name, p := range map[string]Picture{
		"blend": costAndDensity(), "melt": meltFlow(), "runs": runList(), "length": lengthAndPoints(), "properties": properties(),
		"crowded": crowded(), "no words": {}, "empty": {Title: "Title", Empty: "Nothing entered yet, and this is how to begin: choose a polymer."},
	} {
		for _, size := range sizes {
			for _, text := range []float64{13, 26} {
				t.Run(fmt.Sprintf("%s %gx%g %g", name, size[0], size[1], text), func(t *testing.T) {
					s := DefaultStyle(size[0], size[1], false)
					s.TextSize = text
					checkDrawn(t, p, s)
				})
			}
		}
	}
}

// crowded has more marks, longer names and more rows than there is room for.
func crowded() Picture {
	long := strings.Repeat("a very long name ", 40)
	p := lengthAndPoints()
	p.Title = long
	p.Panels[0].Y.Label, p.Panels[0].X.Label = long, long
	for i := range 30 {
		p.Panels[0].Marks = append(p.Panels[0].Marks, Mark{X: 1.7 + 0.004*float64(i/2), Label: fmt.Sprintf("Blend %d", i), Strong: i == 7})
		p.Panels[0].Lines = append(p.Panels[0].Lines, Line{Name: fmt.Sprint("line ", i), X: []float64{1.7, 1.8}, Y: []float64{300, 310}, Colour: i})
		p.Panels[0].Levels = append(p.Panels[0].Levels, Level{Y: 300 + float64(i), Label: "level"})
		p.Legend = append(p.Legend, LegendItem{Text: long[:3*i], Swatch: Swatch(i % 5), Marker: Marker(i % 6), Colour: i})
	}
	for i := range 60 {
		p.Panels[0].Points[0].X = append(p.Panels[0].Points[0].X, 1.72+0.001*float64(i))
		p.Panels[0].Points[0].Y = append(p.Panels[0].Points[0].Y, 320+float64(i%7))
		p.Panels[0].Points[0].Labels = append(p.Panels[0].Points[0].Labels, "point")
	}
	m := meltFlow()
	for range 20 {
		m.Panels[0].Bars = append(m.Panels[0].Bars, Bar{Label: long, Sub: long, Text: long, Low: 1, Likely: 2, High: 3, Known: true})
	}
	p.Panels = append(p.Panels, m.Panels...)
	return p
}

func TestDegenerateData(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, panel := range map[string]Panel{
		"nothing":                  {},
		"only marks":               {Marks: []Mark{{X: 1, Label: "a"}}},
		"only names of rows":       {Rows: []Row{{Label: "Day 1"}}},
		"one point":                {Points: []Points{{X: []float64{3}, Y: []float64{4}}}},
		"one point of a line":      {Lines: []Line{{X: []float64{3}, Y: []float64{4}, Name: "a"}}},
		"all not numbers":          {Lines: []Line{{X: []float64{nan, 1}, Y: []float64{1, nan}}}},
		"infinite":                 {Lines: []Line{{X: []float64{0, 1, 2}, Y: []float64{1, inf, -inf}}}, Marks: []Mark{{X: nan, Label: "a"}, {X: inf, Label: "b"}}},
		"lengths differ":           {Lines: []Line{{X: []float64{0, 1, 2}, Y: []float64{1}}}, Bands: []Band{{X: []float64{0, 1}, Low: nil, High: []float64{1, 2}}}},
		"equal values":             {Lines: []Line{{X: []float64{0, 1, 2}, Y: []float64{5, 5, 5}}}},
		"equal places":             {Lines: []Line{{X: []float64{1, 1, 1}, Y: []float64{5, 6, 7}}}},
		"almost equal":             {Lines: []Line{{X: []float64{0, 1}, Y: []float64{1e9, 1e9 + 1e-3}}}},
		"huge":                     {Lines: []Line{{X: []float64{0, 1, 2}, Y: []float64{-1e99, 1e99, 1e308}}}},
		"tiny":                     {Lines: []Line{{X: []float64{0, 1e-90, 2e-90}, Y: []float64{1e-99, 1e-98, 5e-324}}}},
		"far outside given ends":   {X: Axis{Min: 0, Max: 1}, Y: Axis{Min: 0, Max: 1e-9}, Lines: []Line{{X: []float64{-1e99, 0.5, 1e99}, Y: []float64{1e99, 5e-10, -1e99}}}},
		"logarithm of nothing":     {X: Axis{Log: true}, Y: Axis{Log: true}, Lines: []Line{{X: []float64{-1, 0}, Y: []float64{0, -3}}}},
		"logarithm, some":          {X: Axis{Log: true}, Y: Axis{Log: true}, Lines: []Line{{X: []float64{-1, 1, 1e90}, Y: []float64{1, 1e-90, 1e90}}}, Levels: []Level{{Y: -1, Label: "a"}}},
		"logarithm, given at zero": {X: Axis{Log: true, Min: 0, Max: 10}, Lines: []Line{{X: []float64{1, 2}, Y: []float64{1, 2}}}},
		"points, errors":           {Points: []Points{{X: []float64{1, 2}, Y: []float64{3, nan}, LowErr: []float64{nan}, HighErr: []float64{inf, -1, 5}, Labels: []string{"a", "b", "c"}}}},
		"bars, not numbers":        {Bars: []Bar{{Label: "a", Known: true, Low: nan, Likely: nan, High: nan}, {Label: "b", Known: true, Low: 2, Likely: 5, High: 1}, {Known: true, Low: 1, Likely: 1, High: 1}}},
		"bars, logarithm":          {X: Axis{Log: true}, Bars: []Bar{{Label: "a", Known: true, Low: 0, Likely: 0, High: 2}, {Label: "b", Known: true, Low: -5, Likely: -2, High: -1}}},
		"tiles off the grid":       {Tiles: []Tile{{Row: -1}, {Row: 1 << 40, Col: 2}, {Row: 2, Col: 1 << 40}, {Row: 0, Col: 0, Text: "a"}}},
		"named ticks":              {Y: Axis{Ticks: []Tick{{nan, "a"}, {1, "b"}, {1.0001, "c"}, {2, "d"}}}, Lines: []Line{{X: []float64{0, 1}, Y: []float64{1, 2}}}},
		"strange text":             {Y: Axis{Label: "a\nb\x00\xff\u202e", Unit: "漢字"}, Lines: []Line{{X: []float64{0, 1}, Y: []float64{1, 2}, Colour: -7, Width: nan}}},
	} {
		t.Run(name, func(t *testing.T) {
			for _, shared := range []bool{false, true} {
				for _, size := range sizes {
					checkDrawn(t, Picture{Panels: []Panel{panel, panel}, SharedX: shared, Empty: "Nothing yet."}, DefaultStyle(size[0], size[1], true))
				}
			}
		})
	}
}

func TestEmptyPictureSaysSo(t *testing.T) {
	lay := checkDrawn(t, Picture{Title: "Cost", Empty: "Enter a price for each part.", Panels: []Panel{{Marks: []Mark{{X: 1}}}}}, DefaultStyle(700, 450, false))
	require.Len(t, lay.Texts, 2)
	assert.Equal(t, "Cost", lay.Texts[0].Shown)
	assert.Equal(t, "Enter a price for each part.", lay.Texts[1].Shown)
	assert.Empty(t, lay.Panels)
}

func TestEmptyPanelSaysSo(t *testing.T) {
	p := costAndDensity()
	p.Panels[0].Lines, p.Panels[0].Bands, p.Panels[0].Empty = nil, nil, "No price for the pellets."
	lay := checkDrawn(t, p, DefaultStyle(700, 450, false))
	var shown []string
	for _, text := range lay.Texts {
		shown = append(shown, text.Shown)
	}
	assert.Contains(t, shown, "No price for the pellets.")
	assert.Contains(t, shown, "Olive 10", "the marks have their labels in the first panel that has data")
	assert.Len(t, lay.Panels, 2)
}

func TestLongTextIsShortened(t *testing.T) {
	p := crowded()
	p.Panels = p.Panels[:1]
	lay := checkDrawn(t, p, DefaultStyle(700, 450, false))
	cut := 0
	for _, text := range lay.Texts {
		if strings.HasSuffix(text.Shown, "…") {
			cut++
			assert.Greater(t, len(text.Whole), len(text.Shown))
		}
	}
	assert.Positive(t, cut)
}

func TestStrongMarkKeepsItsLabel(t *testing.T) {
	p := crowded()
	p.Panels = p.Panels[:1]
	lay := checkDrawn(t, p, DefaultStyle(500, 450, false))
	for _, target := range lay.Targets {
		if target.Kind == OnMark && target.Text == "Blend 7" {
			assert.Positive(t, target.Label.W())
			return
		}
	}
	t.Fatal("the strong mark is not there")
}

func TestRandomPictures(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for i := range 150 {
		p := randomPicture(rng)
		s := DefaultStyle(20+900*rng.Float64(), 20+700*rng.Float64(), rng.IntN(2) == 0)
		s.Scale, s.TextSize = 0.5+2*rng.Float64(), 8+20*rng.Float64()
		t.Run(fmt.Sprint(i), func(t *testing.T) { checkDrawn(t, p, s) })
	}
}

func randomPicture(rng *rand.Rand) Picture {
	number := func() float64 {
		special := [...]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e300, -1e300, 1e-300}
		if rng.IntN(20) == 0 {
			return special[rng.IntN(len(special))]
		}
		return rng.NormFloat64() * math.Pow(10, float64(rng.IntN(5)))
	}
	series := func() []float64 {
		out := make([]float64, rng.IntN(12))
		for i := range out {
			out[i] = number()
		}
		return out
	}
	word := func() string { return strings.Repeat("word ", rng.IntN(6)) }
	axis := func() Axis {
		a := Axis{Label: word(), Unit: word(), Log: rng.IntN(3) == 0, Hide: rng.IntN(5) == 0, Prefix: "×"}
		if rng.IntN(3) == 0 {
			a.Min, a.Max = number(), number()
		}
		return a
	}
	p := Picture{Title: word(), SharedX: rng.IntN(2) == 0, Empty: word()}
	for range rng.IntN(4) {
		panel := Panel{X: axis(), Y: axis(), Share: number()}
		if rng.IntN(4) == 0 {
			for range rng.IntN(5) {
				panel.Bars = append(panel.Bars, Bar{Label: word(), Sub: word(), Text: word(), Low: number(), Likely: number(), High: number(), Known: rng.IntN(4) > 0})
			}
		}
		for range rng.IntN(5) {
			panel.Lines = append(panel.Lines, Line{Name: word(), X: series(), Y: series(), Colour: rng.IntN(9) - 3})
			panel.Bands = append(panel.Bands, Band{Name: word(), X: series(), Low: series(), High: series()})
			panel.Points = append(panel.Points, Points{X: series(), Y: series(), LowErr: series(), HighErr: series(), Labels: []string{word(), word()}, Marker: Marker(rng.IntN(7))})
			panel.Marks = append(panel.Marks, Mark{X: number(), Label: word(), Strong: rng.IntN(3) == 0})
			panel.Levels = append(panel.Levels, Level{Y: number(), Label: word()})
		}
		p.Panels = append(p.Panels, panel)
	}
	return p
}
