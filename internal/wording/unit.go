package wording

import "strings"

// printed are the parts of a unit that people read in another form than files
// spell them: signs of currencies that stand for one only, powers, the micro
// sign, and the 1 of a pure factor.
var printed = []struct{ spelled, read string }{
	{"EUR", "€"},
	{"GBP", "£"},
	{"cm3", "cm³"},
	{"m3", "m³"},
	{"um", "µm"},
	{"min^n", "minⁿ"},
}

// Unit is a unit as people read it.
func Unit(unit string) string {
	if unit == "1" {
		return "×"
	}
	for _, p := range printed {
		if i := strings.Index(unit, p.spelled); i >= 0 {
			return unit[:i] + p.read + unit[i+len(p.spelled):]
		}
	}
	return unit
}
