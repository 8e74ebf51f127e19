package quantity

import (
	"bufio"
	"bytes"
	"math"
	"math/big"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// definitions gives the size of each unit in SI as a product and quotient of
// exact decimals, and the same unit for the Debian program units. Sources:
//
//	0.3048, 0.0254 m; 0.45359237 kg; ounce = pound/16: international yard and pound agreement, 1959
//	9.80665 m/s2: standard acceleration, 3rd CGPM, 1901 (UCUM [psi] = [lbf_av]/[sin_i]2)
//	prefixes, minute, hour, day, litre, tonne: SI brochure, 9th edition, tables 7 and 8
//	bar = 1e5 Pa: UCUM
//	Da as g/mol: exact before 2019, to 1e-9 since
var definitions = []struct{ dimension, unit, exact, program, programSI string }{
	{"mass", "kg", "1", "kg", "kg"},
	{"mass", "g", "1e-3", "g", "kg"},
	{"mass", "mg", "1e-6", "mg", "kg"},
	{"mass", "t", "1e3", "tonne", "kg"},
	{"mass", "lb", "0.45359237", "lb", "kg"},
	{"mass", "oz", "0.45359237 / 16", "oz", "kg"},
	{"length", "m", "1", "m", "m"},
	{"length", "cm", "1e-2", "cm", "m"},
	{"length", "mm", "1e-3", "mm", "m"},
	{"length", "um", "1e-6", "um", "m"},
	{"length", "nm", "1e-9", "nm", "m"},
	{"length", "in", "0.0254", "inch", "m"},
	{"length", "ft", "0.3048", "foot", "m"},
	{"density", "g/cm3", "1e3", "g/cm^3", "kg/m^3"},
	{"density", "kg/m3", "1", "kg/m^3", "kg/m^3"},
	{"density", "g/mL", "1e3", "g/ml", "kg/m^3"},
	{"density", "kg/L", "1e3", "kg/liter", "kg/m^3"},
	{"density", "lb/ft3", "0.45359237 / 0.3048 / 0.3048 / 0.3048", "lb/ft^3", "kg/m^3"},
	{"volume", "m3", "1", "m^3", "m^3"},
	{"volume", "L", "1e-3", "liter", "m^3"},
	{"volume", "mL", "1e-6", "ml", "m^3"},
	{"volume", "cm3", "1e-6", "cm^3", "m^3"},
	{"volume", "mm3", "1e-9", "mm^3", "m^3"},
	{"duration", "ms", "1e-3", "ms", "s"},
	{"duration", "s", "1", "s", "s"},
	{"duration", "min", "60", "min", "s"},
	{"duration", "h", "3600", "hour", "s"},
	{"duration", "d", "86400", "day", "s"},
	{"fraction", "%", "1e-2", "percent", "1"},
	{"fraction", "wt%", "1e-2", "percent", "1"},
	{"fraction", "1", "1", "1", "1"},
	{"fraction", "ppm", "1e-6", "ppm", "1"},
	{"fraction", "g/kg", "1e-3", "g/kg", "1"},
	{"fraction", "mg/kg", "1e-6", "mg/kg", "1"},
	{"factor", "×", "1", "1", "1"},
	{"factor", "", "1", "1", "1"},
	{"pressure", "Pa", "1", "Pa", "N/m^2"},
	{"pressure", "kPa", "1e3", "kPa", "N/m^2"},
	{"pressure", "MPa", "1e6", "MPa", "N/m^2"},
	{"pressure", "GPa", "1e9", "GPa", "N/m^2"},
	{"pressure", "N/mm2", "1e6", "N/mm^2", "N/m^2"},
	{"pressure", "bar", "1e5", "bar", "N/m^2"},
	{"pressure", "psi", "0.45359237 * 9.80665 / 0.0254 / 0.0254", "psi", "N/m^2"},
	{"molar_mass", "g/mol", "1e-3", "g/mol", "kg/mol"},
	{"molar_mass", "kg/mol", "1", "kg/mol", "kg/mol"},
	{"molar_mass", "Da", "1e-3", "g/mol", "kg/mol"},
	{"molar_mass", "kDa", "1", "kg/mol", "kg/mol"},
	{"power", "W", "1", "W", "J/s"},
	{"power", "kW", "1e3", "kW", "J/s"},
	{"energy", "kWh", "3600 * 1e3", "kW*hour", "J"},
	{"energy", "Wh", "3600", "W*hour", "J"},
	{"energy", "MJ", "1e6", "MJ", "J"},
	{"energy", "kJ", "1e3", "kJ", "J"},
	{"molar_energy", "kJ/mol", "1e3", "kJ/mol", "J/mol"},
	{"molar_energy", "J/mol", "1", "J/mol", "J/mol"},
	{"mass_flow", "kg/h", "1 / 3600", "kg/hour", "kg/s"},
	{"mass_flow", "g/h", "1e-3 / 3600", "g/hour", "kg/s"},
	{"mass_flow", "g/min", "1e-3 / 60", "g/min", "kg/s"},
	{"mass_flow", "kg/s", "1", "kg/s", "kg/s"},
	{"mass_flow", "lb/h", "0.45359237 / 3600", "lb/hour", "kg/s"},
	{"melt_flow", "g/10min", "1e-3 / 600", "g/(10 min)", "kg/s"},
	{"melt_flow", "g/min", "1e-3 / 60", "g/min", "kg/s"},
	{"speed", "m/min", "1 / 60", "m/min", "m/s"},
	{"speed", "mm/s", "1e-3", "mm/s", "m/s"},
	{"speed", "cm/s", "1e-2", "cm/s", "m/s"},
	{"speed", "m/s", "1", "m/s", "m/s"},
	{"rotation", "rpm", "1 / 60", "1/min", "1/s"},
	{"rotation", "/s", "1", "1/s", "1/s"},
	{"current", "A", "1", "A", "A"},
	{"current", "mA", "1e-3", "mA", "A"},
	{"specific_energy", "kJ/kg", "1e3", "kJ/kg", "J/kg"},
	{"specific_energy", "J/g", "1e3", "J/g", "J/kg"},
	{"heat_capacity", "J/(kg.K)", "1", "J/(kg K)", "J/kg/K"},
	{"heat_capacity", "kJ/(kg.K)", "1e3", "kJ/(kg K)", "J/kg/K"},
	{"heat_capacity", "J/(g.K)", "1e3", "J/(g K)", "J/kg/K"},
	{"conductivity", "W/(m.K)", "1", "W/(m K)", "W/m/K"},
	{"content", "wt%", "1e-2", "percent", "1"},
	{"content", "vol%", "1e-2", "percent", "1"},
	{"content", "phr", "1e-2", "percent", "1"},
	{"price", "EUR", "1", "1", "1"},
	{"price_per_mass", "EUR/kg", "1", "1/kg", "1/kg"},
	{"price_per_mass", "EUR/g", "1e3", "1/g", "1/kg"},
	{"price_per_mass", "EUR/t", "1e-3", "1/tonne", "1/kg"},
	{"price_per_mass", "EUR/lb", "1 / 0.45359237", "1/lb", "1/kg"},
	{"price_per_energy", "EUR/kWh", "1 / 3.6e6", "1/kWh", "1/J"},
	{"price_per_energy", "EUR/MJ", "1e-6", "1/MJ", "1/J"},
	{"price_per_time", "EUR/h", "1 / 3600", "1/hour", "1/s"},
	{"price_per_length", "EUR/m", "1", "1/m", "1/m"},
}

// exactly works out a definition without rounding.
func exactly(t *testing.T, definition string) *big.Rat {
	t.Helper()
	result, divide := big.NewRat(1, 1), false
	for _, word := range strings.Fields(definition) {
		if word == "*" || word == "/" {
			divide = word == "/"
			continue
		}
		factor, ok := new(big.Rat).SetString(word)
		require.True(t, ok, word)
		if divide {
			factor.Inv(factor)
		}
		result.Mul(result, factor)
	}
	return result
}

func TestUnitsMatchTheirDefinitions(t *testing.T) {
	checked := map[*unit]bool{}
	for _, definition := range definitions {
		k := kindNamed(t, definition.dimension)
		u := unitOf(t, definition.dimension, definition.unit)
		checked[u] = true
		want, _ := exactly(t, definition.exact).Float64()
		for _, spelling := range u.spellings {
			if strings.HasPrefix(definition.unit, exampleCode) {
				spelling = exampleCode + spelling
			}
			q, err := k.parse("1 " + spelling)
			require.NoError(t, err)
			assert.InDelta(t, want, q.SI(), math.Nextafter(want, math.Inf(1))-want, "%s %s", definition.dimension, spelling)
		}
	}
	for _, d := range dimensions {
		for i := range d.units {
			if d != temperatureDim {
				assert.True(t, checked[&d.units[i]], "%s: no definition for %q", d.name, d.units[i].spellings[0])
			}
		}
	}
}

func unitOf(t *testing.T, dimension, spelling string) *unit {
	t.Helper()
	for _, d := range dimensions {
		if d.name == dimension {
			u, ok := d.lookUp(spelling)
			require.True(t, ok, "%s %s", dimension, spelling)
			return u
		}
	}
	require.Failf(t, "no such dimension", "%q", dimension)
	return nil
}

// TestTemperatureScales holds fixed points: 0 °C = 273.15 K (definition of the
// degree Celsius, SI brochure 2.3.1), 212 °F = 100 °C, -40 on both scales.
func TestTemperatureScales(t *testing.T) {
	for text, kelvin := range map[string]float64{
		"0 °C": 273.15, "100 °C": 373.15, "32 °F": 273.15, "212 °F": 373.15, "-40 °F": 233.15, "-40 °C": 233.15,
		"0 K": 0, "-273.15 °C": 0, "-459.67 °F": 0, "451 °F": 505.92777777777778,
	} {
		near(t, kelvin, MustParse[Temperature](text).SI(), text)
	}
}

// TestUnitsProgram compares every unit with the program units, whose table is
// kept by others. Where it is not installed, the definitions above stand alone.
func TestUnitsProgram(t *testing.T) {
	path, err := exec.LookPath("units")
	if err != nil {
		t.Log("the program units is not installed: compared with the definitions only")
		TestUnitsMatchTheirDefinitions(t)
		return
	}
	var questions strings.Builder
	for _, definition := range definitions {
		questions.WriteString(definition.program + "\n" + definition.programSI + "\n")
	}
	questions.WriteString("tempF(451)\ntempK\n")
	command := exec.CommandContext(t.Context(), path, "--quiet", "--terse", "--output-format", "%.17g")
	command.Stdin = strings.NewReader(questions.String())
	output, err := command.Output()
	require.NoError(t, err)

	answers := bufio.NewScanner(bytes.NewReader(output))
	answer := func(about string) float64 {
		require.True(t, answers.Scan(), about)
		value, err := strconv.ParseFloat(strings.TrimSpace(answers.Text()), 64)
		require.NoError(t, err, "%s: %q", about, answers.Text())
		return value
	}
	for _, definition := range definitions {
		u := unitOf(t, definition.dimension, definition.unit)
		assert.InEpsilon(t, answer(definition.program), u.toSI(1), 1e-12, "%s %s", definition.dimension, definition.unit)
	}
	assert.InEpsilon(t, answer("tempF"), MustParse[Temperature]("451 °F").SI(), 1e-12)
}
