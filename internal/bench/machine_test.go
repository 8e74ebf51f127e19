package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/quantity"
)

// TestMachineStandsInForOvenAndScale: what is known of the oven and of the scale of a
// machine counts while the log and the batch say nothing.
func TestMachineStandsInForOvenAndScale(t *testing.T) {
	p := sample(t, oliveStone)
	run := &p.Materials[1].Powder.Drying.Runs[0]
	run.RoomHumidity = quantity.Of[quantity.Fraction]{}
	assert.Empty(t, evaluate(t, p).Powders[0].Drying.Runs[0].FloorFrom)
	p.Line.Machine.OvenFloor = q[quantity.Fraction]("0.5 ± 0.1 %")
	s := evaluate(t, p)
	assert.Equal(t, "machine", s.Powders[0].Drying.Runs[0].FloorFrom)
	assert.InDelta(t, 0.5, s.Powders[0].Drying.Runs[0].Floor.Value, 1e-9)
	run.RoomHumidity = q[quantity.Fraction]("48 %")
	assert.Equal(t, "wood", evaluate(t, p).Powders[0].Drying.Runs[0].FloorFrom, "the log says more")

	p.Line.Machine.ScaleStep = q[quantity.Mass]("1 g")
	assert.InDelta(t, 0.1e-3, resolutionKg(&p), 1e-12, "that of the batch comes first")
	p.Batch.BalanceResolution = quantity.Of[quantity.Mass]{}
	assert.InDelta(t, 1e-3, resolutionKg(&p), 1e-12)
}
