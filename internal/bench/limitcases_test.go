package bench

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// mildShell is the mussel sample with much allowed, so that nothing likely stops it.
func mildShell(t *testing.T) project.Project {
	t.Helper()
	p := sample(t, musselShell)
	p.Loading.StrengthKept, p.Loading.Bubbles = q[quantity.Fraction]("45 %"), q[quantity.Fraction]("99 %")
	p.Loading.Most, p.Loading.ViscosityRise = q[quantity.Fraction]("24 %"), q[quantity.Factor]("20")
	return p
}

// Where likely nothing stops a blend but something may, that is said: with the limit that may,
// and without calling it free. So it is where that was drawn.
func TestWhatMayStopIsNotCalledFree(t *testing.T) {
	p := mildShell(t)
	s := evaluate(t, p)
	limits := s.Limits(1)
	require.InDelta(t, 24, limits.Least.Value, 1e-9)
	require.Less(t, limits.Least.Low, 20.0)
	assert.Nil(t, limits.Binding())
	assert.Equal(t, LimitUpright, limits.Soonest().ID)
	assert.Equal(t, "limits_free_likely", limits.Words()[0].ID)
	assert.Equal(t, wording.ID("limit_said.strength_upright"), limits.Words()[0].Values["First"])
	assert.Contains(t, answerIDs(s.LimitWords(1)), "limits_within")

	drawn := drawnLimits(t, p, 1, LeastDraws)
	binding := drawn.Limits(1).Binding()
	require.NotNil(t, binding, "it comes first in many draws")
	assert.Equal(t, LimitUpright, binding.ID)
	assert.NotContains(t, answerIDs(drawn.LimitWords(1)), "limits_free")
}

// Several limits that allow no powder at all are all blamed, and share the draws.
func TestAllThatForbidAreBlamed(t *testing.T) {
	p := sample(t, oliveStone)
	p.Print.Nozzle, p.Print.Temperature = q[quantity.Length]("0.25 mm"), q[quantity.Temperature]("225 degC")
	s := drawnLimits(t, p, 1, LeastDraws)
	limits := s.Limits(1)
	top, heat := limitOf(t, limits, LimitTopSize), limitOf(t, limits, LimitPrintHeat)
	assert.InDelta(t, 0.5, top.First, 0.2)
	assert.InDelta(t, 0.5, heat.First, 0.2)
	sum := 0.0
	for _, l := range limits.Limits {
		if l.First > 0 {
			sum += l.First
		}
	}
	assert.InDelta(t, 1, sum, 1e-9)
	assert.Equal(t, "limits_none", limits.Words()[0].ID)
	assert.Subset(t, limits.Words()[0].Values["First"], []wording.ID{top.Said(), heat.Said()})
}

// A limit that likely stops nothing but may come first of all is named among the rivals.
func TestRivalsAreThoseThatMayComeFirst(t *testing.T) {
	limits := evaluate(t, sample(t, oliveStone)).Limits(2)
	free := limitOf(t, limits, LimitStiffness)
	require.Equal(t, LimitFree, free.State)
	free.Allowed = newResult(limits.Most, 1, limits.Most, "wt%", Estimated)
	rivals := limits.rivals()[0].Values["Rivals"].([]wording.ID)
	assert.Equal(t, free.Said(), rivals[0])
}

// Where no limit is known there is no least, and nothing is called allowed or too much.
func TestWithoutKnownLimitsNothingIsClaimed(t *testing.T) {
	p := sample(t, oliveStone)
	for i := range p.Materials {
		m := &p.Materials[i]
		p.Materials[i] = material.Material{ID: m.ID, Name: m.Name, Kind: m.Kind, Powder: material.Powder{}}
	}
	p.Print = project.Print{}
	s := evaluate(t, p)
	limits := s.Limits(1)
	require.True(t, limits.Known, limits.Problem)
	assert.False(t, limits.Least.Known())
	assert.Equal(t, "limits_all_unknown", limits.Words()[0].ID)
	assert.Empty(t, limits.Targets())
	assert.Zero(t, limits.Make())
	assert.NotContains(t, noteIDs(s.BlendNotes(1)), "over_the_limits")
	_, _, err := s.WithAllDraws(context.Background(), Drawing{Draws: LeastDraws, Seed: 1})
	require.NoError(t, err)
}

