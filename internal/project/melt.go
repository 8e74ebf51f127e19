package project

import (
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// Melt holds the conditions in the extruder, and what was measured of the melt.
type Melt struct {
	Temperature quantity.Of[quantity.Temperature] `json:"temperature,omitzero"` // of the melt
	Residence   quantity.Of[quantity.Duration]    `json:"residence,omitzero"`   // mean time in the melt; while not given, from the line

	Tests []FlowTest `json:"tests,omitzero"`
	// Pin is the part of the model that a measured melt flow settles, and PinBlend
	// the blend whose measurement settles it for the others; "" is the first one.
	Pin      Pin     `json:"pin,omitzero"`
	PinBlend BlendID `json:"pin_blend,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Pin names a part of the melt-flow model.
type Pin string

// The parts of the model that a measurement can settle.
const (
	PinWater  Pin = "water"  // the rate at which water cuts chains
	PinGrains Pin = "grains" // the packing limit
	PinOil    Pin = "oil"    // what oil does
)

// pins are in the order in which they are offered.
var pins = []Pin{PinWater, PinGrains, PinOil}

// Pins lists the parts of the model that a measured melt flow can settle.
func Pins() []Pin { return slices.Clone(pins) }

// FlowTest is one melt-flow test of a blend.
type FlowTest struct {
	Name        string                            `json:"name,omitzero"`
	Blend       BlendID                           `json:"blend,omitzero"`
	Procedure   Procedure                         `json:"procedure,omitzero"`
	Temperature quantity.Of[quantity.Temperature] `json:"temperature,omitzero"`
	Load        quantity.Of[quantity.Mass]        `json:"load,omitzero"`         // on the piston, or on the melt in a test without the instrument
	ScrewSpeed  quantity.Of[quantity.Rotation]    `json:"screw_speed,omitzero"`  // of a strand run out of the line
	MeltDensity quantity.Of[quantity.Density]     `json:"melt_density,omitzero"` // while not measured
	Moisture    quantity.Of[quantity.Fraction]    `json:"moisture,omitzero"`     // of what was charged
	Content     quantity.Of[quantity.Fraction]    `json:"content,omitzero"`      // powder of the blend when the test was made
	Rows        []FlowRow                         `json:"rows,omitzero"`
	SetAside    bool                              `json:"set_aside,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Procedure says how a melt-flow test was made.
type Procedure string

// The procedures. The first two are those of ISO 1133-1.
const (
	CutOffs Procedure = "cut_offs" // procedure A: masses cut off at even times
	Piston  Procedure = "piston"   // procedure B: travel of the piston
	Strand  Procedure = "strand"   // grams of strand in a time, without the instrument: a ratio only
)

// procedures are in the order in which they are offered.
var procedures = []Procedure{CutOffs, Piston, Strand}

// Procedures lists the procedures of a melt-flow test.
func Procedures() []Procedure { return slices.Clone(procedures) }

// FlowRow is one reading of a melt-flow test.
type FlowRow struct {
	Time    quantity.Of[quantity.Duration] `json:"time,omitzero"`
	Mass    quantity.Of[quantity.Mass]     `json:"mass,omitzero"`
	Travel  quantity.Of[quantity.Length]   `json:"travel,omitzero"`
	Bubbles bool                           `json:"bubbles,omitzero"` // seen in the piece

	Extra jsontext.Value `json:",embed"`
}

// Evenness is what was found of lumps and loadings in strand of one blend.
type Evenness struct {
	Searched   quantity.Of[quantity.Mass]       `json:"searched,omitzero"` // strand that was looked through for lumps
	Lumps      int                              `json:"lumps,omitzero"`
	SampleMass quantity.Of[quantity.Mass]       `json:"sample_mass,omitzero"`
	Loadings   []quantity.Of[quantity.Fraction] `json:"loadings,omitzero"` // measured filler contents, one for each sample

	Extra jsontext.Value `json:",embed"`
}
