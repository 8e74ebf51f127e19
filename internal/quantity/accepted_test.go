package quantity

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// accepted holds entries with what must be read from them, in SI. Values are
// arithmetic from the stated inputs and the exact unit definitions.
var accepted = []struct {
	dimension, text  string
	value, low, high float64
	file, window     string
}{
	// Digits stay as entered.
	{"density", "1.240 g/cm3", 1240, 1240, 1240, "1.240 g/cm3", "1.240 g/cm³"},
	{"density", "1,240 g/cm3", 1240, 1240, 1240, "1.240 g/cm3", "1.240 g/cm³"},
	{"mass", "007 g", 0.007, 0.007, 0.007, "007 g", "007 g"},
	{"mass", "0 g", 0, 0, 0, "0 g", "0 g"},
	{"mass", "0.00 kg", 0, 0, 0, "0.00 kg", "0.00 kg"},
	{"mass", ".5 kg", 0.5, 0.5, 0.5, ".5 kg", ".5 kg"},
	{"mass", ",5 kg", 0.5, 0.5, 0.5, ".5 kg", ".5 kg"},
	{"mass", "+5 kg", 5, 5, 5, "5 kg", "5 kg"},
	{"mass", "1e-3 kg", 1e-3, 1e-3, 1e-3, "1e-3 kg", "1e-3 kg"},
	{"mass", "1.5E+3 g", 1.5, 1.5, 1.5, "1.5E+3 g", "1.5E+3 g"},
	{"mass", "2,5e2g", 0.25, 0.25, 0.25, "2.5e2 g", "2.5e2 g"},

	// Spaces.
	{"length", "1.75mm", 1.75e-3, 1.75e-3, 1.75e-3, "1.75 mm", "1.75 mm"},
	{"length", "  1.75   mm ", 1.75e-3, 1.75e-3, 1.75e-3, "1.75 mm", "1.75 mm"},
	{"length", "1.75\u00a0mm", 1.75e-3, 1.75e-3, 1.75e-3, "1.75 mm", "1.75 mm"},
	{"length", "1.75\u2009mm", 1.75e-3, 1.75e-3, 1.75e-3, "1.75 mm", "1.75 mm"},
	{"length", "1.75\u202fmm", 1.75e-3, 1.75e-3, 1.75e-3, "1.75 mm", "1.75 mm"},
	{"fraction", "5%", 0.05, 0.05, 0.05, "5 %", "5 %"},

	// ± is expanded, k = 2.
	{"density", "1.24 ± 0.02 g/cm3", 1240, 1220, 1260, "1.24 ± 0.02 g/cm3", "1.24 ± 0.02 g/cm³"},
	{"density", "1,24±0,02g/cm³", 1240, 1220, 1260, "1.24 ± 0.02 g/cm³", "1.24 ± 0.02 g/cm³"},
	{"density", "1.24 +/- 0.02 g/cm3", 1240, 1220, 1260, "1.24 ± 0.02 g/cm3", "1.24 ± 0.02 g/cm³"},
	{"density", "1.24+-0.02 g/cm3", 1240, 1220, 1260, "1.24 ± 0.02 g/cm3", "1.24 ± 0.02 g/cm³"},
	{"density", "1.24 g/cm3 ± 0.02 g/cm3", 1240, 1220, 1260, "1.24 ± 0.02 g/cm3", "1.24 ± 0.02 g/cm³"},
	{"mass", "1 ± 0 g", 1e-3, 1e-3, 1e-3, "1 ± 0 g", "1 ± 0 g"},
	{"mass", "1 ± +2 g", 1e-3, -1e-3, 3e-3, "1 ± 2 g", "1 ± 2 g"},

	// Ranges.
	{"density", "1.40-1.50 g/cm3", 1450, 1400, 1500, "1.40-1.50 g/cm3", "1.40–1.50 g/cm³"},
	{"density", "1,40 – 1,50 g/cm3", 1450, 1400, 1500, "1.40-1.50 g/cm3", "1.40–1.50 g/cm³"},
	{"density", "1.40 to 1,50 g/cm3", 1450, 1400, 1500, "1.40-1.50 g/cm3", "1.40–1.50 g/cm³"},
	{"density", "1.40\u22121.50 g/cm3", 1450, 1400, 1500, "1.40-1.50 g/cm3", "1.40–1.50 g/cm³"},
	{"density", "1.40 g/cm3 - 1.50 g/cm3", 1450, 1400, 1500, "1.40-1.50 g/cm3", "1.40–1.50 g/cm³"},
	{"fraction", "5 % - 10 %", 0.075, 0.05, 0.1, "5-10 %", "5–10 %"},
	{"length", "1e-3-2e-3 m", 1.5e-3, 1e-3, 2e-3, "1e-3-2e-3 m", "1e-3–2e-3 m"},
	{"mass", "0-2 g", 1e-3, 0, 2e-3, "0-2 g", "0–2 g"},

	// Length.
	{"length", "250 um", 2.5e-4, 2.5e-4, 2.5e-4, "250 um", "250 µm"},
	{"length", "250 \u00b5m", 2.5e-4, 2.5e-4, 2.5e-4, "250 \u00b5m", "250 µm"},
	{"length", "250 \u03bcm", 2.5e-4, 2.5e-4, 2.5e-4, "250 \u03bcm", "250 µm"},
	{"length", "1 in", 0.0254, 0.0254, 0.0254, "1 in", "1 in"},
	{"length", "1 [in_i]", 0.0254, 0.0254, 0.0254, "1 [in_i]", "1 in"},
	{"length", `0.5"`, 0.0127, 0.0127, 0.0127, `0.5 "`, "0.5 in"},
	{"length", "10 ft", 3.048, 3.048, 3.048, "10 ft", "10 ft"},

	// Mass, volume, density.
	{"mass", "1 t", 1000, 1000, 1000, "1 t", "1 t"},
	{"mass", "2 lb", 0.90718474, 0.90718474, 0.90718474, "2 lb", "2 lb"},
	{"mass", "2 [lb_av]", 0.90718474, 0.90718474, 0.90718474, "2 [lb_av]", "2 lb"},
	{"mass", "1 [oz_av]", 0.028349523125, 0.028349523125, 0.028349523125, "1 [oz_av]", "1 oz"},
	{"volume", "250 ml", 2.5e-4, 2.5e-4, 2.5e-4, "250 ml", "250 mL"},
	{"volume", "250 cm^3", 2.5e-4, 2.5e-4, 2.5e-4, "250 cm^3", "250 cm³"},
	{"density", "0.9 kg/L", 900, 900, 900, "0.9 kg/L", "0.9 kg/L"},

	// Temperature: absolute values carry the offset, differences do not.
	{"temperature", "20 °C", 293.15, 293.15, 293.15, "20 °C", "20 °C"},
	{"temperature", "20 Cel", 293.15, 293.15, 293.15, "20 Cel", "20 °C"},
	{"temperature", "20 degC", 293.15, 293.15, 293.15, "20 degC", "20 °C"},
	{"temperature", "300 K", 300, 300, 300, "300 K", "300 K"},
	{"temperature", "212 °F", 373.15, 373.15, 373.15, "212 °F", "212 °F"},
	{"temperature", "-40 [degF]", 233.15, 233.15, 233.15, "-40 [degF]", "-40 °F"},
	{"temperature", "-40 °C", 233.15, 233.15, 233.15, "-40 °C", "-40 °C"},
	{"temperature", "\u221240 °C", 233.15, 233.15, 233.15, "-40 °C", "-40 °C"},
	{"temperature", "-273.15 °C", 0, 0, 0, "-273.15 °C", "-273.15 °C"},
	{"temperature", "-459.67 °F", 0, 0, 0, "-459.67 °F", "-459.67 °F"},
	{"temperature", "-0 °C", 273.15, 273.15, 273.15, "-0 °C", "-0 °C"},
	{"temperature", "210 ± 5 °C", 483.15, 478.15, 488.15, "210 ± 5 °C", "210 ± 5 °C"},
	{"temperature", "212 ± 9 °F", 373.15, 368.15, 378.15, "212 ± 9 °F", "212 ± 9 °F"},
	{"temperature", "1 ± 2 K", 1, -1, 3, "1 ± 2 K", "1 ± 2 K"},
	{"temperature", "190-220 °C", 478.15, 463.15, 493.15, "190-220 °C", "190–220 °C"},
	{"temperature", "-40 to -30 °C", 238.15, 233.15, 243.15, "-40 to -30 °C", "-40 to -30 °C"},
	{"temperature", "-5 to 5 °C", 273.15, 268.15, 278.15, "-5 to 5 °C", "-5 to 5 °C"},

	// Fractions, contents, factors.
	{"fraction", "0.05 1", 0.05, 0.05, 0.05, "0.05 1", "0.05 1"},
	{"fraction", "0.04-0.06 1", 0.05, 0.04, 0.06, "0.04-0.06 1", "0.04–0.06 1"},
	{"fraction", "50 [ppm]", 5e-5, 5e-5, 5e-5, "50 [ppm]", "50 ppm"},
	{"fraction", "250 mg/kg", 2.5e-4, 2.5e-4, 2.5e-4, "250 mg/kg", "250 mg/kg"},
	{"fraction", "5 wt%", 0.05, 0.05, 0.05, "5 wt%", "5 wt%"},
	{"content", "5 wt%", 0.05, 0.05, 0.05, "5 wt%", "5 wt%"},
	{"content", "5 ± 0.5 vol%", 0.05, 0.045, 0.055, "5 ± 0.5 vol%", "5 ± 0.5 vol%"},
	{"content", "5 wt% ± 1 wt%", 0.05, 0.04, 0.06, "5 ± 1 wt%", "5 ± 1 wt%"},
	{"content", "11-12 phr", 0.115, 0.11, 0.12, "11-12 phr", "11–12 phr"},
	{"factor", "1.8", 1.8, 1.8, 1.8, "1.8", "1.8"},
	{"factor", "1.8 1", 1.8, 1.8, 1.8, "1.8 1", "1.8"},
	{"factor", "×1.8", 1.8, 1.8, 1.8, "×1.8", "×1.8"},
	{"factor", "x 1,8", 1.8, 1.8, 1.8, "x1.8", "×1.8"},
	{"factor", "1.8x", 1.8, 1.8, 1.8, "x1.8", "×1.8"},
	{"factor", "1.8 ×", 1.8, 1.8, 1.8, "×1.8", "×1.8"},
	{"factor", "×1.8 ± 0.2", 1.8, 1.6, 2, "×1.8 ± 0.2", "×1.8 ± 0.2"},
	{"factor", "×1-3", 2, 1, 3, "×1-3", "×1–3"},

	// Derived units.
	{"duration", "90 min", 5400, 5400, 5400, "90 min", "90 min"},
	{"duration", "1 d", 86400, 86400, 86400, "1 d", "1 d"},
	{"pressure", "50-60 MPa", 55e6, 50e6, 60e6, "50-60 MPa", "50–60 MPa"},
	{"pressure", "3 N/mm²", 3e6, 3e6, 3e6, "3 N/mm²", "3 N/mm²"},
	{"molar_mass", "100 kDa", 100, 100, 100, "100 kDa", "100 kDa"},
	{"molar_mass", "72.06 g/mol", 0.07206, 0.07206, 0.07206, "72.06 g/mol", "72.06 g/mol"},
	{"power", "0.4 kW", 400, 400, 400, "0.4 kW", "0.4 kW"},
	{"energy", "1.5 kWh", 5.4e6, 5.4e6, 5.4e6, "1.5 kWh", "1.5 kWh"},
	{"energy", "850 Wh", 3.06e6, 3.06e6, 3.06e6, "850 Wh", "850 Wh"},
	{"molar_energy", "38 kJ/mol", 38e3, 38e3, 38e3, "38 kJ/mol", "38 kJ/mol"},
	{"mass_flow", "3.6 kg/h", 1e-3, 1e-3, 1e-3, "3.6 kg/h", "3.6 kg/h"},
	{"melt_flow", "6 g/10 min", 1e-5, 1e-5, 1e-5, "6 g/10 min", "6 g/10 min"},
	{"melt_flow", "6g/10min", 1e-5, 1e-5, 1e-5, "6 g/10min", "6 g/10 min"},
	{"melt_flow", "5.4-6.6 g/(10.min)", 1e-5, 0.9e-5, 1.1e-5, "5.4-6.6 g/(10.min)", "5.4–6.6 g/10 min"},
	{"speed", "3 m/min", 0.05, 0.05, 0.05, "3 m/min", "3 m/min"},
	{"rotation", "30 rpm", 0.5, 0.5, 0.5, "30 rpm", "30 rpm"},
	{"current", "1.8 A", 1.8, 1.8, 1.8, "1.8 A", "1.8 A"},
	{"specific_energy", "93 J/g", 93000, 93000, 93000, "93 J/g", "93 J/g"},
	{"heat_capacity", "1.8 kJ/(kg.K)", 1800, 1800, 1800, "1.8 kJ/(kg.K)", "1.8 kJ/(kg·K)"},
	{"heat_capacity", "1800 J/kgK", 1800, 1800, 1800, "1800 J/kgK", "1800 J/(kg·K)"},
	{"heat_capacity", "1.8 J/(g·K)", 1800, 1800, 1800, "1.8 J/(g·K)", "1.8 J/(g·K)"},
	{"conductivity", "0.13 W/mK", 0.13, 0.13, 0.13, "0.13 W/mK", "0.13 W/(m·K)"},

	// Money.
	{"price", "25 EUR", 25, 25, 25, "25 EUR", "25 €"},
	{"price", "£25", 25, 25, 25, "25 GBP", "25 £"},
	{"price", "250 SEK", 250, 250, 250, "250 SEK", "250 SEK"},
	{"price_per_mass", "18.90 €/kg", 18.9, 18.9, 18.9, "18.90 EUR/kg", "18.90 €/kg"},
	{"price_per_mass", "€18,90/kg", 18.9, 18.9, 18.9, "18.90 EUR/kg", "18.90 €/kg"},
	{"price_per_mass", "EUR 18-20 /kg", 19, 18, 20, "18-20 EUR/kg", "18–20 €/kg"},
	{"price_per_mass", "18 €/kg ± 1 €/kg", 18, 17, 19, "18 ± 1 EUR/kg", "18 ± 1 €/kg"},
	{"price_per_mass", "1200 USD/t", 1.2, 1.2, 1.2, "1200 USD/t", "1200 USD/t"},
	{"price_per_mass", "4.5359237 USD/lb", 10, 10, 10, "4.5359237 USD/lb", "4.5359237 USD/lb"},
	{"price_per_energy", "0.36 EUR/kWh", 1e-7, 1e-7, 1e-7, "0.36 EUR/kWh", "0.36 €/kWh"},
	{"price_per_time", "36 CHF/h", 0.01, 0.01, 0.01, "36 CHF/h", "36 CHF/h"},
	{"price_per_length", "0.06 EUR/m", 0.06, 0.06, 0.06, "0.06 EUR/m", "0.06 €/m"},
}

