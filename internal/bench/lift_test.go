package bench

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// drawnLimits is the sheet of a project with the limits of a blend drawn.
func drawnLimits(t *testing.T, p project.Project, blend, draws int) *Sheet {
	t.Helper()
	s := evaluate(t, p)
	d, err := s.DrawLimits(context.Background(), blend, Drawing{Draws: draws, Seed: 1})
	require.NoError(t, err)
	return s.WithLimits(d)
}

// The sentence names a change that lifts the first limit behind the next.
func TestLiftBringsTheNextLimitForward(t *testing.T) {
	p := sample(t, oliveStone)
	p.Spool.NetMass = q[quantity.Mass]("5 kg") // so that the chance of a clog binds
	s := evaluate(t, p)
	require.Equal(t, LimitClog, s.Limits(2).Binding().ID)
	lift, there := s.Lift(2)
	require.True(t, there)
	assert.Equal(t, LeverSieve, lift.Lever)
	assert.Empty(t, lift.Also)
	assert.Greater(t, lift.Least, s.Limits(2).Least.Value)
	assert.NotEqual(t, LimitClog, lift.Next)
	assert.InDelta(t, lift.Least, WhatIf{lift.Lever: lift.To}.With(&p, 2).Least.Value, 1e-3*lift.Least)
	assert.Contains(t, lift.Words(30).ID, "limits_lift_")
	assert.False(t, s.NoLift(2))
}

// Beside limits that were drawn stands what was drawn for the change: another seed with more
// draws finds the same in the project with the change.
func TestDrawnLiftIsThatOfTheChangedProject(t *testing.T) {
	for name, blend := range map[string]int{oliveStone: 2, "olive-mill-pla": 2} {
		p := sample(t, name)
		s := drawnLimits(t, p, blend, 1<<12)
		lift, there := s.Lift(blend)
		require.True(t, there, name)
		then, err := lift.changes().Draw(context.Background(), &p, blend, Drawing{Draws: 1 << 13, Seed: 9})
		require.NoError(t, err)
		assert.Equal(t, MonteCarlo, then.Method)
		assert.InEpsilon(t, then.Least.Value, lift.Least, 0.02, name)
		assert.Equal(t, then.Binding().ID, lift.Next, name)
		assert.GreaterOrEqual(t, lift.Least, liftEnough*s.Limits(blend).Least.Value, name)
		first := lift.changes().With(&p, blend).Least.Value
		assert.Greater(t, first, 1.03*lift.Least, "%s: several uncertain limits together stop sooner than first order says", name)
		words := s.LimitWords(blend)
		assert.Equal(t, number(lift.Least, "wt%", 2), words[2].Values["Least"])
	}
}

// Limits are drawn beside the window, which reads the sheet at the same time: what the sheet
// remembers is left alone.
func TestDrawingLimitsLeavesTheSheetAlone(t *testing.T) {
	p := sample(t, "olive-mill-pla")
	s := evaluate(t, p)
	done := make(chan error)
	go func() {
		_, err := s.DrawLimits(context.Background(), 1, Drawing{Draws: LeastDraws, Seed: 1})
		done <- err
	}()
	lift, there := s.Lift(1)
	require.NoError(t, <-done)
	assert.True(t, there)
	assert.Equal(t, FirstOrder, s.Limits(1).Method)
	again, _ := s.Lift(1)
	assert.Equal(t, lift, again)
	assert.Nil(t, s.limits[2])
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := s.DrawLimits(ctx, 1, Drawing{Draws: LeastDraws, Seed: 1})
	assert.ErrorIs(t, err, context.Canceled)
}

// A sheet whose limits were drawn tells no lift that was not.
func TestNoFirstOrderLiftBesideDraws(t *testing.T) {
	p := sample(t, "olive-mill-pla")
	s := evaluate(t, p)
	_, there := s.Lift(1)
	require.True(t, there)
	d, err := s.Model.DrawLimits(context.Background(), 1, Drawing{Draws: LeastDraws, Seed: 1})
	require.NoError(t, err)
	_, there = s.WithLimits(d).Lift(1)
	assert.False(t, there)
}

// closeLimits is a project in which what the pellets carry stops a blend first, and the
// chance of a clog just behind it.
func closeLimits(t *testing.T) project.Project {
	p := sample(t, oliveStone)
	p.Spool.NetMass = q[quantity.Mass]("1.05 kg")
	return p
}

// Where two limits lie close together and each has a lever, both are moved.
func TestTwoChangesTogetherLiftTwoLimits(t *testing.T) {
	p := closeLimits(t)
	s := evaluate(t, p)
	limits := s.Limits(2)
	require.Equal(t, LimitPickUp, limits.Limits[0].ID)
	require.Equal(t, LimitClog, limits.Limits[1].ID)
	require.Less(t, limits.Limits[1].Allowed.Value, liftEnough*limits.Least.Value)
	lift, there := s.Lift(2)
	require.True(t, there)
	assert.Equal(t, LeverPellets, lift.Lever)
	assert.Equal(t, LeverSieve, lift.Also)
	assert.GreaterOrEqual(t, lift.Least, liftEnough*limits.Least.Value)
	assert.InDelta(t, lift.Least, lift.changes().With(&p, 2).Least.Value, 1e-3*lift.Least)
	for lever, to := range lift.changes() {
		assert.Less(t, (WhatIf{lever: to}).With(&p, 2).Least.Value, liftEnough*limits.Least.Value, "%s alone does not do it", lever)
	}
	said := wording.New("en").Say(s.LimitWords(2)[2].Message())
	assert.Regexp(t, `^Together, pellets (ground to|of) .* and a sieve of .* lift it to .* wt%: .* comes next\.$`, said)
	_, _, near := s.CloseLimits(2)
	assert.False(t, near, "there is a way out")
}

