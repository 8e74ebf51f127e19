package bench

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// A time that the maker enters orders the measurements as if all had been drawn anew, and
// changes nothing that was drawn.
func TestMeasureTimesOnlyOrderTheAdvice(t *testing.T) {
	p := sample(t, oliveStone)
	m := Compile(&p)
	basis := AdviceBasisOf(&p)
	shares, err := m.VarianceShares(context.Background(), &p, 2, []Target{{Figure: CostPerMetre}}, Drawing{Seed: 1})
	require.NoError(t, err)
	advice, err := m.MeasureNext(context.Background(), &p, 2, shares[0], Drawing{Seed: 1})
	require.NoError(t, err)
	require.Greater(t, len(advice), 1)
	first := advice[0]

	p.Loading.Efforts = []project.Effort{{Measure: first.Measure, Time: q[quantity.Duration]("300 h")}}
	require.True(t, basis.Holds(&p))
	anew, err := Compile(&p).MeasureNext(context.Background(), &p, 2, shares[0], Drawing{Seed: 1})
	require.NoError(t, err)
	OrderAdvice(&p, advice)
	assert.Equal(t, anew, advice)
	last := advice[len(advice)-1]
	assert.Equal(t, first.Measure, last.Measure)
	assert.Equal(t, 300*time.Hour, last.Effort)
	assert.True(t, last.EffortEntered)
	assert.Equal(t, first.After, last.After)
	assert.InDelta(t, first.PerHour*first.Effort.Hours(), last.PerHour*300, 1e-12)

	p.Loading.Efforts = nil
	OrderAdvice(&p, advice)
	assert.Equal(t, first, advice[0], "the usual time again")
	p.Loading.Seed = 7
	assert.False(t, basis.Holds(&p), "it would be drawn otherwise")
	p.Loading.Seed = 0
	require.True(t, basis.Holds(&p))
	p.Materials[0].Density = q[quantity.Density]("1.3 g/cm3")
	assert.False(t, basis.Holds(&p))
}

// Every measurement that is told narrows the interval by a twentieth at least.
func TestMeasureThatHelpsLittleIsNotTold(t *testing.T) {
	p := sample(t, oliveStone)
	m := Compile(&p)
	shares, err := m.VarianceShares(context.Background(), &p, 2, []Target{{Limit: TargetLeast}, {Limit: LimitClog}}, Drawing{Seed: 1})
	require.NoError(t, err)
	for _, s := range shares {
		assert.True(t, s.Measurable())
		advice, err := m.MeasureNext(context.Background(), &p, 2, s, Drawing{Seed: 1})
		require.NoError(t, err)
		for _, a := range advice {
			assert.LessOrEqual(t, a.After.High-a.After.Low, 0.95*(a.Now.High-a.Now.Low), "%s: %s", s.Target.Limit, a.Measure)
		}
	}
	assert.False(t, (&Shares{Inputs: []InputShare{{Pointer: "/loading/clog_chance", Total: 1}}}).Measurable())
}
