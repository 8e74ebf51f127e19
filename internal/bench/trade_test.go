package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// What everybody at such a line knows (common practice) must come out of the models.

// PLA extrudes near 180 °C, and is printed hotter than it is extruded.
func TestPLAExtrudesNear180AndPrintsHotter(t *testing.T) {
	pla, found := material.Lookup("pla")
	require.True(t, found)
	extruded, _ := pla.MeltRange.Estimate()
	printed, _ := pla.PrintRange.Estimate()
	assert.LessOrEqual(t, extruded.Low, 273.15+180+1e-9)
	assert.GreaterOrEqual(t, extruded.High, 273.15+180)
	assert.Greater(t, printed.Low, extruded.Low)
	assert.Greater(t, printed.Value, extruded.Value)
}

// A hand line with 30 mL of melt at half a kilogram an hour takes about ten minutes until
// the old colour is out.
func TestAHandLinePurgesInTenMinutes(t *testing.T) {
	p := bare(wood(), "5 wt%")
	p.Line.Machine.MeltVolume = q[quantity.Volume]("30 mL")
	p.Cost.Throughput = q[quantity.MassFlow]("0.5 kg/h")
	r := evaluate(t, p).Blends[1].Result(PurgeTime99)
	require.True(t, r.Known())
	assert.Less(t, r.Low, 10.0)
	assert.Greater(t, r.High, 10.0)
	assert.Greater(t, r.Value, 5.0)
	assert.Less(t, r.Value, 20.0)
}

// Powder with oil or water makes the melt run faster, dry powder without oil slower.
func TestDampOrOilyPowderRunsFaster(t *testing.T) {
	flow := func(change func(m *material.Material)) float64 {
		p := bare(wood(), "10 wt%")
		change(&p.Materials[1])
		return value(t, evaluate(t, p), 1, MeltFlow)
	}
	dry := flow(func(*material.Material) {})
	assert.Less(t, dry, 1.0)
	assert.Greater(t, flow(func(m *material.Material) { m.Moisture = q[quantity.Fraction]("1 %") }), 1.0)
	assert.Greater(t, flow(func(m *material.Material) { m.OilContent = q[quantity.Fraction]("12 %") }), dry)
}

// Double the powder can lump where half did not: pellets carry 5 wt%, if
// only just, and not 10.
func TestDoubleTheLoadingFallsOff(t *testing.T) {
	for content, answer := range map[string]string{"4.5 wt%": "spread_on_whole", "5 wt%": "spread_hardly", "10 wt%": "spread_falls_off"} {
		p := sample(t, oliveStone)
		p.Line.Spreading.Ground = quantity.Of[quantity.Fraction]{}
		p.Blends[2].Parts[1].Amount = amount(content)
		said := evaluate(t, p).Blends[2].Line.Answer
		require.NotEmpty(t, said)
		assert.Contains(t, said[0].ID, answer, content)
	}
}
