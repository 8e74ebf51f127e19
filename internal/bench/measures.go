package bench

import (
	"math"
	"strings"
	"time"

	"fillwright/internal/material"
	"fillwright/internal/project"
)

// measureRule says what a measurement leaves of the uncertainty of the inputs that it
// settles: a share of their value or an amount in their own unit (SI), whichever is given.
// All are own judgement of what a maker's tools reach.
type measureRule struct {
	relative, absolute float64
}

// usualEffort is the time that a measurement takes a maker, while none was entered (own
// judgement; the waiting in an oven is not counted).
var usualEffort = map[project.Measure]time.Duration{
	project.MeasureDiameter: 10 * time.Minute, project.MeasureStrand: 15 * time.Minute, project.MeasurePowder: 30 * time.Minute,
	project.MeasurePolymer: 30 * time.Minute, project.MeasureMoisture: 20 * time.Minute, project.MeasurePellets: 20 * time.Minute,
	project.MeasureGrains: 30 * time.Minute, project.MeasureSieves: 60 * time.Minute, project.MeasureFlow: 60 * time.Minute,
	project.MeasurePacking: 10 * time.Minute, project.MeasurePickUp: 20 * time.Minute, project.MeasureBars: 240 * time.Minute,
	project.MeasureUprightBars: 240 * time.Minute, project.MeasureStiffnessBar: 60 * time.Minute, project.MeasureOutput: 5 * time.Minute,
	project.MeasurePurge: 30 * time.Minute, project.MeasureTemperature: 5 * time.Minute, project.MeasurePrice: 10 * time.Minute,
	project.MeasurePreparation: 60 * time.Minute, project.MeasureOil: 180 * time.Minute,
	project.MeasureBlockages: 60 * time.Minute, // the printer works alone
}

// EffortOf is the time that a measurement takes, and whether the maker entered it.
func EffortOf(p *project.Project, m project.Measure) (effort time.Duration, entered bool) {
	if i := p.Loading.EffortOf(m); i >= 0 && p.Loading.Efforts[i].Time.Given() {
		return time.Duration(p.Loading.Efforts[i].Time.SI() * float64(time.Second)), true
	}
	return usualEffort[m], false
}

// constantMeasures are the measurements that settle the constants of the models, by the
// beginning of their names.
var constantMeasures = []struct {
	name    string
	measure project.Measure
	rule    measureRule
}{
	{"hydrolysis rate", project.MeasureFlow, measureRule{absolute: 0.3}}, // of its logarithm
	{"oil effect", project.MeasureFlow, measureRule{relative: 0.15}},
	{"upright over flat", project.MeasureUprightBars, measureRule{relative: 0.05}},
	{"bond across layers", project.MeasureUprightBars, measureRule{absolute: 0.8}},
	{"bonds that differ", project.MeasureBars, measureRule{absolute: 0.3}},
	{"bond of", project.MeasureBars, measureRule{absolute: 0.6}},
	{"stiffening of prints", project.MeasureStiffnessBar, measureRule{absolute: 0.2}},
	{"output over drag flow", project.MeasureOutput, measureRule{relative: 0.02}},
}

// fieldMeasures are the measurements that settle what is entered, by the end of its
// pointer below a material, or by its pointer.
var fieldMeasures = []struct {
	part    string
	measure project.Measure
	rule    measureRule
}{
	{"/powder/clogging", project.MeasureGrains, measureRule{}}, // see countGrains
	{"/powder/sieving", project.MeasureSieves, measureRule{relative: 0.03}},
	{"/powder/preparation", project.MeasurePreparation, measureRule{relative: 0.01}},
	{"/powder/grain/tapped", project.MeasurePacking, measureRule{relative: 0.01}},
	{"/powder/grain/heap", project.MeasurePacking, measureRule{relative: 0.01}},
	{"/powder/grain", project.MeasurePowder, measureRule{relative: 0.0005}},
	{"/powder/drying", project.MeasureMoisture, measureRule{relative: 0.03}},
	{"/powder/storage", project.MeasureMoisture, measureRule{relative: 0.03}},
	{"/packing_limit", project.MeasurePacking, measureRule{relative: 0.02}},
	{"/oil_content", project.MeasureOil, measureRule{relative: 0.1}},
	{"/price", project.MeasurePrice, measureRule{relative: 0.01}},
	{"/strength", project.MeasureBars, measureRule{relative: 0.03}},
	{"/modulus", project.MeasureStiffnessBar, measureRule{relative: 0.05}},
	{"/spool/readings", project.MeasureDiameter, measureRule{relative: 0.0015}},
	{"/spool/diameter", project.MeasureDiameter, measureRule{relative: 0.0015}},
	{"/line/spreading/coverage", project.MeasurePickUp, measureRule{relative: 0.02}},
	{"/line/spreading/adhesion", project.MeasurePickUp, measureRule{relative: 0.05}},
	{"/line/spreading/pellet", project.MeasurePickUp, measureRule{relative: 0.02}},
	{"/line/outputs", project.MeasureOutput, measureRule{relative: 0.005}},
	{"/cost/throughput", project.MeasureOutput, measureRule{relative: 0.01}},
	{"/line/changes", project.MeasurePurge, measureRule{absolute: 0.03}},
	{"/melt/residence", project.MeasurePurge, measureRule{relative: 0.05}},
	{"/line/machine/melt_volume", project.MeasurePurge, measureRule{relative: 0.05}},
	{"/melt/temperature", project.MeasureTemperature, measureRule{absolute: 1}},
	{"/melt/tests", project.MeasureFlow, measureRule{relative: 0.02}},
	{"/measured_flow", project.MeasureFlow, measureRule{relative: 0.03}},
	{"/measured_density", project.MeasureStrand, measureRule{relative: 0.003}},
	{"/cost/", project.MeasurePrice, measureRule{relative: 0.01}},
}

