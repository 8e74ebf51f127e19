package tabular

import "strings"

// Heading is one way to read the heading of a column.
type Heading struct {
	Title string
	Unit  string // as it stands there; empty when none is named
}

// Headings are the ways to read a heading, most literal first: as it stands, and
// with a unit behind, as in "Time (h)", "Mass [g]", "Mass, g" and "Opening / µm".
// A comma or stroke may also belong to the title or the unit, so each of them gives
// a way. White space of any kind counts as one space.
func Headings(cell string) []Heading {
	cell = strings.Join(strings.Fields(cell), " ")
	ways := []Heading{{Title: cell}}
	add := func(title, unit string) {
		if title = strings.TrimSpace(title); title != "" {
			ways = append(ways, Heading{title, strings.TrimSpace(unit)})
		}
	}
	for _, pair := range []string{"()", "[]"} {
		inside, closed := strings.CutSuffix(cell, pair[1:])
		if at := strings.LastIndex(inside, pair[:1]); closed && at >= 0 {
			add(inside[:at], inside[at+1:])
		}
	}
	for at := strings.LastIndex(cell, ","); at >= 0; at = strings.LastIndex(cell[:at], ",") {
		add(cell[:at], cell[at+1:])
	}
	for at, sign := range cell { // the first stroke first: a unit may have one, as g/cm3
		if sign == '/' {
			add(cell[:at], cell[at+1:])
		}
	}
	return ways
}

// Headed reports whether the first of some rows names the columns: none of its
// cells begins as a number does, and a cell below it does.
func Headed(rows [][]string) bool {
	if len(rows) < 2 || anyNumber(rows[0]) {
		return false
	}
	for _, row := range rows[1:] {
		if anyNumber(row) {
			return true
		}
	}
	return false
}

func anyNumber(cells []string) bool {
	for _, cell := range cells {
		if beginsAsNumber(cell) {
			return true
		}
	}
	return false
}

// beginsAsNumber reports a digit, or a sign or decimal sign, at the beginning.
func beginsAsNumber(cell string) bool {
	return cell != "" && strings.ContainsRune("0123456789+-−±.,×", []rune(cell)[0])
}
