package material

import (
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// Powder is what a maker measured and decided on one filler at the bench. What
// follows from it takes the place of the property beside it (moisture, price,
// density, packing limit), unless it is set aside.
type Powder struct {
	Drying      Drying      `json:"drying,omitzero"`
	Storage     Storage     `json:"storage,omitzero"`
	Preparation Preparation `json:"preparation,omitzero"`
	Sieving     Sieving     `json:"sieving,omitzero"`
	Clogging    Clogging    `json:"clogging,omitzero"`
	Grain       Grain       `json:"grain,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Drying holds the logs of the oven. The last run that tells a moisture is the one
// that the powder at hand went through.
type Drying struct {
	Runs     []DryingRun                    `json:"runs,omitzero"`
	Target   quantity.Of[quantity.Fraction] `json:"target,omitzero"` // wet basis; while not given, from the polymer's limit
	SetAside bool                           `json:"set_aside,omitzero"`

	// What a run would take at another temperature or with another layer.
	OtherTemperature quantity.Of[quantity.Temperature] `json:"other_temperature,omitzero"`
	OtherLayer       quantity.Of[quantity.Length]      `json:"other_layer,omitzero"`
	ActivationEnergy quantity.Of[quantity.MolarEnergy] `json:"activation_energy,omitzero"`
	LayerExponent    quantity.Of[quantity.Factor]      `json:"layer_exponent,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// DryingRun is one charge in the oven, weighed again and again.
type DryingRun struct {
	Name            string                            `json:"name,omitzero"`
	OvenTemperature quantity.Of[quantity.Temperature] `json:"oven_temperature,omitzero"`
	Layer           quantity.Of[quantity.Length]      `json:"layer,omitzero"` // thickness of the powder on its tray
	RoomTemperature quantity.Of[quantity.Temperature] `json:"room_temperature,omitzero"`
	RoomHumidity    quantity.Of[quantity.Fraction]    `json:"room_humidity,omitzero"` // relative, of the air that the oven draws in
	DryMass         quantity.Of[quantity.Mass]        `json:"dry_mass,omitzero"`      // of the whole charge without any water, if known from elsewhere
	Trays           []quantity.Of[quantity.Mass]      `json:"trays,omitzero"`         // tares; none: the masses are those of the powder alone
	Readings        []DryingReading                   `json:"readings,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// DryingReading is one weighing: a mass for each tray, as the scale shows it.
type DryingReading struct {
	Time   quantity.Of[quantity.Duration] `json:"time,omitzero"` // since the charge went in
	Masses []quantity.Of[quantity.Mass]   `json:"masses,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Storage is where the dried powder lies until it is used.
type Storage struct {
	Temperature quantity.Of[quantity.Temperature] `json:"temperature,omitzero"`
	Humidity    quantity.Of[quantity.Fraction]    `json:"humidity,omitzero"`    // relative
	OpenTime    quantity.Of[quantity.Duration]    `json:"open_time,omitzero"`   // left open before it went into the line
	UptakeTime  quantity.Of[quantity.Duration]    `json:"uptake_time,omitzero"` // in which it takes up 63 % of what it will
	Monolayer   quantity.Of[quantity.Fraction]    `json:"monolayer,omitzero"`   // of the GAB equation, dry basis
	GABC        quantity.Of[quantity.Factor]      `json:"gab_c,omitzero"`       // constant C of the GAB equation
	GABK        quantity.Of[quantity.Factor]      `json:"gab_k,omitzero"`       // constant K of the GAB equation
	Equilibrium quantity.Of[quantity.Fraction]    `json:"equilibrium,omitzero"` // measured in this air, wet basis

	Extra jsontext.Value `json:",embed"`
}

// StepKind says what is done in a step of preparation.
type StepKind string

// The kinds of step.
const (
	Wash    StepKind = "wash"
	Extract StepKind = "extract"
	Dry     StepKind = "dry"
	Grind   StepKind = "grind"
	Sift    StepKind = "sieve"
	OwnStep StepKind = "own"
)

// Preparation is the way from the wet powder, as it is fetched, to the powder
// that can be used. Energy, cost and time of a step are those of one run of the
// whole chain with the wet mass.
type Preparation struct {
	WetMass   quantity.Of[quantity.Mass]         `json:"wet_mass,omitzero"`  // fetched for one run
	WetPrice  quantity.Of[quantity.PricePerMass] `json:"wet_price,omitzero"` // per wet kilogram
	Transport quantity.Of[quantity.PricePerMass] `json:"transport,omitzero"` // per wet kilogram
	Steps     []Step                             `json:"steps,omitzero"`
	SetAside  bool                               `json:"set_aside,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Step is one step of preparation. Its yield comes from a yield, from the masses
// in and out, or from the moistures in and out, in this order.
type Step struct {
	Kind        StepKind                       `json:"kind,omitzero"`
	Name        string                         `json:"name,omitzero"`
	MassIn      quantity.Of[quantity.Mass]     `json:"mass_in,omitzero"`
	MassOut     quantity.Of[quantity.Mass]     `json:"mass_out,omitzero"`
	Yield       quantity.Of[quantity.Fraction] `json:"yield,omitzero"`
	MoistureIn  quantity.Of[quantity.Fraction] `json:"moisture_in,omitzero"`  // wet basis
	MoistureOut quantity.Of[quantity.Fraction] `json:"moisture_out,omitzero"` // wet basis
	Energy      quantity.Of[quantity.Energy]   `json:"energy,omitzero"`
	Cost        quantity.Of[quantity.Price]    `json:"cost,omitzero"`     // detergent, wear, fees
	Time        quantity.Of[quantity.Duration] `json:"time,omitzero"`     // that somebody works at it
	Recycled    quantity.Of[quantity.Fraction] `json:"recycled,omitzero"` // share of what a sieve keeps back that is ground again

	Extra jsontext.Value `json:",embed"`
}

// Sieving is a sieve analysis, on the basis of mass.
type Sieving struct {
	Charge     quantity.Of[quantity.Mass]   `json:"charge,omitzero"`
	Sieves     []Sieve                      `json:"sieves,omitzero"` // from the top of the stack to its bottom
	Pan        quantity.Of[quantity.Mass]   `json:"pan,omitzero"`
	CheckSieve quantity.Of[quantity.Length] `json:"check_sieve,omitzero"` // opening of the sieve that the whole lot has passed

	Extra jsontext.Value `json:",embed"`
}

// Sieve is one sieve of a stack.
type Sieve struct {
	Opening  quantity.Of[quantity.Length] `json:"opening,omitzero"`
	Retained quantity.Of[quantity.Mass]   `json:"retained,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Clogging is what was seen of grains that are too large.
type Clogging struct {
	Control     Control      `json:"control,omitzero"`
	Inspections []Inspection `json:"inspections,omitzero"`
	Prints      []NozzleRun  `json:"prints,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Control is a second sieving of a sample of the finished powder.
type Control struct {
	Opening  quantity.Of[quantity.Length] `json:"opening,omitzero"`
	Mass     quantity.Of[quantity.Mass]   `json:"mass,omitzero"`
	Retained quantity.Of[quantity.Mass]   `json:"retained,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Inspection is a sample that was looked through for grains above a size.
type Inspection struct {
	Mass  quantity.Of[quantity.Mass]   `json:"mass,omitzero"` // dry powder
	Size  quantity.Of[quantity.Length] `json:"size,omitzero"` // grains above it were counted
	Found int                          `json:"found,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// NozzleRun is strand of this powder that went through a nozzle, with the
// blockages that were counted.
type NozzleRun struct {
	Nozzle    quantity.Of[quantity.Length]   `json:"nozzle,omitzero"` // bore
	Strand    quantity.Of[quantity.Mass]     `json:"strand,omitzero"`
	Content   quantity.Of[quantity.Fraction] `json:"content,omitzero"` // powder in that strand, wt%
	Blockages int                            `json:"blockages,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Grain holds the weighings that give the densities of grain and heap.
type Grain struct {
	// Moisture of the powder when it was weighed, for both, wet basis; while it is not given, it was weighed dry.
	Moisture quantity.Of[quantity.Fraction] `json:"moisture,omitzero"`

	// Displacement: a vessel filled to the mark with liquid, the powder, and the
	// vessel with the powder in it, filled to the mark again.
	Full              quantity.Of[quantity.Mass]        `json:"full,omitzero"`
	Powder            quantity.Of[quantity.Mass]        `json:"powder,omitzero"`
	FullWithPowder    quantity.Of[quantity.Mass]        `json:"full_with_powder,omitzero"`
	LiquidDensity     quantity.Of[quantity.Density]     `json:"liquid_density,omitzero"`
	LiquidTemperature quantity.Of[quantity.Temperature] `json:"liquid_temperature,omitzero"` // of water, while no density is given
	DensitySetAside   bool                              `json:"density_set_aside,omitzero"`

	// A cylinder of powder, before and after tapping.
	HeapMass        quantity.Of[quantity.Mass]   `json:"heap_mass,omitzero"`
	HeapVolume      quantity.Of[quantity.Volume] `json:"heap_volume,omitzero"`
	TappedVolume    quantity.Of[quantity.Volume] `json:"tapped_volume,omitzero"`
	PackingSetAside bool                         `json:"packing_set_aside,omitzero"`

	Extra jsontext.Value `json:",embed"`
}
