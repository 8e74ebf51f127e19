package melt

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestOil(t *testing.T) {
	printed.Equal(t, "3.717", math.Log(3.05)/0.30, "30 wt% of coffee oil, +205 % melt flow")
	assert.InEpsilon(t, 3.05, OilFactor(KOil, 0.30), 1e-3, "outside check: the measurement that KOil stands on")

	// 20 wt% of coffee grounds with 12 % oil
	share := OilShare(0.20*0.12, 0.80)
	printed.Equal(t, "0.02913", share, arith)
	printed.Equal(t, "1.1143", OilFactor(KOil, share), arith)
}

func TestOilEdges(t *testing.T) {
	assert.Equal(t, 1.0, OilFactor(KOil, 0))
	assert.Zero(t, OilShare(0, 0))
	assert.Equal(t, 1.0, OilShare(0.2, 0))
	assert.Less(t, OilFactor(KOil, 0.01), OilFactor(KOil, 0.02))
	assert.Less(t, OilFactor(-KOil, 0.01), 1.0, "a measured oil may also thicken")
}
