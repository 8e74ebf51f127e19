package bench

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// The length of 1 kg of strand, as it goes through the whole chain: by quadrature its 2.5
// and 97.5 % points are 320.402900 and 351.202023 m, its mean 335.42235341 m and its standard
// deviation 7.85819605 m (m 1 ± 0.004 kg and d 1.75 ± 0.04 mm, k = 2; density 1230 to 1250 kg/m³).
func TestDrawnLengthIsThatOfQuadrature(t *testing.T) {
	p := bare(wood(), "0 wt%")
	p.Materials[0].Density = q[quantity.Density]("1.230-1.250 g/cm3")
	p.Spool.NetMass = q[quantity.Mass]("1.000 ± 0.004 kg")
	p.Spool.Diameter = q[quantity.Length]("1.75 ± 0.04 mm")
	s := evaluate(t, p)
	d, err := s.Model.DrawFigures(context.Background(), 0, s.Blends[0].Results, Drawing{Draws: 1 << 16, Seed: 1})
	require.NoError(t, err)
	r := d.Results[LengthPerSpool]
	assert.InEpsilon(t, 335.42235341, r.Mean, 1e-5)
	assert.InEpsilon(t, 7.85819605, r.U, 1e-3)
	assert.InEpsilon(t, 320.402900, r.Low, 1e-3)
	assert.InEpsilon(t, 351.202023, r.High, 1e-3)
	assert.LessOrEqual(t, r.ShortHigh-r.ShortLow, r.High-r.Low+1e-9)

	shown := s.WithFigures(d).Blends[0].Results[LengthPerSpool]
	assert.Equal(t, MonteCarlo, shown.Method)
	assert.InDelta(t, s.Blends[0].Results[LengthPerSpool].Value, shown.Value, 0, "the value is that at the best estimates")
	assert.Equal(t, FirstOrder, s.Blends[0].Results[LengthPerSpool].Method, "the sheet itself stays")
	assert.Equal(t, 1<<16, s.WithFigures(d).Blends[0].Draws)
}

// A seed gives the same draws whatever the number of cores, and another seed others.
func TestDrawsFollowTheSeed(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	draw := func(d Drawing) string { // as text: what is not known equals nothing, itself least
		out, err := s.Model.DrawFigures(context.Background(), 2, s.Blends[2].Results, d)
		require.NoError(t, err)
		return fmt.Sprintf("%v", out)
	}
	first := draw(Drawing{Draws: 2048, Seed: 5, Cores: 1})
	assert.Equal(t, first, draw(Drawing{Draws: 2048, Seed: 5, Cores: 3}))
	assert.NotEqual(t, first, draw(Drawing{Draws: 2048, Seed: 6}))
}

// What is straight in its inputs has the same interval either way; what is not is marked.
func TestFirstOrderIsValidated(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	d, err := s.Model.DrawFigures(context.Background(), 2, s.Blends[2].Results, Drawing{Draws: 1 << 14, Seed: 1})
	require.NoError(t, err)
	assert.True(t, d.Results[LengthPerSpool].Valid)
	assert.True(t, d.Results[WaterFromPellets].Valid)
	assert.False(t, d.Results[MeltFlow].Valid, "the effect of water is far from straight")
	shown := s.WithFigures(d)
	assert.True(t, shown.Blends[2].Results[MeltFlow].Bent)
	assert.False(t, shown.Blends[2].Results[LengthPerSpool].Bent)
}

// No draw of what cannot be negative is negative, and a range is even.
func TestInputsAreDrawnAsTheyCanBe(t *testing.T) {
	p := sample(t, oliveStone)
	p.Materials[0].Moisture = q[quantity.Fraction]("60 ± 70 ppm")
	m := Compile(&p)
	even := 0
	for i := range m.inputs {
		v := m.inputs[i].variable()
		if v.Shape == uncertain.Rectangular {
			even++
		}
		if m.inputs[i].most > 0 {
			assert.GreaterOrEqual(t, v.At(1e-6), 0.0, m.inputs[i].Pointer)
		}
		assert.InDelta(t, v.Value, v.At(0.5), 1e-9*(1+math.Abs(v.Value)), m.inputs[i].Pointer)
	}
	assert.Greater(t, even, 5, "the library tells ranges")
}

