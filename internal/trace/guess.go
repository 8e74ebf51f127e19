package trace

import (
	"bytes"
	"cmp"
	"io"
	"regexp"
	"slices"
	"strings"
)

// GuessBytes is how much of a log Guess wants to see.
const GuessBytes = 64 << 10

// guessLines is how many lines of it are enough.
const guessLines = 1000

// Guess is a layout that fits a first piece of a log, and how sure it is.
type Guess struct {
	Layout   Layout
	TypicalM float64 // median of the diameters in the piece, 0 for none
	Doubt    Doubt
}

// Doubt is what a maker should look at before a guess is taken.
type Doubt int

// The doubts, the worst first.
const (
	NoDoubt    Doubt = iota
	NoDiameter       // no column looks like one
	UnitDoubt        // no unit stands in the log, and the numbers fit none that is usual
	OrderDoubt       // dates can be read with the day or with the month first
)

// Key names a doubt in texts.
func (d Doubt) Key() string { return [...]string{"none", "no_diameter", "unit", "order"}[d] }

// Fixed is what is known of a layout already; what is not given is guessed.
type Fixed struct {
	Separator byte     // 0: not known
	Comma     *bool    // decimal comma; nil: not known
	Header    int      // below 0: not known
	Columns   []Column // nil: not known
}

// NothingFixed leaves everything to the guess.
var NothingFixed = Fixed{Header: -1}

// GuessLayout is GuessWith for a log of which nothing is known.
func GuessLayout(piece []byte) (Guess, error) { return GuessWith(piece, NothingFixed) }

// GuessWith finds out how a log is written from a first piece of it (GuessBytes
// are enough). Every separator is tried with both decimal signs: the one that reads
// most rows as equally many numbers is taken. What a column holds is told by its
// header, else by its numbers: diameters lie within what strands have, times and
// positions rise. The units come from header or cells, else from the size of the
// numbers. The error is a *NotText or a *NothingRead.
func GuessWith(piece []byte, fixed Fixed) (Guess, error) {
	if bytes.IndexByte(piece, 0) >= 0 {
		return Guess{}, &NotText{}
	}
	lines := linesOf(piece)
	lines = lines[:min(len(lines), guessLines)]
	if len(lines) == 0 {
		return Guess{}, &NothingRead{}
	}
	best := cut{score: -1}
	for _, separator := range Separators() {
		for _, comma := range []bool{false, true} {
			if fixed.Separator != 0 && separator != fixed.Separator || fixed.Comma != nil && comma != *fixed.Comma {
				continue
			}
			if c := newCut(lines, separator, comma, fixed.Header); c.score > best.score {
				best = c
			}
		}
	}
	if best.score <= 0 {
		return Guess{}, &NothingRead{Count: Count{Lines: int64(len(lines)), Shown: []Line{{Number: 1, Text: shorten(lines[0])}}}}
	}
	if fixed.Columns != nil {
		return best.with(fixed.Columns), nil
	}
	return best.guess(), nil
}

// with takes the columns as they are given.
func (c *cut) with(columns []Column) Guess {
	g := Guess{Layout: Layout{Separator: c.separator, Comma: c.comma, Header: c.header}}
	for i, column := range columns {
		s := c.look(i)
		column.Name = s.name
		g.Layout.Columns = append(g.Layout.Columns, column)
		if column.Role == Diameter {
			g.TypicalM = s.median() * column.si()
		}
	}
	if !g.Layout.Readable() {
		g.Doubt = NoDiameter
	}
	return g
}

// FirstPiece reads what a guess wants to see of a log, as text, and goes back to where
// it began.
func FirstPiece(log io.ReadSeeker) ([]byte, error) {
	at, err := log.Seek(0, io.SeekCurrent)
	if err != nil {
		return nil, err
	}
	piece, err := io.ReadAll(Text(io.LimitReader(log, GuessBytes)))
	if err != nil {
		return nil, err
	}
	_, err = log.Seek(at, io.SeekStart)
	return piece, err
}

