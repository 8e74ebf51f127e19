package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// The damper the pellets, the less powder may go in: what cuts the chains is all water. Where
// the pellets alone break the rule, none may.
func TestDampPelletsLeaveLessRoom(t *testing.T) {
	last := math.Inf(1)
	for _, moisture := range []string{"60 ppm", "300 ppm", "600 ppm"} {
		p := sample(t, oliveStone)
		p.Materials[0].Moisture = q[quantity.Fraction](moisture)
		l := limitOf(t, evaluate(t, p).Limits(2), LimitHydrolysis)
		require.True(t, l.Known(), moisture)
		assert.Less(t, l.Allowed.Value, last, moisture)
		assert.Positive(t, l.Allowed.Value, moisture)
		last = l.Allowed.Value
	}
	p := sample(t, oliveStone)
	p.Materials[0].Moisture = q[quantity.Fraction]("5000 ppm")
	s := evaluate(t, p)
	assert.Equal(t, LimitNone, limitOf(t, s.Limits(2), LimitHydrolysis).State)
	assert.Greater(t, s.Blends[0].Results[MolarMassLoss].Value, 20.0, "of the plain polymer")
}

// The limit is where the molar mass, worked out by hand, falls to what is allowed of that of
// the dry polymer after the same time.
func TestHydrolysisLimitIsThatOfTheEquation(t *testing.T) {
	p := sample(t, oliveStone)
	m := Compile(&p)
	v := m.newLimitSolver(2, limitGrid)
	allowed := make([]float64, len(m.limits))
	v.solve(m.Nominal(), allowed)
	for r := range m.limits {
		if m.limits[r].id != LimitHydrolysis {
			continue
		}
		require.True(t, v.at(allowed[r], evalFlow))
		x := m.best()
		water := v.y[WaterFromPellets] + v.y[WaterFromPowder]
		temperature, time, mn := get(x, m.set.temperature), get(x, m.set.residence), get(x, m.blends[2].molarMass)
		kh, kt := melt.HydrolysisRate(math.Exp(get(x, m.set.rateLog)), temperature), melt.ThermalScissionRate(temperature)
		left := melt.MolarMassAfter(mn, water, kh, kt, time) / melt.MolarMassAfter(mn, 0, kh, kt, time)
		assert.InDelta(t, x[m.limits[r].place], 1-left, 1e-3)
	}
}

// A measured flow settles the rate, and with it what the water of pellets and powder costs;
// where only that is known, as of PETG, as well.
func TestMeasuredFlowTellsTheLoss(t *testing.T) {
	p := bare(wood(), "10 wt%")
	p.Materials[0].Moisture = q[quantity.Fraction]("200 ppm")
	p.Materials[1].Moisture = q[quantity.Fraction]("1 %")
	p.Melt.Temperature, p.Melt.Residence = q[quantity.Temperature]("200 °C"), q[quantity.Duration]("4 min")
	model := evaluate(t, p).Blends[1].Results
	p.Blends[1].MeasuredFlow = quantity.FromSI[quantity.Factor](model[MeltFlow].Value, "1", 12)
	own := evaluate(t, p).Blends[1].Results
	assert.InEpsilon(t, model[MolarMassLoss].Value, own[MolarMassLoss].Value, 1e-6, "measured as the model says")
	p.Melt.Pin = project.PinWater
	assert.InEpsilon(t, model[MolarMassLoss].Value, evaluate(t, p).Blends[1].Results[MolarMassLoss].Value, 1e-6)
	faster := quantity.FromSI[quantity.Factor](1.2*model[MeltFlow].Value, "1", 12)
	p.Blends[1].MeasuredFlow = faster
	assert.Greater(t, evaluate(t, p).Blends[1].Results[MolarMassLoss].Value, model[MolarMassLoss].Value)

	p.Melt.Pin, p.Materials[0].Class = "", "PETG"
	b := evaluate(t, p).Blends[1].Results
	bound := 1 - melt.MolarMassBound(100, (b[WaterFromPellets].Value+b[WaterFromPowder].Value)*1e-6)/100
	require.True(t, b[MolarMassLoss].Known())
	assert.Greater(t, b[MolarMassLoss].Value, 100*(1-math.Pow(b[MeltFlowWater].Value, -1/melt.ExponentLow)), "the pellets' own water cuts too")
	assert.Less(t, b[MolarMassLoss].Value, 100*bound)
}
