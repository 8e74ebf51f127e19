package stat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/stat"
)

// Exact factors, which ISO 16269-6 prints to three decimals (5.077, 3.393, 2.760).
func TestToleranceFactors(t *testing.T) {
	for _, c := range []struct{ n, share, confidence, two, one float64 }{
		{5, .95, .95, 5.07687, 4.20268},
		{10, .95, .95, 3.39343, 2.91096},
		{20, .95, .95, 2.76035, 2.39600},
		{30, .99, .95, 3.35458, 3.06390},
		{10, .90, .90, 2.54594, 2.06567},
	} {
		assert.InDelta(t, c.two, stat.ToleranceTwoSided(c.n, c.share, c.confidence), 6e-6, "%+v", c)
		assert.InDelta(t, c.one, stat.ToleranceOneSided(c.n, c.share, c.confidence), 6e-6, "%+v", c)
	}
	assert.True(t, math.IsNaN(stat.ToleranceTwoSided(1, .95, .95)) && math.IsNaN(stat.ToleranceOneSided(5, 1, .95)))
	assert.InDelta(t, distuv.UnitNormal.Quantile(0.975), stat.ToleranceTwoSided(1e6, .95, .5), 1e-3, "of many readings that of the population")
}

// Without noncentrality it is Student's t; far out, where series underflow, the value is
// known from a library of arbitrary precision.
func TestNoncentralT(t *testing.T) {
	for _, nu := range []float64{1, 2.5, 9, 49, 500} {
		for _, x := range []float64{-3, -0.5, 0, 1, 2.7} {
			assert.InDelta(t, distuv.StudentsT{Sigma: 1, Nu: nu}.CDF(x), stat.NoncentralT(x, nu, 0), 1e-4, "t %g, nu %g", x, nu)
		}
	}
	for _, c := range [][4]float64{ // t, degrees of freedom, noncentrality, probability
		{2, 10, 1, .8076115625303753},
		{-1, 10, 1, .02680185676947955},
		{3, 5, 2.5, .5958960114782956},
		{20, 4, 10, .9068007201294924},
		{0, 8, 3, .001349898031630095},
		{5, 100, 4, .8241017020704677},
		{40, 15, 35, .7158476226064869},
		{-2, 6, 2, 2.489014187520675e-04},
		{2.10092204024096, 18, 1.58113883008419, .6782470669990251},
		{200, 50, 190, .668765784029136},
		{45, 20, 40, .726891325044226},
	} {
		assert.InDelta(t, c[3], stat.NoncentralT(c[0], c[1], c[2]), 1e-9, "%v", c)
	}
	assert.True(t, math.IsNaN(stat.NoncentralT(1, 0, 0)))
}

// NIST/SEMATECH e-Handbook 6.1.6, 50 readings: the exact bound of Cpu 0.6667.
func TestCapabilityBound(t *testing.T) {
	assert.InDelta(t, 0.52961323, stat.CapabilityBound(2.0/3, 50, 0.95), 1e-8)
	assert.Less(t, stat.CapabilityBound(1.33, 20, 0.95), 1.33)
	assert.InDelta(t, 1.33, stat.CapabilityBound(1.33, 1e5, 0.95), 0.01)
}
