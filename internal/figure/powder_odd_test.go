package figure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

// A picture of nothing says what to enter, and does not fail.
func TestBenchPicturesOfNothing(t *testing.T) {
	w, none := wording.New("en"), bench.DryingUse{}
	var m material.Material
	var ps bench.PowderSheet
	var b bench.BlendSheet
	for name, p := range map[string]Picture{
		"drying, no sheet": Drying(nil, 0, none, w), "drying, no run": Drying(&ps, 0, none, w), "drying, run -1": Drying(&ps, -1, none, w),
		"storage, no sheet": Storage(nil, nil, w), "storage": Storage(&m, &ps, w),
		"preparation, no sheet": Preparation(nil, nil, w), "preparation": Preparation(&m, &ps, w),
		"sieving, no sheet": Sieving(nil, nil, w), "sieving": Sieving(&m, &ps, w),
		"evidence, no sheet": ClogEvidence(nil, w), "evidence": ClogEvidence(&b, w),
		"table, no sheet": ClogTable(nil, w), "table": ClogTable(&b.Clog, w),
		"clogging, no sheet": Clogging(nil, w), "clogging": Clogging(&b, w),
		"grain, no sheet": Grain(nil, w), "grain": Grain(&ps, w),
	} {
		assert.Empty(t, p.Panels, name)
		lay := checkDrawn(t, p, DefaultStyle(650, 520, false))
		require.NotEmpty(t, lay.Texts, name)
		checkBenchPicture(t, p, name)
	}
	assert.Empty(t, w.Missing())
}

// Whatever numbers a sheet holds, its pictures stand.
func TestBenchPicturesOfOddNumbers(t *testing.T) {
	w := wording.New("en")
	for _, odd := range []float64{0, 1e-300, 1e300, math.MaxFloat64, -5, math.NaN(), math.Inf(1)} {
		p, s := evaluated(t, "olive-stone-pla", nil)
		m, ps, b := &p.Materials[1], s.Powder(1), &s.Blends[2]
		set := func(results ...*bench.Result) {
			for _, r := range results {
				r.Value, r.High = odd, math.Max(odd, r.High)
			}
		}
		run := &ps.Drying.Runs[0]
		run.Rows[1].WetPercent, run.Rows[2].TimeH, run.Rows[3].ResidualG = odd, odd, odd
		set(&run.Floor, &b.Drying.Time, &b.Drying.Target, &ps.Storage.After, &ps.Storage.Equilibrium)
		ps.Preparation.Steps[1].LeftG, ps.Preparation.Steps[1].Passes = odd, odd
		set(&ps.Preparation.Yield, &ps.Clogging.Critical, &ps.Sieving.Top, &ps.Grain.Bulk, &ps.Grain.Packing)
		ps.Sieving.Rows[0].PassingPercent = odd
		set(&b.Clog.Evidence[0].PerMetre, &b.Clog.Evidence[0].Spool, &b.Results[bench.LengthPerSpool])
		for i, picture := range []Picture{
			Drying(ps, 0, b.Drying, w), Storage(m, ps, w), Preparation(m, ps, w), Sieving(m, ps, w), Clogging(b, w), Grain(ps, w),
		} {
			checkBenchPicture(t, picture, fmt.Sprint(i, " ", odd))
		}
		run.LastH = odd
		checkBenchPicture(t, Drying(ps, 0, b.Drying, w), fmt.Sprint("last ", odd))
	}
}

// A result that is not known is said to be so, and draws no bar.
func TestBenchPicturesOfUnknownResults(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, "olive-stone-pla", nil)
	ps, b := s.Powder(1), &s.Blends[2]
	ps.Preparation.Steps[1].Known, ps.Preparation.Yield = false, bench.Result{}
	ps.Grain.Tapped, ps.Grain.Packing = bench.Result{}, bench.Result{}
	b.Clog.Evidence[0].PerMetre = bench.Result{}
	for name, bar := range map[string]Bar{
		"step": Preparation(&p.Materials[1], ps, w).Panels[0].Bars[2], "tapped": Grain(ps, w).Panels[0].Bars[1],
		"evidence": ClogEvidence(b, w).Panels[0].Bars[0],
	} {
		assert.False(t, bar.Known, name)
		assert.Equal(t, "not known", bar.Text, name)
	}
	usable := Preparation(&p.Materials[1], ps, w).Panels[0].Bars
	assert.False(t, usable[len(usable)-1].Known)
}
