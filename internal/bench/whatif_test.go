package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Each lever moves what it should, and leaves the project as it is.
func TestLeversMoveTheirLimits(t *testing.T) {
	p := sample(t, oliveStone)
	before := project.Clone(p)
	s := evaluate(t, p)
	for _, c := range []struct {
		lever Lever
		to    float64
		id    LimitID
	}{
		{LeverSieve, 90e-6, LimitClog},
		{LeverDrying, 0.002, LimitBubbles},
		{LeverDrying, 0.002, LimitHydrolysis},
		{LeverNozzle, 0.6e-3, LimitClog},
		{LeverPellets, 0.5e-3, LimitPickUp},
	} {
		then := WhatIf{c.lever: c.to}.With(&p, 2)
		now, other := limitOf(t, s.Limits(2), c.id), limitOf(t, then, c.id)
		assert.Greater(t, other.Allowed.Value, now.Allowed.Value, "%s on %s", c.lever, c.id)
	}
	core := WhatIf{LeverCore: 0.03}.With(&p, 2)
	assert.NotEqual(t, LimitTested, limitOf(t, core, LimitBend).State, "a narrow core bends more than was tested")
	assert.Equal(t, before, p)
}

// A powder with a dry film of oil loses it where the lever takes the oil away.
func TestOilHoldsCoarseGrains(t *testing.T) {
	p := sample(t, oliveStone)
	dry := limitOf(t, WhatIf{LeverOil: 0}.With(&p, 2), LimitPickUp)
	oiled := limitOf(t, WhatIf{LeverOil: 0.002}.With(&p, 2), LimitPickUp)
	assert.GreaterOrEqual(t, oiled.Allowed.Value, dry.Allowed.Value)
	p.Line.Spreading.AdhesionSize = q[quantity.Length]("20 um") // the maker knows better
	assert.Less(t, limitOf(t, evaluate(t, p).Limits(2), LimitPickUp).Allowed.Value, oiled.Allowed.Value)
}

// The levers stand where the project has them, and can be put elsewhere.
func TestLeversStandWhereTheyAre(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	assert.Empty(t, s.LeverRanges(0), "the plain polymer has none")
	ranges := s.LeverRanges(2)
	require.Len(t, ranges, len(Levers()))
	for _, r := range ranges {
		assert.Contains(t, r.Stops, r.Now, r.Lever)
		assert.IsIncreasing(t, r.Stops, r.Lever)
	}
	p.Print.Nozzle = quantity.Of[quantity.Length]{}
	for _, r := range evaluate(t, p).LeverRanges(2) {
		if r.Lever == LeverNozzle {
			assert.False(t, finite(r.Now))
		}
	}
}

// A blend that is made of it holds what was asked for; the powder that would be sieved and
// dried otherwise is one of its own, and nothing that was entered is lost.
func TestMakeBlendLosesNothing(t *testing.T) {
	p := sample(t, oliveStone)
	before := project.Clone(p)
	w := WhatIf{LeverSieve: 90e-6, LeverDrying: 0.002, LeverNozzle: 0.6e-3}
	id, err := w.MakeBlend(&p, 2, 0.064, MakeNames{Blend: "Olive 6.4", Powder: "Olive stone flour, 90 µm, 0.2 %"})
	require.NoError(t, err)
	s := evaluate(t, p)
	made := p.BlendByID(id)
	require.Equal(t, len(p.Blends)-1, made)
	assert.InDelta(t, 6.4, s.Blends[made].Results[FillerMassFraction].Value, 1e-9)
	assert.InDelta(t, 0.2, s.Blends[made].Results[PowderMoisture].Value, 1e-9)
	assert.Equal(t, before.Blends, p.Blends[:made])
	assert.Equal(t, before.Materials, p.Materials[:len(before.Materials)])
	assert.InDelta(t, 0.6, p.Print.Nozzle.SI()*1e3, 1e-9)
	assert.Equal(t, "90 um", p.Materials[len(p.Materials)-1].Powder.Sieving.CheckSieve.String())

	again, err := WhatIf{}.MakeBlend(&p, 2, 0.03, MakeNames{Blend: "Olive 6.4"})
	require.NoError(t, err)
	assert.NotEqual(t, id, again, "IDs are given once")
	_, err = WhatIf{}.MakeBlend(&p, 0, 0.03, MakeNames{Blend: "None"})
	assert.Error(t, err, "there is no powder in it")
}

// Amounts on other bases stay what they are when the content is set on the whole.
func TestMakeBlendOfOtherBases(t *testing.T) {
	p := bare(wood(), "20 phr")
	p.Materials = append(p.Materials, chalk())
	p.Blends[1] = recipe("filled", "pla", "100 phr", "wood", "20 phr", "chalk", "5 phr")
	id, err := WhatIf{}.MakeBlend(&p, 1, 0.1, MakeNames{Blend: "Ten"})
	require.NoError(t, err)
	s := evaluate(t, p)
	assert.InDelta(t, 10, s.Blends[p.BlendByID(id)].Results[FillerMassFraction].Value, 0.06)
}

