package quantity

import (
	"strconv"
	"strings"
)

// hints lead from spellings that are often typed to those that are read.
var hints = map[string]string{
	"C": "°C", "ºC": "°C", "℃": "°C", "F": "°F", "ºF": "°F", "℉": "°F",
	"gr": "g", "gram": "g", "grams": "g", "kgs": "kg", "kilo": "kg", "tonne": "t", "lbs": "lb", "ounce": "oz",
	"u": "um", "micron": "um", "microns": "um", "inch": "in", "inches": "in", "″": "in", "”": "in", "'": "ft", "feet": "ft",
	"sec": "s", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d", "minutes": "min",
	"percent": "%", "pct": "%", "per cent": "%", "wt %": "wt%", "wt.%": "wt%", "wt.-%": "wt%", "w%": "wt%", "mass%": "wt%",
	"vol %": "vol%", "vol.%": "vol%", "v%": "vol%", "php": "phr", "watt": "W", "liter": "L", "litre": "L", "kph": "kg/h",
	"kg/hr": "kg/h", "lb/hr": "lb/h", "J/(kg K)": "J/(kg.K)", "J/kg-K": "J/(kg.K)", "W/(m K)": "W/(m.K)", "W/m-K": "W/(m.K)",
}

// near finds the unit that was probably meant: a spelling that is often typed,
// or the only one that differs by capital letters.
func (d *dimension) near(spelling string) string {
	if hint := hints[spelling]; hint != "" && d.bySpelling[hint] != nil {
		return hint
	}
	found := ""
	for _, u := range d.units {
		for _, known := range u.spellings {
			if known != "" && strings.EqualFold(known, spelling) && found == "" {
				found = known
			}
		}
	}
	return found
}

// absoluteZero prints absolute zero in this unit.
func (u *unit) absoluteZero() string {
	return strconv.FormatFloat(u.fromSI(0), 'f', -1, 64) + " " + u.pretty
}