// A blend whose powder takes nobody's place has no limits but the reason why.
func TestContentsThatCannotBeMade(t *testing.T) {
	p := sample(t, oliveStone)
	p.Blends[1].Parts = []project.Part{{Material: p.Materials[1].ID, Amount: project.Content(q[quantity.Content]("100 wt%"))}}
	assert.Equal(t, "limits_cannot_vary", evaluate(t, p).Limits(1).Problem)
}

// Regrind brings powder of its own: limits just above that are found, and do not turn into none.
func TestLimitsJustAboveWhatRegrindBrings(t *testing.T) {
	p := sample(t, oliveStone)
	again, fresh := p.BlendByID("olive-10-again"), p.BlendByID("olive-10")
	p.Loading.FloorUpright = q[quantity.Pressure]("28 MPa")
	s := evaluate(t, p)
	want := limitOf(t, s.Limits(fresh), LimitUpright).Allowed.Value
	require.True(t, want > 2 && want < 3, "between what regrind brings and the next place of the grid: %g", want)
	assert.InEpsilon(t, want, limitOf(t, s.Limits(again), LimitUpright).Allowed.Value, 0.02)
}

// Where the axis ends changes no limit before it: not even that of a melt which does not flow
// any more.
func TestAxisChangesNoLimit(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.ViscosityRise = q[quantity.Factor]("100")
	var found []float64
	for _, most := range []string{"60 %", "80 %", "90 %"} {
		p.Loading.Most = q[quantity.Fraction](most)
		found = append(found, limitOf(t, evaluate(t, p).Limits(2), LimitViscosity).Allowed.Value)
	}
	assert.InEpsilon(t, found[0], found[1], 3e-3)
	assert.InEpsilon(t, found[0], found[2], 3e-3)
}

// A short axis shows less, and decides nothing: cost that is kept from beyond its end on forbids
// no powder.
func TestShortAxisForbidsNothing(t *testing.T) {
	p := sample(t, oliveStone)
	long := evaluate(t, p)
	p.Loading.Most = q[quantity.Fraction]("3 %")
	short := evaluate(t, p)
	cost := limitOf(t, short.Limits(2), LimitCost)
	assert.Equal(t, LimitFree, cost.State)
	assert.InDelta(t, limitOf(t, long.Limits(2), LimitCost).From, cost.From, 0.02)
	assert.NotContains(t, answerIDs(short.LimitWords(2)), "limits_none")
	for _, s := range []*Sheet{short, drawnLimits(t, p, 2, LeastDraws)} {
		for _, l := range s.Limits(2).Limits {
			assert.LessOrEqual(t, l.Allowed.High, 3+1e-9, l.ID)
		}
		assert.False(t, limitOf(t, s.Limits(2), LimitCost).First > 0, "it is never the first")
	}
}

// Beyond the axis nothing is known to be too much.
func TestBeyondTheAxisIsNotSurelyTooMuch(t *testing.T) {
	p := mildShell(t)
	p.Loading.StrengthKept = q[quantity.Fraction]("55 %")
	p.Blends[2].Parts[1].Amount = project.Content(q[quantity.Content]("40 wt%"))
	s := evaluate(t, p)
	require.GreaterOrEqual(t, s.Limits(2).Least.High, s.Limits(2).Most)
	assert.Contains(t, answerIDs(s.LimitWords(2)), "limits_likely_over")
	assert.NotContains(t, answerIDs(s.LimitWords(2)), "limits_over")
}

// What was measured of a blend and breaks a limit is said, though the models allow its content.
func TestMeasuredBlendThatBreaksALimit(t *testing.T) {
	p := sample(t, musselShell)
	p.Blends[1].MeasuredDensity = q[quantity.Density]("1.60 g/cm3") // heavier, so a metre costs more
	s := evaluate(t, p)
	require.Less(t, s.Limits(1).Content.Value, s.Limits(1).Least.Value)
	require.True(t, limitOf(t, s.Limits(1), LimitCost).Broken())
	assert.Contains(t, answerIDs(s.LimitWords(1)), "limits_but_here")
	assert.NotContains(t, answerIDs(evaluate(t, sample(t, musselShell)).LimitWords(1)), "limits_but_here")
}

