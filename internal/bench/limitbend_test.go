package bench

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// bentAt is a bend test of ten pieces.
func bentAt(blend project.BlendID, mandrel string, broken int) project.BendTest {
	return project.BendTest{Blend: blend, Mandrel: q[quantity.Length](mandrel), Pieces: 10, Broken: broken}
}

func bendLimitOf(t *testing.T, p *project.Project, blend int, tests ...project.BendTest) *Limit {
	t.Helper()
	p.Spool.Bend.Tests = tests
	return limitOf(t, evaluate(t, *p).Limits(blend), LimitBend)
}

// Bend tests alone tell whether strand breaks on the core: as far as it was tested, and
// between what survived and what broke nothing is known.
func TestBendLimitKnowsWhatWasTested(t *testing.T) {
	p := sample(t, oliveStone)
	l := limitOf(t, evaluate(t, p).Limits(1), LimitBend)
	assert.Equal(t, LimitTested, l.State)
	assert.InDelta(t, 10, l.Allowed.Value, 1e-9)
	assert.False(t, l.Known())

	l = bendLimitOf(t, &p, 1, bentAt("olive-5", "20 mm", 0), bentAt("olive-10", "100 mm", 2))
	assert.Equal(t, LimitBinds, l.State)
	assert.InDelta(t, 5, l.Allowed.Low, 1e-9)
	assert.InDelta(t, 10, l.Allowed.High, 1e-9)

	l = bendLimitOf(t, &p, 1, bentAt("olive-5", "100 mm", 1), bentAt("olive-10", "20 mm", 0))
	assert.InDelta(t, 5, l.Allowed.High, 1e-9, "what survived at more says nothing against what broke")
	assert.Zero(t, l.Allowed.Low)
	l = bendLimitOf(t, &p, 1, bentAt("neat", "100 mm", 1))
	assert.Equal(t, LimitNone, l.State, "not even plain strand stands the core")

	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1).State)
	p.Spool.Reel.Core = quantity.Of[quantity.Length]{}
	assert.Equal(t, "/spool/reel/core", bendLimitOf(t, &p, 1).Where)
}

// A test that says nothing about the core tells nothing: a gentle bend that was survived, a
// sharp one that was not, one of a blend that nobody named, one of another polymer.
func TestBendLimitTakesNoTestThatTellsNothing(t *testing.T) {
	p := sample(t, oliveStone)
	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1, bentAt("olive-10", "300 mm", 0)).State, "too gentle")
	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1, bentAt("olive-10", "5 mm", 10)).State, "sharper than the core with its factor")
	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1, bentAt("", "20 mm", 0)).State, "of whatever")
	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1, bentAt("neat", "20 mm", 0)).State, "plain strand that stands it says nothing of powder")

	other := p.Materials[0]
	other.ID = "another"
	p.Materials = append(p.Materials, other)
	p.Blends[0].Parts[0].Material = other.ID
	assert.Equal(t, LimitUnknown, bendLimitOf(t, &p, 1, bentAt("neat", "100 mm", 5)).State, "of another polymer")
}

// Breaking on the core counts among the draws, as far as it is known, and a wider core lifts it.
func TestBendLimitIsDrawnWithTheOthers(t *testing.T) {
	p := sample(t, musselShell)
	p.Spool.Bend.Tests = []project.BendTest{bentAt(p.Blends[0].ID, "20 mm", 0), bentAt(p.Blends[1].ID, "60 mm", 3)}
	p.Blends[1].Parts[1].Amount = project.Content(q[quantity.Content]("2 wt%"))
	s := evaluate(t, p)
	require.Equal(t, LimitBend, s.Limits(1).Binding().ID)
	d, err := s.DrawLimits(context.Background(), 1, Drawing{Draws: 1 << 11, Seed: 1})
	require.NoError(t, err)
	drawn := s.WithLimits(d).Limits(1)
	assert.Equal(t, LimitBend, drawn.Binding().ID)
	assert.Greater(t, drawn.Binding().First, 0.9)
	assert.InDelta(t, 1, drawn.Least.Value, 0.1, "in the middle of what is not known")
	assert.InDelta(t, 0.05, drawn.Least.Low, 0.03)
	assert.InDelta(t, 1.95, drawn.Least.High, 0.03)
	lift, there := s.Lift(1)
	require.True(t, there)
	assert.Equal(t, LeverCore, lift.Lever)
}
