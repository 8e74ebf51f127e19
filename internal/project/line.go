package project

import (
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// Line is what was set, measured and seen at the compounding line.
type Line struct {
	Machine     Machine                             `json:"machine,omitzero"`
	ScrewSpeed  quantity.Of[quantity.Rotation]      `json:"screw_speed,omitzero"`
	DiePressure quantity.Of[quantity.Pressure]      `json:"die_pressure,omitzero"`
	Zones       []quantity.Of[quantity.Temperature] `json:"zones,omitzero"`   // set points, from the hopper to the die
	Outputs     []Output                            `json:"outputs,omitzero"` // at that screw speed

	Spreading Spreading `json:"spreading,omitzero"`
	Changes   Changes   `json:"changes,omitzero"`
	Runs      []LineRun `json:"runs,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Machine is a compounding line with its oven and scale: what stays the same from
// project to project.
type Machine struct {
	Name           string                         `json:"name,omitzero"`
	ScrewDiameter  quantity.Of[quantity.Length]   `json:"screw_diameter,omitzero"`
	LengthRatio    quantity.Of[quantity.Factor]   `json:"length_ratio,omitzero"`    // length of the screw over its diameter
	Lead           quantity.Of[quantity.Length]   `json:"lead,omitzero"`            // of the flight in one turn; while not given, the diameter
	ChannelDepth   quantity.Of[quantity.Length]   `json:"channel_depth,omitzero"`   // of the metering section
	MeteringLength quantity.Of[quantity.Length]   `json:"metering_length,omitzero"` // along the axis
	MeltVolume     quantity.Of[quantity.Volume]   `json:"melt_volume,omitzero"`     // of melt in screw, head and die
	DieBore        quantity.Of[quantity.Length]   `json:"die_bore,omitzero"`
	Roller         quantity.Of[quantity.Length]   `json:"roller,omitzero"`        // diameter of the puller's driven roller
	Screens        []quantity.Of[quantity.Length] `json:"screens,omitzero"`       // openings, in the order of the flow
	ScreenVolume   quantity.Of[quantity.Volume]   `json:"screen_volume,omitzero"` // of melt that stands at the screens
	ScreenMass     quantity.Of[quantity.Mass]     `json:"screen_mass,omitzero"`   // of strand until the pressure has doubled
	OvenFloor      quantity.Of[quantity.Fraction] `json:"oven_floor,omitzero"`    // moisture that the oven leaves, wet basis
	ScaleStep      quantity.Of[quantity.Mass]     `json:"scale_step,omitzero"`
	Notes          string                         `json:"notes,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Output is strand that was caught in a timed interval.
type Output struct {
	Time quantity.Of[quantity.Duration] `json:"time,omitzero"`
	Mass quantity.Of[quantity.Mass]     `json:"mass,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Spreading is how the powder is brought onto the pellets and into the melt.
type Spreading struct {
	PelletDiameter quantity.Of[quantity.Length]   `json:"pellet_diameter,omitzero"`
	PelletLength   quantity.Of[quantity.Length]   `json:"pellet_length,omitzero"`
	Ground         quantity.Of[quantity.Fraction] `json:"ground,omitzero"`        // share of the polymer that is ground before it is mixed
	GroundSize     quantity.Of[quantity.Length]   `json:"ground_size,omitzero"`   // of its grains
	Coverage       quantity.Of[quantity.Fraction] `json:"coverage,omitzero"`      // of a pellet by a single layer of grains
	AdhesionSize   quantity.Of[quantity.Length]   `json:"adhesion_size,omitzero"` // grains above it fall off when dry
	FeedPeriod     quantity.Of[quantity.Duration] `json:"feed_period,omitzero"`   // of a slow swing in what the hopper gives
	Passes         int                            `json:"passes,omitzero"`        // through the line; 0 is one

	Extra jsontext.Value `json:",embed"`
}

// Changes is what is known of the change from one material to the next.
type Changes struct {
	PlugShare   quantity.Of[quantity.Fraction] `json:"plug_share,omitzero"`   // of the melt that moves as a plug
	Samples     []PurgeSample                  `json:"samples,omitzero"`      // of one change
	StableAfter quantity.Of[quantity.Duration] `json:"stable_after,omitzero"` // the colour did not change any more
	StableRest  quantity.Of[quantity.Fraction] `json:"stable_rest,omitzero"`  // old material that the eye no longer sees
	Sequence    []Change                       `json:"sequence,omitzero"`     // blends in the order in which they are to be run

	Extra jsontext.Value `json:",embed"`
}

// PurgeSample is the share of new material in the strand at a time after a change.
type PurgeSample struct {
	Time quantity.Of[quantity.Duration] `json:"time,omitzero"`
	New  quantity.Of[quantity.Fraction] `json:"new,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Change is one blend of a sequence.
type Change struct {
	Blend BlendID `json:"blend,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// LineRun is the log of one run of the line.
type LineRun struct {
	Name       string                         `json:"name,omitzero"`
	Date       string                         `json:"date,omitzero"` // as YYYY-MM-DD
	Blend      BlendID                        `json:"blend,omitzero"`
	Spool      string                         `json:"spool,omitzero"` // what is written on it
	Lots       string                         `json:"lots,omitzero"`
	Cooling    string                         `json:"cooling,omitzero"`
	ScrewSpeed quantity.Of[quantity.Rotation] `json:"screw_speed,omitzero"`
	Puller     quantity.Of[quantity.Speed]    `json:"puller,omitzero"`
	Current    quantity.Of[quantity.Current]  `json:"current,omitzero"` // of the motor
	Pressure   quantity.Of[quantity.Pressure] `json:"pressure,omitzero"`
	Zones      []ZoneReading                  `json:"zones,omitzero"`
	Events     []RunEvent                     `json:"events,omitzero"`
	Photos     []string                       `json:"photos,omitzero"` // paths of files
	Notes      string                         `json:"notes,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// ZoneReading is one heated zone, from the hopper to the die.
type ZoneReading struct {
	Set    quantity.Of[quantity.Temperature] `json:"set,omitzero"`
	Actual quantity.Of[quantity.Temperature] `json:"actual,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// RunEvent is something that happened at a time after the start of a run.
type RunEvent struct {
	Time quantity.Of[quantity.Duration] `json:"time,omitzero"`
	Kind EventKind                      `json:"kind,omitzero"`
	Text string                         `json:"text,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// EventKind says what happened.
type EventKind string

// The kinds of event.
const (
	NewMaterial  EventKind = "new_material" // the new blend reached the hopper's throat
	ColourStable EventKind = "colour_stable"
	WindingBegun EventKind = "winding"
	LumpSeen     EventKind = "lump"
	StrandBroke  EventKind = "break"
	ScreenChange EventKind = "screen"
	Adjusted     EventKind = "adjusted"
	Stopped      EventKind = "stopped"
	OtherEvent   EventKind = "other"
)

// events are in the order in which they are offered.
var events = []EventKind{NewMaterial, ColourStable, WindingBegun, LumpSeen, StrandBroke, ScreenChange, Adjusted, Stopped, OtherEvent}

// EventKinds lists the kinds of event.
func EventKinds() []EventKind { return slices.Clone(events) }
