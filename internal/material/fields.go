package material

import (
	"slices"
	"strings"

	"fillwright/internal/quantity"
)

// Field describes one property of a material, so that a property card can show
// and edit any of them without knowing which they are.
type Field struct {
	Member string // in the file and in Source.Field, for example "density"
	Label  string // ID of its name
	Help   string // ID of a sentence that says what is meant
	kinds  []Kind
	access access
}

// access reads and writes one property; each method is for one dimension.
type access interface {
	text(m *Material) string
	pretty(m *Material, decimalComma bool) string
	estimate(m *Material) (quantity.Estimate, bool)
	unit(m *Material) string
	set(m *Material, text string) error
	accepts() []string
}

// Fields returns the properties in the order in which a card shows them.
func Fields() []Field { return slices.Clone(fields) }

// FieldsFor returns the properties that a kind of material has.
func FieldsFor(kind Kind) []Field {
	return slices.DeleteFunc(Fields(), func(f Field) bool { return !f.For(kind) })
}

// FieldOf returns the property with a JSON member name.
func FieldOf(member string) (Field, bool) {
	i := slices.IndexFunc(fields, func(f Field) bool { return f.Member == member })
	if i < 0 {
		return Field{}, false
	}
	return fields[i], true
}

// For reports whether a kind of material has the property.
func (f Field) For(kind Kind) bool { return slices.Contains(f.kinds, kind) }

// Given reports whether the material has a value for the property.
func (f Field) Given(m *Material) bool { return f.Text(m) != "" }

// Text returns the value as the file has it; empty when it is not given.
func (f Field) Text(m *Material) string { return f.access.text(m) }

// Pretty returns the value as the window shows it; empty when it is not given.
func (f Field) Pretty(m *Material, decimalComma bool) string {
	return f.access.pretty(m, decimalComma)
}

// Estimate returns the value in SI; false when it is not given.
func (f Field) Estimate(m *Material) (quantity.Estimate, bool) { return f.access.estimate(m) }

// Unit returns the unit as entered; empty for a plain factor or no value.
func (f Field) Unit(m *Material) string { return f.access.unit(m) }

// Accepts lists the units that an entry of the property may carry.
func (f Field) Accepts() []string { return f.access.accepts() }

// Set reads a value as it was typed, and drops the source of the old one: the
// value is the maker's now. A blank text means not given. What already stands
// there, in the form of the file or of the window, is no change and keeps its
// source. A text that is refused changes nothing; the error is a
// *quantity.Refusal.
func (f Field) Set(m *Material, text string) error {
	typed := strings.TrimSpace(text)
	if typed == f.Text(m) || typed == f.Pretty(m, false) || typed == f.Pretty(m, true) {
		return nil
	}
	before := f.Text(m)
	if err := f.access.set(m, text); err != nil {
		return err
	}
	if f.Text(m) != before {
		m.DropSource(f.Member)
	}
	return nil
}

// place points at one property; it is the access to it.
type place[D quantity.Dim] func(m *Material) *quantity.Of[D]

func (at place[D]) text(m *Material) string           { return at(m).String() }
func (at place[D]) pretty(m *Material, c bool) string { return at(m).Pretty(c) }
func (at place[D]) unit(m *Material) string           { return at(m).Unit() }
func (at place[D]) accepts() []string                 { return quantity.Accepts[D]() }

func (at place[D]) estimate(m *Material) (quantity.Estimate, bool) { return at(m).Estimate() }

func (at place[D]) set(m *Material, text string) error {
	value, err := quantity.Parse[D](text)
	if err != nil {
		return err
	}
	*at(m) = value
	return nil
}

// field makes the entry of one property in the table.
func field[D quantity.Dim](member string, at place[D], kinds ...Kind) Field {
	return Field{Member: member, Label: "material." + member, Help: "material_help." + member, kinds: kinds, access: at}
}

type (
	fraction    = quantity.Of[quantity.Fraction]
	density     = quantity.Of[quantity.Density]
	temperature = quantity.Of[quantity.Temperature]
	pressure    = quantity.Of[quantity.Pressure]
)

var fields = []Field{
	field("price", func(m *Material) *quantity.Of[quantity.PricePerMass] { return &m.Price }, Polymer, Filler, Additive),
	field("moisture", func(m *Material) *fraction { return &m.Moisture }, Polymer, Filler, Additive),
	field("density", func(m *Material) *density { return &m.Density }, Polymer, Filler, Additive),
	field("melt_density", func(m *Material) *density { return &m.MeltDensity }, Polymer),
	field("bulk_density", func(m *Material) *density { return &m.BulkDensity }, Polymer, Filler),
	field("melt_range", func(m *Material) *temperature { return &m.MeltRange }, Polymer),
	field("print_range", func(m *Material) *temperature { return &m.PrintRange }, Polymer),
	field("moisture_limit", func(m *Material) *fraction { return &m.MoistureLimit }, Polymer, Filler),
	field("drying_temperature", func(m *Material) *temperature { return &m.DryingTemperature }, Polymer),
	field("drying_time", func(m *Material) *quantity.Of[quantity.Duration] { return &m.DryingTime }, Polymer),
	field("molar_mass", func(m *Material) *quantity.Of[quantity.MolarMass] { return &m.MolarMass }, Polymer),
	field("melt_flow", func(m *Material) *quantity.Of[quantity.MeltFlow] { return &m.MeltFlow }, Polymer),
	field("melt_flow_temperature", func(m *Material) *temperature { return &m.MeltFlowTemperature }, Polymer),
	field("melt_flow_load", func(m *Material) *quantity.Of[quantity.Mass] { return &m.MeltFlowLoad }, Polymer),
	field("packing_limit", func(m *Material) *fraction { return &m.PackingLimit }, Filler),
	field("aspect_ratio", func(m *Material) *quantity.Of[quantity.Factor] { return &m.AspectRatio }, Filler),
	field("oil_content", func(m *Material) *fraction { return &m.OilContent }, Filler),
	field("onset", func(m *Material) *temperature { return &m.Onset }, Polymer, Filler, Additive),
	field("modulus", func(m *Material) *pressure { return &m.Modulus }, Polymer, Filler),
	field("strength", func(m *Material) *pressure { return &m.Strength }, Polymer, Filler),
	field("elongation", func(m *Material) *fraction { return &m.Elongation }, Polymer),
	field("glass_transition", func(m *Material) *temperature { return &m.GlassTransition }, Polymer),
	field("melting", func(m *Material) *temperature { return &m.Melting }, Polymer),
	field("heat_capacity", func(m *Material) *quantity.Of[quantity.HeatCapacity] { return &m.HeatCapacity }, Polymer, Filler, Additive),
	field("melting_heat", func(m *Material) *quantity.Of[quantity.SpecificEnergy] { return &m.MeltingHeat }, Polymer),
	field("conductivity", func(m *Material) *quantity.Of[quantity.Conductivity] { return &m.Conductivity }, Polymer, Filler, Additive),
}