// A figure of the reference and of a blend share the density of the polymer: it cancels
// in their difference, so that the difference is known better than both.
func TestDrawnChangesShareWhatIsShared(t *testing.T) {
	p := bare(wood(), "1 wt%")
	p.Materials[0].Density = q[quantity.Density]("1.24 ± 0.06 g/cm3")
	s := evaluate(t, p)
	d, err := s.Model.DrawFigures(context.Background(), 1, s.Blends[1].Results, Drawing{Draws: 1 << 14, Seed: 1})
	require.NoError(t, err)
	length, change := d.Results[LengthPerSpool], d.Change[LengthPerSpool]
	assert.InEpsilon(t, 2*0.06/1.24*0.98, (length.High-length.Low)/length.Mean, 0.02)
	assert.Less(t, change.High-change.Low, 0.2, "in percent: a hundredth of the polymer's own")

	drawn := s.WithFigures(d).Compare()
	for k, c := range s.Compare() {
		if c.Figure == LengthPerSpool {
			assert.Equal(t, MonteCarlo, drawn[k].Cells[1].Change.Method)
			assert.InDelta(t, change.Low, drawn[k].Cells[1].Change.Low, 1e-12)
			cell := c.Cells[1]
			assert.InEpsilon(t, cell.Change.High-cell.Change.Low, change.High-change.Low, 0.05, "first order knows it as well")
			assert.Equal(t, VerdictLess, cell.Verdict, "wood is heavier than the polymer, so a kilogram is shorter")
		}
	}
}

// The draws of limits agree with the first-order view where that holds, and tell how often
// each comes first.
func TestDrawnLimits(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	d, err := s.Model.DrawLimits(context.Background(), 2, Drawing{Draws: 1 << 13, Seed: 1})
	require.NoError(t, err)
	drawn := s.WithLimits(d).Limits(2)
	assert.Equal(t, MonteCarlo, drawn.Method)
	sum := 0.0
	for _, l := range drawn.Limits {
		if l.First > 0 {
			sum += l.First
		}
		if l.Known() {
			assert.True(t, l.Allowed.Low <= l.Allowed.Value && l.Allowed.Value <= l.Allowed.High, l.ID)
		}
	}
	assert.InDelta(t, 1, sum, 1e-9, "in every draw one is the first")
	first := drawn.Binding()
	require.NotNil(t, first)
	for _, l := range drawn.Limits {
		assert.False(t, l.First > first.First, "the one that comes first most often binds")
	}
	assert.LessOrEqual(t, drawn.Least.High, limitOf(t, drawn, LimitPickUp).Allowed.High)
	assert.Contains(t, drawn.Words()[0].ID, "limits_drawn_")
	assert.Equal(t, FirstOrder, s.Limits(2).Method, "the sheet itself stays")
}

// Draws end soon after they are cancelled, and nothing comes of them.
func TestDrawsCanBeCancelled(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	for name, draw := range map[string]func(ctx context.Context) error{
		"figures": func(ctx context.Context) error {
			_, err := s.Model.DrawFigures(ctx, 2, s.Blends[2].Results, Drawing{Draws: 1 << 20})
			return err
		},
		"limits": func(ctx context.Context) error {
			_, err := s.Model.DrawLimits(ctx, 2, Drawing{Draws: 1 << 20})
			return err
		},
		"shares": func(ctx context.Context) error {
			_, err := s.Model.VarianceShares(ctx, &p, 2, []Target{{Limit: TargetLeast}}, Drawing{Draws: 1 << 16})
			return err
		},
	} {
		ctx, cancel := context.WithTimeout(context.Background(), 30*time.Millisecond)
		done := make(chan error, 1)
		go func() { done <- draw(ctx) }()
		select {
		case err := <-done:
			assert.ErrorIs(t, err, context.DeadlineExceeded, name)
		case <-time.After(20 * time.Second):
			assert.Fail(t, "it goes on", name)
		}
		cancel()
	}
}