func TestAcceptedEntries(t *testing.T) {
	for _, entry := range accepted {
		q, err := kindNamed(t, entry.dimension).parse(entry.text)
		require.NoError(t, err, entry.text)
		estimate, given := q.Estimate()
		assert.True(t, given, entry.text)
		near(t, entry.value, estimate.Value, entry.text)
		near(t, entry.low, estimate.Low, entry.text)
		near(t, entry.high, estimate.High, entry.text)
		assert.Equal(t, estimate.Value, q.SI(), entry.text)
		assert.Equal(t, entry.file, q.String(), entry.text)
		assert.Equal(t, entry.window, q.Pretty(false), entry.text)
	}
}

// TestStandardUncertainty holds the two rules of the GUM that the spreads rest
// on: u = U/k with k = 2 (7.2.4), and u = half-width/√3 of a rectangular
// distribution (4.3.7).
func TestStandardUncertainty(t *testing.T) {
	exact, _ := MustParse[Mass]("1 kg").Estimate()
	assert.Equal(t, Estimate{Value: 1, Low: 1, High: 1}, exact)

	expanded, _ := MustParse[Mass]("1 ± 0.5 kg").Estimate()
	assert.Equal(t, Estimate{Value: 1, Low: 0.5, High: 1.5, StdU: 0.25, Spread: Expanded}, expanded)

	between, _ := MustParse[Mass]("1-4 kg").Estimate()
	assert.Equal(t, Range, between.Spread)
	assert.Equal(t, 2.5, between.Value)
	assert.InDelta(t, 0.8660254037844386, between.StdU, 1e-15) // 1.5/√3 = √3/2

	fahrenheit, _ := MustParse[Temperature]("212 ± 9 °F").Estimate()
	assert.InDelta(t, 2.5, fahrenheit.StdU, 1e-12) // ±9 °F are ±5 K
}

