package uncertain

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// sevenFigures are of one input in many ways, one of them with no value in half of the draws.
func sevenFigures() Run {
	return Run{
		Inputs: []Variable{{Input: even(0, 1)}, {Input: even(2, 0.5), Shape: Rectangular}}, Figures: 7, Draws: 1 << 14, Seed: 3, Shortest: true,
		Model: func() func(x, y []float64) {
			return func(x, y []float64) {
				for j := range y {
					y[j] = math.Exp(float64(j)*x[0]/8) + x[1]
				}
				y[4] = math.Sqrt(x[0])
			}
		},
	}
}

// However little may be stored, what is told is the same bit by bit, and progress runs once
// from none to all.
func TestPassesChangeNothing(t *testing.T) {
	r := sevenFigures()
	r.Keep = []int{6, 4, 0, 1, 2, 5, 3}
	want := propagate(t, r)
	each := 8 * want.Draws
	for memory, passes := range map[int]int{1: 7, each: 7, 2 * each: 4, 3*each + 1: 3, 4 * each: 2, 6 * each: 2, 7 * each: 1, 0: 1} {
		r.Memory = memory
		var done []int
		most := 0
		r.Progress = func(now, all int) { done, most = append(done, now), all }
		assert.Equal(t, want, propagate(t, r), memory)
		assert.Equal(t, passes*want.Draws, most, memory)
		assert.Equal(t, most, done[len(done)-1], memory)
		assert.True(t, slices.IsSorted(done), memory)
	}
}

// What is stored stays within the memory, as far as one figure fits.
func TestDrawsStayWithinTheMemory(t *testing.T) {
	r := sevenFigures()
	for _, memory := range []int{1, 300_000, 500_000, 1 << 30} {
		r.Memory = memory
		c, err := newCampaign(r)
		assert.NoError(t, err)
		bytes := 0
		for _, row := range c.stored {
			bytes += 8 * len(row)
		}
		assert.LessOrEqual(t, bytes, max(memory, 8*c.replicates*c.points))
		assert.NotZero(t, bytes)
	}
}

// Figures without ends have the same mean and u as with them, in one pass or in many.
func TestEndsOfSomeFigures(t *testing.T) {
	r := sevenFigures()
	want := propagate(t, r)
	r.Ends = 3
	for _, memory := range []int{0, 1} {
		r.Memory = memory
		got := propagate(t, r)
		assert.Equal(t, want.Estimates[:3], got.Estimates[:3])
		for j, e := range got.Estimates[3:] {
			assert.Equal(t, want.Estimates[3+j].Mean, e.Mean)
			assert.Equal(t, want.Estimates[3+j].ErrU, e.ErrU)
			assert.True(t, math.IsNaN(e.Low) && math.IsNaN(e.Median) && math.IsNaN(e.ErrHigh))
		}
	}
	r.Memory, r.Digits, r.Draws = 0, 2, 1<<20
	assert.True(t, propagate(t, r).Settled, "the ends do not count where they are not told")
}
