package project

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// This file holds all that a single place of the document accepts. Numbers are
// refused where no real material, line or shop could have them: a slip of the
// keyboard or a wrong unit is caught, an unusual value is not.

// quantityLimits gives the smallest and the largest accepted value of every
// quantity. CUR stands for the project's currency.
var quantityLimits = map[string][2]string{
	"/materials/*/price":          {"0 CUR/kg", "999999999 CUR/kg"},
	"/materials/*/moisture":       {"0 %", "99 %"},
	"/materials/*/density":        {"0.05 g/cm3", "25 g/cm3"},
	"/materials/*/melt_density":   {"0.05 g/cm3", "25 g/cm3"},
	"/materials/*/bulk_density":   {"0.001 g/cm3", "25 g/cm3"},
	"/materials/*/melt_range":     {"0 degC", "500 degC"},
	"/materials/*/print_range":    {"0 degC", "500 degC"},
	"/materials/*/moisture_limit": {"0 %", "99 %"},
	"/materials/*/molar_mass":     {"0.1 kg/mol", "100000 kg/mol"},

	"/materials/*/drying_temperature":    {"0 degC", "300 degC"},
	"/materials/*/drying_time":           {"0 h", "1000 h"},
	"/materials/*/melt_flow":             {"0.001 g/10min", "5000 g/10min"},
	"/materials/*/melt_flow_temperature": {"0 degC", "500 degC"},
	"/materials/*/melt_flow_load":        {"0.01 kg", "100 kg"},
	"/materials/*/melting_heat":          {"0 kJ/kg", "1000 kJ/kg"},

	"/materials/*/packing_limit":    {"1 %", "100 %"},
	"/materials/*/aspect_ratio":     {"1", "10000"},
	"/materials/*/oil_content":      {"0 %", "100 %"},
	"/materials/*/onset":            {"0 degC", "3000 degC"},
	"/materials/*/modulus":          {"0.01 MPa", "1500000 MPa"},
	"/materials/*/strength":         {"0.01 MPa", "20000 MPa"},
	"/materials/*/elongation":       {"0 %", "5000 %"},
	"/materials/*/glass_transition": {"-200 degC", "500 degC"},
	"/materials/*/melting":          {"-200 degC", "3500 degC"},
	"/materials/*/heat_capacity":    {"50 J/(kg.K)", "10000 J/(kg.K)"},
	"/materials/*/conductivity":     {"0.001 W/(m.K)", "3000 W/(m.K)"},

	"/materials/*/regrind/content": {"0 %", "99 %"},
	"/materials/*/regrind/drift":   {"0.1", "10"},
	"/materials/*/regrind/limit":   {"0 %", "100 %"},

	"/print/nozzle":         {"0.05 mm", "10 mm"},
	"/print/critical_parts": {"0.5", "20"},
	"/print/mass":           {"0.01 g", "100000 g"},
	"/print/temperature":    {"0 degC", "500 degC"},
	"/print/inlet":          {"0.5 mm", "20 mm"},

	"/blends/*/parts/*/amount":   {"0 wt%", "100 wt%"}, // see contentLimits
	"/blends/*/measured_density": {"0.05 g/cm3", "25 g/cm3"},
	"/blends/*/measured_flow":    {"0.001", "1000"},
	"/blends/*/masterbatch":      {"0 %", "100 %"},

	"/batch/start_up_loss":      {"0 kg", "1000 kg"},
	"/batch/purge":              {"0 kg", "1000 kg"},
	"/batch/scrap":              {"0 %", "99 %"},
	"/batch/balance_resolution": {"0.00001 g", "10000 g"},

	"/cost/energy_price": {"0 CUR/kWh", "999999999 CUR/kWh"},
	"/cost/power":        {"0 kW", "1000 kW"},
	"/cost/throughput":   {"0.001 kg/h", "10000 kg/h"},
	"/cost/labour":       {"0 CUR/h", "999999999 CUR/h"},
	"/cost/wear":         {"0 CUR/kg", "999999999 CUR/kg"},
	"/cost/extra_time":   {"0 h", "1000 h"},
	"/cost/empty_spool":  {"0 CUR", "999999999 CUR"},
	"/cost/bought_price": {"0 CUR", "999999999 CUR"},
	"/cost/bought_mass":  {"1 g", "100000 g"},

	"/plan/contents/*":    {"0 %", "100 %"},
	"/plan/spool_mass":    {"1 g", "100000 g"},
	"/plan/specimen_mass": {"0.01 g", "100000 g"},
}

