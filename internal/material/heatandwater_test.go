package material

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The moisture that polymers may hold before melt processing, and how pellets are dried.
// PLA, PETG, ABS, PA12, PP and TPU: drying tables of filament makers (PLA also data sheets
// of resin makers); the lower limit of PETG, PA6, PHB, PHBV and PBAT from memory, so the library marks them.
func TestMoistureLimitsAndDrying(t *testing.T) {
	for _, c := range []struct {
		id                   ID
		lowPPM, highPPM      float64
		coldC, hotC          float64
		shortHours, longHour float64
		memory               bool
	}{
		{"pla", 250, 250, 65, 90, 4, 12, false},
		{"petg", 400, 600, 65, 70, 4, 8, true},
		{"abs", 200, 200, 80, 90, 2, 4, false},
		{"tpu-95a", 200, 200, 80, 90, 2, 3, false},
		{"pa12", 1000, 1000, 80, 80, 4, 8, false},
		{"pa6", 1000, 2000, 80, 80, 8, 16, true},
		{"pp", 200, 200, 70, 70, 2, 4, false},
		{"phb", 250, 500, 70, 80, 3, 4, true},
		{"phbv", 250, 500, 70, 80, 3, 4, true},
		{"pbat", 500, 500, 65, 70, 2, 4, true},
	} {
		m, found := Lookup(c.id)
		require.True(t, found, c.id)
		limit, _ := m.MoistureLimit.Estimate()
		heat, _ := m.DryingTemperature.Estimate()
		time, _ := m.DryingTime.Estimate()
		assert.InDeltaSlice(t, []float64{c.lowPPM, c.highPPM}, []float64{1e6 * limit.Low, 1e6 * limit.High}, 1e-6, c.id)
		assert.InDeltaSlice(t, []float64{c.coldC, c.hotC}, []float64{heat.Low - 273.15, heat.High - 273.15}, 1e-6, c.id)
		assert.InDeltaSlice(t, []float64{c.shortHours, c.longHour}, []float64{time.Low / 3600, time.High / 3600}, 1e-6, c.id)
		source, there := m.SourceOf("moisture_limit")
		assert.True(t, there && source.Text != "", c.id)
		assert.Equal(t, c.memory, source.Confirm, "%s: %s", c.id, source.Text)
	}
}

// Where decomposition sets in (thermogravimetry, inert gas): hemicellulose 200 to 220 °C,
// cellulose 300 to 315, lignin 160 to 200 (Yang 2007, Fuel 86, 1781, from memory); spent
// grain above 215 (Hejna 2021); calcium carbonate above 600 and talc above 800, shell
// organics 200 to 400, from memory. A powder begins with its weakest constituent, so
// whatever is made of plant matter begins below cellulose.
func TestOnsetsOfDecomposition(t *testing.T) {
	for _, c := range []struct {
		id        ID
		low, high float64 // °C, within which the first of it begins
	}{
		{"wood-flour", 200, 220},
		{"walnut-shell-flour", 200, 220},
		{"olive-stone-flour", 200, 220},
		{"rice-husk", 200, 220},
		{"hemp-hurd", 200, 220},
		{"cork", 200, 220},
		{"lignin", 160, 200},
		{"cellulose-powder", 220, 315},
		{"spent-grain", 215, 215},
		{"spent-coffee-grounds", 200, 220},
		{"mussel-shell", 200, 400},
		{"eggshell", 200, 400},
		{"calcium-carbonate", 600, 600},
		{"talc", 800, 800},
	} {
		m, found := Lookup(c.id)
		require.True(t, found, c.id)
		onset, given := m.Onset.Estimate()
		require.True(t, given, c.id)
		assert.GreaterOrEqual(t, onset.Low-273.15, c.low-1e-6, c.id)
		assert.LessOrEqual(t, onset.Low-273.15, c.high+1e-6, c.id)
		source, there := m.SourceOf("onset")
		assert.True(t, there && source.Text != "", c.id)
	}
}
