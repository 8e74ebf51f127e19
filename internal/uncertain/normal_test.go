package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Scores as scipy 1.10.1 has them, scipy.special.ndtri.
func TestScores(t *testing.T) {
	z := []float64{0.25, 0.001, 0x1p-53, 0.4999999, 1 - 0x1p-53}
	scoresOf(z)
	for i, want := range []float64{-0.6744897501960817, -3.090232306167813, -8.209536151601387, -2.506628274703107e-07, 8.209536151601387} {
		assert.InDelta(t, want, z[i], 1e-10)
	}
}

// The scores of draws are those of gonum's quantile, at every edge of the table, too.
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
		require.InDelta(t, mathext.NormalQuantile(p[i]), z[i], 1e-10, "at %g", p[i])
	}
}

func TestNormalBelow(t *testing.T) {
	for _, z := range []float64{-8, -2, -0.5, 0, 0.5, 2} {
		assert.InEpsilon(t, 1, distuv.UnitNormal.CDF(z)/normalBelow(z), 1e-13)
	}
}

func BenchmarkScores(b *testing.B) {
	p, z := make([]float64, blockPoints), make([]float64, blockPoints)
	s := newStream(Pseudo, 1, 0, 0)
	s.fill(0, make([]uint64, len(p)), p)
	for b.Loop() {
		copy(z, p)
		scoresOf(z)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(p)), "ns/number")
}