// contentLimits are the limits of an amount by its basis: a content of the whole
// ends at all of it, one on the polymer does not.
var contentLimits = sync.OnceValue(func() map[string]quantityLimit {
	t := reflect.TypeFor[Amount]()
	return map[string]quantityLimit{
		"wt%":  newQuantityLimit(t, [2]string{"0 wt%", "100 wt%"}),
		"vol%": newQuantityLimit(t, [2]string{"0 vol%", "100 vol%"}),
		"phr":  newQuantityLimit(t, [2]string{"0 phr", "1000 phr"}),
	}
})

// wholeLimits gives the smallest and the largest accepted whole number.
var wholeLimits = map[string][2]int{
	"/version":      {Version, Version},
	"/batch/spools": {0, 10000},
	"/plan/spools":  {0, 100},

	"/materials/*/regrind/passes":      {0, 50},
	"/materials/*/regrind/most_passes": {0, 50},

	"/blends/*/evenness/lumps": {0, 1000000},
	"/line/spreading/passes":   {0, 10},

	powderAt + "/clogging/inspections/*/found": {0, 1000000},
	powderAt + "/clogging/prints/*/blockages":  {0, 100000},

	"/plan/specimens":      {0, 1000},
	"/plan/spools_per_day": {0, 100},
	"/plan/seed":           {0, 1<<53 - 1}, // what a JSON number holds exactly (RFC 8259 section 6)
}

// WholeLimits returns the smallest and the largest number that a place of the
// document accepts. Zero is not given, so the smallest to enter is one.
func WholeLimits(place string) (lowest, highest int) {
	steps := strings.Split(place, "/")
	for i, step := range steps {
		if _, err := strconv.Atoi(step); err == nil {
			steps[i] = "*"
		}
	}
	limits, known := rulesAt(strings.Join(steps, "/"), wholeLimits, spoolWholes, loadingWholes)
	if !known {
		panic("project: no whole number at " + place)
	}
	return max(limits[0], 1), limits[1]
}

// textRule says what a text accepts.
type textRule struct {
	runes    int      // most characters
	required bool     // not empty
	lines    bool     // line breaks and tabs are fine
	choices  []string // if given, nothing else is accepted
	narrowed bool     // the choices depend on another member: checkMaterials
	pattern  string   // for the schema; a check of its own does more
}

var textRules = map[string]textRule{
	"/format":   {runes: 50, required: true, choices: []string{Format}},
	"/title":    {runes: 200},
	"/notes":    {runes: 20000, lines: true},
	"/currency": {runes: 3, required: true, pattern: "^[A-Z]{3}$"},

	"/materials/*/id":              {runes: 100, required: true},
	"/materials/*/name":            {runes: 200},
	"/materials/*/kind":            {runes: 50, required: true, choices: kindNames()},
	"/materials/*/class":           {runes: 50, choices: classNames(), narrowed: true},
	"/materials/*/remarks":         {runes: 20000, lines: true},
	"/materials/*/sources/*/field": {runes: 100, required: true},
	"/materials/*/regrind/polymer": {runes: 100},
	"/materials/*/regrind/filler":  {runes: 100},
	"/materials/*/sources/*/text":  {runes: 2000, lines: true},

	powderAt + "/drying/runs/*/name":       {runes: 200},
	powderAt + "/preparation/steps/*/kind": {runes: 50, choices: stepNames()},
	powderAt + "/preparation/steps/*/name": {runes: 200},

	"/blends/*/id":               {runes: 100, required: true},
	"/blends/*/name":             {runes: 200},
	"/blends/*/parts/*/material": {runes: 100, required: true},
	"/blends/*/notes":            {runes: 20000, lines: true},

	"/reference": {runes: 100},
	"/plan/base": {runes: 100},
}

// listLimits gives the most elements of a list.
var listLimits = map[string]int{
	"/materials":           1000,
	"/materials/*/sources": 100,
	"/blends":              1000,
	"/blends/*/parts":      100,
	"/plan/contents":       100,

	powderAt + "/drying/runs":                     20,
	powderAt + "/drying/runs/*/trays":             12,
	powderAt + "/drying/runs/*/readings":          10000,
	powderAt + "/drying/runs/*/readings/*/masses": 12,
	powderAt + "/preparation/steps":               50,
	powderAt + "/sieving/sieves":                  100,
	powderAt + "/clogging/inspections":            1000,
	powderAt + "/clogging/prints":                 1000,
}

// MostRows returns how many elements a list of the document may have, by its
// pattern, such as "/materials/*/powder/sieving/sieves".
func MostRows(pattern string) int {
	most, known := rulesAt(pattern, listLimits, lineLists, spoolLists, loadingLists)
	if !known {
		panic("project: no list at " + pattern)
	}
	return most
}

// mostRuns bounds contents x spools x specimens of a plan.
const mostRuns = 20000

