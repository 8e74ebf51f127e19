package wording

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestUnitReadsAsPeopleDo(t *testing.T) {
	for spelled, read := range map[string]string{
		"EUR/kg": "€/kg", "GBP": "£", "SEK/kg": "SEK/kg", "g/cm3": "g/cm³", "kg/m3": "kg/m³",
		"um": "µm", "1/min^n": "1/minⁿ",
		"1": "×", "%": "%", "": "", "EUR/100 m": "€/100 m",
	} {
		assert.Equal(t, read, Unit(spelled), spelled)
	}
	assert.Equal(t, "18.9 €/kg", New("en").show(Number{Value: 18.9, Unit: "EUR/kg"}))
}

func TestSignedTellsTheWay(t *testing.T) {
	w := New("en")
	for v, want := range map[float64]string{1.26: "+1.3", -1.26: "−1.3", 0: "0.0", 0.04: "0.0"} {
		assert.Equal(t, want, w.Signed(v, 1))
	}
	assert.Equal(t, "—", w.Signed(math.NaN(), 1))
}
