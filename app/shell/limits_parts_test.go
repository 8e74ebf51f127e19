package shell_test

import (
	"context"
	"testing"

	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

const mill = "olive-mill-pla"

// part opens a part of the Limits pane for a blend of a sample.
func openLimits(t *testing.T, sample string, blend project.BlendID, section string) *rig {
	t.Helper()
	r := openSample(t, sample)
	r.bench.Choose(blend)
	r.show(bench.PaneLimits)
	r.bench.OpenSection(section)
	return r
}

// TestWhatIfChangesNothingUntilABlendIsMade: the levers move the answer, a blend that is
// made of it has its own powder, and undo takes all of it back.
func TestWhatIfChangesNothingUntilABlendIsMade(t *testing.T) {
	r := openLimits(t, mill, "grit-4", "what-if")
	said := plain(r.said())
	assert.Contains(t, said, "180 µm, as it is")
	before := r.bench.Revision()
	sliders := all[*widget.Slider](r.bench.Content())
	require.Len(t, sliders, 6)
	sliders[0].SetValue(3) // 90 µm
	said = plain(r.said())
	assert.Contains(t, said, "90 µm instead of 180 µm")
	assert.Contains(t, said, "Strength across the layers", "the first limit is another then")
	assert.Equal(t, before, r.bench.Revision(), "nothing is changed")

	blends, materials := len(r.bench.Project().Blends), len(r.bench.Project().Materials)
	r.tappedText("Add a blend with 8.6 wt%")
	p := r.bench.Project()
	require.Len(t, p.Blends, blends+1)
	require.Len(t, p.Materials, materials+1)
	assert.Equal(t, "Grit 4, 8.6 wt%", p.Blends[blends].Name)
	assert.Equal(t, "Olive-stone grit, 90 µm", p.Materials[materials].Name)
	assert.Equal(t, p.Blends[blends].ID, r.bench.Chosen(), "its own limits are shown")
	said = plain(r.said())
	assert.Contains(t, said, "90 µm, as it is", "the levers are in the blend now")
	assert.NotContains(t, said, "instead of")
	r.undo()
	assert.Len(t, r.bench.Project().Blends, blends)
	assert.Len(t, r.bench.Project().Materials, materials)
	assert.EqualValues(t, "grit-4", r.bench.Chosen())
	assert.Contains(t, plain(r.said()), "180 µm, as it is", "as it was before")
}

// TestLeversGoBack: the button lets all of them go, and the plain polymer has none.
func TestLeversGoBack(t *testing.T) {
	r := openLimits(t, mill, "pomace-5", "what-if")
	all[*widget.Slider](r.bench.Content())[1].SetValue(2)
	assert.Contains(t, plain(r.said()), "0.2 % instead of 3.2 %")
	r.tapped("pane.limits.reset")
	assert.NotContains(t, plain(r.said()), "instead of")
	r.bench.Choose("plain")
	assert.Empty(t, all[*widget.Slider](r.bench.Content()))
	assert.Contains(t, plain(r.said()), "This blend holds no powder")
}

// TestMeasureNextAsksAndAdvises: the shares are drawn when they are asked for, the best
// measurement is said, and another time for it changes the document and the order.
func TestMeasureNextAsksAndAdvises(t *testing.T) {
	r := openLimits(t, olive, "olive-10", "measure")
	assert.Contains(t, plain(r.said()), "Which measurement helps most?")
	r.pick(0, "figure.length_per_spool")
	said := plain(r.said())
	assert.Contains(t, said, "20 more caliper readings along the strand: takes it from 323 to 341 m to")
	assert.Contains(t, said, "10 min")
	r.enterCell(0, 3, "2 h")
	p := r.bench.Project()
	require.Len(t, p.Loading.Efforts, 1)
	assert.Equal(t, project.MeasureDiameter, p.Loading.Efforts[0].Measure)
	assert.Equal(t, "2 h", p.Loading.Efforts[0].Time.String())
	assert.Contains(t, plain(r.said()), "takes it from 323 to 341 m to", "it was drawn already")
	r.change(func(p *project.Project) { p.Spool.NetMass = project.New("EUR").Spool.NetMass })
	assert.NotContains(t, plain(r.said()), "takes it from", "advice on another state is not shown")
}

// TestCompareSaysWhatIsBeyondDoubt: signs stand only there, and the order can be changed.
func TestCompareSaysWhatIsBeyondDoubt(t *testing.T) {
	r := openLimits(t, mill, "grit-4", "compare")
	said := plain(r.said())
	assert.Contains(t, said, "Density, g/cm³")
	assert.Regexp(t, `1\.245 ±0\.01\d* ▲`, said)
	assert.Regexp(t, `1\.240 ±0\.01\d* ~`, said, "the pomace is as heavy as the polymer, as far as that is known")
	r.pick(0, "pane.limits.order_sure")
	assert.Equal(t, "sure", all[*control.SelectField](r.bench.Content())[0].Value())
	r.change(func(p *project.Project) { p.Reference = "" })
	assert.Contains(t, plain(r.said()), "No blend is the reference")
}

// openDrawn opens a window that draws after every change.
func openDrawn(t *testing.T, name string) *rig {
	r := newRig(t)
	r.app.Settings().SetTheme(look.Theme())
	p := sample(t, name)
	p.Loading.Draws = bench.LeastDraws
	r.bench = shell.New(p, "", shell.Options{Words: r.words, Preferences: r.app.Preferences(), Appearance: look, Clock: &r.clock, Immediate: true, Draw: true})
	w := &spyWindow{Window: r.app.NewWindow("")}
	t.Cleanup(w.Close)
	r.window = w
	r.bench.Attach(w)
	return r
}

// TestDrawnIntervalsTakeThePlace of those of first order, for each blend that is chosen and
// after each change, and it is said.
func TestDrawnIntervalsTakeThePlace(t *testing.T) {
	r := openDrawn(t, mill)
	r.bench.Choose("grit-4")
	r.show(bench.PaneLimits)
	said := plain(r.said())
	assert.Contains(t, said, "comes first in")
	assert.Contains(t, said, "95 % of 1024 draws")
	first := r.figure("verdict.length").Second
	sheet := bench.Evaluate(r.bench.Project())
	d, err := sheet.Model.DrawFigures(context.Background(), 1, sheet.Blends[1].Results, bench.Drawing{Draws: bench.LeastDraws, Seed: bench.SeedOf(r.bench.Project())})
	require.NoError(t, err)
	assert.Contains(t, first, r.words.Number(d.Results[bench.LengthPerSpool].Low, 3))
	r.bench.Choose("plain")
	r.bench.Choose("pomace-5")
	assert.Contains(t, plain(r.said()), "vapour comes first in")
	r.change(func(p *project.Project) { p.Blends[2].Parts[1].Amount = p.Blends[1].Parts[1].Amount })
	assert.Contains(t, plain(r.said()), "95 % of 1024 draws")
	r.bench.OpenSection("allowed")
	said = plain(r.said())
	assert.Contains(t, said, "1024 draws (Monte Carlo)")
	assert.Contains(t, said, "of these figures would be off:\n– ", "each on a line of its own")
}

// TestWhatIfIsDrawnInTheWindow: both sides have the intervals of draws, and so has the
// sentence about what lifts the first limit.
func TestWhatIfIsDrawnInTheWindow(t *testing.T) {
	r := openDrawn(t, mill)
	r.bench.Choose("grit-4")
	r.show(bench.PaneLimits)
	assert.Contains(t, plain(r.said()), "A sieve of 125 µm lifts it to 8.3 wt%: strength (upright) comes next.")
	r.bench.OpenSection("what-if")
	assert.Contains(t, plain(r.said()), "Both by Monte Carlo, 1024 draws (95 %).")
	all[*widget.Slider](r.bench.Content())[0].SetValue(5) // 125 µm
	assert.Contains(t, plain(r.said()), "1024 draws as it is, 4096 then.")
	then, err := bench.WhatIf{bench.LeverSieve: 125e-6}.Draw(context.Background(), r.bench.Project(), 1, bench.Drawing{Draws: 4096, Seed: bench.SeedOf(r.bench.Project())})
	require.NoError(t, err)
	r.tappedText("Add a blend with " + r.words.Number(then.Make(), 2) + " wt%")
	r.bench.StopDraws()
	r.bench.OpenSection("limits")
	r.bench.OpenSection("what-if")
	all[*widget.Slider](r.bench.Content())[0].SetValue(3)
	assert.Contains(t, plain(r.said()), "Both to first order (k = 2).", "the user wants none")
}

// pick chooses an entry of a list of the pane, by the catalogue ID of its text.
func (r *rig) pick(list int, id string) {
	r.t.Helper()
	lists := all[interface{ SetSelected(string) }](r.bench.Content())
	require.Greater(r.t, len(lists), list)
	lists[list].SetSelected(r.words.Text(id))
}

// TestLimitsOfNothing: without blends, and for a blend that is not finished, holds no powder
// or lost everything that tells a limit, each part says so, and nothing breaks.
func TestLimitsOfNothing(t *testing.T) {
	for name, change := range map[string]func(p *project.Project){
		"no blends":  func(p *project.Project) { *p = project.New("EUR") },
		"plain":      func(p *project.Project) { p.Blends = p.Blends[:1]; p.Plan.Base = "" },
		"no amounts": func(p *project.Project) { p.Blends[1].Parts[1].Amount = project.Amount{} },
		"no parts":   func(p *project.Project) { p.Blends[1].Parts = nil },
		"no polymer": func(p *project.Project) { p.Blends[1].Parts = p.Blends[1].Parts[1:] },
		"bare powder": func(p *project.Project) {
			m := &p.Materials[1]
			*m = material.Material{ID: m.ID, Name: m.Name, Kind: m.Kind}
		},
		"no reference": func(p *project.Project) { p.Reference = "" },
	} {
		t.Run(name, func(t *testing.T) {
			p := sample(t, mill)
			p.Strength.Points = nil
			change(&p)
			require.NoError(t, project.Validate(&p))
			r := newRig(t).open(p, "", look)
			for i, b := range append([]project.Blend{{}}, p.Blends...) {
				if b.ID != "" {
					r.bench.Choose(b.ID)
				}
				r.show(bench.PaneLimits)
				for _, part := range r.bench.Sections() {
					r.bench.OpenSection(part)
					settle(r.bench.Content())
					for _, view := range all[*control.PictureView](r.bench.Content()) {
						view.Image() // draws it
					}
					if changed := i == 2 || len(p.Blends) < 2; part == "measure" && (changed || !raceEnabled) {
						r.tapped("pane.limits.measure_draw")
					}
					assert.NotContains(t, r.said(), "[", part)
					assert.NotContains(t, r.said(), "NaN", part)
				}
			}
		})
	}
}
