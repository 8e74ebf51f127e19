package stat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/stat"
)

// NIST/SEMATECH e-Handbook 6.1.6: limits 8 and 20, mean 16, s 2. The intervals for 50
// readings were worked out apart, with chi-square and normal points of another library.
func TestCapabilityOfTheHandbook(t *testing.T) {
	c, ok := stat.Capable(16, 2, 50, 8, 20)
	require.True(t, ok)
	assert.InDelta(t, 1.0, c.Cp, 1e-12)
	assert.InDelta(t, 0.6667, c.Cpk, 5e-5)
	assert.InDelta(t, 0.6667, c.Cpu, 5e-5)
	assert.InDelta(t, 1.3333, c.Cpl, 5e-5)
	assert.InDelta(t, 0.8024823, c.CpLow, 1e-7)
	assert.InDelta(t, 1.1971259, c.CpHigh, 1e-7)
	assert.InDelta(t, 0.5055513, c.CpkLow, 1e-7)
	assert.InDelta(t, 0.8277821, c.CpkHigh, 1e-7)
	assert.InDelta(t, 22750.1319, c.Above*1e6, 1e-4)
	assert.InDelta(t, 31.6712, c.Below*1e6, 1e-4)
}

// A data set that a package for R is tested with: limits 740 and 760.
func TestCapabilityOfPublishedData(t *testing.T) {
	s, ok := stat.Summarise([]float64{
		755.81, 750.54, 751.05, 749.52, 749.21, 748.38, 748.11, 753.07, 749.56, 750.08,
		747.16, 747.53, 749.22, 746.76, 747.64, 750.46, 749.27, 750.33, 750.26, 751.29,
	})
	require.True(t, ok)
	c, ok := stat.Capable(s.Mean, s.SD, float64(s.N), 740, 760)
	require.True(t, ok)
	assert.InDelta(t, 1.54651309711296, c.Cpk, 1e-12)
	assert.InDelta(t, 1.584136, c.Cp, 5e-7)
}

func TestCapabilityAgainstOneLimit(t *testing.T) {
	c, ok := stat.Capable(1.75, 0.01, 30, math.Inf(-1), 1.80)
	require.True(t, ok)
	assert.InDelta(t, 5.0/3, c.Cpk, 1e-9)
	assert.True(t, math.IsNaN(c.Cp) && math.IsNaN(c.Cpl) && math.IsNaN(c.CpLow))
	assert.Zero(t, c.Below)
	c, ok = stat.Capable(0, 1, 30, -10, 10)
	require.True(t, ok)
	assert.InEpsilon(t, 7.61985302416e-24, c.Above, 1e-9, "10 standard deviations out, from mathematical tables")
}

func TestCapabilityRefuses(t *testing.T) {
	for name, c := range map[string][5]float64{
		"one reading": {1, 1, 1, 0, 2}, "no spread": {1, 0, 9, 0, 2}, "reversed limits": {1, 1, 9, 2, 0},
		"no limits": {1, 1, 9, math.Inf(-1), math.Inf(1)}, "not a number": {math.NaN(), 1, 9, 0, 2}, "limits not numbers": {1, 1, 9, math.NaN(), 2},
	} {
		_, ok := stat.Capable(c[0], c[1], c[2], c[3], c[4])
		assert.False(t, ok, name)
	}
}