func TestNotGivenIsNotZero(t *testing.T) {
	for _, text := range []string{"", " ", "\u00a0 "} {
		q, err := Parse[Mass](text)
		require.NoError(t, err)
		assert.Equal(t, Of[Mass]{}, q)
		assert.False(t, q.Given())
		assert.True(t, q.IsZero())
		assert.Empty(t, q.String()+q.Pretty(true)+q.Unit()+q.Currency())
		_, given := q.Estimate()
		assert.False(t, given)
	}
	zero := MustParse[Mass]("0 g")
	assert.True(t, zero.Given())
	assert.False(t, zero.IsZero())
	assert.NotEqual(t, Of[Mass]{}, zero)
}

func TestUnitAndCurrency(t *testing.T) {
	assert.Equal(t, "wt%", MustParse[Content]("5 wt%").Unit())
	assert.Equal(t, "g/cm3", MustParse[Density]("1.40-1.50 g/cm3").Unit())
	assert.Equal(t, "", MustParse[Factor]("1.8").Unit())
	assert.Equal(t, "1", MustParse[Factor]("1.8 1").Unit())
	assert.Equal(t, "×", MustParse[Factor]("×1.8 ± 0.1").Unit())
	assert.Equal(t, "", MustParse[Mass]("1 kg").Currency())

	price := MustParse[PricePerMass]("18.90 €/kg")
	assert.Equal(t, "EUR/kg", price.Unit())
	assert.Equal(t, "EUR", price.Currency())
	assert.Equal(t, "GBP", MustParse[Price]("£3").Currency())
}

