package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// Dry wood flour in a room that would bring it to 9.271 % on dry basis.
func TestReuptake(t *testing.T) {
	printed.Equal(t, "0.0586039", Reuptake(0, 0.09271, 3600, UptakeFastS), "1 - 1/e of it, "+byHand)
	printed.Equal(t, "0.0108937", Reuptake(0, 0.09271, 3600, UptakeSlowS), "1 - exp(-1/8) of it, "+byHand)
	printed.Equal(t, "0.136788", Reuptake(0.2, 0.1, 3600, 3600), "wetter than the room, "+byHand)
	for _, none := range [][4]float64{{-0.1, 0.1, 1, 1}, {0.1, -0.1, 1, 1}, {0, 0.1, -1, 1}, {0, 0.1, 1, 0}, {math.NaN(), 0.1, 1, 1}} {
		assert.True(t, math.IsNaN(Reuptake(none[0], none[1], none[2], none[3])), "%v", none)
	}
}

func TestReuptakeGoesOneWayAndNotBeyond(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 1000 {
		start, equilibrium, tau := 2*random.Float64(), 2*random.Float64(), 3e4*random.Float64()+1
		assert.Equal(t, start, Reuptake(start, equilibrium, 0, tau))
		printed.Same(t, equilibrium, Reuptake(start, equilibrium, 100*tau, tau))
		before := start
		for k := range 40 {
			now := Reuptake(start, equilibrium, tau*float64(k)/4, tau)
			assert.LessOrEqual(t, math.Abs(now-equilibrium), math.Abs(before-equilibrium))
			assert.GreaterOrEqual(t, (now-equilibrium)*(start-equilibrium), 0.0, "not beyond")
			before = now
		}
	}
}

func TestUptakeShare(t *testing.T) {
	printed.Equal(t, "0.6321", UptakeShare(3600, 3600), "1 - 1/e, "+byHand)
	assert.Zero(t, UptakeShare(0, 3600))
	for _, tau := range []float64{1, 3600, 1e6} {
		for _, time := range []float64{1, 3600, 1e5} {
			if share := UptakeShare(time, tau); share < 1 {
				assert.InEpsilon(t, tau, UptakeTime(share, time), 1e-6*math.Exp(time/tau), "%v s, %v s", time, tau)
			}
		}
	}
	assert.True(t, math.IsInf(UptakeTime(0, 3600), 1))
	assert.Zero(t, UptakeTime(1, 3600))
	assert.True(t, math.IsNaN(UptakeTime(1.1, 3600)))
}
