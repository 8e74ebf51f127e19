package uncertain

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// formulas are written twice, for Go and for Python. u is what the package uncertainties
// 3.1.6 of Debian 12 says.
var formulas = []struct {
	f      func(x []float64) float64
	python string
	in     []Input
	u      float64
}{
	{
		func(x []float64) float64 { return 4 * x[0] / (math.Pi * x[1] * x[2] * x[2]) },
		"4*x[0]/(pi*x[1]*x[2]*x[2])",
		[]Input{even(1, 0.002), even(1240, 5.7735), even(1.75e-3, 2e-5)},
		7.8497032195,
	},
	{
		func(x []float64) float64 { return x[0] * math.Exp(-x[1]/x[2]) },
		"x[0]*exp(-x[1]/x[2])",
		[]Input{even(3, 0.1), even(50, 2), even(8.314, 0.5)},
		0.00319470270688,
	},
	{
		func(x []float64) float64 { return math.Atan2(x[0], x[1]) - math.Log(x[0]*x[1]) },
		"atan2(x[0], x[1]) - log(x[0]*x[1])",
		[]Input{even(0.7, 0.03), even(1.9, 0.2)},
		0.142384631844,
	},
	{
		func(x []float64) float64 { return math.Pow(x[0], x[1]) + math.Sqrt(x[0])*math.Cos(x[1]) },
		"x[0]**x[1] + sqrt(x[0])*cos(x[1])",
		[]Input{even(2.5, 0.01), even(1.3, 0.04)},
		0.062321730397,
	},
	{
		func(x []float64) float64 { return (x[0] - x[1]) / (x[0] + x[1]) },
		"(x[0]-x[1])/(x[0]+x[1])",
		[]Input{even(1e6, 10), even(999_000, 30)},
		1.58256295467e-05,
	},
}

func TestFirstOrderOfFormulas(t *testing.T) {
	for _, tt := range formulas {
		_, u := combined(t, tt.f, tt.in...)
		assert.InEpsilon(t, tt.u, u, 1e-6, tt.python)
	}
}

// The same, from the package itself, where this machine has it.
func TestFirstOrderOfUncertainties(t *testing.T) {
	const python = "/usr/bin/python3" // another one does not see Debian's packages
	if exec.CommandContext(t.Context(), python, "-c", "import uncertainties").Run() != nil {
		t.Log("Python's uncertainties is not here; its values stand in TestFirstOrderOfFormulas")
		TestFirstOrderOfFormulas(t)
		return
	}
	var script strings.Builder
	script.WriteString("from uncertainties import ufloat\nfrom uncertainties.umath import *\nfrom math import pi\n")
	for _, tt := range formulas {
		script.WriteString("x = [")
		for _, x := range tt.in {
			fmt.Fprintf(&script, "ufloat(%g, %g), ", x.Value, x.UPlus)
		}
		script.WriteString("]\nprint(repr((" + tt.python + ").std_dev))\n")
	}
	out, err := exec.CommandContext(t.Context(), python, "-c", script.String()).Output()
	require.NoError(t, err)
	said := strings.Fields(string(out))
	require.Len(t, said, len(formulas))
	for i, tt := range formulas {
		want, err := strconv.ParseFloat(said[i], 64)
		require.NoError(t, err)
		_, u := combined(t, tt.f, tt.in...)
		assert.InEpsilon(t, want, u, 1e-6, tt.python)
		assert.InEpsilon(t, want, tt.u, 1e-9, tt.python)
	}
}
