package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
)

// A sweep at the content that a blend has anyway gives the figures of the blend.
func TestSweepMeetsTheBlend(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		p.Melt.Tests = nil
		for i := range p.Blends { // a sweep estimates; what was measured holds for one content only
			p.Blends[i].MeasuredDensity, p.Blends[i].MeasuredFlow = quantity.Of[quantity.Density]{}, quantity.Of[quantity.Factor]{}
		}
		m := Compile(&p)
		whole := m.Results()
		for i := range p.Blends {
			if !m.Filled(i) {
				continue
			}
			content := whole[i][FillerMassFraction].Value / 100
			swept := m.Sweep(i, []float64{content}).Results()[0]
			for _, f := range Figures() {
				a, b := whole[i][f], swept[f]
				require.Equal(t, a.Known(), b.Known(), f.Key())
				assert.InDelta(t, a.Value, b.Value, 1e-9*math.Max(1, math.Abs(a.Value)), f.Key())
				if whole[i][RegrindShare].Known() {
					continue // the content that is swept is held, whatever the regrind brings
				}
				assert.InDelta(t, a.High-a.Low, b.High-b.Low, 1e-6*math.Max(1e-3, a.High-a.Low), f.Key())
			}
		}
	}
}

func TestSweepFromPlainPolymerOn(t *testing.T) {
	p := bare(wood(), "20 wt%")
	m := Compile(&p)
	plain := m.Results()[0]
	curves := m.ContentSweep(1, 0.4, Density, CostPerKg, MeltFlow, BreakEvenFillerPrice)
	require.Len(t, curves, 4)
	for i, f := range []Figure{Density, CostPerKg, MeltFlow} {
		require.Len(t, curves[i].X, sweepPoints, f.Key())
		assert.Zero(t, curves[i].X[0])
		assert.InEpsilon(t, 40, curves[i].X[sweepPoints-1], 1e-12)
		assert.InEpsilon(t, plain[f].Value, curves[i].Y[0], 1e-12, "no powder: the plain polymer")
		assert.Equal(t, plain[f].Unit, curves[i].Unit)
	}
	assert.Len(t, curves[3].X, sweepPoints-1, "without powder there is no price to look for")
	assert.InEpsilon(t, 1/(0.6/1.24+0.4/1.45), curves[0].Y[sweepPoints-1], 1e-12)

	thick := m.ContentSweep(1, 0.95, MeltFlow)[0]
	assert.Less(t, len(thick.X), sweepPoints, "the curve ends where the melt no longer flows")
	for _, y := range thick.Y {
		assert.Positive(t, y)
	}
}

func TestNothingToSweep(t *testing.T) {
	p := bare(wood(), "20 wt%")
	m := Compile(&p)
	for _, blend := range []int{0, -1, 2} { // no powder, and no such blends
		assert.Nil(t, m.Sweep(blend, []float64{0.1}))
		assert.Nil(t, m.ContentSweep(blend, 0.3, Density))
	}
	assert.Equal(t, -1, m.FirstPowder(0))
	assert.Equal(t, 1, m.FirstPowder(1))
	assert.Equal(t, []float64{0, 0.15, 0.3}, Contents(3, 0.3))
	assert.Equal(t, []float64{0}, Contents(1, 0.3))
}

func TestLengthCurveMeetsTheSpool(t *testing.T) {
	p := lengthProject()
	m := Compile(&p)
	c, ok := m.LengthCurve(0, 1.70, 1.80)
	require.True(t, ok)
	middle := len(c.X) / 2
	assert.InEpsilon(t, 1.75, c.X[middle], 1e-12)
	assert.InEpsilon(t, m.Results()[0][LengthPerSpool].Value, c.Y[middle], 1e-9)
	assert.InEpsilon(t, c.Y[0]*1.70*1.70, c.Y[len(c.Y)-1]*1.80*1.80, 1e-9, "with the inverse square")
	// mass ± 0.2 % and density ± 0.47 % (both k = 1), the diameter being what is varied
	relative := 2 * math.Hypot(0.002, 0.01/math.Sqrt(3)/1.24)
	assert.InEpsilon(t, 1+relative, c.High[middle]/c.Y[middle], 1e-6)

	for _, ends := range [][2]float64{{0, 1}, {2, 1}} {
		_, ok = m.LengthCurve(0, ends[0], ends[1])
		assert.False(t, ok)
	}
	p.Spool.NetMass = quantity.Of[quantity.Mass]{}
	_, ok = Compile(&p).LengthCurve(0, 1.70, 1.80)
	assert.False(t, ok)
	p.Spool.Diameter = quantity.Of[quantity.Length]{}
	_, ok = Compile(&p).LengthCurve(0, 1.70, 1.80)
	assert.False(t, ok)
	assert.False(t, Compile(&p).Diameter().Known())
}
