package spool_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
	"fillwright/internal/spool"
)

const area175 = math.Pi / 4 * 1.75e-3 * 1.75e-3

// Arithmetic from the stated inputs: core 80, winding 190, width 55 mm, strand 1.75 mm.
func TestCapacityOfAUsualReel(t *testing.T) {
	for packing, want := range map[float64]string{0.60: "320.03", 0.70: "373.37", math.Pi / 4: "418.92", 0.9069: "483.73"} {
		printed.Equal(t, want, spool.Capacity(packing, 0.190, 0.080, 0.055, area175), "arithmetic from the stated inputs")
	}
	printed.Equal(t, "0.9545", 320.03*1240*area175, "kg of PLA")
}

func TestPackingAndOuterUndoCapacity(t *testing.T) {
	for _, packing := range []float64{0.3, 0.6, 0.75, 0.9} {
		for _, outer := range []float64{0.09, 0.15, 0.2} {
			length := spool.Capacity(packing, outer, 0.08, 0.055, area175)
			assert.InEpsilon(t, packing, spool.Packing(length, area175, outer, 0.08, 0.055), 1e-12)
			assert.InEpsilon(t, outer, spool.Outer(length, packing, 0.08, 0.055, area175), 1e-12)
		}
	}
	assert.Equal(t, 0.08, spool.Outer(0, 0.6, 0.08, 0.055, area175))
}

// Arithmetic: 1.75 mm on 80 mm is 2.1407 %, 2.85 mm 3.4400 %.
func TestSmallestCoreUndoesTheStrain(t *testing.T) {
	printed.Equal(t, "2.1407", 100*spool.CoreStrain(1.75e-3, 0.08), "arithmetic from the stated inputs")
	printed.Equal(t, "3.4400", 100*spool.CoreStrain(2.85e-3, 0.08), "arithmetic from the stated inputs")
	for _, core := range []float64{0.02, 0.05, 0.08, 0.2} {
		assert.InEpsilon(t, core, spool.SmallestCore(1.75e-3, spool.CoreStrain(1.75e-3, core)), 1e-12)
	}
	assert.Zero(t, spool.SmallestCore(1.75e-3, 1))
	assert.True(t, math.IsInf(spool.SmallestCore(1.75e-3, 0), 1))
}

func TestSurvived(t *testing.T) {
	mandrel, pieces, some := spool.Survived([]spool.Bent{{0.06, 10, 0}, {0.04, 10, 0}, {0.04, 5, 0}, {0.03, 10, 1}, {0.02, 10, 0}})
	require.True(t, some)
	assert.Equal(t, 0.04, mandrel, "the 20 mm that survived says nothing below one that broke")
	assert.Equal(t, 15, pieces)
	for _, tests := range [][]spool.Bent{nil, {{0.05, 0, 0}}, {{0.05, 10, 1}}, {{0.05, 10, 0}, {0.06, 10, 1}}} {
		_, _, some = spool.Survived(tests)
		assert.False(t, some, "%v", tests)
	}
}

// The rule of three: none of n leaves about 3/n with 95 %.
func TestMayBreak(t *testing.T) {
	assert.InDelta(t, 0.2589, spool.MayBreak(10, 0.95), 5e-5)
	assert.InDelta(t, 0.0495, spool.MayBreak(59, 0.95), 5e-5)
	assert.InEpsilon(t, 3.0/1000, spool.MayBreak(1000, 0.95), 0.005)
	assert.Equal(t, 1.0, spool.MayBreak(0, 0.95))
}
