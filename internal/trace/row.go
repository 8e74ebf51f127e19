package trace

import (
	"bytes"
	"math"
)

// Fault is why a row was left out.
type Fault int

// The faults.
const (
	Sound       Fault = iota
	NotANumber        // a cell that is needed is no number
	Missing           // a cell that is needed is not there, or empty
	NotAbove0         // a diameter of 0 or below: gauges write it for "no strand"
	Implausible       // a diameter far from all others: gauges write 9999 for "fault"
	TooLong           // a line of more than mostLine bytes
	TooWide           // more cells than the log has columns, as where signs are mixed
	faults
)

// Faults lists them all, without Sound.
func Faults() []Fault { return []Fault{NotANumber, Missing, NotAbove0, Implausible, TooLong, TooWide} }

// Key names a fault in texts.
func (f Fault) Key() string {
	return [...]string{"sound", "not_a_number", "missing", "not_above_0", "implausible", "too_long", "too_wide"}[f]
}

// slot is where the number of a column goes.
type slot int

const (
	slotNone slot = iota
	slotDiameter
	slotSecond
	slotAt
)

// field is one column as the reader of rows needs it.
type field struct {
	slot  slot
	si    float64
	clock string // form of a time of day, or empty
}

// rowReader reads rows by a layout. Its methods may be called at the same time.
type rowReader struct {
	separator, decimal byte
	fields             []field // up to the last that is needed
	low, high          float64 // plausible diameters in m
	second             bool    // a second axis is needed
	whole              bool    // the last column is needed, so nothing may follow it
	plain              bool    // rows may be written in the plainest way, see readFast
}

// reading is what a row holds, in SI.
type reading struct{ at, diameter, second float64 }

func newRowReader(l Layout, typicalM float64) *rowReader {
	r := &rowReader{separator: l.Separator, decimal: '.', second: l.column(Second) >= 0}
	if l.Comma {
		r.decimal = ','
	}
	r.low, r.high = typicalM/plausibleFactor, typicalM*plausibleFactor
	along := l.column(Position)
	if along < 0 {
		along = l.column(Time)
	}
	for i, c := range l.Columns {
		f := field{si: c.si()}
		switch {
		case c.Role == Diameter:
			f.slot = slotDiameter
		case c.Role == Second:
			f.slot = slotSecond
		case i == along:
			f.slot = slotAt
		}
		if f.slot == slotAt && c.isClock() {
			f.clock = c.Unit
		}
		r.fields = append(r.fields, f)
		r.whole = f.slot != slotNone
	}
	r.plain = l.Separator != ' '
	for _, f := range r.fields {
		r.plain = r.plain && f.clock == ""
	}
	for len(r.fields) > 0 && r.fields[len(r.fields)-1].slot == slotNone {
		r.fields = r.fields[:len(r.fields)-1]
	}
	return r
}

// plausibleFactor is how far from the usual diameter a reading may lie; what is
// beyond is the gauge's sign of a fault, and no strand (own judgement).
const plausibleFactor = 3

// beyond is a number of metres that no strand has, whatever its unit; the places of
// readings end at its square. Numbers within can be squared and added up.
const beyond = 1e9

// read reads one row.
func (r *rowReader) read(line []byte, out *reading) Fault {
	i := 0
	for n := range r.fields {
		f := &r.fields[n]
		for i < len(line) && (line[i] == ' ' || line[i] == '\t' && r.separator != '\t') {
			i++
		}
		if i >= len(line) && (n > 0 || len(line) == 0) {
			return Missing
		}
		if f.slot == slotNone {
			i = r.skip(line, i)
			continue
		}
		value, next, fault := r.cell(line, i, f)
		if fault != Sound {
			return fault
		}
		switch f.slot {
		case slotDiameter:
			out.diameter = value
		case slotSecond:
			out.second = value
		case slotAt:
			out.at = value
		}
		i = next
	}
	if r.whole && i < len(line) && len(bytes.Trim(line[i:], " \t,;|")) > 0 {
		return TooWide
	}
	return r.judge(out)
}

// judge holds a reading's diameters against what is plausible.
func (r *rowReader) judge(out *reading) Fault {
	least, most := out.diameter, out.diameter
	if r.second {
		least, most = min(least, out.second), max(most, out.second)
	}
	switch {
	case least <= 0:
		return NotAbove0
	case r.high > 0 && (least < r.low || most > r.high), least < 1/beyond, most > beyond, math.Abs(out.at) > beyond*beyond:
		return Implausible
	default:
		return Sound
	}
}

// cell reads the number of the cell that begins at i, and returns where the next
// cell begins.
func (r *rowReader) cell(line []byte, i int, f *field) (value float64, next int, fault Fault) {
	quoted := i < len(line) && line[i] == '"'
	if quoted {
		i++
	}
	if f.clock != "" {
		end := r.end(line, i, quoted)
		seconds, ok := readClock(line[i:end], f.clock)
		if !ok {
			return 0, 0, notANumber(line[i:end])
		}
		return seconds, r.skip(line, end), Sound
	}
	value, size := readNumber(line[i:], r.decimal)
	if size == 0 {
		return 0, 0, notANumber(line[i:r.end(line, i, quoted)])
	}
	i += size
	if i < len(line) && line[i] == r.separator && !quoted { // the usual case
		return value * f.si, i + 1, Sound
	}
	end := r.end(line, i, quoted)
	if !r.isUnit(line[i:end]) {
		return 0, 0, NotANumber
	}
	return value * f.si, r.skip(line, end), Sound
}

// isUnit reports that nothing stands behind a number, or a word such as a unit.
func (r *rowReader) isUnit(rest []byte) bool {
	for _, b := range bytes.TrimSpace(rest) {
		if b < 0x80 && !(b|0x20 >= 'a' && b|0x20 <= 'z') && b != '"' {
			return false
		}
	}
	return true
}

// end is where a cell ends: at its closing quote, or before the separator.
func (r *rowReader) end(line []byte, i int, quoted bool) int {
	until := r.separator
	if quoted {
		until = '"'
	}
	if n := bytes.IndexByte(line[i:], until); n >= 0 {
		return i + n
	}
	if r.separator == ' ' && !quoted {
		if n := bytes.IndexByte(line[i:], '\t'); n >= 0 {
			return i + n
		}
	}
	return len(line)
}

// skip returns where the cell behind the one at i begins.
func (r *rowReader) skip(line []byte, i int) int {
	if i < len(line) && line[i] == '"' {
		if n := bytes.IndexByte(line[i+1:], '"'); n >= 0 && (i == 0 || line[i-1] == r.separator || line[i-1] == ' ') {
			i += n + 1
		}
		i++
	}
	end := r.end(line, i, false)
	return min(end+1, len(line))
}

// notANumber tells an empty cell from one with something else in it.
func notANumber(cell []byte) Fault {
	if len(bytes.TrimSpace(cell)) == 0 {
		return Missing
	}
	return NotANumber
}
