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

func TestBenchPicturesHaveWordsAndDraw(t *testing.T) {
	w := wording.New("en")
	var r Renderer
	for _, name := range []string{"olive-stone-pla", "mussel-shell-petg"} {
		for about, change := range benchChanges {
			for id, p := range benchPictures(t, name, w, change) {
				for _, text := range []string{p.Title, p.Alt, p.Empty} {
					assert.NotEmpty(t, text, "%s, %s: %s", name, about, id)
				}
				for _, size := range [][2]int{{400, 300}, {650, 520}, {1300, 1000}} {
					for _, dark := range []bool{false, true} {
						image, _ := r.Render(p, DefaultStyle(float64(size[0]), float64(size[1]), dark))
						require.NotNil(t, image)
					}
				}
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
	assert.Contains(t, moisture.Y.Label+picture.Title, "wet basis")
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
