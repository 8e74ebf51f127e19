package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// change edits the document from outside the pane.
func (r *rig) change(change func(p *project.Project)) {
	r.t.Helper()
	require.NoError(r.t, r.bench.Edit("change", "", func(p *project.Project) error { change(p); return nil }))
}

// TestTestsSayWhatTheyAreGoodFor: a plain test waits for filled ones, a filled one says
// what it is used for, and what it lacks without a plain one that was made alike.
func TestTestsSayWhatTheyAreGoodFor(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.Lead("/melt/tests/0/rows")
	assert.Contains(t, plain(r.said()), "A good test of the plain polymer")
	r.bench.Lead("/melt/tests/1/rows")
	assert.Contains(t, plain(r.said()), "This is used as the melt flow of Olive 5.")
	assert.NotContains(t, plain(r.said()), "× (", "a ratio is no factor")
	r.enter("/melt/tests/1/temperature", "200 °C")
	assert.Contains(t, plain(r.said()), "no good one of its plain polymer")
	r.undo()
	r.change(func(p *project.Project) { p.Melt.Tests[1].SetAside = true })
	assert.Contains(t, plain(r.said()), "Set aside: it is not used.")
}

// TestRatesNameTheirConditions: no melt flow rate without temperature and load, and what
// is missing is said.
func TestRatesNameTheirConditions(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.Lead("/melt/tests/1/rows")
	assert.Contains(t, plain(r.said()), "190 °C, 2.16 kg")
	assert.Contains(t, plain(r.said()), "volume rate and viscosity wait for it")
	r.enter("/melt/tests/1/melt_density", "1.09 g/cm3")
	assert.NotContains(t, plain(r.said()), "volume rate and viscosity wait for it")
	r.change(func(p *project.Project) { p.Melt.Tests[1].Load = quantity.Of[quantity.Mass]{} })
	assert.Contains(t, plain(r.said()), "190 °C, load not entered")
	assert.Contains(t, plain(r.said()), "enter the load")
	r.change(func(p *project.Project) {
		p.Melt.Tests, p.Materials[0].MeltFlow = nil, quantity.Of[quantity.MeltFlow]{}
	})
	r.bench.OpenSection("why")
	assert.Contains(t, plain(r.said()), "enter the melt flow from the data sheet of the polymer")
}

// TestLawsSayWhyTheyDoNotHold: beside a law that was made for less powder stands for how
// much.
func TestLawsSayWhyTheyDoNotHold(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	said := plain(r.said())
	assert.Contains(t, said, "7.9 vol% in the melt, and it was made for up to 2 vol%")
	assert.Contains(t, said, "the one that is used")
	r.change(func(p *project.Project) {
		p.Blends[2].Parts[1].Amount = project.Content(quantity.MustParse[quantity.Content]("60 wt%"))
	})
	assert.Contains(t, plain(r.said()), "nine tenths of the packing limit")
}

// TestWindowSaysItsMargin: in kelvin, and with a refused entry the last good one stays.
func TestWindowSaysItsMargin(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.OpenSection("temperature")
	require.Contains(t, plain(r.said()), "The melt is 3 K below the upper end of its window")
	r.enter("/print/temperature", "hot")
	assert.True(t, r.field("/print/temperature").Refused())
	assert.Equal(t, "200 °C", r.bench.Project().Print.Temperature.Pretty(false))
	r.change(func(p *project.Project) {
		p.Melt.Temperature = quantity.MustParse[quantity.Temperature]("200 ± 5 °C")
	})
	assert.Contains(t, plain(r.said()), "The melt is 7 K above the upper end of its window")
}

// TestMoistureOfASampleIsTold: with the conditions, and where it makes two tests differ.
func TestMoistureOfASampleIsTold(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.Lead("/melt/tests/1/rows")
	assert.NotContains(t, plain(r.said()), "part of the ratio is that water")
	r.enter("/melt/tests/1/moisture", "0.12 %")
	assert.Contains(t, plain(r.said()), "moisture 0.12 %")
	r.change(func(p *project.Project) { p.Melt.Tests[0].Moisture = quantity.MustParse[quantity.Fraction]("150 ppm") })
	assert.Contains(t, plain(r.said()), "The sample held 0.12 % of water, that of the plain polymer 150 ppm")
	r.enter("/melt/tests/1/moisture", "200 ppm")
	assert.NotContains(t, plain(r.said()), "part of the ratio is that water")
}

// TestATestKeepsTheContentItWasMadeAt: that of the blend when it is added or chosen; when
// the recipe is changed, the pane says that the test does not stand for it any more.
func TestATestKeepsTheContentItWasMadeAt(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.OpenSection("tests")
	r.tapped("pane.melt.add_test")
	test := func() project.FlowTest { return r.bench.Project().Melt.Tests[2] }
	assert.Equal(t, "10.0 wt%", test().Content.String())
	blends := r.input("/melt/tests/2/blend")
	blends.Focus()
	r.key(fyne.KeyLeft)
	require.Equal(t, project.BlendID("olive-5"), test().Blend)
	assert.Equal(t, "5.0 wt%", test().Content.String())
	r.key(fyne.KeyLeft)
	require.Equal(t, project.BlendID("neat"), test().Blend)
	assert.Equal(t, "0.0 wt%", test().Content.String())

	r.change(func(p *project.Project) {
		p.Melt.Tests[1].Content = quantity.MustParse[quantity.Fraction]("5.0 wt%")
	})
	r.bench.Lead("/melt/tests/1/content")
	assert.Contains(t, plain(r.said()), "This is used as the melt flow of Olive 5.")
	r.change(func(p *project.Project) {
		p.Blends[1].Parts[1].Amount = project.Content(quantity.MustParse[quantity.Content]("7 wt%"))
	})
	assert.Contains(t, plain(r.said()), "it had 5.0 wt% of powder and now has 7 wt%. The test is not used.")
	r.enter("/melt/tests/1/content", "7 wt%")
	assert.Contains(t, plain(r.said()), "This is used as the melt flow of Olive 5.")
}

// TestATestSaysWhatItIsHeldAgainst: which test of the plain polymer, and by what rule; a new
// one that takes the place of another is no secret at either.
func TestATestSaysWhatItIsHeldAgainst(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	said := func(test string) string {
		r.bench.Lead("/melt/tests/" + test + "/rows")
		return plain(r.said())
	}
	assert.Contains(t, said("1"), "Held against Plain, dried: the last good test in the list of the plain polymer")
	assert.Contains(t, said("0"), "Held against it now: Five per cent.")
	r.change(func(p *project.Project) {
		again := project.Clone(*p).Melt.Tests[0]
		again.Name = "Plain, again"
		p.Melt.Tests = append(p.Melt.Tests, again)
	})
	assert.Contains(t, said("1"), "Held against Plain, again: the last good test in the list")
	assert.Contains(t, said("0"), "but Plain, again comes after it")
	assert.NotContains(t, plain(r.said()), "Held against it now")
	assert.Contains(t, said("2"), "Held against it now: Five per cent.")
	r.change(func(p *project.Project) {
		p.Melt.Tests[2].Temperature = quantity.MustParse[quantity.Temperature]("200 °C")
	})
	assert.Contains(t, said("0"), "Held against it now: Five per cent.", "made in another way")
	assert.NotContains(t, said("2"), "Held against it now")
}
