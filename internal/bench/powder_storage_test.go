package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/quantity"
)

// However long powder lies open, it ends in equilibrium with the air: 1 - exp(-t/τ)
// rounds to 1 after 37 τ, which is 4¼ days where the usual range stands in for τ.
func TestLyingOpenForLong(t *testing.T) {
	p := sample(t, oliveStone)
	before := 0.0
	for _, open := range []string{"0.000000001 ms", "1 s", "20 min", "8 h", "30 h", "2 d", "80 h", "90 h", "98 h", "4 d", "4.25 d", "5 d", "30 d", "365 d"} {
		benchOf(&p).Storage.OpenTime = q[quantity.Duration](open)
		s := evaluate(t, p)
		now := value(t, s, 1, PowderMoisture)
		assert.GreaterOrEqual(t, now, before-1e-9, open)
		end := s.Powder(1).Storage.Equilibrium
		assert.LessOrEqual(t, now, end.Value+1e-9, open)
		if before = now; p.Materials[1].Powder.Storage.OpenTime.SI() > 4*86400 {
			r := s.Blends[1].Result(PowderMoisture)
			assert.InDelta(t, end.Value, r.Value, 1e-4, open)
			assert.InDelta(t, end.High-end.Value, r.High-r.Value, 0.05, "%s: no more than the air is known to", open)
			assert.InDelta(t, end.Value-end.Low, r.Value-r.Low, 0.05, "%s: nor less", open)
		}
	}
}

// A ± of the time that the powder lay open widens its moisture, whether the time
// constant is known or not.
func TestSpreadOfTheOpenTime(t *testing.T) {
	for _, uptake := range []string{"", "2 h"} {
		p := quiet()
		s := &benchOf(&p).Storage
		s.Equilibrium, s.OpenTime = q[quantity.Fraction]("9 %"), q[quantity.Duration]("2 h")
		if uptake != "" {
			s.UptakeTime = q[quantity.Duration](uptake)
		}
		exact := evaluate(t, p).Blends[1].Result(PowderMoisture)
		s.OpenTime = q[quantity.Duration]("2 ± 1 h")
		wide := evaluate(t, p).Blends[1].Result(PowderMoisture)
		assert.InDelta(t, exact.Value, wide.Value, 1e-12)
		assert.Greater(t, wide.High-wide.Low, exact.High-exact.Low, uptake)
	}
}
