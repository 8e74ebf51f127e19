package project

import "fillwright/internal/trace"

// spoolLimits are those of the spools.
var spoolLimits = map[string][2]string{
	"/spool/diameter":   {"0.2 mm", "10 mm"},
	"/spool/tolerance":  {"0 mm", "5 mm"},
	"/spool/readings/*": {"0.2 mm", "10 mm"},
	"/spool/gauge":      {"0 mm", "1 mm"},
	"/spool/net_mass":   {"1 g", "100000 g"},
	"/spool/empty_mass": {"0 g", "100000 g"},
	"/spool/weighed":    {"0 g", "200000 g"},
	"/spool/felt":       {"0.001 m", "1000 m"},

	"/spool/reel/core":        {"1 mm", "2000 mm"},
	"/spool/reel/outer":       {"1 mm", "5000 mm"},
	"/spool/reel/width":       {"1 mm", "5000 mm"},
	"/spool/reel/packing":     {"1 %", "100 %"},
	"/spool/reel/known_mass":  {"1 g", "100000 g"},
	"/spool/reel/known_outer": {"1 mm", "5000 mm"},

	"/spool/bend/tests/*/mandrel": {"0.1 mm", "2000 mm"},
	"/spool/bend/tests/*/age":     {"0 h", "100000 h"},
	"/spool/bend/elongation":      {"0.01 %", "5000 %"},
	"/spool/bend/safety":          {"1", "20"},

	"/spool/made/*/mass":            {"0.1 g", "100000 g"},
	"/spool/made/*/empty_mass":      {"0 g", "100000 g"},
	"/spool/made/*/weighed":         {"0 g", "200000 g"},
	"/spool/made/*/outer":           {"1 mm", "5000 mm"},
	"/spool/made/*/dry_temperature": {"0 degC", "300 degC"},
	"/spool/made/*/dry_time":        {"0 h", "1000 h"},
	"/spool/made/*/prints/*/mass":   {"0.01 g", "100000 g"},
	"/spool/made/*/trace/speed":     {"0.001 m/min", "1000 m/min"},

	summaryAt + "/step":              {"0", "1000000000000"},
	summaryAt + "/span":              {"0", "1000000000000000000"},
	summaryAt + "/missing":           {"0", "1000000000000000000"},
	summaryAt + "/mean":              {"0.000001 mm", "1000000000000 mm"},
	summaryAt + "/sd":                {"0 mm", "1000000000000 mm"},
	summaryAt + "/rms":               {"0.000001 mm", "1000000000000 mm"},
	summaryAt + "/thinnest":          {"0.000001 mm", "1000000000000 mm"},
	summaryAt + "/thickest":          {"0.000001 mm", "1000000000000 mm"},
	summaryAt + "/independent":       {"0", "1000000000000"},
	summaryAt + "/low":               {"0 mm", "1000 mm"},
	summaryAt + "/high":              {"0 mm", "1000 mm"},
	summaryAt + "/good_from":         {"0", "1000000000000000000"},
	summaryAt + "/good_to":           {"0", "1000000000000000000"},
	summaryAt + "/lumps/*/at":        {"0", "1000000000000000000"},
	summaryAt + "/lumps/*/long":      {"0", "1000000000000000000"},
	summaryAt + "/lumps/*/peak":      {"0.000001 mm", "1000000000000 mm"},
	summaryAt + "/lumps/*/height":    {"0 mm", "1000000000000 mm"},
	summaryAt + "/waves/*/period":    {"0", "1000000000000"},
	summaryAt + "/waves/*/amplitude": {"0 mm", "1000000000000 mm"},
	summaryAt + "/waves/*/share":     {"0 %", "100 %"},
}

// summaryAt is where a spool keeps what its log said.
const summaryAt = "/spool/made/*/trace/summary"

// spoolTexts are the texts of the spools.
var spoolTexts = map[string]textRule{
	"/spool/bend/tests/*/blend":          {runes: 100},
	"/spool/made/*/name":                 {runes: 200},
	"/spool/made/*/blend":                {runes: 100},
	"/spool/made/*/date":                 {runes: 10, pattern: datePattern},
	"/spool/made/*/lot":                  {runes: 200},
	"/spool/made/*/storage":              {runes: 200},
	"/spool/made/*/notes":                {runes: 1000, lines: true},
	"/spool/made/*/prints/*/name":        {runes: 200},
	"/spool/made/*/prints/*/date":        {runes: 10, pattern: datePattern},
	"/spool/made/*/trace/file":           {runes: 2000},
	"/spool/made/*/trace/sha256":         {runes: 64, pattern: "^[0-9a-f]{64}$"},
	"/spool/made/*/trace/separator":      {runes: 50, choices: trace.SeparatorNames()},
	"/spool/made/*/trace/decimal":        {runes: 50, choices: trace.DecimalNames()},
	"/spool/made/*/trace/columns/*/role": {runes: 50, choices: names(trace.Roles())},
	"/spool/made/*/trace/columns/*/unit": {runes: 50, choices: traceUnits},
	summaryAt + "/axis":                  {runes: 50, choices: traceAxes},
}

// spoolLists give the most elements of the lists of the spools.
var spoolLists = map[string]int{
	"/spool/readings":             10000,
	"/spool/bend/tests":           1000,
	"/spool/made":                 1000,
	"/spool/made/*/prints":        1000,
	"/spool/made/*/trace/columns": 100,
	summaryAt + "/lumps":          20,
	summaryAt + "/waves":          8,
}

// spoolWholes give the smallest and the largest whole numbers of the spools.
var spoolWholes = map[string][2]int{
	"/spool/bend/tests/*/pieces": {0, 10000},
	"/spool/bend/tests/*/broken": {0, 10000},
	"/spool/made/*/trace/header": {0, 1000},
	summaryAt + "/readings":      {0, 1e12},
	summaryAt + "/left_out":      {0, 1e12},
	summaryAt + "/gaps":          {0, 1e12},
	summaryAt + "/out":           {0, 1e12},
	summaryAt + "/lump_count":    {0, 1e12},
}
