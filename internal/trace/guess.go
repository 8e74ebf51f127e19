package trace

import (
	"bytes"
	"cmp"
	"io"
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
	BadUnit          // a column is said to hold what has no such unit
	OrderDoubt       // dates can be read with the day or with the month first
)

// Key names a doubt in texts.
func (d Doubt) Key() string {
	return [...]string{"none", "no_diameter", "unit", "bad_unit", "order"}[d]
}

// Stops reports that a log cannot be read before the doubt is settled.
func (d Doubt) Stops() bool { return d == NoDiameter || d == BadUnit }

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
	for _, column := range columns {
		if _, ok := NewColumn(string(column.Role), column.Unit); !ok {
			g.Doubt = BadUnit
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
