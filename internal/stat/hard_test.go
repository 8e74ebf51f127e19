package stat

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// MGH10 and MGH09 of NIST StRD, nonlinear regression, graded hard. Data and
// certified sums of squares are from memory; that they agree to eleven digits
// speaks for both.
func TestLeastSquaresOnHardProblems(t *testing.T) {
	meyer := Problem{
		Model: curve(func(p []float64, x float64) float64 {
			return p[0] * math.Exp(p[1]/(x+p[2]))
		}).over(evenly(16, 50, 125)),
		Observed: []float64{
			34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307, 2872,
		},
		Start: []float64{0.02, 4000, 250},
	}
	printed.Equal(t, "87.945855171", fitted(t, meyer).RSS, "MGH10")

	kowalik := Problem{
		Model: curve(func(p []float64, x float64) float64 {
			return p[0] * (x*x + p[1]*x) / (x*x + p[2]*x + p[3])
		}).over([]float64{4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625}),
		Observed: []float64{
			0.1957, 0.1947, 0.1735, 0.1600, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246,
		},
	}
	for _, kowalik.Start = range [][]float64{{0.25, 0.39, 0.415, 0.39}, {25, 39, 41.5, 39}} {
		printed.Equal(t, "3.0750560385e-4", fitted(t, kowalik).RSS, "MGH09")
	}
}

// Starts that are off by a factor of up to ten either way lead to the certified
// minimum. Chwirut2 has a second valley, with a parameter below 0.
func TestLeastSquaresFromFarStarts(t *testing.T) {
	for name, set := range certifiedSets {
		random := rand.New(rand.NewPCG(4, 1))
		const runs = 100
		reached := 0
		for range runs {
			p := set.problem(0, false)
			p.Start = make([]float64, len(set.params))
			for j, v := range set.params {
				p.Start[j] = v * math.Pow(10, 2*random.Float64()-1)
			}
			f, err := LeastSquares(p)
			if err == nil && f.RSS < set.rss*(1+1e-6) {
				reached++
				assertClose(t, set.params, f.Params, 1e-8, name)
			}
		}
		least := runs
		if name == "Chwirut2" {
			least = 90
		}
		assert.GreaterOrEqual(t, reached, least, name)
	}
}

// A parameter that would go on for ever is never reported as found: the best
// saturation of points that rise in a line, or that do not rise, is at infinity.
func TestLeastSquaresSeesAParameterRunAway(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5, 6}
	p := Problem{Model: curve(saturation).over(x), Start: []float64{10, 0.5}}
	for _, p.Observed = range [][]float64{{1, 2, 3, 4, 5, 6}, {5.1, 4.9, 5, 4.9, 5.1, 5}} {
		_, err := LeastSquares(p)
		assert.True(t, err == ErrSingular || err == ErrNotConverged, "%v", err)
	}

	p.Observed = []float64{1, 2, 3, 4, 5, 6}
	p.Lower, p.Upper = []float64{0, 0}, []float64{1000, 10}
	f := fitted(t, p)
	assert.Equal(t, []int{0}, f.AtBound, "a bound says where it has to stop")
	assert.Greater(t, f.SD[1], 0.0)
}
