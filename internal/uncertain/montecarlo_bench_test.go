package uncertain

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// lengthInputs are those of the length of 1 kg of strand: arithmetic, as in
// TestStrandLength.
func lengthInputs() []Variable {
	return []Variable{
		{Input: even(1, 0.002)},
		{Input: even(1240, 10/math.Sqrt(3)), Shape: Rectangular},
		{Input: even(1.75e-3, 0.02e-3)},
	}
}

func lengthModel() func(x, y []float64) {
	return func(x, y []float64) { y[0] = 4 * x[0] / (math.Pi * x[1] * x[2] * x[2]) }
}

func lengthRun(draws int) Run {
	return Run{Inputs: lengthInputs(), Figures: 1, Model: lengthModel, Draws: draws, Seed: 1}
}

func benchmarkRun(b *testing.B, r Run) {
	b.ReportAllocs()
	for b.Loop() {
		out, err := MonteCarlo(context.Background(), r)
		require.NoError(b, err)
		b.ReportMetric(float64(out.Draws), "draws")
	}
}

func BenchmarkMonteCarloLength1e6(b *testing.B) { benchmarkRun(b, lengthRun(1e6)) }
func BenchmarkMonteCarloLength1e7(b *testing.B) { benchmarkRun(b, lengthRun(1e7)) }

func BenchmarkMonteCarloLengthPseudo1e6(b *testing.B) {
	r := lengthRun(1e6)
	r.Points = Pseudo
	benchmarkRun(b, r)
}

// chainRun is a model of the size of a chain of work: 25 inputs, 15 figures of next to
// no work, so that what is left is the cost of the run itself.
func chainRun(draws int) Run {
	r := Run{Figures: 15, Draws: draws, Seed: 1, Model: func() func(x, y []float64) {
		return func(x, y []float64) {
			for j := range y {
				y[j] = x[j]*x[j+5] + x[j+10]
			}
		}
	}}
	for i := range 25 {
		r.Inputs = append(r.Inputs, Variable{Input: even(1+float64(i), 0.05), Shape: Shape(i % 3)})
	}
	return r
}

func BenchmarkMonteCarloChain1e6(b *testing.B) { benchmarkRun(b, chainRun(1e6)) }

func BenchmarkMonteCarloChainShortest1e6(b *testing.B) {
	r := chainRun(1e6)
	r.Shortest = true
	benchmarkRun(b, r)
}

func BenchmarkMonteCarloChainMoments1e6(b *testing.B) {
	r := chainRun(1e6)
	r.Moments = true
	benchmarkRun(b, r)
}

// How much sooner the quasi-random points reach the standard error of the 97.5 % point
// that they have: the time of the others goes as the square of the error.
func BenchmarkMonteCarloQuasiAgainstPseudo(b *testing.B) {
	for _, draws := range []int{1 << 18, 1 << 20, 1 << 22} {
		b.Run(fmt.Sprint(draws), func(b *testing.B) {
			var took, err2 [2]float64
			for b.Loop() {
				for _, points := range []Points{Quasi, Pseudo} {
					r := lengthRun(draws)
					r.Points = points
					for seed := range uint64(8) { // the error itself is known to a sixth from one run
						r.Seed = seed
						begin := time.Now()
						out, err := MonteCarlo(context.Background(), r)
						took[points] += time.Since(begin).Seconds()
						require.NoError(b, err)
						err2[points] += math.Pow(out.Estimates[0].ErrHigh, 2)
					}
				}
			}
			b.ReportMetric(err2[Pseudo]/err2[Quasi]*took[Pseudo]/took[Quasi], "x-shorter")
			b.ReportMetric(math.Sqrt(err2[Pseudo]/err2[Quasi]), "x-error")
		})
	}
}
