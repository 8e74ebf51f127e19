package material

import (
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// Regrind is what a polymer part is ground from that has been through the heat before:
// purge, failed spools or prints. Density and melt are those of its polymer and of the
// powder in it; price and moisture are its own.
type Regrind struct {
	Polymer    ID                             `json:"polymer,omitzero"` // of the project; empty: fresh pellets
	Filler     ID                             `json:"filler,omitzero"`  // of the project; empty: no powder in it
	Content    quantity.Of[quantity.Fraction] `json:"content,omitzero"` // of that powder, by mass
	Passes     int                            `json:"passes,omitzero"`  // through the heat, so far; 0 is one
	Drift      quantity.Of[quantity.Factor]   `json:"drift,omitzero"`   // of the melt flow rate by one pass
	Limit      quantity.Of[quantity.Fraction] `json:"limit,omitzero"`   // largest share of a blend
	MostPasses int                            `json:"most_passes,omitzero"`

	Extra jsontext.Value `json:",embed"`
}

// Is reports whether the material is regrind at all.
func (r *Regrind) Is() bool { return r.Polymer != "" }

// Heats is how often it has been through the heat.
func (r *Regrind) Heats() int { return max(1, r.Passes) }
