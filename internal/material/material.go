// Package material describes what goes into a blend: polymers, fillers and
// additives, and the built-in library of them. Every property is a quantity as
// it was entered; a property copied from the library keeps its source beside it.
package material

import (
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// ID names a material inside one project.
type ID string

// Kind says which role a material plays in a blend.
type Kind string

// The kinds of material.
const (
	Polymer  Kind = "polymer"
	Filler   Kind = "filler"
	Additive Kind = "additive"
)

// Class groups materials for which the same models hold.
type Class string

// The classes. A polymer's class decides what water does to it; a filler's
// class decides which cautions apply; an additive is an oil or something else.
const (
	PLA  Class = "PLA"
	PETG Class = "PETG"
	ABS  Class = "ABS"
	PA6  Class = "PA6"
	PA12 Class = "PA12"
	PP   Class = "PP"
	TPU  Class = "TPU"
	PHB  Class = "PHB"
	PHBV Class = "PHBV"
	PBAT Class = "PBAT"
	PVC  Class = "PVC" // never to be run in such a line: stop note
	POM  Class = "POM" // never to be run in such a line: stop note

	Organic Class = "organic" // plant or animal matter: burns, takes up water
	Shell   Class = "shell"   // carbonate shell with organic skin
	Mineral Class = "mineral"
	Fibre   Class = "fibre"
	Metal   Class = "metal"
	Hollow  Class = "hollow"

	VegetableOil Class = "vegetable oil"
	MineralOil   Class = "mineral oil"
	Other        Class = "other"
)

// Material is one polymer, filler or additive. Properties that were not given
// are zero quantities (see quantity.Of.Given), never zero numbers.
type Material struct {
	ID    ID     `json:"id"`
	Name  string `json:"name"`
	Kind  Kind   `json:"kind"`
	Class Class  `json:"class,omitzero"`

	Price    quantity.Of[quantity.PricePerMass] `json:"price,omitzero"`
	Moisture quantity.Of[quantity.Fraction]     `json:"moisture,omitzero"` // wet basis, as it enters the line

	Density     quantity.Of[quantity.Density]     `json:"density,omitzero"`      // of the solid, without pores
	MeltDensity quantity.Of[quantity.Density]     `json:"melt_density,omitzero"` // polymers, at processing temperature
	BulkDensity quantity.Of[quantity.Density]     `json:"bulk_density,omitzero"` // of pellets or powder as poured
	MeltRange   quantity.Of[quantity.Temperature] `json:"melt_range,omitzero"`   // usual processing temperatures
	PrintRange  quantity.Of[quantity.Temperature] `json:"print_range,omitzero"`  // usual temperatures of the print nozzle

	MoistureLimit     quantity.Of[quantity.Fraction]    `json:"moisture_limit,omitzero"`     // before melt processing
	DryingTemperature quantity.Of[quantity.Temperature] `json:"drying_temperature,omitzero"` // of pellets
	DryingTime        quantity.Of[quantity.Duration]    `json:"drying_time,omitzero"`        // of pellets
	MolarMass         quantity.Of[quantity.MolarMass]   `json:"molar_mass,omitzero"`         // number average

	// The melt flow rate of a data sheet, and how it was measured.
	MeltFlow            quantity.Of[quantity.MeltFlow]    `json:"melt_flow,omitzero"`
	MeltFlowTemperature quantity.Of[quantity.Temperature] `json:"melt_flow_temperature,omitzero"`
	MeltFlowLoad        quantity.Of[quantity.Mass]        `json:"melt_flow_load,omitzero"`

	PackingLimit quantity.Of[quantity.Fraction]    `json:"packing_limit,omitzero"` // volume fraction at which the mix no longer flows
	AspectRatio  quantity.Of[quantity.Factor]      `json:"aspect_ratio,omitzero"`
	OilContent   quantity.Of[quantity.Fraction]    `json:"oil_content,omitzero"` // mass fraction of the dry powder
	Onset        quantity.Of[quantity.Temperature] `json:"onset,omitzero"`       // of decomposition

	Modulus         quantity.Of[quantity.Pressure]       `json:"modulus,omitzero"`
	Strength        quantity.Of[quantity.Pressure]       `json:"strength,omitzero"`
	Elongation      quantity.Of[quantity.Fraction]       `json:"elongation,omitzero"`
	GlassTransition quantity.Of[quantity.Temperature]    `json:"glass_transition,omitzero"`
	Melting         quantity.Of[quantity.Temperature]    `json:"melting,omitzero"`
	HeatCapacity    quantity.Of[quantity.HeatCapacity]   `json:"heat_capacity,omitzero"`
	MeltingHeat     quantity.Of[quantity.SpecificEnergy] `json:"melting_heat,omitzero"` // of the pellets as they come
	Conductivity    quantity.Of[quantity.Conductivity]   `json:"conductivity,omitzero"`

	Powder  Powder  `json:"powder,omitzero"`  // fillers: what the bench says
	Regrind Regrind `json:"regrind,omitzero"` // polymers that have been through the heat before

	Calcined bool     `json:"calcined,omitzero"` // burnt shell is quicklime: stop note
	Remarks  string   `json:"remarks,omitzero"`
	Sources  []Source `json:"sources,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Source says where the value of one property came from. An entry exists only
// for values taken from the library; entering a value removes it.
type Source struct {
	Field   string `json:"field"`            // the JSON member, for example "density"
	Text    string `json:"text"`             // where the value stands
	Confirm bool   `json:"confirm,omitzero"` // from memory of the literature: confirm before relying on it

	Extra jsontext.Value `json:",embed"`
}
