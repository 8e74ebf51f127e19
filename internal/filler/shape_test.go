package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// turned is the smallest square that an ellipse fits at any angle, found by
// turning it: at an angle it is √(b²cos² + c²sin²) wide.
func turned(b, c float64) float64 {
	least := math.Inf(1)
	for i := range 100001 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 100000)
		least = min(least, max(math.Hypot(b*cos, c*sin), math.Hypot(b*sin, c*cos)))
	}
	return least
}

func TestNeededAperture(t *testing.T) {
	printed.Equal(t, "114.2366", 1e6*NeededAperture(150*um, 60*um), "formula and rotation agree, "+arith)
	for _, axes := range [][2]float64{{150, 60}, {100, 100}, {100, 99}, {200, 1}} {
		assert.InEpsilon(t, turned(axes[0], axes[1]), NeededAperture(axes[0], axes[1]), 1e-8)
	}
	assert.InEpsilon(t, 100, NeededAperture(100, 100), 1e-12, "round")
	assert.InEpsilon(t, 100, NeededAperture(141.4213562, 0), 1e-9, "a flake lies on the diagonal")
}

// A sieve of 125 µm and grains four times as long as wide.
func TestLongestGrain(t *testing.T) {
	printed.Equal(t, "500", 1e6*LongestGrain(125*um, 4, 1), arith)
	printed.Equal(t, "705", 1e6*LongestGrain(125*um, 4, 1.41), arith)
	assert.Greater(t, LongestGrain(125*um, 4, 1), 0.4e-3, "longer than the bore of the usual nozzle")
}

func TestGrainsBetweenJams(t *testing.T) {
	printed.Equal(t, "5.81", GrainsBetweenJams(2), arith)
	printed.Equal(t, "102.28", GrainsBetweenJams(3), arith)
	printed.Equal(t, "15172", GrainsBetweenJams(4), arith)
	printed.Equal(t, "2.86e6", GrainsBetweenJams(4.5), arith)
	printed.Equal(t, "0.0097", 1/(1+GrainsBetweenJams(3)), "chance of each grain, "+arith)
	printed.Equal(t, "6.6e-5", 1/(1+GrainsBetweenJams(4)), "chance of each grain, "+arith)
	for _, r := range []float64{4.94, 5, math.Inf(1)} {
		assert.True(t, math.IsInf(GrainsBetweenJams(r), 1))
	}
}

func TestJamRisk(t *testing.T) {
	for _, c := range []struct {
		grain float64
		want  JamRisk
	}{
		{200 * um, JamLikely}, {134 * um, JamLikely}, {133 * um, JamPossible}, {67 * um, JamPossible}, {66 * um, JamUnlikely},
	} {
		assert.Equal(t, c.want, JamRiskOf(0.4e-3, c.grain), "%g", c.grain)
	}
	assert.Equal(t, JamPossible, JamRiskOf(3, 1))
	assert.Equal(t, JamPossible, JamRiskOf(6, 1))
	assert.True(t, JamUnlikely < JamPossible && JamPossible < JamLikely)
}

func TestCheckSieve(t *testing.T) {
	for name, c := range map[string]struct {
		opening, bore, parts float64
		want                 SieveVerdict
		aboveBore, practice  bool
	}{
		"usual practice, 60 mesh and 0.4 mm":  {250 * um, 0.4e-3, 3, PassesCriticalByPlan, false, true},
		"usual practice, bore a little finer": {250 * um, 0.39e-3, 3, PassesCriticalByPlan, false, false},
		"the next coarser":                    {300 * um, 0.4e-3, 3, PassesCriticalByPlan, false, false}, // 365.4
		"wider than the bore":                 {355 * um, 0.4e-3, 3, PassesCriticalByPlan, true, false},  // 427.0
		"between nominal and widest":          {125 * um, 0.4e-3, 3, MayPassCritical, false, true},       // 163.3 > 133.3
		"safe":                                {90 * um, 0.4e-3, 3, KeepsBackCritical, false, true},      // 121.8
		"just not":                            {100 * um, 0.4e-3, 3, MayPassCritical, false, true},       // 133.7
		"nominal is critical":                 {200 * um, 0.6e-3, 3, MayPassCritical, false, true},
		"whole bore is critical":              {355 * um, 0.4e-3, 1, MayPassCritical, true, false},
		"wide nozzle":                         {250 * um, 1e-3, 3, KeepsBackCritical, false, true}, // 307.8 < 333.3
	} {
		t.Run(name, func(t *testing.T) {
			got := CheckSieve(c.opening, c.bore, c.parts)
			assert.Equal(t, c.want, got.Verdict)
			assert.Equal(t, c.aboveBore, got.AboveBore)
			assert.Equal(t, c.practice, got.Practice)
			assert.Equal(t, LargestAperture(c.opening), got.LargestApertureM)
			printed.Same(t, c.bore/c.parts, got.CriticalM)
		})
	}
}

// What is said of a sieve and the sieve that is proposed are one judgement.
func TestProposedSieveKeepsBackCriticalGrains(t *testing.T) {
	for bore := 0.15e-3; bore < 5e-3; bore *= 1.05 {
		proposed, ok := CoarsestSieveBelow(bore/DefaultCriticalParts, SeriesE11)
		if !ok {
			continue
		}
		for _, s := range Sieves() {
			if !s.In(SeriesE11) {
				continue
			}
			keeps := CheckSieve(s.OpeningM, bore, DefaultCriticalParts).Verdict == KeepsBackCritical
			assert.Equal(t, s.OpeningM <= proposed.OpeningM, keeps)
		}
	}
}
