package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxBytes bounds an entry before anything looks at it. Two numbers of maxDigits
// with any unit stay below it in every form, so that what was read once can be
// read back.
const (
	maxBytes  = 200
	maxDigits = 40
)

// mark is what joins two numbers.
type mark uint8

const (
	noMark mark = iota
	plusMinus
	hyphen
	to
)

// entry is what a text says, before its unit is looked up.
type entry struct {
	shown         string // for refusals
	prefix        string // × or a currency code, before the number
	first, second string // numbers with a decimal point, without plus sign
	mark          mark
	unit          string
}

// numbers prints the numbers of the entry in file form.
func (e *entry) numbers() string {
	switch e.mark {
	case plusMinus:
		return e.first + " ± " + e.second
	case hyphen:
		return e.first + "-" + e.second
	case to:
		return e.first + " to " + e.second
	}
	return e.first
}

// respell makes spaces, minus signs and ± uniform. The order matters: "+-"
// must be seen before a sign is read.
var respell = strings.NewReplacer("+/-", "±", "+-", "±", "+\u2212", "±", "+/\u2212", "±", "\u2212", "-", "’", "'")

// isSpace tells the spaces that people write inside a line.
func isSpace(r rune) bool { return unicode.Is(unicode.Zs, r) }

// clean refuses what cannot be an entry at all and makes the rest uniform.
func (d *dimension) clean(text string) (string, *Refusal) {
	if len(text) > maxBytes {
		return "", d.refuse("quantity.too_long", text, "Length", len(text), "Max", maxBytes)
	}
	if !utf8.ValidString(text) {
		return "", d.refuse("quantity.bad_encoding", text)
	}
	for _, r := range text {
		if unicode.Is(unicode.C, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return "", d.refuse("quantity.bad_character", text, "Character", fmt.Sprintf("%U", r))
		}
	}
	return respell.Replace(strings.Join(strings.FieldsFunc(text, isSpace), " ")), nil
}

// scanner takes an entry apart from left to right.
type scanner struct {
	d     *dimension
	shown string // for refusals
	whole string // what there was to scan
	rest  string // what is left of it
}

// before is what has been scanned.
func (s *scanner) before() string { return s.whole[:len(s.whole)-len(s.rest)] }

// scan reads: prefix? number unit? (mark number unit?)?
func (d *dimension) scan(shown, cleaned string) (*entry, *Refusal) {
	s := &scanner{d: d, shown: shown, whole: cleaned, rest: cleaned}
	e := &entry{shown: shown, prefix: s.prefix()}
	var refused *Refusal
	if e.first, refused = s.number(); refused != nil {
		return nil, refused
	}
	e.unit = s.unit()
	if e.mark = s.mark(); e.mark == noMark {
		return e, s.joinPrefix(e)
	}
	if e.second, refused = s.second(e); refused != nil {
		return nil, refused
	}
	if refused = s.joinUnits(e, s.unit()); refused != nil {
		return nil, refused
	}
	switch m := s.mark(); {
	case m == noMark:
		if e.mark == to && !strings.HasPrefix(e.first, "-") {
			e.mark = hyphen // the file form wherever no minus sign stands beside it
		}
		return e, s.joinPrefix(e)
	case m == plusMinus && e.mark == plusMinus:
		return nil, d.refuse("quantity.two_spreads", shown)
	case m == plusMinus || e.mark == plusMinus:
		return nil, d.refuse("quantity.range_spread", shown)
	}
	return nil, d.refuse("quantity.two_ranges", shown)
}

// prefix takes what may stand before the number: × before a factor, a currency
// before a price.
func (s *scanner) prefix() string {
	length := 0
	switch {
	case s.d.factor && strings.HasPrefix(s.rest, "×"):
		length = len("×")
	case s.d.factor && strings.HasPrefix(s.rest, "x"):
		length = 1
	case s.d.money && startsWithSign(s.rest):
		_, length = utf8.DecodeRuneInString(s.rest)
	case s.d.money && len(s.rest) > 3 && isCode(s.rest[:3]):
		length = 3
	}
	after := strings.TrimPrefix(s.rest[length:], " ")
	if length == 0 || !startsNumber(after) {
		return ""
	}
	found := s.rest[:length]
	s.rest = after
	return found
}

// startsNumber tells whether text can begin with a number.
func startsNumber(text string) bool {
	return text != "" && strings.IndexByte("0123456789.,+-", text[0]) >= 0
}

