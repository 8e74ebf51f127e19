package project

// lineLimits are those of the melt and of the line.
var lineLimits = map[string][2]string{
	"/melt/temperature": {"0 degC", "500 degC"},
	"/melt/residence":   {"0 h", "24 h"},

	"/melt/tests/*/temperature":   {"0 degC", "500 degC"},
	"/melt/tests/*/load":          {"0.01 kg", "100 kg"},
	"/melt/tests/*/screw_speed":   {"0.01 rpm", "1000 rpm"},
	"/melt/tests/*/melt_density":  {"0.05 g/cm3", "25 g/cm3"},
	"/melt/tests/*/moisture":      {"0 %", "99 %"},
	"/melt/tests/*/content":       {"0 %", "99 %"},
	"/melt/tests/*/rows/*/time":   {"0.01 s", "10000 s"},
	"/melt/tests/*/rows/*/mass":   {"0.0001 g", "100000 g"},
	"/melt/tests/*/rows/*/travel": {"0.01 mm", "1000 mm"},

	"/blends/*/evenness/searched":    {"0.001 g", "1000000 g"},
	"/blends/*/evenness/sample_mass": {"0.0001 g", "100000 g"},
	"/blends/*/evenness/loadings/*":  {"0 %", "100 %"},

	"/line/machine/screw_diameter":  {"1 mm", "1000 mm"},
	"/line/machine/length_ratio":    {"1", "100"},
	"/line/machine/lead":            {"1 mm", "5000 mm"},
	"/line/machine/channel_depth":   {"0.1 mm", "100 mm"},
	"/line/machine/metering_length": {"1 mm", "50000 mm"},
	"/line/machine/melt_volume":     {"0.01 mL", "1000000 mL"},
	"/line/machine/die_bore":        {"0.1 mm", "100 mm"},
	"/line/machine/roller":          {"1 mm", "2000 mm"},
	"/line/machine/screens/*":       {"1 um", "200 mm"},
	"/line/machine/screen_volume":   {"0 mL", "1000000 mL"},
	"/line/machine/screen_mass":     {"0.001 kg", "1000000 kg"},
	"/line/machine/oven_floor":      {"0 %", "99 %"},
	"/line/machine/scale_step":      {"0.00001 g", "10000 g"},

	"/line/screw_speed":    {"0.01 rpm", "1000 rpm"},
	"/line/die_pressure":   {"0 MPa", "200 MPa"},
	"/line/zones/*":        {"0 degC", "500 degC"},
	"/line/outputs/*/time": {"1 s", "100000 s"},
	"/line/outputs/*/mass": {"0.001 g", "1000000 g"},

	"/line/spreading/pellet_diameter": {"0.05 mm", "50 mm"},
	"/line/spreading/pellet_length":   {"0.05 mm", "50 mm"},
	"/line/spreading/ground":          {"0 %", "100 %"},
	"/line/spreading/ground_size":     {"0.01 mm", "20 mm"},
	"/line/spreading/coverage":        {"1 %", "100 %"},
	"/line/spreading/adhesion_size":   {"1 um", "10 mm"},
	"/line/spreading/feed_period":     {"1 s", "100000 s"},

	"/line/changes/plug_share":     {"0 %", "99 %"},
	"/line/changes/samples/*/time": {"0 s", "100000 s"},
	"/line/changes/samples/*/new":  {"0 %", "100 %"},
	"/line/changes/stable_after":   {"1 s", "100000 s"},
	"/line/changes/stable_rest":    {"0.001 %", "50 %"},

	"/line/runs/*/screw_speed":    {"0 rpm", "1000 rpm"},
	"/line/runs/*/puller":         {"0 m/min", "1000 m/min"},
	"/line/runs/*/current":        {"0 A", "1000 A"},
	"/line/runs/*/pressure":       {"0 MPa", "200 MPa"},
	"/line/runs/*/zones/*/set":    {"0 degC", "500 degC"},
	"/line/runs/*/zones/*/actual": {"0 degC", "500 degC"},
	"/line/runs/*/events/*/time":  {"0 s", "1000000 s"},
}

// datePattern is that of a date, YYYY-MM-DD.
const datePattern = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"

// lineTexts are the texts of the melt and of the line.
var lineTexts = map[string]textRule{
	"/melt/pin":               {runes: 50, choices: names(pins)},
	"/melt/pin_blend":         {runes: 100},
	"/melt/tests/*/name":      {runes: 200},
	"/melt/tests/*/blend":     {runes: 100},
	"/melt/tests/*/procedure": {runes: 50, choices: names(procedures)},

	"/line/machine/name":             {runes: 200},
	"/line/machine/notes":            {runes: 20000, lines: true},
	"/line/changes/sequence/*/blend": {runes: 100},
	"/line/runs/*/name":              {runes: 200},
	"/line/runs/*/date":              {runes: 10, pattern: datePattern},
	"/line/runs/*/blend":             {runes: 100},
	"/line/runs/*/spool":             {runes: 200},
	"/line/runs/*/lots":              {runes: 200},
	"/line/runs/*/cooling":           {runes: 200},
	"/line/runs/*/notes":             {runes: 1000, lines: true},
	"/line/runs/*/photos/*":          {runes: 2000, required: true},
	"/line/runs/*/events/*/kind":     {runes: 50, choices: names(events)},
	"/line/runs/*/events/*/text":     {runes: 2000},
}

// lineLists give the most elements of the lists of the melt and of the line.
var lineLists = map[string]int{
	"/melt/tests":                 100,
	"/melt/tests/*/rows":          1000,
	"/blends/*/evenness/loadings": 1000,
	"/line/machine/screens":       20,
	"/line/zones":                 20,
	"/line/outputs":               100,
	"/line/changes/samples":       1000,
	"/line/changes/sequence":      100,
	"/line/runs":                  1000,
	"/line/runs/*/zones":          20,
	"/line/runs/*/events":         10000,
	"/line/runs/*/photos":         1000,
}

// rulesAt looks a pattern up in one table after the other.
func rulesAt[R any](pattern string, tables ...map[string]R) (r R, found bool) {
	for _, table := range tables {
		if r, found = table[pattern]; found {
			return r, true
		}
	}
	return r, false
}
