package figure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// evaluated is a sample that comes with the program, changed and evaluated.
func evaluated(t testing.TB, name string, change func(*project.Project)) (*project.Project, *bench.Sheet) {
	t.Helper()
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	require.NoError(t, err)
	p, _, err := project.Decode(data)
	require.NoError(t, err)
	if change != nil {
		change(&p)
	}
	require.NoError(t, project.Validate(&p))
	return &p, bench.Evaluate(&p)
}

// benchPictures are all pictures of the bench of a sample's powder.
func benchPictures(t testing.TB, name string, w *wording.Words, change func(*project.Project)) map[string]Picture {
	p, s := evaluated(t, name, change)
	m, sheet, last := &p.Materials[1], s.Powder(1), &s.Blends[len(s.Blends)-1]
	return map[string]Picture{
		"drying": Drying(sheet, 0, last.Drying, w), "storage": Storage(m, sheet, w), "preparation": Preparation(m, sheet, w),
		"sieving": Sieving(m, sheet, w), "clogging": Clogging(last, w), "evidence": ClogEvidence(last, w),
		"table": ClogTable(&last.Clog, w), "grain": Grain(sheet, w),
	}
}

// situations of a bench, from full to empty and odd.
var benchChanges = map[string]func(*project.Project){
	"as it is": nil,
	"no bench": func(p *project.Project) {
		p.Materials[1].Powder.Drying.Runs = nil
		p.Materials[1].Powder.Sieving.Sieves = nil
	},
	"no nozzle": func(p *project.Project) { p.Print.Nozzle = quantity.Of[quantity.Length]{} },
	"one row": func(p *project.Project) {
		p.Materials[1].Powder.Drying.Runs = p.Materials[1].Powder.Drying.Runs[:min(1, len(p.Materials[1].Powder.Drying.Runs))]
		oneRow(p)
	},
	"long names": func(p *project.Project) { longNames(p) },
	"dry target": func(p *project.Project) {
		p.Materials[1].Powder.Drying.Target = quantity.MustParse[quantity.Fraction]("1 ppm")
	},
}

func oneRow(p *project.Project) {
	powder := &p.Materials[1].Powder
	for i := range powder.Drying.Runs {
		powder.Drying.Runs[i].Readings = powder.Drying.Runs[i].Readings[:1]
	}
	powder.Sieving.Sieves = powder.Sieving.Sieves[:1]
	powder.Preparation.Steps = powder.Preparation.Steps[:1]
}

func longNames(p *project.Project) {
	for i := range p.Materials[1].Powder.Preparation.Steps {
		p.Materials[1].Powder.Preparation.Steps[i].Name = strings.Repeat("grinding again ", 4)
	}
}

// benchSizes are sizes of the picture with the size of the text: small, as in the window, large, and for people who need large text.
var benchSizes = [][3]float64{{400, 300, 13}, {650, 520, 13}, {1300, 1000, 13}, {650, 520, 26}, {200, 600, 13}}

// checkBenchPicture draws a picture of the bench as it may be needed, and checks its texts.
func checkBenchPicture(t *testing.T, p Picture, about string) {
	t.Helper()
	for _, text := range []string{p.Title, p.Alt, p.Empty} {
		assert.NotEmpty(t, text, about)
	}
	for i, size := range benchSizes {
		style := DefaultStyle(size[0], size[1], i%2 == 1)
		style.TextSize = size[2]
		checkDrawn(t, p, style)
	}
}

func TestBenchPicturesHaveWordsAndDraw(t *testing.T) {
	w := wording.New("en")
	for _, name := range []string{"olive-stone-pla", "mussel-shell-petg"} {
		for about, change := range benchChanges {
			for id, p := range benchPictures(t, name, w, change) {
				t.Run(name+", "+about+", "+id, func(t *testing.T) { checkBenchPicture(t, p, id) })
			}
		}
	}
	assert.Empty(t, w.Missing())
}

