package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/printed"
)

func TestNormalQuantile(t *testing.T) {
	// Wichura 1988, values to check by (from memory, confirm): p of 0.25, 0.001, 1e-20.
	printed.Equal(t, "-0.6744897501960817", normalQuantile(0.25), "AS 241")
	printed.Equal(t, "-3.09023230616781", normalQuantile(0.001), "AS 241")
	printed.Equal(t, "-9.2623400897984", normalQuantile(1e-20), "AS 241")

	random := rand.New(rand.NewPCG(1, 1))
	for range 20000 {
		p := math.Pow(10, -16*random.Float64())
		if random.IntN(2) == 0 {
			p = 1 - p
		}
		if p == 0 || p == 1 {
			continue
		}
		want := distuv.UnitNormal.Quantile(p)
		require.InDelta(t, want, normalQuantile(p), 1e-13*(1+math.Abs(want)), "gonum at %g", p)
	}
	assert.Equal(t, math.Inf(-1), normalQuantile(0))
	assert.Equal(t, math.Inf(1), normalQuantile(1))
	assert.Zero(t, normalQuantile(0.5))
	assert.True(t, math.IsNaN(normalQuantile(-1)) && math.IsNaN(normalQuantile(2)))
}

// The scores of draws are those of the quantile, at every edge of the table, too.
func TestScoresOfDraws(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	step := 0x1p-52
	var p []float64
	for r := range scoreRows {
		edge := math.Floor(scoreEdge(r)/step) * step
		p = append(p, edge+step/2, max(edge-step/2, step/2))
		for range 50 {
			from, to := scoreEdge(r), scoreEdge(r+1)
			inside := (math.Floor((from+(to-from)*random.Float64())/step) + 0.5) * step
			p = append(p, inside, 1-inside)
		}
	}
	z := append([]float64(nil), p...)
	scoresOf(z)
	for i := range p {
		require.InDelta(t, normalQuantile(p[i]), z[i], 1e-10, "at %g", p[i])
	}
}

func TestNormalBelow(t *testing.T) {
	for _, z := range []float64{-8, -2, -0.5, 0, 0.5, 2} {
		assert.InEpsilon(t, 1, distuv.UnitNormal.CDF(z)/normalBelow(z), 1e-13)
	}
}

func BenchmarkNormalQuantile(b *testing.B) {
	p, z := make([]float64, blockPoints), make([]float64, blockPoints)
	s := newStream(Pseudo, 1, 0, 0)
	s.fill(0, make([]uint64, len(p)), p)
	for name, f := range map[string]func(){
		"One": func() {
			for i, p := range p {
				z[i] = normalQuantile(p)
			}
		},
		"Block": func() {
			copy(z, p)
			scoresOf(z)
		},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(p)), "ns/number")
		})
	}
}
