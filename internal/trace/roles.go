package trace

import (
	"math"
	"slices"
	"strings"
)

// Words that stand in headers, in lower case. Longer ones come first where one
// holds the other.
var (
	timeWords     = []string{"t", "time", "elapsed", "clock", "date", "stamp", "zeit", "temps", "tiempo", "tempo"}
	positionWords = []string{"position", "length", "metre", "meter", "distance", "encoder", "laenge", "länge"}
	diameterWords = []string{"diam", "dia", "ø", "width", "thickness", "strand", "gauge", "durchmesser", "od", "d1", "d2", "dx", "dy", "d_x", "d_y"}
	otherWords    = []string{"target", "nominal", "set", "limit", "tol", "speed", "temp", "rpm", "alarm", "min", "max", "avg", "mean", "ovality", "error", "count", "index", "no", "nr", "line"}
)

// unitIn finds a unit in a header: in brackets, or as its last word.
func unitIn(header string) string {
	lower := strings.ToLower(strings.TrimSpace(header))
	word := lower
	if open := strings.LastIndexAny(lower, "([<"); open >= 0 {
		word = strings.Trim(lower[open:], "()[]<> .")
	} else if i := strings.LastIndexAny(lower, " _-/,"); i >= 0 {
		word = strings.Trim(lower[i+1:], " .")
	}
	for _, list := range [][]unit{lengths, times} {
		for _, u := range list {
			if slices.Contains(u.words, word) {
				return u.name
			}
		}
	}
	return ""
}

// says reports that a header holds one of the words.
func (s *seen) says(words []string) bool {
	parts := strings.FieldsFunc(strings.ToLower(s.name), func(r rune) bool { return strings.ContainsRune(" _-/()[]<>.:,", r) })
	for _, part := range parts {
		for _, w := range words {
			if part == w || len(w) > 3 && strings.HasPrefix(part, w) {
				return true
			}
		}
	}
	return false
}

func (s *seen) isTimeUnit() bool {
	return slices.ContainsFunc(times, func(u unit) bool { return u.name == s.unit })
}

// assign gives each column a role and a unit: first what headers say, then what
// the numbers are like.
func assign(columns []seen) {
	for i := range columns {
		columns[i].role = Ignored
	}
	along(columns)
	first := pick(columns, -1)
	if first < 0 {
		return
	}
	columns[first].role = Diameter
	columns[first].setLengthUnit()
	if second := pick(columns, first); second >= 0 {
		columns[second].role = Second
		columns[second].setLengthUnit()
	}
}

// along finds the columns of time and position.
func along(columns []seen) {
	for i := range columns {
		s := &columns[i]
		if len(s.values) == 0 {
			continue
		}
		switch {
		case s.clock != "" && !hasRole(columns, Time):
			s.role = Time
		case s.clock != "":
		case !s.rising || s.constant:
		case (s.says(timeWords) || s.isTimeUnit()) && !hasRole(columns, Time):
			s.role = Time
		case s.says(positionWords) && !s.says(diameterWords) && !hasRole(columns, Position):
			s.role = Position
			if s.unit == "" {
				s.unit = "m"
			}
		}
	}
	if hasRole(columns, Time) || hasRole(columns, Position) || len(columns) < 2 {
		return
	}
	// Without a word for it: a first column that rises all the way, by other than
	// whole numbers one by one, which only count the readings.
	s := &columns[0]
	if s.rising && !s.constant && len(s.values) > 2 && s.name == "" && !counts(s.values) {
		s.role = Time
	}
}

// counts reports numbers that rise by one.
func counts(values []float64) bool {
	for i := 1; i < len(values); i++ {
		if values[i]-values[i-1] != 1 {
			return false
		}
	}
	return true
}

func hasRole(columns []seen, role Role) bool {
	return slices.ContainsFunc(columns, func(s seen) bool { return s.role == role })
}

// pick chooses the column of diameters, or the second one beside the first: by its
// header, else the one whose numbers are those of a strand. Beside the first one it
// must be of the same size.
func pick(columns []seen, first int) int {
	best, bestScore := -1, 0
	for i := range columns {
		s := &columns[i]
		if s.role != Ignored || s.clock != "" || len(s.values) == 0 {
			continue
		}
		score := 0
		if s.says(diameterWords) {
			score += 4
		}
		if s.strandLike() {
			score += 2
		}
		if s.says(otherWords) || s.isTimeUnit() && s.unit != "min" {
			score -= 4
		}
		if len(s.values) > 2 && s.constant {
			score -= 2
		}
		if len(s.values) > 2 && counts(s.values) {
			score -= 4
		}
		if first >= 0 && !alike(&columns[first], s) {
			score = 0
		}
		if len(columns) == 1 {
			score++
		}
		if score > bestScore {
			best, bestScore = i, score
		}
	}
	return best
}

// alike reports two columns whose numbers are within a quarter of each other.
func alike(a, b *seen) bool {
	x, y := a.median(), b.median()
	return x > 0 && y > 0 && math.Abs(math.Log(x/y)) < 0.25
}

// strandLike reports numbers that are a strand's diameter in some usual unit.
func (s *seen) strandLike() bool {
	_, sure := usualUnit(s.median())
	return sure
}

// usualUnit is the unit in which a number is the diameter of a strand. Strands for
// printers have 1.75 or 2.85 mm; 1 to 4 mm is taken as one.
func usualUnit(median float64) (name string, sure bool) {
	for _, u := range lengths[:5] {
		if d := median * u.si; d >= 1e-3 && d <= 4e-3 {
			return u.name, true
		}
	}
	return "mm", false
}

// setLengthUnit takes the unit of the header where it makes a strand, else the one
// in which the numbers are one.
func (s *seen) setLengthUnit() {
	for _, u := range lengths {
		if u.name == s.unit {
			d := s.median() * u.si
			s.doubtful = d < 0.2e-3 || d > 10e-3
			return
		}
	}
	unit, sure := usualUnit(s.median())
	s.unit, s.doubtful = unit, !sure
}

// unitName is the unit of the column as a layout has it.
func (s *seen) unitName() string {
	switch {
	case s.role == Ignored:
		return ""
	case s.clock != "":
		return s.clock
	case s.role == Time && !s.isTimeUnit():
		return "s"
	case s.role == Position && s.unit == "":
		return "m"
	default:
		return s.unit
	}
}
