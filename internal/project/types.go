// Package project is the document: what the maker typed and measured, and
// nothing that was computed from it.
package project

import (
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// Format and Version stand at the head of every project file.
const (
	Format  = "fillwright project"
	Version = 2
)

// BlendID names a blend inside one project.
type BlendID string

// Project is the whole document. It holds values and slices only, so that a
// clone shares no memory with its original.
type Project struct {
	Format  string `json:"format"`
	Version int    `json:"version"`

	Title    string `json:"title"`
	Notes    string `json:"notes,omitzero"`
	Currency string `json:"currency"` // ISO 4217 code; every price uses it

	Materials []material.Material `json:"materials"`
	Blends    []Blend             `json:"blends"`
	Reference BlendID             `json:"reference,omitzero"` // the blend that the others are held against

	Spool Spool `json:"spool,omitzero"`
	Batch Batch `json:"batch,omitzero"`
	Cost  Cost  `json:"cost,omitzero"`
	Melt  Melt  `json:"melt,omitzero"`
	Line  Line  `json:"line,omitzero"`
	Print Print `json:"print,omitzero"`
	Plan  Plan  `json:"plan,omitzero"`

	Strength Strength `json:"strength,omitzero"`
	Loading  Loading  `json:"loading,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Blend is one recipe.
type Blend struct {
	ID    BlendID `json:"id"`
	Name  string  `json:"name"`
	Parts []Part  `json:"parts"`

	// MeasuredDensity is that of the strand; it pins the estimate and yields the voids.
	MeasuredDensity quantity.Of[quantity.Density] `json:"measured_density,omitzero"`
	// MeasuredFlow is the melt flow of this blend over that of the plain
	// polymer, both measured in the same way.
	MeasuredFlow quantity.Of[quantity.Factor] `json:"measured_flow,omitzero"`
	// Masterbatch is the filler content of a masterbatch from which this blend is let down.
	Masterbatch quantity.Of[quantity.Fraction] `json:"masterbatch,omitzero"`
	// Evenness is what was found of the powder in strand of this blend.
	Evenness Evenness `json:"evenness,omitzero"`
	Notes    string   `json:"notes,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Part is one material in a blend. The amount of powder is that of dry powder.
type Part struct {
	Material material.ID `json:"material"`
	Amount   Amount      `json:"amount,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Batch says how much is made in one run and what is lost on the way.
type Batch struct {
	Spools            int                            `json:"spools,omitzero"`
	StartUpLoss       quantity.Of[quantity.Mass]     `json:"start_up_loss,omitzero"`      // every run: start-up and hopper heel
	Purge             quantity.Of[quantity.Mass]     `json:"purge,omitzero"`              // every change of material
	Scrap             quantity.Of[quantity.Fraction] `json:"scrap,omitzero"`              // share of the charge that is trimmed, spilt or off size
	BalanceResolution quantity.Of[quantity.Mass]     `json:"balance_resolution,omitzero"` // smallest step of the scale

	Extra jsontext.Value `json:",embed"`
}

// Cost holds what making the strand costs beside its materials.
type Cost struct {
	EnergyPrice quantity.Of[quantity.PricePerEnergy] `json:"energy_price,omitzero"`
	Power       quantity.Of[quantity.Power]          `json:"power,omitzero"`      // mean draw of the line while it runs
	Throughput  quantity.Of[quantity.MassFlow]       `json:"throughput,omitzero"` // strand made per hour
	Labour      quantity.Of[quantity.PricePerTime]   `json:"labour,omitzero"`     // what an hour at the line is worth to the maker
	Wear        quantity.Of[quantity.PricePerMass]   `json:"wear,omitzero"`       // filled blends only: screw, die, screens, nozzles
	ExtraTime   quantity.Of[quantity.Duration]       `json:"extra_time,omitzero"` // filled blends only, per run: drying, sieving, cleaning
	EmptySpool  quantity.Of[quantity.Price]          `json:"empty_spool,omitzero"`
	BoughtPrice quantity.Of[quantity.Price]          `json:"bought_price,omitzero"` // a bought spool of the plain polymer
	BoughtMass  quantity.Of[quantity.Mass]           `json:"bought_mass,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Print describes the printer as far as grains matter to it.
type Print struct {
	Nozzle        quantity.Of[quantity.Length] `json:"nozzle,omitzero"`         // bore
	CriticalParts quantity.Of[quantity.Factor] `json:"critical_parts,omitzero"` // bore over the grain size that counts as critical
	Mass          quantity.Of[quantity.Mass]   `json:"mass,omitzero"`           // strand of one print
	Inlet         quantity.Of[quantity.Length] `json:"inlet,omitzero"`          // bore that the strand is fed through

	Temperature quantity.Of[quantity.Temperature] `json:"temperature,omitzero"` // set point of the print nozzle

	Extra jsontext.Value `json:",embed"`
}

// Plan is a set of trials: filler contents x replicate spools x specimens.
type Plan struct {
	Base         BlendID                          `json:"base,omitzero"`     // the recipe whose filler content is varied
	Contents     []quantity.Of[quantity.Fraction] `json:"contents,omitzero"` // filler, wt% of the whole
	Spools       int                              `json:"spools,omitzero"`   // replicate spools per content
	Specimens    int                              `json:"specimens,omitzero"`
	SpoolsPerDay int                              `json:"spools_per_day,omitzero"`
	SpoolMass    quantity.Of[quantity.Mass]       `json:"spool_mass,omitzero"`    // strand per trial spool
	SpecimenMass quantity.Of[quantity.Mass]       `json:"specimen_mass,omitzero"` // filament per specimen, supports and waste included
	Seed         int                              `json:"seed,omitzero"`

	Extra jsontext.Value `json:",embed"`
}