// unit takes everything up to a mark or the end.
func (s *scanner) unit() string {
	end := len(s.rest)
	for i := range s.rest {
		if m, _ := markAt(s.rest, i); m != noMark {
			end = i
			break
		}
	}
	found := strings.TrimSpace(s.rest[:end])
	s.rest = s.rest[end:]
	return found
}

// mark takes the mark at the head of the rest.
func (s *scanner) mark() mark {
	m, length := markAt(s.rest, 0)
	s.rest = strings.TrimPrefix(s.rest[length:], " ")
	return m
}

// markAt tells which mark stands at s[i:]. A hyphen within a unit counts only
// before a number or at the end, for some units are written with one.
func markAt(s string, i int) (m mark, length int) {
	rest := s[i:]
	switch {
	case strings.HasPrefix(rest, "±"):
		return plusMinus, len("±")
	case strings.HasPrefix(rest, "–"):
		return hyphen, len("–")
	case rest == "-" || rest == " -":
		return hyphen, len(rest)
	case strings.HasPrefix(rest, "-"):
		if strings.TrimSpace(s[:i]) == "" || startsNumber(strings.TrimPrefix(rest[1:], " ")) {
			return hyphen, 1
		}
	case rest == " to", strings.HasPrefix(rest, " to "):
		return to, len(" to")
	}
	return noMark, 0
}

// second reads the number behind a mark.
func (s *scanner) second(e *entry) (string, *Refusal) {
	if s.rest == "" || !strings.ContainsAny(s.rest, "0123456789") || isUnitStart(s.rest) {
		if e.mark == plusMinus {
			return "", s.d.refuse("quantity.no_spread", s.shown)
		}
		return "", s.d.refuse("quantity.range_open", s.shown)
	}
	number, refused := s.number()
	switch {
	case refused != nil:
		return "", refused
	case e.mark == plusMinus && strings.HasPrefix(number, "-"):
		return "", s.d.refuse("quantity.negative_spread", s.shown)
	case e.mark == hyphen && (strings.HasPrefix(number, "-") || strings.HasPrefix(e.first, "-")):
		if !s.d.signed {
			return "", s.d.refuse("quantity.negative", s.shown)
		}
		again := entry{first: e.first, second: number, mark: to}
		return "", s.d.refuse("quantity.range_minus", s.shown, "Try", candidate(again.numbers()+" "+s.rest))
	}
	return number, nil
}

// isUnitStart tells that a unit stands where a number is expected.
func isUnitStart(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r) || r == '%' || r == '°'
}

// joinUnits settles on one unit for both numbers.
func (s *scanner) joinUnits(e *entry, second string) *Refusal {
	first := e.unit
	e.unit = second
	switch {
	case first == "":
		return nil
	case second == "%" && e.mark == plusMinus:
		return s.refuseRelative(e, first)
	case second == first:
		return nil
	}
	return s.refuseTwoUnits(e, first, second)
}

// refuseTwoUnits proposes the second number in the unit of the first.
func (s *scanner) refuseTwoUnits(e *entry, first, second string) *Refusal {
	again := *e
	u, known := s.d.lookUp(first)
	v, both := s.d.lookUp(second)
	if known && both && u != v {
		number := parseNumber(e.second)
		if e.mark == plusMinus {
			number = v.difference(number) / u.difference(1)
		} else {
			number = u.fromSI(v.toSI(number))
		}
		again.second = strconv.FormatFloat(number, 'g', 10, 64)
	}
	if second != "" && !both {
		first = second // not read either: leads to the example
	}
	return s.d.refuse("quantity.two_units", s.shown, "Try", candidate(again.numbers()+" "+first))
}

// refuseRelative proposes the spread in the unit of the number.
func (s *scanner) refuseRelative(e *entry, unit string) *Refusal {
	proposal := e.numbers() + " " + unit
	if unit != "%" {
		half := math.Abs(parseNumber(e.first)) * parseNumber(e.second) / 100
		proposal = e.first + " ± " + strconv.FormatFloat(half, 'g', 3, 64) + " " + unit
	}
	return s.d.refuse("quantity.relative_spread", s.shown, "Try", candidate(proposal))
}

// joinPrefix moves what stood before the number into the unit.
func (s *scanner) joinPrefix(e *entry) *Refusal {
	switch {
	case e.prefix == "":
		return nil
	case s.d.factor && e.unit == "", s.d.money && (e.unit == "" || strings.HasPrefix(e.unit, "/")):
		e.unit = e.prefix + e.unit
		return nil
	}
	return s.d.refuse("quantity.unknown_unit", s.shown, "Unit", e.unit)
}