func TestPrettyWithDecimalComma(t *testing.T) {
	assert.Equal(t, "1,24 ± 0,02 g/cm³", MustParse[Density]("1.24 ± 0.02 g/cm3").Pretty(true))
	assert.Equal(t, "1,8 kJ/(kg·K)", MustParse[HeatCapacity]("1.8 kJ/(kg.K)").Pretty(true))
	assert.Equal(t, "×1,5–2,0", MustParse[Factor]("x1.5-2.0").Pretty(true))
}

func TestText(t *testing.T) {
	type document struct {
		Density Of[Density] `json:"density,omitzero"`
		Mass    Of[Mass]    `json:"mass,omitzero"`
	}
	in := document{Density: MustParse[Density]("1,24±0,02 g/cm3")}
	text, err := json.Marshal(in)
	require.NoError(t, err)
	assert.JSONEq(t, `{"density":"1.24 ± 0.02 g/cm3"}`, string(text))
	var out document
	require.NoError(t, json.Unmarshal(text, &out))
	assert.Equal(t, in, out)

	kept := MustParse[Mass]("1 kg")
	var refusal *Refusal
	assert.ErrorAs(t, kept.UnmarshalText([]byte("1")), &refusal)
	assert.Equal(t, "1 kg", kept.String(), "a refused text changes nothing")
	assert.Panics(t, func() { MustParse[Mass]("1") })
}

