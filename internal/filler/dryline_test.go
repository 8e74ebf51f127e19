package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Page with k = 0.012 min^-n and n = 1.15, ratios rounded to three digits.
func TestPageLineOfRoundedRatios(t *testing.T) {
	minutes := []float64{0, 10, 20, 30, 45, 60, 90}
	ratios := []float64{1, 0.844, 0.686, 0.549, 0.384, 0.264, 0.120}
	l, err := FitPageLine(minutes, ratios)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.14962, l.Exponent, 1e-4, byHand)
	assert.InEpsilon(t, 0.012025, l.Rate, 1e-4, byHand)
	assert.Equal(t, []int{0}, l.PointsUnused)
	assert.Equal(t, 6, l.PointsUsed)
	assert.Positive(t, l.ExponentU)
	assert.Less(t, l.ExponentU, 0.001)

	// in seconds
	seconds := make([]float64, len(minutes))
	for i, m := range minutes {
		seconds[i] = 60 * m
	}
	s, err := FitPageLine(seconds, ratios)
	require.NoError(t, err)
	assert.InEpsilon(t, l.Exponent, s.Exponent, 1e-9)
	assert.InEpsilon(t, l.Rate*math.Pow(60, -l.Exponent), s.Rate, 1e-9)

	// the curve that FitDrying finds for the same ratios
	rows := make([]Weighing, len(minutes))
	for i := range rows {
		rows[i] = Weighing{seconds[i], 0.4 + 0.6*ratios[i]}
	}
	c, err := FitDrying(rows, Page, DryingOptions{FinalKg: 0.4})
	require.NoError(t, err)
	assert.InEpsilon(t, l.Exponent, c.Exponent, 0.003)
	assert.InEpsilon(t, l.Rate, c.Rate(60).Value, 0.01)
}

func TestPageLineNeedsTwoPoints(t *testing.T) {
	l, err := FitPageLine([]float64{10, 20}, []float64{0.8, 0.5})
	require.NoError(t, err)
	assert.Zero(t, l.ExponentU)
	assert.InEpsilon(t, 0.5, math.Exp(-l.Rate*math.Pow(20, l.Exponent)), 1e-9)
	for _, ratios := range [][]float64{{0.8, 1}, {0.8, 0}, {0.8, -0.1}, {math.NaN(), 0.5}} {
		_, err := FitPageLine([]float64{10, 20}, ratios)
		assert.ErrorIs(t, err, ErrTooFewRatios)
	}
	_, err = FitPageLine([]float64{10, 10}, []float64{0.8, 0.7})
	assert.ErrorIs(t, err, ErrTooFewRatios)
	_, err = FitPageLine(nil, nil)
	assert.ErrorIs(t, err, ErrTooFewRatios)
	assert.Panics(t, func() { _, _ = FitPageLine([]float64{1}, nil) })
}
