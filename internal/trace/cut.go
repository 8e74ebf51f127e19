package trace

import (
	"regexp"
	"slices"
	"strings"
)

// cut is the piece as one separator and one decimal sign cut it.
type cut struct {
	separator byte
	comma     bool
	header    int // lines above the rows
	cells     [][]string
	width     int // cells that most rows have
	score     float64
}

// newCut cuts the lines and says how well that goes: the share of rows with the
// usual number of cells, each a number or a time, with at least one number; more
// columns count a little more, so that "1,75;1,76" is not one column of odd text.
func newCut(lines []string, separator byte, comma bool, header int) cut {
	c := cut{separator: separator, comma: comma}
	counts := map[int]int{}
	for _, line := range lines {
		cells := splitCells(line, separator)
		c.cells = append(c.cells, cells)
		if c.numbers(cells) > 0 {
			counts[len(cells)]++
		}
	}
	for width, n := range counts {
		if n > counts[c.width] || n == counts[c.width] && width > c.width {
			c.width = width
		}
	}
	c.header = c.headerLines()
	if header >= 0 {
		c.header = min(header, len(lines))
	}
	good, cells := 0.0, 0.0
	for _, row := range c.cells[c.header:] {
		n := c.numbers(row)
		if len(row) == c.width && n > 0 {
			good += float64(n) / float64(len(row))
			cells += float64(n)
		}
	}
	rows := float64(max(len(c.cells)-c.header, 1))
	c.score = good / rows
	if c.score > 0 {
		c.score += 0.01 * min(cells/rows, 10)
		if separator == ' ' {
			c.score -= 0.005 // a blank beside a comma is no separator
		}
		c.score += c.strandBonus()
		if c.headerUncut() {
			c.score -= 0.6
		}
	}
	return c
}

// strandBonus is what it counts for a cut that some column is a strand's diameter
// with three digits or more: it tells "1,75", one number with a decimal comma, from
// "12,1750", a time and a diameter in µm.
func (c *cut) strandBonus() float64 {
	for i := range c.width {
		if s := c.look(i); s.strandLike() && 2*s.fine > len(s.values) {
			return 0.5
		}
	}
	return 0
}

// headerUncut reports that the names above the columns are still together, as "t,rpm"
// is where a comma was taken for the decimal sign.
func (c *cut) headerUncut() bool {
	if c.header == 0 {
		return false
	}
	return slices.ContainsFunc(c.cells[c.header-1], uncut.MatchString)
}

// uncut is a separator between two words without a blank.
var uncut = regexp.MustCompile(`[^\s,;|][,;|\t][^\s,;|]`)

// headerLines is how many lines stand above the first row of numbers.
func (c *cut) headerLines() int {
	for i, row := range c.cells {
		if len(row) == c.width && 2*c.numbers(row) >= len(row) && c.numbers(row) > 0 {
			return i
		}
	}
	return 0
}

// numbers counts the cells that are a number or a time of day; 0 where a cell is
// neither empty, nor begins with a digit, nor is a word.
func (c *cut) numbers(cells []string) int {
	n := 0
	for _, cell := range cells {
		if _, ok := c.number(cell); ok {
			n++
		} else if _, ok := readClock([]byte(cell), clockForm(cell)); ok {
			n++
		}
	}
	return n
}

// number reads a cell that is a number, with a word behind it or not.
func (c *cut) number(cell string) (float64, bool) {
	decimal := byte('.')
	if c.comma {
		decimal = ','
	}
	v, size := readNumber([]byte(cell), decimal)
	if size == 0 || strings.ContainsAny(cell[size:], "0123456789:/.,;") {
		return 0, false
	}
	return v, true
}

// splitCells cuts a line; separators within quotes are none.
func splitCells(line string, separator byte) []string {
	var cells []string
	if separator == ' ' {
		return strings.Fields(line)
	}
	start, quoted := 0, false
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] == '"':
			quoted = !quoted
		case line[i] == separator && !quoted:
			cells = append(cells, trimCell(line[start:i]))
			start = i + 1
		}
	}
	return append(cells, trimCell(line[start:]))
}

func trimCell(cell string) string { return strings.Trim(strings.TrimSpace(cell), `"`) }

// clockForm guesses the form of a date from one cell.
func clockForm(cell string) string {
	groups, count, _ := digitGroups([]byte(cell))
	switch {
	case count < 3 || groups[0].digits == 4 || !strings.ContainsAny(cell, "./-"):
		return Clock
	case groups[0].value > 12:
		return DayFirst
	case groups[1].value > 12:
		return MonthFirst
	case groups[2].digits == 4 || groups[0].then == '.':
		return DayFirst
	default:
		return Clock
	}
}
