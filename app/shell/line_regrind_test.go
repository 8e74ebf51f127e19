package shell_test

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2/canvas"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// contentOf is an amount of a recipe.
func contentOf(text string) project.Amount {
	return project.Content(quantity.MustParse[quantity.Content](text))
}

// withRegrindOf opens the sample with regrind of a blend made, and not yet in it.
func withRegrindOf(t *testing.T, blend project.BlendID) (r *rig, made int) {
	r = openSample(t, olive)
	r.bench.Choose(blend)
	r.show(bench.PaneLine)
	r.bench.OpenSection("regrind")
	r.tapped("pane.line.add_regrind")
	return r, len(r.bench.Project().Materials) - 1
}

// powder is the content of a blend by its sheet, in wt%.
func (r *rig) powder(blend int) float64 {
	r.t.Helper()
	result := bench.Evaluate(r.bench.Project()).Blends[blend].Result(bench.FillerMassFraction)
	require.True(r.t, result.Known())
	return result.Value
}

// TestRegrindKeepsTheFillerContent: put in, changed and taken out, in one edit each, it
// takes the place of as much new powder as it holds.
func TestRegrindKeepsTheFillerContent(t *testing.T) {
	r, _ := withRegrindOf(t, "olive-10")
	before := r.powder(2)
	amount := func(part int) string { return r.bench.Project().Blends[2].Parts[part].Amount.String() }
	last := len(r.bench.Project().Blends[2].Parts)
	assert.Contains(t, plain(r.said()), "the blend keeps its filler content")
	r.tappedText(r.words.Say("pane.line.put_in", map[string]any{"Blend": "Olive 10"}))
	assert.Equal(t, "10 wt%", amount(last))
	assert.Equal(t, "9 wt%", amount(1), "10 wt% less a tenth of 10 wt%")
	assert.InDelta(t, before, r.powder(2), 1e-6)
	r.enter(fmt.Sprintf("/blends/2/parts/%d/amount", last), "22.5")
	assert.Equal(t, "7.75 wt%", amount(1))
	assert.InDelta(t, before, r.powder(2), 1e-6)
	r.undo()
	assert.Equal(t, "9 wt%", amount(1))
	r.tapped("pane.line.take_out")
	assert.Equal(t, "10 wt%", amount(1))
	assert.InDelta(t, before, r.powder(2), 1e-6)
}

// TestFillerContentThatCannotBeKept: what stands in the way is said, and nothing but the
// regrind is changed.
func TestFillerContentThatCannotBeKept(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *project.Project, made int)
		said   string
	}{
		"content not known": {func(p *project.Project, made int) {
			p.Materials[made].Regrind.Content = quantity.Of[quantity.Fraction]{}
		}, "pane.line.kept_unknown"},
		"powder by volume": {func(p *project.Project, made int) { p.Blends[2].Parts[1].Amount = contentOf("8 vol%") }, "pane.line.kept_amount"},
		"powder with a ±":  {func(p *project.Project, made int) { p.Blends[2].Parts[1].Amount = contentOf("10 ± 1 wt%") }, "pane.line.kept_amount"},
		"no new powder": {func(p *project.Project, made int) {
			p.Blends[2].Parts = append(p.Blends[2].Parts[:1:1], p.Blends[2].Parts[2:]...)
		}, "pane.line.kept_none"},
		"none left": {func(p *project.Project, made int) { p.Blends[2].Parts[1].Amount = contentOf("0 wt%") }, "pane.line.kept_used_up"},
	} {
		t.Run(name, func(t *testing.T) {
			r, made := withRegrindOf(t, "olive-10")
			r.change(func(p *project.Project) { c.change(p, made) })
			assert.Contains(t, r.said(), r.words.Text(c.said))
			before := project.Clone(*r.bench.Project()).Blends[2].Parts
			r.tappedText(r.words.Say("pane.line.put_in", map[string]any{"Blend": "Olive 10"}))
			parts := r.bench.Project().Blends[2].Parts
			require.Len(t, parts, len(before)+1)
			assert.Equal(t, before, parts[:len(before)])
			assert.Contains(t, r.said(), r.words.Text(c.said))
		})
	}
}

// TestPriceOfRegrindIsNoPriceOfAShop: in either pane that asks for it; and what the figures
// wait for is told to its end.
func TestPriceOfRegrindIsNoPriceOfAShop(t *testing.T) {
	r, made := withRegrindOf(t, "olive-10")
	place := fmt.Sprintf("/materials/%d/price", made)
	assert.Equal(t, "0.80 EUR/kg", plain(r.field(place).Entry().PlaceHolder))
	r.tappedText(r.words.Say("pane.line.put_in", map[string]any{"Blend": "Olive 10"}))
	strip := all[*control.Verdict](r.bench.Content())[0]
	for _, o := range all[*canvas.Text](strip) {
		assert.NotContains(t, o.Text, "…")
	}
	assert.Contains(t, r.figure("verdict.cost").Second, "the costs wait for it")
	r.show(bench.PaneBlend)
	assert.Equal(t, "0.80 EUR/kg", plain(r.field(place).Entry().PlaceHolder))
}
