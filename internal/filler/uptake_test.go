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
	printed.Equal(t, "0.0586039", Reuptake(0, 0.09271, UptakeLeft(3600, UptakeFastS)), "1 - 1/e of it, "+byHand)
	printed.Equal(t, "0.0108937", Reuptake(0, 0.09271, UptakeLeft(3600, UptakeSlowS)), "1 - exp(-1/8) of it, "+byHand)
	printed.Equal(t, "0.136788", Reuptake(0.2, 0.1, UptakeLeft(3600, 3600)), "wetter than the room, "+byHand)
	for _, none := range [][3]float64{{-0.1, 0.1, 1}, {0.1, -0.1, 1}, {0, 0.1, -0.1}, {0, 0.1, 1.1}, {math.NaN(), 0.1, 1}, {0, 0.1, math.NaN()}} {
		assert.True(t, math.IsNaN(Reuptake(none[0], none[1], none[2])), "%v", none)
	}
}

func TestReuptakeGoesOneWayAndNotBeyond(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 1000 {
		start, equilibrium, tau := 2*random.Float64(), 2*random.Float64(), 3e4*random.Float64()+1
		assert.Equal(t, start, Reuptake(start, equilibrium, UptakeLeft(0, tau)))
		printed.Same(t, equilibrium, Reuptake(start, equilibrium, UptakeLeft(100*tau, tau)))
		before := start
		for k := range 40 {
			now := Reuptake(start, equilibrium, UptakeLeft(tau*float64(k)/4, tau))
			assert.LessOrEqual(t, math.Abs(now-equilibrium), math.Abs(before-equilibrium))
			assert.GreaterOrEqual(t, (now-equilibrium)*(start-equilibrium), 0.0, "not beyond")
			before = now
		}
	}
}

func TestUptakeLeft(t *testing.T) {
	printed.Equal(t, "0.36788", UptakeLeft(3600, 3600), "1/e, "+byHand)
	printed.Equal(t, "3.7e-44", UptakeLeft(1e5, 1000), "e to the -100, "+byHand)
	assert.Equal(t, 1.0, UptakeLeft(0, 3600))
	assert.Zero(t, UptakeLeft(1e6, 1), "years are no error")
	for _, none := range [][2]float64{{-1, 1}, {1, 0}, {1, -1}, {math.NaN(), 1}, {1, math.NaN()}} {
		assert.True(t, math.IsNaN(UptakeLeft(none[0], none[1])), "%v", none)
	}
}
