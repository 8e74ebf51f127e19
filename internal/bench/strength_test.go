package bench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// tradePoints are what bars of a blend with 5 wt% broke at, against the plain polymer
// (common practice): 58 to 53 MPa printed flat, 35 to 27 MPa printed upright.
func tradePoints(p *project.Project, filled project.BlendID) {
	tradePointsKnown(p, filled, " ± 1 MPa")
}

// tradePointsKnown are the same, each with a ± of its own.
func tradePointsKnown(p *project.Project, filled project.BlendID, around string) {
	point := func(blend project.BlendID, content string, d project.Direction, mean string) {
		p.Strength.Points = append(p.Strength.Points, project.StrengthPoint{
			Blend: blend, Content: q[quantity.Fraction](content), Direction: d, Mean: q[quantity.Pressure](mean), Spools: 2, Bars: 10,
		})
	}
	point(p.Blends[0].ID, "0 %", project.Flat, "58"+around)
	point(p.Blends[0].ID, "0 %", project.Upright, "35"+around)
	point(filled, "5 %", project.Flat, "53"+around)
	point(filled, "5 %", project.Upright, "27"+around)
}

// Pinned on the trade's pair, a blend of 5 wt% loses 8.6 % flat and 22.9 % upright, and
// the upright direction stops first.
func TestPinnedStrengthIsWhatWasMeasured(t *testing.T) {
	p := sample(t, oliveStone)
	p.Blends[1].Parts = p.Blends[1].Parts[:2] // no oil: polymer and powder alone
	tradePoints(&p, p.Blends[1].ID)
	s := evaluate(t, p)
	b := &s.Blends[1]
	printed.Equal(t, "-8.6", b.Results[StrengthKeptFlat].Value-100, "53 of 58 MPa, common practice")
	printed.Equal(t, "-22.9", b.Results[StrengthKeptUpright].Value-100, "27 of 35 MPa, common practice")
	assert.InDelta(t, 53, b.Results[StrengthFlat].Value, 1e-9)
	assert.InDelta(t, 27, b.Results[StrengthUpright].Value, 1e-9)
	assert.InDelta(t, 35, s.Blends[0].Results[StrengthUpright].Value, 1e-9)
	assert.Equal(t, Calibrated, b.Results[StrengthKeptUpright].Basis)
	assert.Equal(t, Measured, s.Blends[0].Results[StrengthUpright].Basis)
	uprightBindsFirst(t, s)
}

// Of a class without a band the points stand alone.
func TestPointsOfAClassWithoutABand(t *testing.T) {
	p := sample(t, oliveStone)
	p.Blends[1].Parts = p.Blends[1].Parts[:2]
	tradePoints(&p, p.Blends[1].ID)
	p.Materials[1].Class = material.Fibre
	s := evaluate(t, p)
	printed.Same(t, 53, s.Blends[1].Results[StrengthFlat].Value)
	printed.Same(t, 27, s.Blends[1].Results[StrengthUpright].Value)
}

func uprightBindsFirst(t *testing.T, s *Sheet) {
	t.Helper()
	limits := s.Limits(1)
	along, across := limitOf(t, limits, LimitFlat), limitOf(t, limits, LimitUpright)
	assert.Less(t, across.Allowed.Value, along.Allowed.Value, "the upright direction binds first")
	assert.Greater(t, along.Allowed.Low, across.Allowed.Value)
}

// Bars without a ± of their own, of the plain polymer too, leave what is kept in no direction less certain than
// none, neither at first order nor drawn, and at no content.
func TestBarsWithoutUncertaintyCostNone(t *testing.T) {
	none := sample(t, oliveStone)
	some := sample(t, oliveStone)
	tradePointsKnown(&some, some.Blends[1].ID, " MPa")
	for i := range some.Strength.Points {
		some.Strength.Points[i].Spools = 1
	}
	for _, content := range []string{"5 wt%", "15 wt%", "30 wt%"} {
		none.Blends[2].Parts[1].Amount, some.Blends[2].Parts[1].Amount = amount(content), amount(content)
		before, after := evaluate(t, none), evaluate(t, some)
		for d, f := range []Figure{StrengthKeptFlat, StrengthKeptUpright} {
			width := func(s *Sheet) float64 { r := s.Blends[2].Results[f]; return math.Log(r.High / r.Low) }
			assert.Less(t, width(after), width(before), content+" "+f.Key())
			assert.Less(t, bondSpread(after, d), bondSpread(before, d), content+" "+f.Key())
		}
	}
}

// bondSpread is the standard deviation of the drawn B of the third blend.
func bondSpread(s *Sheet, d int) float64 {
	m, random := s.Model, rand.New(rand.NewPCG(3, 4))
	x, sum, squares := slices.Clone(m.Nominal()), 0.0, 0.0
	full := make([]float64, len(m.derived)+len(m.inputs))
	const draws = 4000
	for range draws {
		for i := range m.inputs {
			in, z := m.inputs[i].Input, random.NormFloat64()
			x[i] = in.Value + z*in.UPlus
			if z < 0 {
				x[i] = in.Value + z*in.UMinus
			}
		}
		b := m.blends[2].strength.bondOf(m.fill(full, x), d)
		sum, squares = sum+b, squares+b*b
	}
	return math.Sqrt(squares/draws - sum*sum/draws/draws)
}

