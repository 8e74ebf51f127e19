package quantity

import (
	"strconv"
	"strings"
)

// number takes one number: sign, digits with at most one decimal sign,
// exponent. What it returns has a decimal point and no plus sign.
func (s *scanner) number() (string, *Refusal) {
	sign, rest := "", s.rest
	if rest != "" && (rest[0] == '-' || rest[0] == '+') {
		sign, rest = strings.TrimPrefix(rest[:1], "+"), rest[1:]
	}
	digits := rest[:s.digitRun(rest)]
	rest = rest[len(digits):]
	if refused := s.checkDigits(sign, digits, rest); refused != nil {
		return "", refused
	}
	exponent := rest[:exponentRun(rest)]
	rest = rest[len(exponent):]
	if refused := s.checkAfter(digits, rest); refused != nil {
		return "", refused
	}
	number := sign + strings.Replace(digits, ",", ".", 1) + exponent
	if len(number) > maxDigits {
		return "", s.d.refuse("quantity.too_many_digits", s.shown, "Length", len(number), "Max", maxDigits)
	}
	s.rest = rest
	return number, nil
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// digitRun measures the digits, decimal signs and whatever groups the digits.
func (s *scanner) digitRun(text string) int {
	i := 0
	for i < len(text) {
		switch c := text[i]; {
		case isDigit(c) || c == '.' || c == ',':
		case i > 0 && isDigit(text[i-1]) && s.groups(text[i:]):
		default:
			return i
		}
		i++
	}
	return i
}

// groups tells whether text, which follows a digit, goes on with a sign that
// groups digits. The unit 1 in "0.05 1" does not.
func (s *scanner) groups(text string) bool {
	_, hasOne := s.d.bySpelling["1"]
	switch {
	case len(text) < 2 || !isDigit(text[1]) || hasOne && text == " 1":
		return false
	case text[0] == ' ' || text[0] == '_':
		return true
	}
	return text[0] == '\'' && len(text) > 3 && isDigit(text[2]) && isDigit(text[3]) // not 5'6 for feet and inches
}

// checkDigits refuses a run that is not one plain number. The sign and the rest
// around it are for the proposal.
func (s *scanner) checkDigits(sign, digits, rest string) *Refusal {
	last := len(digits) - 1
	signs := strings.Count(digits, ".") + strings.Count(digits, ",")
	switch {
	case !strings.ContainsAny(digits, "0123456789"):
		return s.refuseStart()
	case strings.Contains(strings.ReplaceAll(digits, ",", "."), ".."):
		return s.d.refuse("quantity.not_number", s.shown)
	case signs > 1 || strings.ContainsAny(digits, " '_"):
		return s.d.refuse("quantity.grouping", s.shown, "Try", candidate(s.before()+sign+ungroup(digits)+rest))
	case !isDigit(digits[last]):
		return s.d.refuse("quantity.bare_point", s.shown, "Try", candidate(s.before()+sign+digits[:last]+rest))
	}
	return nil
}

// ungroup guesses the number that was meant, to propose it: the last decimal
// sign counts if it is of another kind than those before or stands alone.
func ungroup(digits string) string {
	plain := strings.NewReplacer(" ", "", "'", "", "_", "").Replace(digits)
	last := strings.LastIndexAny(plain, ".,")
	if last < 0 {
		return plain
	}
	whole, decimals := plain[:last], plain[last+1:]
	if strings.Contains(whole, plain[last:last+1]) {
		whole, decimals = whole+decimals, ""
	}
	whole = strings.NewReplacer(".", "", ",", "").Replace(whole)
	if decimals == "" {
		return whole
	}
	return whole + "." + decimals
}

// refuseStart says what is wrong when an entry does not begin with a number.
func (s *scanner) refuseStart() *Refusal {
	_, known := ownerOf(s.rest)
	switch codes := ambiguousSign(s.rest); {
	case s.d.money && codes != "":
		return s.d.refuse("quantity.ambiguous_currency", s.shown, "Codes", codes, "Try", proposal(s.d.example))
	case known:
		return s.d.refuse("quantity.no_number", s.shown)
	case strings.ContainsAny(s.rest, "<>≤≥~≈"):
		return s.d.refuse("quantity.limit", s.shown)
	case strings.HasPrefix(s.rest, "("):
		return s.d.refuse("quantity.brackets", s.shown)
	case strings.HasPrefix(s.rest, "±"):
		return s.d.refuse("quantity.spread_alone", s.shown)
	}
	return s.d.refuse("quantity.not_number", s.shown)
}

// exponentRun measures an exponent such as "e-3".
func exponentRun(text string) int {
	if text == "" || text[0] != 'e' && text[0] != 'E' {
		return 0
	}
	i := 1
	if i < len(text) && (text[i] == '+' || text[i] == '-') {
		i++
	}
	first := i
	for i < len(text) && isDigit(text[i]) {
		i++
	}
	if i == first {
		return 0
	}
	return i
}

// checkAfter refuses numbers in notations that are not read.
func (s *scanner) checkAfter(digits, rest string) *Refusal {
	tight := strings.TrimPrefix(rest, " ")
	switch {
	case rest == "":
		return nil
	case digits == "0" && len(rest) > 1 && (rest[0] == 'x' || rest[0] == 'X') && rest[1] != ' ':
		return s.d.refuse("quantity.not_number", s.shown) // hexadecimal
	case len(tight) > 1 && tight[0] == '+' && startsNumber(tight[1:]):
		return s.d.refuse("quantity.one_sided", s.shown)
	case strings.HasPrefix(rest, "("):
		return s.d.refuse("quantity.brackets", s.shown)
	case len(tight) > 1 && tight[0] == '/' && isDigit(tight[1]):
		return s.refuseFraction(digits, tight[1:])
	case strings.ContainsAny(rest[:1], "0123456789.,_"):
		return s.d.refuse("quantity.not_number", s.shown)
	}
	for _, times := range []string{"×", "x", "·", "*"} {
		after, found := strings.CutPrefix(tight, times)
		after = strings.TrimPrefix(after, " ")
		switch {
		case found && strings.HasPrefix(after, "10"):
			return s.d.refuse("quantity.power_of_ten", s.shown)
		case found && after != "" && isDigit(after[0]):
			return s.d.refuse("quantity.not_number", s.shown)
		}
	}
	return nil
}

// refuseFraction proposes the decimal number for one such as 1/16.
func (s *scanner) refuseFraction(above, rest string) *Refusal {
	below := rest[:s.digitRun(rest)]
	quotient := parseNumber(above) / parseNumber(below)
	decimal := strconv.FormatFloat(quotient, 'g', 6, 64)
	return s.d.refuse("quantity.vulgar_fraction", s.shown, "Try", candidate(s.before()+decimal+rest[len(below):]))
}

// parseNumber reads a number that the scanner has let pass. It is infinite
// when the text is beyond what a float64 holds.
func parseNumber(text string) float64 {
	value, _ := strconv.ParseFloat(text, 64)
	return value
}
