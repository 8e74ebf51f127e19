package line_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/line"
	"fillwright/internal/printed"
)

func TestHeatToMelt(t *testing.T) {
	const capacity = 0.8*1800 + 0.2*1500
	printed.Equal(t, "1740", capacity, arithmetic)
	solid := line.HeatToMelt(1800, 298.15, 473.15, 0, 0)
	printed.Equal(t, "315.0", solid*1e-3, arithmetic)
	printed.Equal(t, "342.9", line.HeatToMelt(1800, 298.15, 473.15, 0.3, 93e3)*1e-3, arithmetic)
}

func TestConductivity(t *testing.T) {
	printed.Equal(t, "0.21195", line.MaxwellConductivity(0.13, 2.7, 0.2), arithmetic)
	printed.Equal(t, "0.14074", line.MaxwellConductivity(0.13, 0.2, 0.1761), arithmetic)
	for name, phi := range map[string]float64{"below none": -0.1, "too much": 0.25, "not known": math.NaN()} {
		assert.True(t, math.IsNaN(line.MaxwellConductivity(0.13, 2.7, phi)), name)
	}
	// Of spheres at a packing limit of 0.637; copper of 400 W/(m K).
	printed.Equal(t, "0.20820", line.LewisNielsenConductivity(0.13, 2.7, 0.2, 0.637, line.SphereShape), arithmetic)
	printed.Equal(t, "0.3759", line.LewisNielsenConductivity(0.13, 400, 0.35632, 0.637, line.SphereShape), arithmetic)
	assert.Equal(t, 0.13, line.LewisNielsenConductivity(0.13, 2.7, 0, 0.637, line.SphereShape), "nothing in it")
	assert.InEpsilon(t, 0.13, line.LewisNielsenConductivity(0.13, 0.13, 0.2, 0.637, line.SphereShape), 1e-12, "the same in it")
	for name, phi := range map[string]float64{"below none": -0.1, "beyond the packing": 0.7, "not known": math.NaN()} {
		assert.True(t, math.IsNaN(line.LewisNielsenConductivity(0.13, 2.7, phi, 0.637, line.SphereShape)), name)
	}
	before := 0.0
	for phi := 0.0; phi < 0.6; phi += 0.01 {
		k := line.LewisNielsenConductivity(0.13, 2.7, phi, 0.637, line.SphereShape)
		assert.Greater(t, k, before)
		before = k
	}
}