// The drying picture of the sample: every weighing, the fit with its band, the
// target, and the residuals below.
func TestDryingPicture(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, "olive-stone-pla", nil)
	picture := Drying(s.Powder(1), 0, s.Blends[2].Drying, w)
	require.Len(t, picture.Panels, 2)
	moisture, residuals := picture.Panels[0], picture.Panels[1]
	weighed := len(p.Materials[1].Powder.Drying.Runs[0].Readings)
	points := func(panel Panel) (n int) {
		for _, set := range panel.Points {
			n += len(set.X)
		}
		return n
	}
	assert.Equal(t, weighed, points(moisture))
	assert.Equal(t, weighed, points(residuals))
	require.NotEmpty(t, moisture.Lines)
	require.NotEmpty(t, moisture.Bands)
	target := s.Blends[2].Drying.Target.Value
	assert.True(t, slices.ContainsFunc(moisture.Levels, func(l Level) bool { return math.Abs(l.Y-target) < 1e-9 }))
	assert.True(t, slices.ContainsFunc(moisture.Marks, func(m Mark) bool { return math.Abs(m.X-s.Blends[2].Drying.Time.Value) < 1e-9 }))
	assert.Contains(t, moisture.Y.Label, "wet basis")
	assert.Equal(t, moisture.X, residuals.X)
	assert.InDelta(t, -residuals.Y.Min, residuals.Y.Max, 1e-12, "around zero")
}

// The fitted curve is whole as far as the log goes, and dashed beyond it.
func TestDryingCurveIsDashedBeyondTheLog(t *testing.T) {
	_, s := evaluated(t, "olive-stone-pla", nil)
	r := &s.Powder(1).Drying.Runs[0]
	lines := Drying(s.Powder(1), 0, s.Blends[2].Drying, wording.New("en")).Panels[0].Lines
	require.Len(t, lines, 2)
	inside, beyond := lines[0], lines[1]
	assert.False(t, inside.Dash)
	assert.True(t, beyond.Dash)
	assert.Equal(t, inside.X[len(inside.X)-1], beyond.X[0], "they meet")
	assert.GreaterOrEqual(t, beyond.X[0], r.LastH)
	assert.Less(t, beyond.X[0], 1.05*r.LastH)
	assert.InDelta(t, 1.1*r.LastH, beyond.X[len(beyond.X)-1], 1e-9, "the target lies before the last weighing")
}

// The marks are those of the use that the run has.
func TestDryingMarksTheTimesOfItsRun(t *testing.T) {
	_, s := evaluated(t, "olive-stone-pla", func(p *project.Project) {
		runs := &p.Materials[1].Powder.Drying.Runs
		shorter := (*runs)[0]
		shorter.Readings = shorter.Readings[:len(shorter.Readings)-2]
		*runs = append(*runs, shorter)
	})
	uses := s.Blends[2].DryingRuns
	require.Len(t, uses, 2)
	assert.NotEqual(t, uses[0].Time, uses[1].Time)
	for run, use := range uses {
		marks := Drying(s.Powder(1), run, use, wording.New("en")).Panels[0].Marks
		require.Len(t, marks, 2, "run %d", run)
		assert.Equal(t, s.Powder(1).Drying.Runs[run].LastH, marks[0].X)
		assert.Equal(t, use.Time.Value, marks[1].X)
	}
}

// A run whose dry mass nobody knows shows its net mass.
func TestDryingWithoutMoistureShowsTheMass(t *testing.T) {
	_, s := evaluated(t, "olive-stone-pla", nil)
	ps := s.Powder(1)
	rows := ps.Drying.Runs[0].Rows
	ps.Drying.Runs[0] = bench.RunSheet{Rows: rows, LastH: 3.5, Better: -1}
	for i := range rows {
		rows[i].HasMoisture, rows[i].HasResidual = false, false
	}
	p := Drying(ps, 0, bench.DryingUse{}, wording.New("en"))
	require.Len(t, p.Panels, 1)
	assert.Contains(t, p.Title, "Mass")
	assert.Equal(t, "g", p.Panels[0].Y.Unit)
	assert.Equal(t, rows[0].NetG, p.Panels[0].Points[0].Y[0])
}

