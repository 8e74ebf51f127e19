package trace

import "slices"

// Role is what a column of a log holds.
type Role string

// The roles.
const (
	Ignored  Role = "ignored"
	Time     Role = "time"
	Position Role = "position"
	Diameter Role = "diameter"
	Second   Role = "second" // diameter on a second axis, square to the first
)

// Roles lists the roles in the order in which they are offered.
func Roles() []Role { return []Role{Diameter, Second, Time, Position, Ignored} }

// Forms of time that are no number.
const (
	Clock      = "clock"       // 14:03:22.5, or a date with the year first before it
	DayFirst   = "day first"   // 21.08.2026 14:03:22
	MonthFirst = "month first" // 08/21/2026 2:03:22 PM
)

// Column is one column of a log.
type Column struct {
	Name string // as it stands in the header, or empty
	Role Role
	Unit string // one of Units
}

// Layout is how a log is written.
type Layout struct {
	Separator byte // a blank stands for any number of blanks and tabs
	Comma     bool // decimal comma, else a point
	Header    int  // lines above the first row
	Columns   []Column
}

// separators are what may stand between columns, with their names in files and flags.
var separators = []struct {
	sign byte
	name string
}{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}, {' ', "blank"}, {'|', "bar"}}

// Separators lists what may stand between columns.
func Separators() []byte {
	var out []byte
	for _, s := range separators {
		out = append(out, s.sign)
	}
	return out
}

// SeparatorNames lists their names, in the same order.
func SeparatorNames() []string {
	var out []string
	for _, s := range separators {
		out = append(out, s.name)
	}
	return out
}

// SeparatorName names a separator, "" for what is none.
func SeparatorName(sign byte) string {
	for _, s := range separators {
		if s.sign == sign {
			return s.name
		}
	}
	return ""
}

// SeparatorNamed is the separator of a name, 0 for what is none.
func SeparatorNamed(name string) byte {
	for _, s := range separators {
		if s.name == name {
			return s.sign
		}
	}
	return 0
}

// Names of decimal signs in files and flags.
const (
	DecimalPoint = "point"
	DecimalComma = "comma"
)

// DecimalNames lists them.
func DecimalNames() []string { return []string{DecimalPoint, DecimalComma} }

// Axis says what the place of a reading is counted in.
type Axis int

// The axes.
const (
	ByReading Axis = iota // only the order of the readings is known
	BySecond
	ByMetre
)

// String names an axis in files.
func (a Axis) String() string { return [...]string{"reading", "second", "metre"}[a] }

// Axes lists the axes.
func Axes() []Axis { return []Axis{ByReading, BySecond, ByMetre} }

// Axis is the one that the layout gives; a position comes before a time.
func (l Layout) Axis() Axis {
	switch {
	case l.column(Position) >= 0:
		return ByMetre
	case l.column(Time) >= 0:
		return BySecond
	default:
		return ByReading
	}
}

// Readable reports a layout that has a diameter and no role twice.
func (l Layout) Readable() bool {
	for _, role := range []Role{Diameter, Second, Time, Position} {
		n := 0
		for _, c := range l.Columns {
			if c.Role == role {
				n++
			}
		}
		if n > 1 || n == 0 && role == Diameter {
			return false
		}
	}
	return slices.Contains(Separators(), l.Separator)
}

// Fixed is a layout of which nothing is left to a guess.
func (l Layout) Fixed() Fixed {
	return Fixed{Separator: l.Separator, Comma: &l.Comma, Header: l.Header, Columns: l.Columns}
}

// column is the index of the first column with a role, or -1.
func (l Layout) column(role Role) int {
	return slices.IndexFunc(l.Columns, func(c Column) bool { return c.Role == role })
}

// unit is a unit of a column with what one of it is in SI.
type unit struct {
	name  string
	si    float64
	words []string // as they stand in headers, in lower case
}

var (
	lengths = []unit{
		{"mm", 1e-3, []string{"mm", "millimetre", "millimeter"}},
		{"um", 1e-6, []string{"um", "µm", "μm", "micron", "microns", "micrometre", "micrometer"}},
		{"m", 1, []string{"m", "metre", "meter", "metres", "meters"}},
		{"cm", 1e-2, []string{"cm"}},
		{"in", 0.0254, []string{"in", "inch", "inches", `"`}},
		{"ft", 0.3048, []string{"ft", "feet", "foot"}},
	}
	times = []unit{
		{"s", 1, []string{"s", "sec", "secs", "second", "seconds"}},
		{"ms", 1e-3, []string{"ms", "msec", "millis", "millisecond", "milliseconds"}},
		{"us", 1e-6, []string{"us", "µs", "μs"}},
		{"min", 60, []string{"min", "minute", "minutes"}},
		{"h", 3600, []string{"h", "hour", "hours"}},
	}
)

// Units lists the units of a role, the usual one first; none for an ignored column.
func Units(role Role) []string {
	var names []string
	for _, u := range unitsOf(role) {
		names = append(names, u.name)
	}
	if role == Time {
		names = append(names, Clock, DayFirst, MonthFirst)
	}
	return names
}

func unitsOf(role Role) []unit {
	switch role {
	case Diameter, Second, Position:
		return lengths
	case Time:
		return times
	default:
		return nil
	}
}

// NewColumn makes a column of the name of a role and a unit; without a unit it takes the
// usual one. It returns false for what is neither.
func NewColumn(role, unit string) (Column, bool) {
	c := Column{Role: Role(role), Unit: unit}
	if !slices.Contains(Roles(), c.Role) {
		return c, false
	}
	units := Units(c.Role)
	if unit == "" && len(units) > 0 {
		c.Unit = units[0]
		if c.Role == Position {
			c.Unit = "m"
		}
	}
	return c, c.Unit == "" && len(units) == 0 || slices.Contains(units, c.Unit)
}

// si is what one of the column's unit is in SI.
func (c Column) si() float64 {
	for _, u := range unitsOf(c.Role) {
		if u.name == c.Unit {
			return u.si
		}
	}
	return 1
}

// isClock reports a time that is written as on a clock.
func (c Column) isClock() bool {
	return c.Role == Time && (c.Unit == Clock || c.Unit == DayFirst || c.Unit == MonthFirst)
}
