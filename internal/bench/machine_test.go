package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
	"fillwright/internal/project"
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

// A single timed interval is known as well as it was read: 60 s to a second and 8.3 g to a
// tenth, half a digit either way, are 0.29 s and 0.029 g (GUM 4.3.7), together 0.594 %.
func TestASingleOutputIsKnownToItsLastDigits(t *testing.T) {
	p := sample(t, oliveStone)
	p.Line.Outputs = []project.Output{{Time: q[quantity.Duration]("60 s"), Mass: q[quantity.Mass]("8.3 g")}}
	r := evaluate(t, p).Blends[0].Result(Throughput)
	printed.Equal(t, "0.4980", r.Value, arith)
	printed.Equal(t, "0.0119", math.Log(r.High/r.Value), arith) // k = 2
	p.Line.Outputs[0].Time, p.Line.Outputs[0].Mass = q[quantity.Duration]("60 ± 6 s"), q[quantity.Mass]("8.3 ± 0.01 g")
	printed.Equal(t, "0.100", math.Log(evaluate(t, p).Blends[0].Result(Throughput).High/r.Value), arith)
}
