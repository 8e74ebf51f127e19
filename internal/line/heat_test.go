package line_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/line"
	"fillwright/internal/printed"
)

// spheres is the packing limit of spheres shaken together that the check values have.
const spheres = 0.637

func TestHeatToMelt(t *testing.T) {
	printed.Equal(t, "315.0", line.HeatToMelt(1800, 298.15, 473.15, 0, 0)*1e-3, "plain polymer that melts no crystals")
	printed.Equal(t, "342.9", line.HeatToMelt(1800, 298.15, 473.15, 0.3, 93e3)*1e-3, "the same, 30 % of it crystals")
	printed.Equal(t, "304.5", line.HeatToMelt(1740, 298.15, 473.15, 0, 0)*1e-3, "1740 J/(kg K): 80 % of 1800 and 20 % of 1500")
	assert.Equal(t, 27.9e3, line.HeatToMelt(1800, 450, 450, 0.3, 93e3), "melting alone")
	first, then := line.HeatToMelt(1800, 300, 400, 0, 93e3), line.HeatToMelt(1800, 400, 470, 0.3, 93e3)
	assert.InEpsilon(t, line.HeatToMelt(1800, 300, 470, 0.3, 93e3), first+then, 1e-12, "in two steps it takes as much")
}

// The printed values have copper of 401 W/(m K): 400 gives 0.375935 for it by Lewis
// and Nielsen, which rounds to the digit below. The 0.34557 that is printed beside it
// is of Maxwell at a volume fraction of 0.356, for which Maxwell is not. The 0.14074
// of wood is of Maxwell; Lewis and Nielsen give 0.14119 there.
func TestConductivityAgainstPrinted(t *testing.T) {
	printed.Equal(t, "0.21195", line.MaxwellConductivity(0.13, 2.7, 0.2), arithmetic)
	printed.Equal(t, "0.14074", line.MaxwellConductivity(0.13, 0.2, 0.1761), arithmetic)
	assert.True(t, math.IsNaN(line.MaxwellConductivity(0.13, 401, 0.35632)), "too much copper")
	printed.Equal(t, "0.20820", line.LewisNielsenConductivity(0.13, 2.7, 0.2, spheres, line.SphereShape), arithmetic)
	printed.Equal(t, "0.37594", line.LewisNielsenConductivity(0.13, 401, 0.35632, spheres, line.SphereShape), arithmetic)
	printed.Equal(t, "0.14119", line.LewisNielsenConductivity(0.13, 0.2, 0.1761, spheres, line.SphereShape), arithmetic)
}

func TestConductivityOutsideItsRange(t *testing.T) {
	for name, phi := range map[string]float64{"below none": -0.1, "too much": 0.25, "not known": math.NaN()} {
		assert.True(t, math.IsNaN(line.MaxwellConductivity(0.13, 2.7, phi)), name)
	}
	for name, phi := range map[string]float64{"below none": -0.1, "as dense as it packs": spheres, "not known": math.NaN()} {
		assert.True(t, math.IsNaN(line.LewisNielsenConductivity(0.13, 2.7, phi, spheres, line.SphereShape)), name)
	}
	assert.True(t, math.IsNaN(line.LewisNielsenConductivity(0.13, 2.7, 0.2, 1.1, line.SphereShape)), "packs denser than solid")
}

// Both laws lie between layers across the heat and layers along it, and without a
// packing limit and with a shape of 2 the one is the other. Lewis and Nielsen's keeps
// to the bounds only where filler and matrix differ: next to k_f = k_m it rises
// (A + ψ)/(1 + A) times as steeply as layers along the heat, and ψ is above 1.
func TestConductivityWithinBounds(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 1))
	for range 300 {
		matrix, filler := 0.1+0.3*random.Float64(), math.Pow(10, -2+5*random.Float64())
		phi := 0.249 * random.Float64()
		along, across := matrix*(1-phi)+filler*phi, 1/((1-phi)/matrix+phi/filler)
		maxwell := line.MaxwellConductivity(matrix, filler, phi)
		require.InEpsilon(t, maxwell, line.LewisNielsenConductivity(matrix, filler, phi, 1, 2), 1e-12)
		laws := []float64{maxwell}
		if math.Abs(math.Log2(filler/matrix)) >= 1 {
			laws = append(laws, line.LewisNielsenConductivity(matrix, filler, phi, spheres, line.SphereShape))
		}
		for _, k := range laws {
			require.LessOrEqual(t, k, along*(1+1e-12))
			require.GreaterOrEqual(t, k, across*(1-1e-12))
		}
		require.Equal(t, matrix, line.LewisNielsenConductivity(matrix, filler, 0, spheres, line.SphereShape), "nothing in it")
		require.InEpsilon(t, matrix, line.LewisNielsenConductivity(matrix, matrix, phi, spheres, 3), 1e-12, "the same in it")
	}
}

func TestConductivityRises(t *testing.T) {
	before := 0.0
	for phi := 0.0; phi < 0.6; phi += 0.01 {
		k := line.LewisNielsenConductivity(0.13, 2.7, phi, spheres, line.SphereShape)
		require.Greater(t, k, before, "with more of what conducts better")
		before = k
	}
	for aspect := 1.0; aspect <= 15; aspect += 0.5 {
		k := line.LewisNielsenConductivity(0.13, 2.7, 0.2, spheres, line.FibreShape(aspect))
		if aspect > 1 {
			require.Greater(t, k, before, "with longer fibres")
		}
		before = k
	}
}

func TestFibreShape(t *testing.T) {
	for aspect, want := range map[float64]float64{1: 1.5, 2: 1.58, 4: 2.08, 6: 2.8, 10: 4.93, 15: 8.38} {
		assert.InEpsilon(t, want, line.FibreShape(aspect), 1e-12, "as printed, at %v", aspect)
	}
	assert.InEpsilon(t, 1.83, line.FibreShape(3), 1e-12, "half-way")
	assert.InEpsilon(t, 3.8650, line.FibreShape(8), 1e-12, "half-way")
	for _, aspect := range []float64{0.99, 15.01, math.Inf(1), math.NaN()} {
		assert.True(t, math.IsNaN(line.FibreShape(aspect)), "%v is in no table", aspect)
	}
}