// The shares of the length are those of its formula: 4u_d² against u_ρ² and u_m².
func TestSharesOfTheLength(t *testing.T) {
	p := bare(wood(), "0 wt%")
	p.Materials[0].Density = q[quantity.Density]("1.24 ± 0.02 g/cm3")
	p.Spool.NetMass = q[quantity.Mass]("1.000 ± 0.01 kg")
	p.Spool.Diameter = q[quantity.Length]("1.75 ± 0.02 mm")
	s := evaluate(t, p)
	shares, err := s.Model.VarianceShares(context.Background(), &p, 0, []Target{{Figure: LengthPerSpool}}, Drawing{Seed: 1})
	require.NoError(t, err)
	d, rho, m := 2*0.01/1.75, 0.01/1.24, 0.005
	all := d*d + rho*rho + m*m
	want := map[string]float64{"/spool/diameter": d * d / all, "/materials/0/density": rho * rho / all, "/spool/net_mass": m * m / all}
	require.Len(t, shares[0].Inputs, 3)
	for _, in := range shares[0].Inputs {
		assert.InDelta(t, want[in.Pointer], in.Total, 0.02, in.Pointer)
		assert.InDelta(t, want[in.Pointer], in.First, 0.03, in.Pointer)
	}
	assert.Equal(t, "/spool/diameter", shares[0].Inputs[0].Pointer)
	assert.Equal(t, project.MeasureDiameter, shares[0].Inputs[0].Measure)
}

// A measurement narrows what hangs on it: 20 more readings of the diameter take most of the
// ± of the length away, and effort decides what comes first.
func TestMeasureNextTellsWhatHelps(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	shares, err := s.Model.VarianceShares(context.Background(), &p, 2, []Target{{Figure: LengthPerSpool}}, Drawing{Seed: 1})
	require.NoError(t, err)
	advice, err := s.Model.MeasureNext(context.Background(), &p, 2, shares[0], Drawing{Seed: 1})
	require.NoError(t, err)
	require.NotEmpty(t, advice)
	first := advice[0]
	assert.Equal(t, project.MeasureDiameter, first.Measure)
	assert.Less(t, first.After.High-first.After.Low, 0.5*(first.Now.High-first.Now.Low))
	assert.Equal(t, 10*time.Minute, first.Effort)
	assert.False(t, first.EffortEntered)

	p.Loading.Efforts = []project.Effort{{Measure: project.MeasureDiameter, Time: q[quantity.Duration]("100 h")}}
	advice, err = s.Model.MeasureNext(context.Background(), &p, 2, shares[0], Drawing{Seed: 1})
	require.NoError(t, err)
	assert.True(t, advice[0].EffortEntered)
	assert.Less(t, advice[0].PerHour, first.PerHour/100, "not worth a hundred hours")
}

// Where a pinch would hold hardly a large grain, blockages of printed strand are noted
// instead: the more powder in it, the more they tell.
func TestCountingGrainsNeedsGrainsToCount(t *testing.T) {
	p := sample(t, oliveStone)
	m := Compile(&p)
	many := Input{Input: uncertain.Input{Value: 100, UMinus: 50, UPlus: 230}}
	measure, rule := m.countingGrains(1, &many)
	assert.Equal(t, project.MeasureGrains, measure)
	assert.InDelta(t, 100/math.Sqrt(5), rule.after(many).UPlus, 1e-9)
	assert.InDelta(t, 100/math.Sqrt(5), rule.after(many).UMinus, 6, "never worse than now")

	few := Input{Input: uncertain.Input{Value: 40, UMinus: 20, UPlus: 20}}
	measure, five := m.countingGrains(1, &few)
	assert.Equal(t, project.MeasureBlockages, measure)
	assert.InDelta(t, 1/math.Sqrt(4+0.05*40), five.relative, 2e-3, "as if four were counted, and two more to come in 1 kg of 5 wt%")
	_, ten := m.countingGrains(2, &few)
	assert.Less(t, ten.relative, five.relative)
	_, none := m.countingGrains(0, &few)
	assert.Equal(t, few, none.after(few), "no powder, no blockage by it")
	unseen := Input{Input: uncertain.Input{UPlus: 3}}
	_, never := m.countingGrains(1, &unseen)
	assert.Equal(t, unseen, never.after(unseen))
}

// Every input that a maker can measure is settled by a measurement that is listed with its
// usual effort.
func TestEveryMeasureHasAnEffort(t *testing.T) {
	for _, measure := range project.Measures() {
		assert.Positive(t, usualEffort[measure], measure)
	}
	assert.Len(t, usualEffort, len(project.Measures()))
	used := map[project.Measure]bool{}
	for _, c := range constantMeasures {
		used[c.measure] = true
	}
	for _, f := range fieldMeasures {
		used[f.measure] = true
	}
	for _, m := range []project.Measure{project.MeasurePowder, project.MeasurePolymer, project.MeasureMoisture, project.MeasurePellets} {
		used[m] = true // by kind of material
	}
	used[project.MeasureBlockages] = true // in the place of a count
	for _, measure := range project.Measures() {
		assert.True(t, used[measure], measure)
	}
}