// What is left after each step, and the yield, in grams of a wet kilogram.
func TestPreparationPicture(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, "olive-stone-pla", nil)
	sheet := &s.Powder(1).Preparation
	bars := Preparation(&p.Materials[1], s.Powder(1), w).Panels[0].Bars
	require.Len(t, bars, len(sheet.Steps)+2)
	assert.Equal(t, 1000.0, bars[0].Likely)
	for i, step := range sheet.Steps {
		assert.Equal(t, step.LeftG, bars[i+1].Likely)
		assert.Contains(t, bars[i+1].Text, "%")
	}
	last := bars[len(bars)-1]
	assert.True(t, last.Strong)
	assert.InDelta(t, 10*sheet.Yield.Value, last.Likely, 1e-9)
}

// The bars count grains in a spool, the texts say the chance of any.
func TestClogEvidencePicture(t *testing.T) {
	w := wording.New("en")
	_, s := evaluated(t, "olive-stone-pla", nil)
	b := &s.Blends[2]
	panel := ClogEvidence(b, w).Panels[0]
	require.Len(t, panel.Bars, len(b.Clog.Evidence))
	metres := b.Result(bench.LengthPerSpool).Value
	for i, e := range b.Clog.Evidence {
		bar := panel.Bars[i]
		assert.InEpsilon(t, metres*e.PerMetre.Value, bar.Likely, 1e-9)
		assert.Equal(t, e.Used, bar.Strong)
		assert.Contains(t, bar.Text, "%")
		assert.LessOrEqual(t, bar.High, panel.X.Max)
		if e.Kind == bench.FromTail {
			assert.Contains(t, bar.Sub, "extrapolation")
		}
	}
}

// wordedResult is a result and how it is told.
type wordedResult struct {
	value, low, high float64
	want             string
}

func checkWorded(t *testing.T, r bench.Result, list []wordedResult, say func(bench.Result) string) {
	t.Helper()
	for _, c := range list {
		r.Value, r.Low, r.High = c.value, c.low, c.high
		assert.Equal(t, c.want, say(r))
	}
}

// The words for a chance, from none to sure.
func TestChanceText(t *testing.T) {
	w := wording.New("en")
	_, s := evaluated(t, "olive-stone-pla", nil)
	checkWorded(t, s.Blends[2].Clog.Evidence[0].Spool, []wordedResult{
		{0, 0, 0, "none"},
		{0, 0, 63.2, "up to 63 %"},
		{8.8, 0, 33.4, "8.8 % (0 to 33)"},
		{52, 31, 68, "52 % (31 to 68)"},
		{99.9, 0.2, 100, "0 to 100 %"},
		{99.9, 42, 100, "over 99 % (from 42 %)"},
		{100, 99.9, 100, "over 99 %"},
	}, func(r bench.Result) string { return chanceText(r, w) })
}

// Values and their ranges are written with the same decimals, where they can be.
func TestRanged(t *testing.T) {
	w := wording.New("en")
	_, s := evaluated(t, "olive-stone-pla", nil)
	checkWorded(t, s.Blends[2].Result(bench.Density), []wordedResult{
		{5.4, 4.9, 6.1, "5.4 h (4.9 to 6.1)"},
		{3, 2.95, 3.04, "3.0 h"},
		{28.3, 26, 30.4, "28 h (26 to 30)"},
		{2, 0.04, 30, "2 h (0.04 to 30)"},
		{0, 0, 0, "0 h"},
	}, func(r bench.Result) string { return ranged(r, "h", 2, w) })
}

