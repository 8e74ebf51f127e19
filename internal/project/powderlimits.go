package project

import "strings"

// powderAt is where a material keeps what the bench says of it.
const powderAt = "/materials/*/powder"

// powderLimits are those of the places below powderAt.
var powderLimits = map[string][2]string{
	"/drying/runs/*/oven_temperature":    {"-30 degC", "500 degC"},
	"/drying/runs/*/layer":               {"0.01 mm", "1000 mm"},
	"/drying/runs/*/room_temperature":    {"-40 degC", "60 degC"},
	"/drying/runs/*/room_humidity":       {"0 %", "100 %"},
	"/drying/runs/*/dry_mass":            {"0.001 g", "1000000 g"},
	"/drying/runs/*/trays/*":             {"0 g", "1000000 g"},
	"/drying/runs/*/readings/*/time":     {"0 h", "10000 h"},
	"/drying/runs/*/readings/*/masses/*": {"0 g", "1000000 g"},
	"/drying/target":                     {"0 %", "99 %"},
	"/drying/other_temperature":          {"-30 degC", "500 degC"},
	"/drying/other_layer":                {"0.01 mm", "1000 mm"},
	"/drying/activation_energy":          {"0 kJ/mol", "500 kJ/mol"},
	"/drying/layer_exponent":             {"0.001", "4"},

	"/storage/temperature": {"-40 degC", "100 degC"},
	"/storage/humidity":    {"0 %", "100 %"},
	"/storage/open_time":   {"0 h", "10000 h"},
	"/storage/uptake_time": {"1 min", "10000 h"},
	"/storage/monolayer":   {"0.01 %", "100 %"},
	"/storage/gab_c":       {"0.01", "10000"},
	"/storage/gab_k":       {"0.01", "1"},
	"/storage/equilibrium": {"0 %", "99 %"},

	"/preparation/wet_mass":             {"0.1 g", "1000000000 g"},
	"/preparation/wet_price":            {"0 CUR/kg", "999999999 CUR/kg"},
	"/preparation/transport":            {"0 CUR/kg", "999999999 CUR/kg"},
	"/preparation/steps/*/mass_in":      {"0 g", "1000000000 g"},
	"/preparation/steps/*/mass_out":     {"0 g", "1000000000 g"},
	"/preparation/steps/*/yield":        {"0 %", "1000 %"},
	"/preparation/steps/*/moisture_in":  {"0 %", "99 %"},
	"/preparation/steps/*/moisture_out": {"0 %", "99 %"},
	"/preparation/steps/*/energy":       {"0 kWh", "1000000 kWh"},
	"/preparation/steps/*/cost":         {"0 CUR", "999999999 CUR"},
	"/preparation/steps/*/time":         {"0 h", "10000 h"},
	"/preparation/steps/*/recycled":     {"0 %", "100 %"},

	"/sieving/charge":            {"0 g", "1000000 g"},
	"/sieving/sieves/*/opening":  {"1 um", "200 mm"},
	"/sieving/sieves/*/retained": {"0 g", "1000000 g"},
	"/sieving/pan":               {"0 g", "1000000 g"},
	"/sieving/check_sieve":       {"1 um", "200 mm"},

	"/clogging/control/opening":    {"1 um", "200 mm"},
	"/clogging/control/mass":       {"0 g", "1000000 g"},
	"/clogging/control/retained":   {"0 g", "1000000 g"},
	"/clogging/inspections/*/mass": {"0.001 g", "1000000 g"},
	"/clogging/inspections/*/size": {"1 um", "200 mm"},
	"/clogging/prints/*/nozzle":    {"0.05 mm", "10 mm"},
	"/clogging/prints/*/strand":    {"0.001 g", "1000000000 g"},
	"/clogging/prints/*/content":   {"0 %", "100 %"},

	"/grain/moisture":           {"0 %", "99 %"},
	"/grain/full":               {"0.01 g", "1000000 g"},
	"/grain/powder":             {"0.001 g", "1000000 g"},
	"/grain/full_with_powder":   {"0.01 g", "1000000 g"},
	"/grain/liquid_density":     {"0.3 g/cm3", "5 g/cm3"},
	"/grain/liquid_temperature": {"0 degC", "100 degC"},
	"/grain/heap_mass":          {"0.01 g", "1000000 g"},
	"/grain/heap_volume":        {"0.01 mL", "1000000 mL"},
	"/grain/tapped_volume":      {"0.01 mL", "1000000 mL"},
}

// limitsAt looks up the limits of a quantity.
func limitsAt(pattern string) (limits [2]string, found bool) {
	if below, is := strings.CutPrefix(pattern, powderAt); is {
		limits, found = powderLimits[below]
		return limits, found
	}
	limits, found = rulesAt(pattern, quantityLimits, lineLimits, spoolLimits, loadingLimits)
	return limits, found
}
