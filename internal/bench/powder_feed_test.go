package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// What the bench says takes the place of the card, and the other way round.
func TestBenchTakesThePlaceOfTheCard(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	powder := s.Powder(1)
	for _, member := range []string{"moisture", "price", "density", "packing_limit"} {
		fed, is := powder.Fed(member)
		require.True(t, is, member)
		assert.True(t, fed.Used, member)
	}
	moisture, _ := powder.Fed("moisture")
	assert.Equal(t, moisture.Value.Value, value(t, s, 2, PowderMoisture))
	price, _ := powder.Fed("price")
	assert.InDelta(t, 0.1*price.Value.Value, value(t, s, 2, MaterialCostPerKg)-(0.898*18.90+0.002*14), 1e-9)

	p.Materials[1].Powder = material.Powder{}
	s = evaluate(t, p)
	assert.Empty(t, s.Powder(1).Feeds)
	assert.InDelta(t, 1.1, value(t, s, 2, PowderMoisture), 1e-9)
}

// Each value of the bench by itself: it stands in Blend and Melt with its own basis,
// and what is set aside leaves the card's, as if the bench were empty.
func TestSetAsideBringsTheCardBack(t *testing.T) {
	for _, c := range []struct {
		member   string
		figures  []Figure // that move when the card's value is in the place of the bench's
		basis    Basis
		setAside func(b *material.Powder)
		empty    func(b *material.Powder)
	}{
		{
			"moisture",
			[]Figure{PowderMoisture, BlendMoisture, MeltFlowWater},
			Measured,
			func(b *material.Powder) { b.Drying.SetAside = true },
			func(b *material.Powder) { b.Drying = material.Drying{} },
		},
		{
			"price",
			[]Figure{MaterialCostPerKg, CostPerKg, SavingPerSpool},
			Entered,
			func(b *material.Powder) { b.Preparation.SetAside = true },
			func(b *material.Powder) { b.Preparation = material.Preparation{} },
		},
		{
			"density",
			[]Figure{DensityEstimated, FillerVolumeFraction, MeltFlowGrains},
			Measured,
			func(b *material.Powder) { b.Grain.DensitySetAside = true },
			func(b *material.Powder) { b.Grain.Full = quantity.Of[quantity.Mass]{} },
		},
		{
			"packing_limit",
			[]Figure{PackingLimit, MeltFlowGrains},
			Measured,
			func(b *material.Powder) { b.Grain.PackingSetAside = true },
			func(b *material.Powder) { b.Grain.HeapMass = quantity.Of[quantity.Mass]{} },
		},
	} {
		t.Run(c.member, func(t *testing.T) {
			p := fed()
			used := evaluate(t, p)
			feed, is := used.Powder(1).Fed(c.member)
			require.True(t, is)
			assert.True(t, feed.Used)
			assert.Equal(t, c.basis, feed.Value.Basis)

			aside, empty := project.Clone(p), project.Clone(p)
			c.setAside(benchOf(&aside))
			c.empty(benchOf(&empty))
			card, without := evaluate(t, aside), evaluate(t, empty)
			if feed, is := card.Powder(1).Fed(c.member); is {
				assert.False(t, feed.Used)
			}
			for _, f := range c.figures {
				assert.NotEqual(t, value(t, used, 1, f), value(t, card, 1, f), "%s is moved by the bench", f.Key())
				assert.Equal(t, without.Blends[1].Result(f), card.Blends[1].Result(f), "%s is that of the card", f.Key())
			}
		})
	}
}

// fed is a project with a bench that says all that a card says.
func fed() project.Project {
	p := spreads()
	p.Materials[1].Moisture = q[quantity.Fraction]("2 %")
	benchOf(&p).Storage = material.Storage{}
	g := &benchOf(&p).Grain
	g.Full, g.Powder, g.FullWithPowder = q[quantity.Mass]("350 g"), q[quantity.Mass]("42 g"), q[quantity.Mass]("362 g")
	g.LiquidTemperature = q[quantity.Temperature]("23 degC")
	return p
}
