package stat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mathext"

	"fillwright/internal/printed"
)

// Two-sided factors as any table of Student's t prints them.
func TestTFactorAsInTables(t *testing.T) {
	for _, c := range []struct {
		level   float64
		freedom int
		want    string
	}{
		{0.95, 1, "12.706"},
		{0.95, 2, "4.303"},
		{0.95, 3, "3.182"},
		{0.95, 5, "2.571"},
		{0.95, 10, "2.228"},
		{0.95, 12, "2.179"},
		{0.95, 30, "2.042"},
		{0.95, 120, "1.980"},
		{0.95, 1e9, "1.960"},
		{0.99, 1, "63.657"},
		{0.99, 16, "2.921"},
		{0.99, 60, "2.660"},
		{0.99, 1e9, "2.576"},
		{0.90, 4, "2.132"},
		{0.50, 8, "0.706"},
		{0.20, 20, "0.257"},
	} {
		printed.Equal(t, c.want, TFactor(c.level, c.freedom), "tables of Student's t")
	}
}

// One and two degrees of freedom have closed forms.
func TestTFactorClosedForms(t *testing.T) {
	for _, level := range []float64{1e-6, 0.01, 0.3, 0.5, 0.68, 0.9, 0.95, 0.99, 0.9999} {
		assert.InEpsilon(t, math.Tan(level*math.Pi/2), TFactor(level, 1), 1e-10)
		assert.InEpsilon(t, level*math.Sqrt(2/(1-level*level)), TFactor(level, 2), 1e-10)
	}
}

// The factor undoes the distribution, narrows with the degrees of freedom, and
// joins the expansion for many of them.
func TestTFactorUndoesTheDistribution(t *testing.T) {
	for _, level := range []float64{0.1, 0.5, 0.9, 0.95, 0.99, 0.9999} {
		before := math.Inf(1)
		for freedom := 1; freedom < 1100; freedom += 1 + freedom/10 {
			factor, v := TFactor(level, freedom), float64(freedom)
			assert.InEpsilon(t, 1-level, mathext.RegIncBeta(v/2, 0.5, v/(v+factor*factor)), 1e-8)
			assert.Less(t, factor, before)
			before = factor
		}
		normal := math.Sqrt2 * math.Erfinv(level)
		assert.InEpsilon(t, TFactor(level, manyFreedoms), nearNormal(normal, manyFreedoms), 1e-10)
		assert.InEpsilon(t, normal, TFactor(level, math.MaxInt), 1e-12)
	}
}

func TestTFactorOfNothingSensible(t *testing.T) {
	for _, v := range []float64{
		TFactor(0, 5), TFactor(1, 5), TFactor(-0.5, 5), TFactor(math.NaN(), 5), TFactor(0.95, 0), TFactor(0.95, -1),
	} {
		assert.True(t, math.IsNaN(v))
	}
}
