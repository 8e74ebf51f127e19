package project

import (
	"fmt"

	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
	"fillwright/internal/trace"
)

// Spool describes the strand, the spools it is wound on, and those that were made.
type Spool struct {
	Diameter  quantity.Of[quantity.Length]   `json:"diameter,omitzero"`  // nominal, or as measured
	Tolerance quantity.Of[quantity.Length]   `json:"tolerance,omitzero"` // half width that the maker accepts
	Readings  []quantity.Of[quantity.Length] `json:"readings,omitzero"`  // caliper readings along the strand
	Gauge     quantity.Of[quantity.Length]   `json:"gauge,omitzero"`     // what the caliper itself may be off by (k = 2)
	NetMass   quantity.Of[quantity.Mass]     `json:"net_mass,omitzero"`  // strand on a full spool
	EmptyMass quantity.Of[quantity.Mass]     `json:"empty_mass,omitzero"`
	Weighed   quantity.Of[quantity.Mass]     `json:"weighed,omitzero"` // a used spool on the scale, with what is left on it
	Felt      quantity.Of[quantity.Length]   `json:"felt,omitzero"`    // stretch of strand over which a printer feels the diameter

	Reel Reel        `json:"reel,omitzero"`
	Bend Bend        `json:"bend,omitzero"`
	Made []MadeSpool `json:"made,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Reel is the empty spool that the strand is wound on.
type Reel struct {
	Core       quantity.Of[quantity.Length]   `json:"core,omitzero"`        // diameter that the first turn lies on
	Outer      quantity.Of[quantity.Length]   `json:"outer,omitzero"`       // largest diameter of the winding
	Width      quantity.Of[quantity.Length]   `json:"width,omitzero"`       // between the flanges
	Packing    quantity.Of[quantity.Fraction] `json:"packing,omitzero"`     // share of the winding that is strand
	KnownMass  quantity.Of[quantity.Mass]     `json:"known_mass,omitzero"`  // strand on a spool of this kind,
	KnownOuter quantity.Of[quantity.Length]   `json:"known_outer,omitzero"` // and the diameter that its winding had

	Extra jsontext.Value `json:",embed"`
}

// Bend is what is known of how far the strand can be bent.
type Bend struct {
	Tests      []BendTest                     `json:"tests,omitzero"`
	Elongation quantity.Of[quantity.Fraction] `json:"elongation,omitzero"` // at break, of strand in tension
	Safety     quantity.Of[quantity.Factor]   `json:"safety,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// BendTest is pieces of strand that were bent around a mandrel.
type BendTest struct {
	Mandrel quantity.Of[quantity.Length]   `json:"mandrel,omitzero"`
	Pieces  int                            `json:"pieces,omitzero"`
	Broken  int                            `json:"broken,omitzero"`
	Age     quantity.Of[quantity.Duration] `json:"age,omitzero"` // of the strand, from winding on
	Blend   BlendID                        `json:"blend,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// MadeSpool is a spool of the ledger.
type MadeSpool struct {
	Name      string                       `json:"name,omitzero"`
	Blend     BlendID                      `json:"blend,omitzero"`
	Date      string                       `json:"date,omitzero"` // as YYYY-MM-DD
	Lot       string                       `json:"lot,omitzero"`
	Mass      quantity.Of[quantity.Mass]   `json:"mass,omitzero"` // strand when it was full
	EmptyMass quantity.Of[quantity.Mass]   `json:"empty_mass,omitzero"`
	Weighed   quantity.Of[quantity.Mass]   `json:"weighed,omitzero"` // now, with what is left on it
	Outer     quantity.Of[quantity.Length] `json:"outer,omitzero"`   // diameter of the winding now

	DryTemperature quantity.Of[quantity.Temperature] `json:"dry_temperature,omitzero"` // before printing
	DryTime        quantity.Of[quantity.Duration]    `json:"dry_time,omitzero"`
	Storage        string                            `json:"storage,omitzero"`
	Notes          string                            `json:"notes,omitzero"`

	Prints []PrintTaken `json:"prints,omitzero"`
	Trace  Trace        `json:"trace,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// PrintTaken is a print that was made from a spool.
type PrintTaken struct {
	Name string                     `json:"name,omitzero"`
	Date string                     `json:"date,omitzero"`
	Mass quantity.Of[quantity.Mass] `json:"mass,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Trace is the log of a gauge. It stays in its own file: the document keeps where that is,
// how it is written, and what it said when it was read.
type Trace struct {
	File      string                      `json:"file,omitzero"`   // path from the folder of the project
	SHA256    string                      `json:"sha256,omitzero"` // of the file when it was read
	Separator string                      `json:"separator,omitzero"`
	Decimal   string                      `json:"decimal,omitzero"`
	Header    int                         `json:"header,omitzero"` // lines above the rows
	Columns   []TraceColumn               `json:"columns,omitzero"`
	Speed     quantity.Of[quantity.Speed] `json:"speed,omitzero"` // of the puller while it was written
	Summary   TraceSummary                `json:"summary,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// TraceColumn is one column of a log.
type TraceColumn struct {
	Role string `json:"role,omitzero"`
	Unit string `json:"unit,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// TraceSummary is what a log said. Places along it and its span are plain numbers of
// its own axis: readings, seconds or metres.
type TraceSummary struct {
	Readings    int                          `json:"readings,omitzero"`
	LeftOut     int                          `json:"left_out,omitzero"`
	Gaps        int                          `json:"gaps,omitzero"`
	Axis        string                       `json:"axis,omitzero"`
	Step        quantity.Of[quantity.Factor] `json:"step,omitzero"` // mean distance of two readings
	Span        quantity.Of[quantity.Factor] `json:"span,omitzero"` // without gaps
	Missing     quantity.Of[quantity.Factor] `json:"missing,omitzero"`
	Mean        quantity.Of[quantity.Length] `json:"mean,omitzero"`
	SD          quantity.Of[quantity.Length] `json:"sd,omitzero"`
	RMS         quantity.Of[quantity.Length] `json:"rms,omitzero"` // root of the mean square
	Thinnest    quantity.Of[quantity.Length] `json:"thinnest,omitzero"`
	Thickest    quantity.Of[quantity.Length] `json:"thickest,omitzero"`
	Independent quantity.Of[quantity.Factor] `json:"independent,omitzero"` // number of readings
	Out         int                          `json:"out,omitzero"`         // readings beyond these limits
	Low         quantity.Of[quantity.Length] `json:"low,omitzero"`
	High        quantity.Of[quantity.Length] `json:"high,omitzero"`
	GoodFrom    quantity.Of[quantity.Factor] `json:"good_from,omitzero"` // the longest stretch within them
	GoodTo      quantity.Of[quantity.Factor] `json:"good_to,omitzero"`
	LumpCount   int                          `json:"lump_count,omitzero"`
	Lumps       []TraceLump                  `json:"lumps,omitzero"` // the highest
	Waves       []TraceWave                  `json:"waves,omitzero"` // the strongest

	Extra jsontext.Value `json:",embed"`
}

// TraceLump is a lump, or a thin spot.
type TraceLump struct {
	At     quantity.Of[quantity.Factor] `json:"at,omitzero"`
	Long   quantity.Of[quantity.Factor] `json:"long,omitzero"`
	Peak   quantity.Of[quantity.Length] `json:"peak,omitzero"`   // diameter
	Height quantity.Of[quantity.Length] `json:"height,omitzero"` // off what is around it
	Thin   bool                         `json:"thin,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// TraceWave is a regular swing.
type TraceWave struct {
	Period    quantity.Of[quantity.Factor]   `json:"period,omitzero"` // in readings
	Amplitude quantity.Of[quantity.Length]   `json:"amplitude,omitzero"`
	Share     quantity.Of[quantity.Fraction] `json:"share,omitzero"` // of the variance

	Extra jsontext.Value `json:",embed"`
}

// Names of what a log may be written with.
var (
	traceAxes  = stringsOf(trace.Axes())
	traceUnits = unitsOf(trace.Diameter, trace.Time)
)

// stringsOf are the names of things that print theirs.
func stringsOf[T fmt.Stringer](list []T) []string {
	var out []string
	for _, item := range list {
		out = append(out, item.String())
	}
	return out
}

func unitsOf(roles ...trace.Role) (units []string) {
	for _, role := range roles {
		units = append(units, trace.Units(role)...)
	}
	return units
}
