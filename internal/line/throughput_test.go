package line_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/line"
	"fillwright/internal/printed"
)

const (
	arithmetic = "arithmetic from the stated inputs"
	perHour    = 1.0 / 3600
)

func TestPullerAndDrawDown(t *testing.T) {
	speed := line.PullerSpeed(0.5*perHour, 1277.538, 1.75e-3)
	printed.Equal(t, "45.199", speed*1e3, arithmetic)
	printed.Equal(t, "2.71193", speed*60, arithmetic)
	printed.Equal(t, "2.0304", 100*line.SpeedChange(-0.01), arithmetic)
	printed.Equal(t, "1.30612", line.DrawDown(2e-3, 1.75e-3, 1, 1), arithmetic)
	printed.Equal(t, "1.13794", line.DrawDown(2e-3, 1.75e-3, 1.113, 1.2775), arithmetic)
}

// TestPullerGivesTheDiameterBack: what was pulled at the speed weighs what the line gives.
func TestPullerGivesTheDiameterBack(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		flow, density, d := random.Float64()*1e-3+1e-6, 900+random.Float64()*1000, 1e-3+random.Float64()*2e-3
		speed := line.PullerSpeed(flow, density, d)
		assert.InEpsilon(t, flow, speed*density*math.Pi/4*d*d, 1e-12)
		e := random.Float64()*0.2 - 0.1
		faster := speed * (1 + line.SpeedChange(e))
		assert.InEpsilon(t, d*(1+e), math.Sqrt(flow/(density*math.Pi/4*faster)), 1e-12)
	}
}

func TestScrew(t *testing.T) {
	s := line.Screw{DiameterM: 16e-3, DepthM: 1.5e-3, LeadM: 16e-3, LengthM: 160e-3}
	printed.Equal(t, "17.66", s.FlightAngle()*180/math.Pi, "geometry: a square pitch")
	s.LeadM = math.Pi * 16e-3 * math.Tan(17.66*math.Pi/180) // the inputs below have the angle rounded
	drag := s.DragFlow(20.0 / 60)
	back := s.PressureFlow(5e6, 800)
	printed.Equal(t, "0.18259", drag*1e6, arithmetic)
	printed.Equal(t, "0.72307", drag*1100*3600, arithmetic)
	printed.Equal(t, "0.05082", back*1e6, arithmetic)
	printed.Equal(t, "0.52181", (drag-back)*1100*3600, arithmetic)
	assert.Zero(t, s.DragFlow(0), "a screw that stands")
	assert.InEpsilon(t, 2*drag, s.DragFlow(40.0/60), 1e-12, "twice as fast")
}

func TestTimes(t *testing.T) {
	printed.Equal(t, "237.6", line.MeanResidence(30e-6, 1100, 0.5*perHour), arithmetic)
	assert.InEpsilon(t, 86400, line.ScreenTime(12, 0.5*perHour), 1e-12)
}

// Tanner's swell at recoverable shears of 1 and 2; 1.13 of a melt that is viscous only.
func TestDieSwell(t *testing.T) {
	printed.Equal(t, "1.13", line.DieSwell(0), "the viscous limit, measured and computed as 1.13")
	printed.Equal(t, "1.19991", line.DieSwell(1), arithmetic)
	printed.Equal(t, "1.33094", line.DieSwell(2), arithmetic)
	assert.InDelta(t, 1.2, line.FilledDieSwell(1.2, 0, 0.5), 1e-12, "no powder")
	assert.InDelta(t, 1.1, line.FilledDieSwell(1.2, 0.25, 0.5), 1e-12)
	assert.InDelta(t, 1, line.FilledDieSwell(1.2, 0.5, 0.5), 1e-12, "packed")
	assert.True(t, math.IsNaN(line.FilledDieSwell(1.2, 0.6, 0.5)))
}
