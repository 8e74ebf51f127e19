package quantity

import (
	"slices"
	"strings"
)

// Dim is what a quantity measures. Only the marker types of this package
// implement it, so that a density cannot be passed for a mass.
type Dim interface{ dimension() *dimension }

// The dimensions, each with its SI unit. Money is in whatever currency the
// unit names; no exchange rate is ever applied.
type (
	Mass           struct{} // kg
	Length         struct{} // m
	Density        struct{} // kg/m3
	Volume         struct{} // m3
	Temperature    struct{} // K
	Duration       struct{} // s
	Fraction       struct{} // 1
	Factor         struct{} // 1
	Pressure       struct{} // Pa
	MolarMass      struct{} // kg/mol
	Power          struct{} // W
	Energy         struct{} // J
	MolarEnergy    struct{} // J/mol
	MassFlow       struct{} // kg/s
	MeltFlow       struct{} // kg/s, of a melt-flow test
	Speed          struct{} // m/s
	Rotation       struct{} // 1/s, turns
	Current        struct{} // A
	SpecificEnergy struct{} // J/kg
	HeatCapacity   struct{} // J/(kg.K)
	Conductivity   struct{} // W/(m.K)
	Content        struct{} // 1, on the basis that the unit names: wt%, vol% or phr
	Price          struct{} // money
	PricePerMass   struct{} // money/kg
	PricePerEnergy struct{} // money/J
	PricePerTime   struct{} // money/s
	PricePerLength struct{} // money/m
)

func (Mass) dimension() *dimension           { return massDim }
func (Length) dimension() *dimension         { return lengthDim }
func (Density) dimension() *dimension        { return densityDim }
func (Volume) dimension() *dimension         { return volumeDim }
func (Temperature) dimension() *dimension    { return temperatureDim }
func (Duration) dimension() *dimension       { return durationDim }
func (Fraction) dimension() *dimension       { return fractionDim }
func (Factor) dimension() *dimension         { return factorDim }
func (Pressure) dimension() *dimension       { return pressureDim }
func (MolarMass) dimension() *dimension      { return molarMassDim }
func (Power) dimension() *dimension          { return powerDim }
func (Energy) dimension() *dimension         { return energyDim }
func (MolarEnergy) dimension() *dimension    { return molarEnergyDim }
func (MassFlow) dimension() *dimension       { return massFlowDim }
func (MeltFlow) dimension() *dimension       { return meltFlowDim }
func (Speed) dimension() *dimension          { return speedDim }
func (Rotation) dimension() *dimension       { return rotationDim }
func (Current) dimension() *dimension        { return currentDim }
func (SpecificEnergy) dimension() *dimension { return specificEnergyDim }
func (HeatCapacity) dimension() *dimension   { return heatCapacityDim }
func (Conductivity) dimension() *dimension   { return conductivityDim }
func (Content) dimension() *dimension        { return contentDim }
func (Price) dimension() *dimension          { return priceDim }
func (PricePerMass) dimension() *dimension   { return pricePerMassDim }
func (PricePerEnergy) dimension() *dimension { return pricePerEnergyDim }
func (PricePerTime) dimension() *dimension   { return pricePerTimeDim }
func (PricePerLength) dimension() *dimension { return pricePerLengthDim }

// dimension is what the parser must know about a marker type.
type dimension struct {
	name    string // in the schema: "price_per_mass"
	example string // an entry that is read
	signed  bool   // numbers may carry a minus sign: temperatures
	factor  bool   // the unit is a × before the number, or nothing
	money   bool   // units are of the part after the currency code: "/kg"
	units   []unit

	bySpelling map[string]*unit
}

// unit turns numbers into SI: (number + offset) · up / down. Both up and down
// are whole numbers that a float64 holds exactly, so that "250 um" gives the
// same float64 as 250e-6.
type unit struct {
	pretty    string   // as printed in the window
	spellings []string // as read; the first is shown when an entry is refused
	up, down  float64
	offset    float64
}

// toSI converts a number in this unit.
func (u *unit) toSI(number float64) float64 { return u.difference(number + u.offset) }

// difference converts a difference, which knows no offset: 10 °F are 5.56 K.
func (u *unit) difference(number float64) float64 { return number * u.up / u.down }

// fromSI is the inverse of toSI.
func (u *unit) fromSI(si float64) float64 { return si*u.down/u.up - u.offset }

// index makes the dimension ready for use.
func (d dimension) index() *dimension {
	d.bySpelling = make(map[string]*unit)
	for i := range d.units {
		for _, spelling := range d.units[i].spellings {
			if d.bySpelling[spelling] != nil {
				panic("quantity: " + d.name + " spells two units " + spelling)
			}
			d.bySpelling[spelling] = &d.units[i]
		}
	}
	return &d
}

// lookUp finds a unit by its spelling. For money the spelling comes with its
// currency code.
func (d *dimension) lookUp(spelling string) (*unit, bool) {
	if d.money {
		code, per := splitMoney(spelling)
		if code == "" || !IsCurrency(code) {
			return nil, false
		}
		spelling = per
	}
	u, ok := d.bySpelling[spelling]
	return u, ok
}

// accepts lists the units to show in a refusal.
func (d *dimension) accepts(code string) []string {
	var list []string
	for _, u := range d.units {
		if shown := u.spellings[0]; d.money {
			list = append(list, code+shown)
		} else if shown != "" {
			list = append(list, shown)
		}
	}
	return list
}

// ownerOf finds the dimension that has the unit, to tell a wrong unit from an
// unknown one.
func ownerOf(spelling string) (*dimension, bool) {
	i := slices.IndexFunc(dimensions, func(d *dimension) bool {
		_, ok := d.lookUp(spelling)
		return ok && spelling != ""
	})
	if i < 0 {
		return nil, false
	}
	return dimensions[i], true
}

// Name is the name of the dimension in the schema, for example "price_per_mass".
func Name[D Dim]() string { return dimensionOf[D]().name }

// Accepts lists the units that an entry of this dimension may carry, one
// spelling for each.
func Accepts[D Dim]() []string { return dimensionOf[D]().accepts(exampleCode) }

func dimensionOf[D Dim]() *dimension {
	var d D
	return d.dimension()
}

// join lists units in a sentence.
func join(list []string) string { return strings.Join(list, ", ") }