func TestFromSI(t *testing.T) {
	assert.Equal(t, "1.240 g/cm3", FromSI[Density](1240, "g/cm3", 3).String())
	assert.Equal(t, "68.0 °F", FromSI[Temperature](293.15, "°F", 1).String())
	assert.Equal(t, "0 °C", FromSI[Temperature](273.1499999, "°C", 0).String(), "no minus sign before zero")
	assert.Equal(t, "2.50 EUR/kg", FromSI[PricePerMass](2.5, "EUR/kg", 2).String())
	assert.Equal(t, "1.80", FromSI[Factor](1.8, "", 2).String())
	assert.Equal(t, "1.8 1", FromSI[Factor](1.8, "1", 1).String())
	assert.Equal(t, "×1.8", FromSI[Factor](1.8, "×", 1).String())
	assert.Equal(t, "1 kg", FromSI[Mass](1, "kg", -3).String())

	for _, k := range kinds {
		assert.False(t, k.fromSI(1, "furlong", 2).Given(), k.name)
	}
	assert.False(t, FromSI[Mass](-1, "kg", 2).Given(), "cannot be entered")
	assert.False(t, FromSI[PricePerMass](1, "$/kg", 2).Given())
	number, ok := Convert[Length](0.0254, "mm")
	assert.True(t, ok)
	near(t, 25.4, number, "inch in mm")
	_, ok = Convert[Length](1, "kg")
	assert.False(t, ok)
}
