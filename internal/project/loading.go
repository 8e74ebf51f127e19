package project

import (
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// Loading is what the maker allows a blend, when it is asked how much powder it can
// carry. What is not given takes a usual value, which the program tells.
type Loading struct {
	Most          quantity.Of[quantity.Fraction] `json:"most,omitzero"`            // filler content up to which it is asked, of the whole by mass
	ClogChance    quantity.Of[quantity.Fraction] `json:"clog_chance,omitzero"`     // per spool, at most
	TopShare      quantity.Of[quantity.Fraction] `json:"top_share,omitzero"`       // of the bore of the print nozzle that the largest grains may take
	PickUp        quantity.Of[quantity.Fraction] `json:"pick_up,omitzero"`         // of the powder that the pellets carry, at most
	ViscosityRise quantity.Of[quantity.Factor]   `json:"viscosity_rise,omitzero"`  // by grains alone, at most
	MolarMassLoss quantity.Of[quantity.Fraction] `json:"molar_mass_loss,omitzero"` // by water, at most
	Bubbles       quantity.Of[quantity.Fraction] `json:"bubbles,omitzero"`         // share of the melt that its water could fill, at most
	WaterShare    quantity.Of[quantity.Fraction] `json:"water_share,omitzero"`     // of the moisture limit of the polymer that water may take, at most
	FloorFlat     quantity.Of[quantity.Pressure] `json:"floor_flat,omitzero"`      // least strength along the layers
	FloorUpright  quantity.Of[quantity.Pressure] `json:"floor_upright,omitzero"`   // least strength across the layers
	StrengthKept  quantity.Of[quantity.Fraction] `json:"strength_kept,omitzero"`   // of the plain polymer's, at least, where there is no floor
	StiffnessKept quantity.Of[quantity.Fraction] `json:"stiffness_kept,omitzero"`  // of the plain polymer's, at least
	CostShare     quantity.Of[quantity.Fraction] `json:"cost_share,omitzero"`      // of what a metre of the reference costs, at most

	Draws   int      `json:"draws,omitzero"` // of the Monte Carlo method
	Seed    int      `json:"seed,omitzero"`
	Efforts []Effort `json:"efforts,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Effort is the time that a measurement takes the maker.
type Effort struct {
	Measure Measure                        `json:"measure"`
	Time    quantity.Of[quantity.Duration] `json:"time,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Measure is something that can be measured next.
type Measure string

// The measures.
const (
	MeasureDiameter     Measure = "diameter"      // more caliper readings along the strand
	MeasureStrand       Measure = "strand"        // a length of strand on the scale, for its density
	MeasurePowder       Measure = "powder"        // the density of the grains, in a flask
	MeasurePolymer      Measure = "polymer"       // the density of the pellets, in a flask
	MeasureMoisture     Measure = "moisture"      // weighing before and after drying to constant mass
	MeasurePellets      Measure = "pellets"       // the moisture of the pellets
	MeasureGrains       Measure = "grains"        // counting the large grains of a pinch
	MeasureBlockages    Measure = "blockages"     // printing more of a blend, and noting every blockage
	MeasureSieves       Measure = "sieves"        // a stack of sieves
	MeasureFlow         Measure = "flow"          // melt-flow tests of blend and plain polymer
	MeasurePacking      Measure = "packing"       // tapped density of the powder
	MeasurePickUp       Measure = "pick_up"       // shaking pellets with powder, and weighing what stays
	MeasureBars         Measure = "bars"          // breaking bars of blend and plain polymer
	MeasureUprightBars  Measure = "upright_bars"  // the same, printed upright
	MeasureOutput       Measure = "output"        // catching strand for a minute
	MeasurePurge        Measure = "purge"         // samples of a change of material
	MeasureTemperature  Measure = "temperature"   // a probe in the melt
	MeasurePrice        Measure = "price"         // asking for prices
	MeasurePreparation  Measure = "preparation"   // weighing every step of the preparation
	MeasureOil          Measure = "oil"           // extracting the oil of the powder
	MeasureStiffnessBar Measure = "stiffness_bar" // bending a bar within its elastic range
)

// measures are in the order in which they are listed.
var measures = []Measure{
	MeasureDiameter, MeasureStrand, MeasurePowder, MeasurePolymer, MeasureMoisture, MeasurePellets, MeasureGrains, MeasureBlockages, MeasureSieves,
	MeasureFlow, MeasurePacking, MeasurePickUp, MeasureBars, MeasureUprightBars, MeasureStiffnessBar, MeasureOutput, MeasurePurge,
	MeasureTemperature, MeasurePrice, MeasurePreparation, MeasureOil,
}

// Measures lists what can be measured.
func Measures() []Measure { return slices.Clone(measures) }

// EffortOf is the place of the effort of a measure, or -1.
func (l *Loading) EffortOf(m Measure) int {
	return slices.IndexFunc(l.Efforts, func(e Effort) bool { return e.Measure == m })
}

// Strength is what is known of the strength of prints.
type Strength struct {
	Points []StrengthPoint `json:"points,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// StrengthPoint is the mean strength of bars of a blend, broken in one direction. The ±
// is that of the mean.
type StrengthPoint struct {
	Blend     BlendID                        `json:"blend,omitzero"`
	Content   quantity.Of[quantity.Fraction] `json:"content,omitzero"` // filler of the whole by mass; while not given, that of the recipe
	Direction Direction                      `json:"direction,omitzero"`
	Mean      quantity.Of[quantity.Pressure] `json:"mean,omitzero"`
	Spools    int                            `json:"spools,omitzero"`
	Bars      int                            `json:"bars,omitzero"`
	Notes     string                         `json:"notes,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Direction is that in which a printed bar is pulled.
type Direction string

// The directions.
const (
	Flat    Direction = "flat"    // printed flat: pulled along the layers
	Upright Direction = "upright" // printed upright: pulled across the layers
)

var directions = []Direction{Flat, Upright}

// Directions lists the directions.
func Directions() []Direction { return slices.Clone(directions) }

// loadingLimits are those of how much powder a blend can carry, and of strength.
var loadingLimits = map[string][2]string{
	"/loading/most":            {"0.1 %", "90 %"},
	"/loading/clog_chance":     {"0.0001 %", "100 %"},
	"/loading/top_share":       {"1 %", "1000 %"},
	"/loading/pick_up":         {"1 %", "1000 %"},
	"/loading/viscosity_rise":  {"1.01", "1000"},
	"/loading/molar_mass_loss": {"0.1 %", "99 %"},
	"/loading/bubbles":         {"0.1 %", "100 %"},
	"/loading/water_share":     {"1 %", "10000 %"},
	"/loading/floor_flat":      {"0 MPa", "20000 MPa"},
	"/loading/floor_upright":   {"0 MPa", "20000 MPa"},
	"/loading/strength_kept":   {"1 %", "200 %"},
	"/loading/stiffness_kept":  {"1 %", "500 %"},
	"/loading/cost_share":      {"1 %", "1000 %"},
	"/loading/efforts/*/time":  {"0 min", "1000 h"},

	"/strength/points/*/content": {"0 %", "99 %"},
	"/strength/points/*/mean":    {"0.01 MPa", "20000 MPa"},
}

var loadingTexts = map[string]textRule{
	"/loading/efforts/*/measure":   {runes: 50, required: true, choices: names(measures)},
	"/strength/points/*/blend":     {runes: 100},
	"/strength/points/*/direction": {runes: 50, choices: names(directions)},
	"/strength/points/*/notes":     {runes: 1000, lines: true},
}

var loadingLists = map[string]int{
	"/loading/efforts": 100,
	"/strength/points": 1000,
}

var loadingWholes = map[string][2]int{
	"/loading/draws":            {0, MostDraws},
	"/loading/seed":             {0, 1<<53 - 1},
	"/strength/points/*/spools": {0, 1000},
	"/strength/points/*/bars":   {0, 10000},
}

// LeastDraws and MostDraws bound the draws of the Monte Carlo method: fewer tell no ends, and
// more keep a computer busy for hours and tell nothing new.
const (
	LeastDraws = 1024
	MostDraws  = 1_000_000
)

// checkLoading wants enough draws, and each measure once.
func checkLoading(p *Project) *Broken {
	if n := p.Loading.Draws; n != 0 && n < LeastDraws {
		return broken("/loading/draws", "project.whole_outside", map[string]any{"Found": n, "Min": LeastDraws, "Max": MostDraws})
	}
	seen := map[Measure]bool{}
	for i, e := range p.Loading.Efforts {
		if seen[e.Measure] {
			return broken(pointerOf("loading", "efforts", i, "measure"), "project.measure_twice", map[string]any{"Found": clip(string(e.Measure))})
		}
		seen[e.Measure] = true
	}
	return nil
}
