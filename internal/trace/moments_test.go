package trace

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/stat"
)

// In pieces of any length the sums are those of all readings at once, which
// internal/stat holds against certified values.
func TestMomentsAreThoseOfAllReadings(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 2, 3, 10, 1000} {
		x := make([]float64, n)
		for i := range x {
			x[i] = 1.75e-3 + 1e-5*random.NormFloat64()
		}
		want, ok := stat.Summarise(x)
		assert.True(t, ok)
		var m moments
		for piece := range slices.Chunk(x, 7) {
			m.add(piece)
		}
		assert.InEpsilon(t, want.Mean, m.mean(), 1e-15)
		assert.InDelta(t, want.SD, m.sd(), 1e-12*want.SD)
		assert.InEpsilon(t, want.MeanSquare, m.meanSquare(), 1e-14)
		assert.InDelta(t, want.Lag1, m.lag1(), 1e-9)
		assert.Equal(t, want.Min, m.min)
		assert.Equal(t, want.Max, m.max)
	}
}

// NIST StRD NumAcc4: 1001 values 10000000.2, then .1 and .3 in turn; certified mean
// 10000000.2, standard deviation 0.1, autocorrelation -0.999. Representing the values
// alone costs all but about 8 digits.
func TestMomentsOfNumAcc4(t *testing.T) {
	x := []float64{10000000.2}
	for i := range 1000 {
		x = append(x, 10000000.1+0.2*float64(i%2))
	}
	for _, size := range []int{1, 64, 2000} {
		var m moments
		for piece := range slices.Chunk(x, size) {
			m.add(piece)
		}
		assert.InEpsilon(t, 10000000.2, m.mean(), 1e-15)
		assert.Greater(t, -math.Log10(math.Abs(m.sd()-0.1)/0.1), 8.0)
		assert.Greater(t, -math.Log10(math.Abs(m.lag1()+0.999)/0.999), 8.0)
	}
}

func TestRunningMedianIsThatOfTheWindow(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	const window, width = 101, 1e-6
	r := newRunning(window, 1.75e-3, width)
	var x []float64
	for i := range 3000 {
		x = append(x, 1.75e-3+1e-5*random.NormFloat64()+4e-7*float64(i)) // it wanders off the histogram
		r.add(x[i])
		if !r.centred() {
			r.recentre()
		}
		w := slices.Clone(x[max(0, len(x)-window):])
		slices.Sort(w)
		median := w[len(w)/2]
		if !assert.InDelta(t, median, r.value(), width, "reading %d", i) {
			return
		}
		for j := range w {
			w[j] = math.Abs(w[j] - median)
		}
		slices.Sort(w)
		if !assert.InDelta(t, w[len(w)/2], r.distance(), 2*width, "reading %d", i) {
			return
		}
	}
}

func TestDigestKeepsEveryReadingInFewPieces(t *testing.T) {
	var d digest
	const n = 100_000
	for from := 0; from < n; from += 1000 {
		var b Block
		for i := from; i < from+1000; i++ {
			b.At = append(b.At, float64(i))
			b.Diameter = append(b.Diameter, 1+float64(i%10))
			b.Gap = append(b.Gap, i == 50_000)
		}
		d.add(&b)
	}
	assert.LessOrEqual(t, len(d.pieces), digestPieces)
	assert.Greater(t, len(d.pieces), digestPieces/2)
	var count int64
	total := 0.0
	for i, p := range d.pieces {
		count += p.N
		total += p.Sum
		if i > 0 {
			assert.InDelta(t, d.pieces[i-1].To+1, p.From, 1e-9)
		}
	}
	assert.EqualValues(t, n, count)
	assert.InEpsilon(t, 5.5*n, total, 1e-12)
}
