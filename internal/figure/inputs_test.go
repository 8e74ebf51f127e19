package figure

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Every uncertain input of the samples, and of what else can be entered, has a name that
// people read.
func TestEveryInputHasAName(t *testing.T) {
	w := wording.New("en")
	for _, name := range []string{"olive-stone-pla", "mussel-shell-petg", "olive-mill-pla"} {
		p, s := evaluated(t, name, func(p *project.Project) { p.Blends[0].MeasuredFlow = quantity.MustParse[quantity.Factor]("1.1 ± 0.1") })
		for _, in := range s.Model.Inputs() {
			said := InputName(p, in.Pointer, w)
			assert.NotEmpty(t, said, in.Pointer)
			assert.NotEqual(t, in.Pointer, said)
			assert.False(t, strings.ContainsAny(said, "[]/"), "%s: %s", in.Pointer, said)
		}
	}
	assert.Empty(t, w.Missing())
}

// The picture has a bar for each of the largest shares, with what would measure it.
func TestVarianceSharesPicture(t *testing.T) {
	w := wording.New("en")
	p, _ := evaluated(t, "olive-stone-pla", nil)
	shares := &bench.Shares{Inputs: []bench.InputShare{
		{Pointer: "/spool/readings", First: 0.9, Total: 0.91, Err: 0.01, Measure: project.MeasureDiameter},
		{Pointer: "molar-mass exponent", First: 0.05, Total: 0.08, Err: 0.02},
	}}
	picture := VarianceShares(p, shares, w)
	require.Len(t, picture.Panels, 1)
	bars := picture.Panels[0].Bars
	require.Len(t, bars, 2)
	assert.Equal(t, "Caliper readings", bars[0].Label)
	assert.Equal(t, "20 caliper readings", bars[0].Sub)
	assert.Equal(t, "91 %", strings.ReplaceAll(bars[0].Text, "\u00a0", " "))
	assert.InDelta(t, 4, bars[1].Low, 1e-9)
	assert.Equal(t, "nothing that a maker measures", bars[1].Sub)
	assert.Empty(t, VarianceShares(p, nil, w).Panels)
	assert.NotEmpty(t, VarianceShares(p, nil, w).Empty)
}

// The picture before and after has both on the same axis, the first limits of each.
func TestLimitsPair(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, "olive-mill-pla", nil)
	now, then := bench.WhatIf{}.With(p, 1), bench.WhatIf{bench.LeverSieve: 90e-6}.With(p, 1)
	picture := LimitsPair(s, 1, now, then, w)
	require.Len(t, picture.Panels, 2)
	for _, panel := range picture.Panels {
		assert.Len(t, panel.Bars, pairRows)
		assert.Equal(t, picture.Panels[0].X.Max, panel.X.Max)
		assert.NotEmpty(t, panel.X.Label)
	}
	assert.Equal(t, "Clog chance per spool", picture.Panels[0].Bars[0].Label)
	assert.NotEqual(t, "Clog chance per spool", picture.Panels[1].Bars[0].Label)
	plain := LimitsPair(s, 0, bench.WhatIf{}.With(p, 0), bench.WhatIf{}.With(p, 0), w)
	assert.Empty(t, plain.Panels)
	assert.NotEmpty(t, plain.Empty)
}