// Grain and heap are bars from zero.
func TestGrainPicture(t *testing.T) {
	_, s := evaluated(t, "olive-stone-pla", nil)
	panel := Grain(s.Powder(1), wording.New("en")).Panels[0]
	require.Len(t, panel.Bars, 3)
	_, lay := new(Renderer).Render(Picture{Panels: []Panel{panel}}, DefaultStyle(650, 520, false))
	assert.Zero(t, lay.Panels[0].X.Min)
	for i, r := range []bench.Result{s.Powder(1).Grain.Bulk, s.Powder(1).Grain.Tapped, s.Powder(1).Grain.Density} {
		assert.Equal(t, r.Value, panel.Bars[i].Likely)
	}
	assert.Contains(t, panel.Bars[1].Sub, "vol%")
}

// The room is marked on the curve of the store.
func TestStoragePicture(t *testing.T) {
	p, s := evaluated(t, "olive-stone-pla", nil)
	panel := Storage(&p.Materials[1], s.Powder(1), wording.New("en")).Panels[0]
	assert.Contains(t, panel.Y.Label, "wet basis")
	require.Len(t, panel.Lines, 1)
	assert.Equal(t, 90.0, panel.Lines[0].X[len(panel.Lines[0].X)-1])
	require.Len(t, panel.Points, 2)
	assert.Equal(t, s.Powder(1).Storage.Equilibrium.Value, panel.Points[0].Y[0])
	assert.Equal(t, s.Powder(1).Storage.After.Value, panel.Points[1].Y[0])
	require.Len(t, panel.Marks, 1)
	assert.Equal(t, panel.Marks[0].X, panel.Points[0].X[0])
}

// The table of sieves and nozzles says the chance, or that no grain is left.
func TestClogTablePicture(t *testing.T) {
	w := wording.New("en")
	_, s := evaluated(t, "olive-stone-pla", nil)
	clog := &s.Blends[2].Clog
	table := ClogTable(clog, w).Panels[0]
	rows := clog.Table()
	require.Len(t, table.Tiles, len(rows)*len(clog.Nozzles))
	for _, tile := range table.Tiles {
		cell := rows[tile.Row].Cells[tile.Col]
		if cell.Fit == bench.SieveKeepsAll {
			assert.True(t, tile.Done)
			assert.Contains(t, tile.Text, "all below")
			continue
		}
		assert.Contains(t, tile.Text, "%", "the chance")
		assert.NotEmpty(t, tile.Sub, "and what it means")
	}
}

// The passing curve marks the critical size, the check sieve and the bore.
func TestSievingPicture(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, "olive-stone-pla", nil)
	panel := Sieving(&p.Materials[1], s.Powder(1), w).Panels[0]
	assert.True(t, panel.X.Log)
	for _, um := range []float64{400, s.Powder(1).Clogging.Critical.Value, s.Powder(1).Sieving.Top.Value} {
		assert.True(t, slices.ContainsFunc(panel.Marks, func(m Mark) bool { return math.Abs(m.X-um) < 1e-6 }), "%g µm", um)
	}
	n := 0
	for _, set := range panel.Points {
		n += len(set.X)
	}
	assert.Equal(t, len(p.Materials[1].Powder.Sieving.Sieves), n)
}

func BenchmarkDrawDrying(b *testing.B) {
	var r Renderer
	w := wording.New("en")
	_, s := evaluated(b, "olive-stone-pla", nil)
	style := DefaultStyle(650, 520, false)
	for b.Loop() {
		r.Render(Drying(s.Powder(1), 0, s.Blends[2].Drying, w), style)
	}
}

func BenchmarkDrawClogging(b *testing.B) {
	var r Renderer
	w := wording.New("en")
	_, s := evaluated(b, "olive-stone-pla", nil)
	style := DefaultStyle(650, 520, false)
	for b.Loop() {
		r.Render(Clogging(&s.Blends[2], w), style)
	}
}

func BenchmarkDrawSieving(b *testing.B) {
	var r Renderer
	w := wording.New("en")
	p, s := evaluated(b, "olive-stone-pla", nil)
	style := DefaultStyle(650, 520, false)
	for b.Loop() {
		r.Render(Sieving(&p.Materials[1], s.Powder(1), w), style)
	}
}
