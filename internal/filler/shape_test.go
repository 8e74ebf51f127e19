package filler

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// A sieve of 125 µm and grains four times as long as wide.
func TestLongestGrain(t *testing.T) {
	printed.Equal(t, "500", 1e6*LongestGrain(125*um, 4, 1), arith)
	printed.Equal(t, "705", 1e6*LongestGrain(125*um, 4, 1.41), arith)
	assert.Greater(t, LongestGrain(125*um, 4, 1), 0.4e-3, "longer than the bore of the usual nozzle")
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