// measureOf is the measurement that settles an input, and what it leaves of its
// uncertainty; false for one that no maker can measure, such as what is allowed.
func (m *Model) measureOf(p *project.Project, blend int, in *Input) (project.Measure, measureRule, bool) {
	if in.only == limitPart {
		return "", measureRule{}, false
	}
	for _, c := range constantMeasures {
		if strings.HasPrefix(in.Pointer, c.name) {
			return c.measure, c.rule, true
		}
	}
	if measure, rule, is := propertyMeasure(p, in.Pointer); is {
		return measure, rule, true
	}
	if strings.HasPrefix(in.Pointer, "/strength/points/") {
		return pointMeasure(p, in.Pointer), measureRule{relative: 0.02}, true
	}
	for _, f := range fieldMeasures {
		if f.measure == project.MeasureGrains && strings.Contains(in.Pointer, f.part) {
			measure, rule := m.countingGrains(blend, in)
			return measure, rule, true
		}
		if strings.HasPrefix(in.Pointer, f.part) || strings.HasPrefix(in.Pointer, "/materials/") && strings.Contains(in.Pointer, f.part) {
			return f.measure, f.rule, true
		}
	}
	if strings.Contains(in.Pointer, " of ") && !strings.HasPrefix(in.Pointer, "/") { // constants of a powder's bench
		return project.MeasureMoisture, measureRule{absolute: in.UPlus / 4}, true
	}
	return "", measureRule{}, false
}

// A pinch that a maker looks through, how many large grains it must let expect for a count to
// tell more than is known, and how much strand is printed where it does not (own judgement).
const (
	pinchKg       = 0.05
	fewestToCount = 3
	mostToCount   = 10
	printedMoreKg = 1
)

// countingGrains is how the number of large grains is measured: in a pinch of powder where
// that holds enough of them, else by the blockages of strand that is printed anyway.
func (m *Model) countingGrains(blend int, in *Input) (project.Measure, measureRule) {
	if expected := math.Min(pinchKg*in.Value, mostToCount); expected >= fewestToCount {
		return project.MeasureGrains, measureRule{relative: 1 / math.Sqrt(expected)}
	}
	content := 0.0
	if blend >= 0 && blend < len(m.blends) {
		if st, ok := m.nominalState(&m.blends[blend]); ok {
			content = st.powder
		}
	}
	return project.MeasureBlockages, countingMore(in, printedMoreKg*content*in.Value)
}

// countingMore is what is left of the uncertainty of a rate of rare events after some more of
// them are expected to be counted. What is known now counts as if it were
//
//	n₀ = 1/r²,  then  r' = 1/√(n₀ + n)
//
// events, with its relative uncertainty r: a gamma distribution before, and after a count of
// Poisson's. Where none at all are expected, nothing becomes more certain.
//
// Source: conjugate prior of a Poisson rate, common textbook result.
func countingMore(in *Input, expected float64) measureRule {
	u := math.Max(in.UMinus, in.UPlus)
	if !(in.Value > 0) {
		return measureRule{absolute: u}
	}
	r := u / in.Value
	return measureRule{relative: 1 / math.Sqrt(1/(r*r)+expected)}
}

// propertyMeasure are density and moisture, which are measured in other ways for polymers
// and powders.
func propertyMeasure(p *project.Project, pointer string) (project.Measure, measureRule, bool) {
	for i := range p.Materials {
		powder := p.Materials[i].Kind == material.Filler
		switch {
		case pointer == project.MaterialPointer(i, "density") && powder:
			return project.MeasurePowder, measureRule{relative: 0.005}, true
		case pointer == project.MaterialPointer(i, "density"):
			return project.MeasurePolymer, measureRule{relative: 0.002}, true
		case pointer == project.MaterialPointer(i, "moisture") && powder:
			return project.MeasureMoisture, measureRule{relative: 0.03}, true
		case pointer == project.MaterialPointer(i, "moisture"):
			return project.MeasurePellets, measureRule{relative: 0.1}, true
		}
	}
	return "", measureRule{}, false
}

// pointMeasure is the measurement that repeats a strength point.
func pointMeasure(p *project.Project, pointer string) project.Measure {
	for i := range p.Strength.Points {
		if pointer == pointPointer(i) && p.Strength.Points[i].Direction == project.Upright {
			return project.MeasureUprightBars
		}
	}
	return project.MeasureBars
}

// after is an input as it would be known after its measurement, never worse than now.
func (r measureRule) after(in Input) Input {
	u := r.absolute
	if r.relative > 0 {
		u = r.relative * math.Abs(in.Value)
	}
	in.UMinus, in.UPlus = math.Min(in.UMinus, u), math.Min(in.UPlus, u)
	return in
}
