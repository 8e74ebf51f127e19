package stat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/stat"
)

// NIST/SEMATECH e-Handbook 1.3.5.17.1: eight readings, the last one odd.
func TestGrubbsOfTheHandbook(t *testing.T) {
	g, index, ok := stat.Grubbs([]float64{199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57})
	require.True(t, ok)
	assert.InDelta(t, 2.46876461, g, 1e-8)
	assert.Equal(t, 7, index)
	assert.InDelta(t, 2.0317, stat.GrubbsCritical(8, 0.05, false), 5e-5)
	assert.InDelta(t, 2.1266, stat.GrubbsCritical(8, 0.05, true), 5e-5)
}

// Critical values as tables of the test have them.
func TestGrubbsCriticalOfTables(t *testing.T) {
	for n, want := range map[int][2]float64{
		3: {1.1531, 1.1546}, 4: {1.4625, 1.4925}, 5: {1.6714, 1.7489}, 6: {1.8221, 1.9442}, 7: {1.9381, 2.0973},
		10: {2.1761, 2.4097}, 20: {2.5566, 2.8838}, 30: {2.7451, 3.1029}, 50: {2.9570, 3.3366}, 100: {3.2095, 3.6002},
	} {
		assert.InDelta(t, want[0], stat.GrubbsCritical(n, 0.05, false), 5e-5, "%d readings, 0.05", n)
		assert.InDelta(t, want[1], stat.GrubbsCritical(n, 0.01, false), 5e-5, "%d readings, 0.01", n)
	}
	for n, want := range map[int]float64{5: 1.7150, 10: 2.2900, 20: 2.7082, 100: 3.3841} {
		assert.InDelta(t, want, stat.GrubbsCritical(n, 0.05, true), 5e-5, "%d readings, two-sided", n)
	}
}

// NIST/SEMATECH e-Handbook 1.3.5.17.3, Rosner's 54 readings: three outliers, although the
// first two steps find none.
func TestGeneralisedESDOfTheHandbook(t *testing.T) {
	x := []float64{
		-.25, .68, .94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.70, 1.76, 1.77, 1.81, 1.91,
		1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93,
		3.21, 3.26, 3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42, 6.01,
	}
	steps, outliers := stat.GeneralisedESD(x, 10, 0.05)
	assert.Equal(t, 3, outliers)
	for i, want := range [][2]float64{
		{3.1189, 3.1588},
		{2.9430, 3.1514},
		{3.1794, 3.1439},
		{2.8102, 3.1362},
		{2.8156, 3.1282},
		{2.8482, 3.1201},
		{2.2793, 3.1118},
		{2.3104, 3.1032},
		{2.1016, 3.0945},
		{2.0672, 3.0854},
	} {
		assert.InDelta(t, want[0], steps[i].R, 5.1e-5, "step %d", i+1)
		assert.InDelta(t, want[1], steps[i].Lambda, 5.1e-5, "step %d", i+1)
	}
	assert.Equal(t, []int{53, 52, 51}, []int{steps[0].Index, steps[1].Index, steps[2].Index})
}

func TestOutliersOfTooFewReadings(t *testing.T) {
	for _, x := range [][]float64{nil, {1}, {1, 2}, {1, 1, 1, 1}} {
		_, _, ok := stat.Grubbs(x)
		assert.False(t, ok)
		_, outliers := stat.GeneralisedESD(x, 3, 0.05)
		assert.Zero(t, outliers)
	}
	steps, _ := stat.GeneralisedESD([]float64{1, 2, 3, 9}, 10, 0.05)
	assert.Len(t, steps, 2)
}