// kinds and classes are in the order in which they are offered.
var (
	kinds   = []material.Kind{material.Polymer, material.Filler, material.Additive}
	classes = map[material.Kind][]material.Class{
		material.Polymer: {
			material.PLA, material.PETG, material.ABS, material.PA6, material.PA12, material.PP, material.TPU,
			material.PHB, material.PHBV, material.PBAT, material.PVC, material.POM, material.Other,
		},
		material.Filler: {
			material.Organic, material.Shell, material.Mineral, material.Fibre, material.Metal, material.Hollow,
			material.Other,
		},
		material.Additive: {material.VegetableOil, material.MineralOil, material.Other},
	}
)

// steps are the kinds of step of a preparation, in the order in which they are offered.
var steps = []material.StepKind{
	material.Wash, material.Extract, material.Dry, material.Grind, material.Sift, material.OwnStep,
}

// StepKinds lists the kinds of step of a preparation.
func StepKinds() []material.StepKind { return slices.Clone(steps) }

func stepNames() []string { return names(steps) }

// Kinds lists the kinds of material.
func Kinds() []material.Kind { return slices.Clone(kinds) }

// Classes lists the classes that a kind of material can have.
func Classes(kind material.Kind) []material.Class { return slices.Clone(classes[kind]) }

func kindNames() []string { return names(kinds) }

func classNames() []string {
	var all []string
	for _, kind := range kinds {
		for _, name := range names(classes[kind]) {
			if !slices.Contains(all, name) {
				all = append(all, name)
			}
		}
	}
	return all
}

func names[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, item := range list {
		out[i] = string(item)
	}
	return out
}

// rule is what one node accepts; only what belongs to its kind is set.
type rule struct {
	quantity quantityLimit
	whole    [2]int
	text     textRule
	items    int
}

// ruleFor looks up the rule of a node. A place without one is a mistake of the
// program: it would accept anything.
func ruleFor(n *node) (r rule) {
	found := true
	switch n.kind {
	case isQuantity, isAmount:
		var limits [2]string
		if limits, found = limitsAt(n.pattern); found {
			r.quantity = newQuantityLimit(n.typ, limits)
		}
	case isWhole:
		r.whole, found = rulesAt(n.pattern, wholeLimits, spoolWholes, loadingWholes)
	case isText:
		r.text, found = rulesAt(n.pattern, textRules, lineTexts, spoolTexts, loadingTexts)
	case isList:
		r.items, found = rulesAt(n.pattern, listLimits, lineLists, spoolLists, loadingLists)
	}
	if !found {
		panic(fmt.Sprintf("project: nothing says what %s accepts", n.pattern))
	}
	return r
}

// anyQuantity is what all quantities and amounts have in common.
type anyQuantity interface {
	String() string
	Estimate() (quantity.Estimate, bool)
	Unit() string
	Currency() string
}

// quantityLimit is a pair of limits, in SI and as written.
type quantityLimit struct {
	typ      reflect.Type
	text     [2]string
	min, max float64
}

func newQuantityLimit(t reflect.Type, text [2]string) quantityLimit {
	l := quantityLimit{typ: t, text: text}
	ends := [2]float64{}
	for i, q := range l.shown("EUR") {
		e, ok := q.(anyQuantity).Estimate()
		if !ok {
			panic(fmt.Sprintf("project: %q is no limit", text[i]))
		}
		ends[i] = e.Value
	}
	l.min, l.max = ends[0], ends[1]
	return l
}

// shown returns the limits as quantities, for a text to print.
func (l quantityLimit) shown(currency string) [2]any {
	var out [2]any
	for i, text := range l.text {
		q := reflect.New(l.typ)
		text = strings.ReplaceAll(text, "CUR", currency)
		if err := q.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text)); err != nil {
			panic(fmt.Sprintf("project: %q is no limit: %v", text, err))
		}
		out[i] = q.Elem().Interface()
	}
	return out
}

// rounding forgives the last digits that a change of unit costs.
const rounding = 1e-9

// outside reports whether the value itself lies beyond the limits.
func (l quantityLimit) outside(e quantity.Estimate) bool {
	return e.Value < l.min-rounding*abs(l.min) || e.Value > l.max+rounding*abs(l.max)
}

// reaches reports whether an end of the interval lies beyond the limits. A ±
// may reach below a limit of zero: a moisture of 0.1 ± 0.2 % is what a
// measurement near nothing looks like. A range may not.
func (l quantityLimit) reaches(e quantity.Estimate) bool {
	if e.High > l.max+rounding*abs(l.max) {
		return true
	}
	measuredNearNothing := l.min == 0 && e.Spread == quantity.Expanded
	return e.Low < l.min-rounding*abs(l.min) && !measuredNearNothing
}

func abs(v float64) float64 { return max(v, -v) }
