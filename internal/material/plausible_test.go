package material

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/quantity"
)

// TestLibraryValuesArePlausible looks for slips of the pen: a wrong unit or a
// lost digit lands outside of what any such material has. The limits are wide
// on purpose; that of packing is the densest packing of equal spheres.
func TestLibraryValuesArePlausible(t *testing.T) {
	const celsius = 273.15
	limits := map[Kind]map[string][2]float64{
		Polymer: {
			"density": {850, 1400}, "melt_density": {700, 1200}, "melt_range": {130 + celsius, 280 + celsius},
			"moisture_limit": {100e-6, 2000e-6}, "molar_mass": {10, 200}, "modulus": {0.02e9, 4.5e9}, "strength": {10e6, 90e6},
			"elongation": {0.005, 10}, "glass_transition": {-60 + celsius, 120 + celsius}, "melting": {100 + celsius, 230 + celsius},
			"heat_capacity": {1000, 2300}, "conductivity": {0.1, 0.3}, "melting_heat": {0, 120e3},
			"print_range": {180 + celsius, 280 + celsius}, "drying_temperature": {45 + celsius, 120 + celsius}, "drying_time": {2 * 3600, 16 * 3600},
			"melt_flow": {1e-6, 1e-4}, "melt_flow_temperature": {180 + celsius, 280 + celsius}, "melt_flow_load": {2.16, 5},
		},
		Filler: {
			"density": {100, 9000}, "moisture_limit": {0.005, 0.01}, "packing_limit": {0.2, 0.7405}, "aspect_ratio": {1, 40},
			"oil_content": {0, 0.2}, "onset": {160 + celsius, 800 + celsius}, "modulus": {0.02e9, 250e9}, "strength": {2e9, 4.5e9},
			"heat_capacity": {350, 2000}, "conductivity": {0.03, 400},
		},
		Additive: {"density": {800, 1000}},
	}
	for _, m := range library(t) {
		for _, f := range Fields() {
			e, given := f.Estimate(&m)
			if !given {
				continue
			}
			limit, ok := limits[m.Kind][f.Member]
			if !assert.True(t, ok, "%s: no limits for %s", m.Kind, f.Member) {
				continue
			}
			assert.GreaterOrEqual(t, e.Low, limit[0]*(1-1e-12), "%s %s", m.ID, f.Member)
			assert.LessOrEqual(t, e.High, limit[1]*(1+1e-12), "%s %s", m.ID, f.Member)
			if e.Spread == quantity.Range {
				assert.Less(t, e.Low, e.High, "%s %s", m.ID, f.Member)
			}
		}
	}
}

func TestLibraryPropertiesAgreeWithEachOther(t *testing.T) {
	for _, m := range library(t) {
		if m.Kind != Polymer {
			continue
		}
		solid, _ := m.Density.Estimate()
		melt, _ := m.MeltDensity.Estimate()
		assert.Less(t, melt.High, solid.Low, "%s: a melt is lighter than its solid", m.ID)
		glass, _ := m.GlassTransition.Estimate()
		processed, _ := m.MeltRange.Estimate()
		assert.Less(t, glass.High, processed.Low, "%s: a melt is above its glass transition", m.ID)
		if crystals, ok := m.Melting.Estimate(); ok {
			assert.Less(t, glass.High, crystals.Low, "%s: crystals melt above the glass transition", m.ID)
			assert.Greater(t, processed.High, crystals.Low, "%s: a melt is above its melting point", m.ID)
		}
	}
}
