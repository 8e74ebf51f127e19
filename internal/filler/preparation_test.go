package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// Wet grounds of 60 % are dried to 3 % on wet basis, ground (98 %) and sieved
// (70 %); 2.6 MJ/kg at 35 % of the oven's energy. Arithmetic from these inputs.
func TestPreparedGrounds(t *testing.T) {
	drying := DryingYield(0.60, 0.03)
	printed.Equal(t, "0.412371", drying, byHand)
	y := ChainYield([]Step{{Yield: drying}, {Yield: 0.98}, {Yield: 0.70}})
	printed.Equal(t, "0.282887", y, byHand)
	printed.Equal(t, "3.53499", 1/y, "to fetch per usable mass, "+byHand)
	water := (1 - drying) / y
	printed.Equal(t, "2.07726", water, byHand)
	printed.Equal(t, "4.2864", water*DryingHeatHighJKg/0.35/3.6e6, byHand)
}

func TestYieldsAtTheEdges(t *testing.T) {
	assert.Equal(t, 1.0, ChainYield(nil))
	assert.Equal(t, 2.0, ChainYield([]Step{{Yield: 2}}), "washing takes up water")
	assert.True(t, math.IsNaN(ChainYield([]Step{{Yield: 0.9}, {}})), "a step without a yield")
	assert.True(t, math.IsNaN(ChainYield([]Step{{Yield: 0.7, Recycled: 1.1}})))
	assert.True(t, math.IsNaN(DryingYield(0.6, 1)))
	assert.True(t, math.IsNaN(DryingYield(-0.1, 0.03)))
	assert.Greater(t, DryingYield(0.03, 0.05), 1.0, "taken up")
}

// Seventy of a hundred pass, and half of the rest goes round again.
func TestOversizeSentBack(t *testing.T) {
	printed.Equal(t, "0.823529", RecycledYield(0.7, 0.5), "0.7/0.85, "+byHand)
	printed.Equal(t, "1.176471", RecycleLoad(0.7, 0.5), "1/0.85, "+byHand)
	assert.Equal(t, 0.7, RecycledYield(0.7, 0))
	assert.Equal(t, 1.0, RecycleLoad(0.7, 0))
	printed.Same(t, 1, RecycledYield(0.05, 1))
	printed.Same(t, 20, RecycleLoad(0.05, 1))
	for _, none := range [][2]float64{{0, 0.5}, {1.1, 0.5}, {0.7, -0.1}, {0.7, 1.1}, {math.NaN(), 0}} {
		assert.True(t, math.IsNaN(RecycleLoad(none[0], none[1])), "%v", none)
	}
	// the same by going round a thousand times
	fresh, passed, through := 1.0, 0.0, 0.0
	for range 1000 {
		through += fresh
		passed += 0.7 * fresh
		fresh *= 0.3 * 0.5
	}
	printed.Same(t, passed, RecycledYield(0.7, 0.5))
	printed.Same(t, through, RecycleLoad(0.7, 0.5))
}

// 10 kg of free grounds fetched for 0.20 per kg, dried with 8 kWh at 0.35 and a
// quarter of an hour at 20 per hour, a filter for 1.50; 2.5 kg are left:
// (2 + 2.8 + 5 + 1.5)/2.5.
func TestCostPerUsableKg(t *testing.T) {
	steps := []Step{
		{Yield: 0.4, EnergyJ: 8 * 3.6e6, LabourS: 900, Cost: 1.5},
		{Yield: 0.625},
	}
	p := Prices{TransportPerKg: 0.20, EnergyPerJ: 0.35 / 3.6e6, LabourPerS: 20.0 / 3600}
	printed.Equal(t, "4.5200", CostPerUsableKg(10, steps, p), byHand)
	p.WetPerKg = 0.10
	printed.Equal(t, "4.9200", CostPerUsableKg(10, steps, p), "1.00 more for the batch, "+byHand)
	assert.True(t, math.IsNaN(CostPerUsableKg(0, steps, p)))
	assert.True(t, math.IsNaN(CostPerUsableKg(10, []Step{{}}, p)))
}

func TestPreparationDoesNotAllocate(t *testing.T) {
	steps := make([]Step, 12)
	for i := range steps {
		steps[i] = Step{Yield: 0.9, Recycled: 0.5, Cost: 1}
	}
	sum := 0.0
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		sum += ChainYield(steps) + CostPerUsableKg(1, steps, Prices{WetPerKg: 1})
	}))
	assert.False(t, math.IsNaN(sum))
}
