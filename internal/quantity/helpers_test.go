package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// read is a quantity of some dimension.
type read interface {
	Given() bool
	String() string
	Pretty(decimalComma bool) string
	Estimate() (Estimate, bool)
	SI() float64
	Unit() string
	Currency() string
	LastDigit() float64
	Schema() (name, pattern string)
}

// kind is the public interface of one dimension.
type kind struct {
	name   string
	parse  func(string) (read, error)
	fromSI func(float64, string, int) read
}

func kindOf[D Dim]() kind {
	return kind{
		name:   Name[D](),
		parse:  func(text string) (read, error) { return Parse[D](text) },
		fromSI: func(si float64, unit string, decimals int) read { return FromSI[D](si, unit, decimals) },
	}
}

// kinds lists every dimension, in the order of dimensions.
var kinds = []kind{
	kindOf[Mass](), kindOf[Length](), kindOf[Density](), kindOf[Volume](), kindOf[Temperature](), kindOf[Duration](),
	kindOf[Fraction](), kindOf[Factor](), kindOf[Pressure](), kindOf[MolarMass](), kindOf[Power](), kindOf[Energy](), kindOf[MolarEnergy](), kindOf[MassFlow](),
	kindOf[MeltFlow](), kindOf[Speed](), kindOf[Rotation](), kindOf[Current](), kindOf[SpecificEnergy](),
	kindOf[HeatCapacity](), kindOf[Conductivity](), kindOf[Content](), kindOf[Price](), kindOf[PricePerMass](),
	kindOf[PricePerEnergy](), kindOf[PricePerTime](), kindOf[PricePerLength](),
}

func kindNamed(t testing.TB, name string) kind {
	t.Helper()
	for _, k := range kinds {
		if k.name == name {
			return k
		}
	}
	require.Failf(t, "no such dimension", "%q", name)
	return kind{}
}

// spellingsOf lists every unit an entry may carry.
func spellingsOf(d *dimension) []string {
	var list []string
	for _, u := range d.units {
		for _, spelling := range u.spellings {
			if d.money {
				spelling = exampleCode + spelling
			}
			list = append(list, spelling)
		}
	}
	return list
}

// near allows for the rounding of a few operations on float64.
func near(t testing.TB, want, got float64, about string) {
	t.Helper()
	if math.Abs(want-got) > 4e-15*math.Max(math.Abs(want), math.Abs(got)) {
		require.Failf(t, "different", "%s: want %.17g, got %.17g", about, want, got)
	}
}
