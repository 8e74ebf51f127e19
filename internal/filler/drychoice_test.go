package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPageIsChosenOnlyWhereItIsBetter(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 21))
	chosen := map[float64]int{}
	for _, n := range []float64{1, 1.3} {
		for range 100 {
			rows := noisyLog(random, 0.002, logOf(1, 0.4, 3000, n, spread(14, 12000)...))
			fits, err := FitDryingLaws(rows, DryingOptions{})
			require.NoError(t, err)
			if fits.Best == Page {
				chosen[n]++
			}
			assert.Equal(t, fits.Best, fits.Curve().Law)
		}
	}
	assert.Less(t, chosen[1], 15, "a further parameter must earn its keep: 5 of 100 are chance")
	assert.Equal(t, 100, chosen[1.3])
}

// Seven weighings by a scale of 0.1 g, as a maker does them: Page's law is seen where
// it holds, and chance takes it for seen in 5 % of the logs where it does not.
func TestShortLogsChooseTheirLaw(t *testing.T) {
	random := rand.New(rand.NewPCG(22, 22))
	for n, want := range map[float64][2]int{1: {0, 12}, 1.2: {85, 100}} {
		chosen := 0
		for range 100 {
			rows := noisyLog(random, 0.0002, logOf(0.583, 0.4, 2400, n, spread(7, 12600)...))
			fits, err := FitDryingLaws(rows, DryingOptions{ResolutionKg: 0.0001})
			require.NoError(t, err)
			if fits.Best == Page {
				chosen++
			}
		}
		assert.True(t, want[0] <= chosen && chosen <= want[1], "n = %v: %d", n, chosen)
	}
}

func TestExactLogsChooseTheirLaw(t *testing.T) {
	fits, err := FitDryingLaws(logOf(1, 0.4, 3000, 1, spread(12, 9000)...), DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, Lewis, fits.Best, "both pass through all rows")
	fits, err = FitDryingLaws(logOf(1, 0.4, 3000, 1.05, spread(12, 9000)...), DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, Page, fits.Best)
	fits, err = FitDryingLaws(logOf(1, 0.4, 3000, 1.05, spread(12, 9000)...), DryingOptions{ResolutionKg: 0.05})
	require.NoError(t, err)
	assert.Equal(t, Lewis, fits.Best, "such a scale cannot tell")
}

// Five rows are the least for Page, four where the end is given.
func TestFewRowsKeepTheSimpleLaw(t *testing.T) {
	for rows, given := range map[int]float64{5: 0, 4: 0.4} {
		fits, err := FitDryingLaws(logOf(1, 0.4, 3000, 1.5, spread(rows, 7000)...), DryingOptions{FinalKg: given})
		require.NoError(t, err)
		assert.Equal(t, Page, fits.Best)
		fits, err = FitDryingLaws(logOf(1, 0.4, 3000, 1.5, spread(rows-1, 7000)...), DryingOptions{FinalKg: given})
		require.NoError(t, err)
		assert.Equal(t, Lewis, fits.Best)
		assert.NoError(t, fits.PageErr, "both stand")
	}
}

func TestOneLawOfTwo(t *testing.T) {
	fits, err := FitDryingLaws(logOf(1, 0.4, 3000, 1, 0, 3000, 9000), DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, Lewis, fits.Best)
	assert.Equal(t, DryingTooFewRows, kindOf(t, fits.PageErr))
	fits, err = FitDryingLaws([]Weighing{{0, 1}, {60, 1.5}, {120, 1.6}, {180, 1.6}, {240, 0.999}}, DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, DryingNotSeen, kindOf(t, fits.LewisErr))
	assert.Equal(t, Page, fits.Best, "for want of the other")
	assert.True(t, fits.Curve().ExponentEnd)
	_, err = FitDryingLaws([]Weighing{{0, 1}, {1, math.NaN()}}, DryingOptions{})
	assert.Equal(t, DryingBadRow, kindOf(t, err))
}
