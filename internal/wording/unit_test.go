package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestUnitReadsAsPeopleDo(t *testing.T) {
	for spelled, read := range map[string]string{
		"EUR/kg": "€/kg", "GBP": "£", "SEK/kg": "SEK/kg", "g/cm3": "g/cm³", "kg/m3": "kg/m³",
		"1": "×", "%": "%", "": "", "EUR/100 m": "€/100 m",
	} {
		assert.Equal(t, read, Unit(spelled), spelled)
	}
	assert.Equal(t, "18.9 €/kg", New("en").show(Number{Value: 18.9, Unit: "EUR/kg"}))
}