// A blend that is made with the powder sieved or dried otherwise allows what was shown before:
// strength points go with it, bend tests do not.
func TestMadeBlendAllowsWhatWasShown(t *testing.T) {
	p := sample(t, musselShell)
	p.Strength.Points = append(p.Strength.Points, project.StrengthPoint{
		Blend: p.Blends[1].ID, Direction: project.Upright, Mean: q[quantity.Pressure]("27 ± 1 MPa"), Spools: 2, Bars: 10,
	})
	p.Spool.Bend.Tests = []project.BendTest{bentAt(p.Blends[0].ID, "20 mm", 0), bentAt(p.Blends[1].ID, "60 mm", 3)}
	for _, w := range []WhatIf{{LeverSieve: 90e-6}, {LeverDrying: 0.001}} {
		then := w.With(&p, 1)
		made := project.Clone(p)
		id, err := w.MakeBlend(&made, 1, then.Make()/100, MakeNames{Blend: "New", Powder: "Finer", Carried: "carried over"})
		require.NoError(t, err)
		require.NoError(t, project.Validate(&made))
		limits := evaluate(t, made).Limits(made.BlendByID(id))
		for i := range then.Limits {
			want, got := &then.Limits[i], limitOf(t, limits, then.Limits[i].ID)
			if want.ID != LimitCost { // a start-up is shared out over the batch as it is then
				assert.Equal(t, want.State, got.State, want.ID)
				assert.InDelta(t, want.Allowed.Value, got.Allowed.Value, 0.02*want.Allowed.Value, want.ID)
			}
		}
		assert.InDelta(t, then.Least.Value, limits.Least.Value, 0.02*then.Least.Value)
		assert.Equal(t, "carried over", made.Strength.Points[len(made.Strength.Points)-1].Notes)
		assert.Len(t, made.Spool.Bend.Tests, 2, "nothing that was entered is lost")
	}
}

// As much of the pellets stays ground as was before: only the size of the grains is another.
func TestPelletLeverKeepsTheShareThatIsGround(t *testing.T) {
	p := sample(t, "olive-mill-pla")
	require.InDelta(t, 0.6, p.Line.Spreading.Ground.SI(), 1e-9)
	finer, coarser := WhatIf{LeverPellets: 0.5e-3}.Apply(&p, 1), WhatIf{LeverPellets: 0.7e-3}.Apply(&p, 1)
	assert.InDelta(t, 0.6, finer.Line.Spreading.Ground.SI(), 1e-9)
	pick := func(p *project.Project) float64 {
		return limitOf(t, evaluate(t, *p).Limits(1), LimitPickUp).Allowed.Value
	}
	assert.Greater(t, pick(&finer), pick(&p))
	assert.Less(t, pick(&coarser), pick(&p))
	whole := WhatIf{LeverPellets: 3e-3}.Apply(&p, 1)
	assert.False(t, whole.Line.Spreading.Ground.Given())
	assert.Equal(t, "limits_lift_whole", Lift{Lever: LeverPellets, To: 2e-3, Least: 5, Next: LimitClog}.Words(30).ID)
	assert.Equal(t, "limits_do_whole", done(LeverPellets, 2e-3).ID)
	assert.Equal(t, "limits_do_pellets", done(LeverPellets, 0.5e-3).ID)
}

// A finer sieve never leaves more large grains than were counted, in what if as in the blend that
// is made of it.
func TestAFinerSieveIsNeverWorse(t *testing.T) {
	p := sample(t, oliveStone)
	now := limitOf(t, evaluate(t, p).Limits(2), LimitClog).Allowed.Value
	for _, opening := range []float64{106e-6, 90e-6, 63e-6} {
		then := WhatIf{LeverSieve: opening}.With(&p, 2)
		assert.GreaterOrEqual(t, limitOf(t, then, LimitClog).Allowed.Value, now*(1-1e-9), opening)
		made := project.Clone(p)
		id, err := WhatIf{LeverSieve: opening}.MakeBlend(&made, 2, 0.02, MakeNames{Blend: "New", Powder: "Finer"})
		require.NoError(t, err)
		got := limitOf(t, evaluate(t, made).Limits(made.BlendByID(id)), LimitClog).Allowed.Value
		assert.InEpsilon(t, limitOf(t, then, LimitClog).Allowed.Value, got, 1e-3, opening)
	}
	coarser := limitOf(t, WhatIf{LeverSieve: 250e-6}.With(&p, 2), LimitClog)
	assert.Less(t, coarser.Allowed.Value, now, "what was counted below a finer sieve says nothing of a coarser one")
}

// Drying lifts the moisture limit of the polymer where the maker counts it.
func TestDryingLiftsTheMoistureLimit(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.WaterShare = q[quantity.Fraction]("100 %")
	s := evaluate(t, p)
	require.Equal(t, LimitMoisture, s.Limits(2).Binding().ID)
	lift, there := s.Lift(2)
	require.True(t, there)
	assert.Equal(t, LeverDrying, lift.Lever)
}