// The figure that a limit is held against is told as the sheet tells it, drawn or not.
func TestHereIsAsDrawn(t *testing.T) {
	s := evaluate(t, sample(t, "olive-mill-pla"))
	first := limitOf(t, s.Limits(1), LimitHydrolysis).Here
	d, err := s.Model.DrawFigures(context.Background(), 1, s.Blends[1].Results, Drawing{Draws: LeastDraws, Seed: 1})
	require.NoError(t, err)
	drawn := s.WithFigures(d)
	assert.Equal(t, drawn.Blends[1].Results[MolarMassLoss], limitOf(t, drawn.Limits(1), LimitHydrolysis).Here)
	assert.Equal(t, first, limitOf(t, s.Limits(1), LimitHydrolysis).Here, "the other sheet is left alone")
	assert.Equal(t, MonteCarlo, limitOf(t, drawn.Limits(1), LimitCost).Here.Method)
}

// Shares in tenths: none is none and none is all unless it is, and they add up.
func TestTenthsAddUp(t *testing.T) {
	for _, c := range []struct {
		shares []float64
		want   []int
	}{
		{[]float64{0.98}, []int{9}},
		{[]float64{1}, []int{10}},
		{[]float64{0.52, 0.48}, []int{5, 5}},
		{[]float64{0.75, 0.15, 0.06}, []int{7, 1, 1}},
		{[]float64{0.84, 0.1, 0.06}, []int{8, 1, 1}},
		{[]float64{0.35, 0.33, 0.05}, []int{3, 3, 1}},
		{nil, []int{}},
	} {
		assert.Equal(t, c.want, tenths(c.shares), c.shares)
	}
}

// A blend that holds more than the axis shows is not too much for that: nothing may stop it.
func TestMoreThanTheAxisShows(t *testing.T) {
	for _, name := range append([]string{"olive-mill-pla"}, samples...) {
		p := sample(t, name)
		p.Loading.Most = q[quantity.Fraction]("0.1 %")
		for _, s := range []*Sheet{evaluate(t, p), drawnLimits(t, p, 1, LeastDraws)} {
			assert.NotEmpty(t, s.LimitWords(1))
			assert.NotContains(t, answerIDs(s.LimitWords(1)), "limits_likely_over")
			assert.NotContains(t, noteIDs(s.BlendNotes(1)), "over_the_limits")
		}
	}
	p := mildShell(t)
	p.Loading.StrengthKept, p.Loading.Most = q[quantity.Fraction]("1 %"), q[quantity.Fraction]("9 %")
	assert.Contains(t, answerIDs(evaluate(t, p).LimitWords(1)), "limits_past_axis")
}

// Several limits, each of which rarely stops, may stop together: that has words, and a name.
func TestRareLimitsTogetherHaveWords(t *testing.T) {
	s := LimitSheet{Known: true, Most: 30, Method: MonteCarlo, Least: newResult(30, 28, 30, "wt%", Estimated), Content: exactly(5, "wt%", Entered)}
	for _, id := range []LimitID{LimitClog, LimitPickUp} {
		s.Limits = append(s.Limits, Limit{ID: id, State: LimitFree, Allowed: exactly(30, "wt%", Estimated), First: 0.02})
	}
	s.Limits[1].First = 0.03
	assert.Equal(t, Answer{"limits_free_likely", s.Words()[0].Values}, s.Words()[0])
	assert.Equal(t, s.Limits[1].Said(), s.Words()[0].Values["First"])
	s.Least.Value = 29
	assert.NotEmpty(t, s.Words())
}

// Without a polymer there is none whose place powder could take: nothing is made, and it is said.
func TestNoBlendIsMadeWithoutAPolymer(t *testing.T) {
	p := sample(t, "olive-mill-pla")
	p.Blends[2].Parts = []project.Part{
		{Material: p.Blends[1].Parts[2].Material, Amount: project.Balance()},
		{Material: p.Blends[1].Parts[1].Material, Amount: project.Content(q[quantity.Content]("4 wt%"))},
	}
	p.Strength.Points = append(p.Strength.Points, project.StrengthPoint{
		Blend: p.Blends[1].ID, Direction: project.Flat, Mean: q[quantity.Pressure]("50 MPa"), Spools: 2,
	})
	assert.Zero(t, evaluate(t, p).Limits(2).Make())
	before := len(p.Blends)
	_, err := WhatIf{LeverSieve: 90e-6}.MakeBlend(&p, 2, 0.01, MakeNames{Blend: "New", Powder: "Finer"})
	require.Error(t, err)
	assert.Len(t, p.Blends, before)
}