// Where the second has none, it is said that the two lie close together, and which.
func TestTwoLimitsCloseTogetherAreNamed(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.StrengthKept = q[quantity.Fraction]("73 %")
	s := evaluate(t, p)
	limits := s.Limits(2)
	require.Equal(t, LimitPickUp, limits.Limits[0].ID)
	require.Equal(t, LimitUpright, limits.Limits[1].ID)
	require.Less(t, limits.Limits[1].Allowed.Value, liftEnough*limits.Least.Value)
	_, there := s.Lift(2)
	require.False(t, there)
	first, second, near := s.CloseLimits(2)
	require.True(t, near)
	assert.Equal(t, LimitPickUp, first)
	assert.Equal(t, LimitUpright, second)
	assert.True(t, s.NoLift(2))
	assert.Equal(t, "limits_close", s.LimitWords(2)[2].ID)

	p.Loading.StrengthKept = q[quantity.Fraction]("65 %") // far behind
	_, _, near = evaluate(t, p).CloseLimits(2)
	assert.False(t, near)
}

// Where the first limit has no lever at all, no change is told and no closeness is blamed.
func TestNothingIsToldWhereNoLeverActs(t *testing.T) {
	p := sample(t, musselShell)
	for _, s := range []*Sheet{evaluate(t, p), drawnLimits(t, p, 1, LeastDraws)} {
		require.Equal(t, LimitUpright, s.Limits(1).Binding().ID)
		_, there := s.Lift(1)
		assert.False(t, there)
		_, _, near := s.CloseLimits(1)
		assert.False(t, near)
		assert.Empty(t, s.CloseWords(1))
		assert.True(t, s.NoLift(1))
	}
	plain := evaluate(t, p)
	assert.False(t, plain.NoLift(0), "nothing stops the plain polymer")
	assert.False(t, plain.NoLift(-1))
}

// bentLimits is a project in which strand of both contents breaks on the core.
func bentLimits(t *testing.T) project.Project {
	p := sample(t, oliveStone)
	for i := range p.Spool.Bend.Tests {
		p.Spool.Bend.Tests[i].Mandrel, p.Spool.Bend.Tests[i].Broken = q[quantity.Length]("60 mm"), 2
	}
	five := p.Spool.Bend.Tests[0]
	five.Blend = "olive-5"
	p.Spool.Bend.Tests = append(p.Spool.Bend.Tests, five)
	return p
}

// What bend tests allow is drawn with the rest: between none and 5 wt% each content is as
// likely, so it comes first in most draws, and the first of all stops sooner than it alone.
func TestBendTestsAreDrawnToo(t *testing.T) {
	p := bentLimits(t)
	limits := drawnLimits(t, p, 2, 1<<12).Limits(2)
	bend := limitOf(t, limits, LimitBend)
	assert.Equal(t, LimitBend, limits.Binding().ID)
	assert.Greater(t, bend.First, 0.5)
	assert.InDelta(t, 5, bend.Allowed.High, 1e-9, "as it was tested")
	assert.Less(t, limits.Least.Value, 2.5)
	sum := 0.0
	for _, l := range limits.Limits {
		if l.First > 0 {
			sum += l.First
		}
	}
	assert.InDelta(t, 1, sum, 1e-9)
}

// A wider core lifts what bend tests say, to first order and drawn.
func TestAWiderCoreLiftsTheBendLimit(t *testing.T) {
	p := bentLimits(t)
	s := evaluate(t, p)
	require.Equal(t, LimitBend, s.Limits(2).Binding().ID)
	lift, there := s.Lift(2)
	require.True(t, there)
	assert.Equal(t, LeverCore, lift.Lever)
	assert.NotEqual(t, LimitBend, lift.Next)
	assert.InDelta(t, lift.Least, lift.changes().With(&p, 2).Least.Value, 1e-3*lift.Least)
	drawn, there := drawnLimits(t, p, 2, 1<<11).Lift(2)
	require.True(t, there)
	assert.Equal(t, LeverCore, drawn.Lever)
	assert.Less(t, drawn.Least, lift.Least)
}

// What would carry no more than the polymer's own moisture limit allows is not proposed as
// the change: powder is dried at least that far anyway.
func TestDryingIsTriedBelowThePolymersLimitAlone(t *testing.T) {
	p := sample(t, "olive-mill-pla")
	s := evaluate(t, p)
	lift, there := s.Lift(2)
	require.True(t, there)
	require.Equal(t, LeverDrying, lift.Lever)
	limit := s.Blends[2].Results[MoistureLimit]
	require.True(t, limit.Known())
	assert.LessOrEqual(t, lift.To*100, limit.Value)
}
