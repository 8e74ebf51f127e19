package pane

import (
	"strings"

	"fillwright/internal/bench"
)

// enterTexts are the catalogue IDs of what the button says that leads to what is missing, by
// that of the sentence about it.
var enterTexts = map[string]string{
	"limit_missing_density":        "limit_enter.density",
	"limit_missing_reference":      "limit_enter.reference",
	"limit_missing_nozzle":         "limit_enter.nozzle",
	"limit_missing_check_sieve":    "limit_enter.check_sieve",
	"limit_missing_grains":         "limit_enter.grains",
	"limit_missing_pellets":        "limit_enter.pellets",
	"limit_missing_sieves":         "limit_enter.sieves",
	"limit_missing_packing":        "limit_enter.packing",
	"limit_missing_temperature":    "limit_enter.temperature",
	"limit_missing_moisture":       "limit_enter.moisture",
	"limit_idle_moisture":          "limit_enter.moisture_limit",
	"limit_missing_class":          "limit_enter.class",
	"limit_missing_flow":           "limit_enter.flow",
	"limit_missing_water":          "limit_enter.recipe",
	"limit_missing_modulus":        "limit_enter.modulus",
	"limit_missing_plain_strength": "limit_enter.strength",
	"limit_missing_bars":           "limit_enter.bars",
	"limit_missing_cost":           "limit_enter.cost",
	"limit_missing_onset":          "limit_enter.onset",
	"limit_missing_bend":           "limit_enter.bend",
	"limit_missing_bend_more":      "limit_enter.bend",
	"limit_missing_core":           "limit_enter.core",
}

// changeText is the catalogue ID of what the button says that leads to the setting which a
// limit is held against.
func changeText(l *bench.Limit) string {
	switch {
	case strings.HasPrefix(l.Field, "/loading/"):
		return "pane.limits.change_allowed"
	case l.ID == bench.LimitBend:
		return "limit_enter.safety"
	case l.ID == bench.LimitPrintHeat:
		return "limit_enter.nozzle_heat"
	}
	return "limit_enter.line_heat"
}