func limitOf(t *testing.T, s *LimitSheet, id LimitID) *Limit {
	t.Helper()
	for i := range s.Limits {
		if s.Limits[i].ID == id {
			return &s.Limits[i]
		}
	}
	require.Fail(t, "no such limit", id)
	return nil
}

// More points narrow the interval, points that disagree widen it, and one spool leaves
// more open than two.
func TestPointsSettleTheBand(t *testing.T) {
	with := func(change func(p *project.Project)) Result {
		p := sample(t, oliveStone)
		tradePoints(&p, p.Blends[1].ID)
		change(&p)
		return evaluate(t, p).Blends[2].Results[StrengthKeptUpright]
	}
	width := func(r Result) float64 { return r.High - r.Low }
	none := with(func(p *project.Project) { p.Strength.Points = nil })
	two := with(func(*project.Project) {})
	one := with(func(p *project.Project) { p.Strength.Points[3].Spools = 1 })
	more := with(func(p *project.Project) { p.Strength.Points = append(p.Strength.Points, p.Strength.Points[3]) })
	odd := with(func(p *project.Project) {
		other := p.Strength.Points[3]
		other.Mean = q[quantity.Pressure]("33 ± 1 MPa")
		p.Strength.Points = append(p.Strength.Points, other)
	})
	assert.Less(t, width(two), width(none))
	assert.Greater(t, width(one), width(two))
	assert.Less(t, width(more), width(two))
	assert.Greater(t, width(odd), width(two))
	assert.Greater(t, odd.Value, two.Value)
}

// Plain bars that disagree leave the strength of the plain polymer as open as they are apart,
// and with it that of every blend that rests on it.
func TestPlainBarsThatDisagree(t *testing.T) {
	with := func(second string) *Sheet {
		p := sample(t, oliveStone)
		for _, mean := range []string{"54 ± 1 MPa", second} {
			p.Strength.Points = append(p.Strength.Points, project.StrengthPoint{Blend: p.Blends[0].ID, Direction: project.Flat, Mean: q[quantity.Pressure](mean), Spools: 2})
		}
		return evaluate(t, p)
	}
	agree, apart := with("54 ± 1 MPa"), with("40 ± 1 MPa")
	r := apart.Blends[0].Results[StrengthFlat]
	assert.InDelta(t, 47, r.Value, 1e-9)
	u := func(s *Sheet) float64 { return s.Model.input(s.Model.blends[0].strength.plain[flat]).UPlus }
	assert.InDelta(t, 7e6, u(apart), 1e-6, "half of what they are apart")
	assert.InDelta(t, 0.5e6/math.Sqrt2, u(agree), 1e-6)
	assert.Greater(t, r.High-r.Low, 26.0, "twice that either way")
	filled, narrow := apart.Blends[2].Results[StrengthFlat], agree.Blends[2].Results[StrengthFlat]
	assert.Greater(t, (filled.High-filled.Low)/filled.Value, 1.1*(narrow.High-narrow.Low)/narrow.Value)
}

// Points count for their own polymer, powder and direction only.
func TestPointsOfOthersCountForNothing(t *testing.T) {
	p := sample(t, oliveStone)
	before := evaluate(t, p).Blends[2].Results
	other := powderOf("chalk", "2.71 g/cm3", "1 EUR/kg")
	p.Materials = append(p.Materials, other)
	p.Blends = append(p.Blends, recipe("chalky", "pla", "balance", "chalk", "10 wt%"))
	p.Strength.Points = []project.StrengthPoint{
		{Blend: "chalky", Direction: project.Flat, Mean: q[quantity.Pressure]("20 ± 1 MPa"), Spools: 2},
		{Blend: "olive-10", Mean: q[quantity.Pressure]("20 ± 1 MPa")},
		{Blend: "olive-10", Direction: project.Flat},
		{Direction: project.Flat, Mean: q[quantity.Pressure]("20 ± 1 MPa")},
	}
	after := evaluate(t, p)
	for _, f := range []Figure{StrengthFlat, StrengthUpright, StrengthKeptFlat, StrengthKeptUpright} {
		assert.Equal(t, before[f], after.Blends[2].Results[f], f.Key())
	}
	last := after.Blends[len(after.Blends)-1].Results
	assert.InDelta(t, 20, last[StrengthFlat].Value, 1e-9, "the content is that of the recipe")
	assert.Equal(t, Estimated, last[StrengthKeptFlat].Basis, "against the plain polymer's strength of the library")
}

// Fibres have no band, so nothing is told until bars were broken.
func TestNoBandNoStrength(t *testing.T) {
	p := sample(t, oliveStone)
	p.Materials[1].Class = material.Fibre
	s := evaluate(t, p)
	assert.False(t, s.Blends[2].Results[StrengthFlat].Known())
	l := limitOf(t, s.Limits(2), LimitFlat)
	assert.Equal(t, LimitUnknown, l.State)
	assert.Equal(t, "limit_missing_bars", l.Missing.ID)
	assert.Equal(t, "/strength/points", l.Where)
	tradePoints(&p, p.Blends[1].ID)
	assert.True(t, limitOf(t, evaluate(t, p).Limits(2), LimitFlat).Known())
}
