package quantity

import (
	"regexp"
	"strings"
)

// Pattern is a regular expression for the file forms of a dimension, in the
// notation that ECMA-262 and RE2 share. It lets every String pass, the empty
// one of a quantity that is not given among them. It is coarser than Parse,
// which also checks currency codes, sizes and the order of a range.
func Pattern[D Dim]() string {
	d := dimensionOf[D]()
	number := `([0-9]+(\.[0-9]+)?|\.[0-9]+)([eE][+-]?[0-9]+)?`
	numbers := number + `( ± ` + number + `|-` + number + `)?`
	if d.signed {
		numbers = `(` + numbers + `|-` + number + `( ± ` + number + `| to -?` + number + `)?)`
	}
	if d.factor {
		return `^([x×]?` + numbers + `|` + numbers + ` 1)?$`
	}
	var spellings []string
	for _, u := range d.units {
		for _, spelling := range u.spellings {
			spellings = append(spellings, regexp.QuoteMeta(spelling))
		}
	}
	unit := `(` + strings.Join(spellings, "|") + `)`
	if d.money {
		unit = `[A-Z]{3}` + unit
	}
	return `^(` + numbers + ` ` + unit + `)?$`
}