// linesOf cuts a piece into lines; the last, which may not be whole, is left out
// where there are others.
func linesOf(piece []byte) []string {
	text := strings.ReplaceAll(string(bytes.ToValidUTF8(piece, []byte("\uFFFD"))), "\r\n", "\n")
	text = strings.ReplaceAll(text, "\r", "\n")
	lines := strings.Split(text, "\n")
	if len(piece) >= GuessBytes && len(lines) > 1 {
		lines = lines[:len(lines)-1]
	}
	return slices.DeleteFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "" })
}

func shorten(line string) string {
	if r := []rune(line); len(r) > 80 {
		return string(r[:80])
	}
	return line
}

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

// guess says what the columns hold.
func (c *cut) guess() Guess {
	columns := make([]seen, c.width)
	for i := range columns {
		columns[i] = c.look(i)
	}
	g := Guess{Layout: Layout{Separator: c.separator, Comma: c.comma, Header: c.header}}
	assign(columns)
	for _, s := range columns {
		g.Layout.Columns = append(g.Layout.Columns, Column{Name: s.name, Role: s.role, Unit: s.unitName()})
		if s.role == Time && s.doubtful {
			g.Doubt = OrderDoubt
		}
	}
	i := g.Layout.column(Diameter)
	if i < 0 {
		g.Doubt = NoDiameter
		return g
	}
	if columns[i].doubtful {
		g.Doubt = UnitDoubt
	}
	g.TypicalM = columns[i].median() * g.Layout.Columns[i].si()
	return g
}

// seen is what is seen of a column.
type seen struct {
	name     string
	unit     string // as the header or the cells say, or empty
	values   []float64
	clock    string // form of a time of day, or empty
	rising   bool
	constant bool
	fine     int // cells of three digits or more
	role     Role
	doubtful bool
}

func (s *seen) median() float64 {
	if len(s.values) == 0 {
		return 0
	}
	sorted := slices.SortedFunc(slices.Values(s.values), cmp.Compare[float64])
	return sorted[len(sorted)/2]
}

// look reads a column.
func (c *cut) look(column int) seen {
	s := seen{rising: true, constant: true}
	if c.header > 0 && column < len(c.cells[c.header-1]) && len(c.cells[c.header-1]) <= c.width {
		s.name = c.cells[c.header-1][column]
		s.unit = unitIn(s.name)
	}
	forms := map[string]int{}
	for _, row := range c.cells[c.header:] {
		if column >= len(row) {
			continue
		}
		v, ok := c.number(row[column])
		if !ok {
			form := clockForm(row[column])
			if v, ok = readClock([]byte(row[column]), form); ok {
				forms[form]++
			}
		} else if s.unit == "" {
			s.unit = unitIn("(" + strings.TrimLeft(row[column], "0123456789.,+-eE ") + ")")
		}
		if !ok {
			continue
		}
		if n := len(s.values); n > 0 {
			s.rising = s.rising && v >= s.values[n-1]
			s.constant = s.constant && v == s.values[n-1]
		}
		s.values = append(s.values, v)
		if digitsIn(row[column]) >= 3 {
			s.fine++
		}
	}
	s.setClock(forms)
	return s
}

func digitsIn(cell string) int {
	n := 0
	for i := range len(cell) {
		if cell[i]-'0' <= 9 {
			n++
		}
	}
	return n
}

// setClock decides the order of dates: a cell that can be read in one way only
// decides, else it stays a doubt.
func (s *seen) setClock(forms map[string]int) {
	total := forms[Clock] + forms[DayFirst] + forms[MonthFirst]
	if 2*total <= len(s.values) {
		return
	}
	switch {
	case forms[MonthFirst] > 0:
		s.clock = MonthFirst
	case forms[DayFirst] > 0:
		s.clock = DayFirst
	default:
		s.clock = Clock
	}
}
