package quantity

import (
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/currency"
)

// exampleCode stands in the lists of accepted units when an entry names no
// currency of its own.
const exampleCode = "EUR"

// symbols are the signs that stand for one currency alone.
var symbols = map[string]string{"€": "EUR", "£": "GBP"}

// ambiguous are the signs that several currencies share, with the commoner codes.
var ambiguous = map[string]string{"$": "USD, CAD, AUD", "¥": "JPY, CNY", "￥": "JPY, CNY"}

// newerCodes came into ISO 4217 after the list that golang.org/x/text/currency
// is generated from (CLDR 32). From memory, confirm.
var newerCodes = []string{"SLE", "UYW", "VED", "VES", "XCG", "ZWG"}

// notMoney are codes that ISO 4217 sets aside for tests and for no currency.
var notMoney = []string{"XTS", "XXX"}

// isCode reports whether text has the shape of an ISO 4217 code.
func isCode(text string) bool {
	return len(text) == 3 && strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// IsCurrency reports whether text is an ISO 4217 code of a currency.
func IsCurrency(text string) bool {
	if !isCode(text) || slices.Contains(notMoney, text) {
		return false
	}
	_, err := currency.ParseISO(text)
	return err == nil || slices.Contains(newerCodes, text)
}

// splitMoney divides "EUR/kg" into the code and "/kg"; a sign that stands for
// one currency comes back as its code.
func splitMoney(text string) (code, per string) {
	code, per = text, ""
	if i := strings.IndexByte(text, '/'); i >= 0 {
		code, per = text[:i], text[i:]
	}
	if known, ok := symbols[code]; ok {
		code = known
	}
	return code, per
}

// prettyMoney prints the unit with the sign of its currency where it has one.
func prettyMoney(code, per string) string {
	for sign, known := range symbols {
		if known == code {
			return sign + per
		}
	}
	return code + per
}

// moneyUnit finds the unit of a price and spells it with the ISO code.
func (d *dimension) moneyUnit(e *entry) (*unit, string, *Refusal) {
	code, per := splitMoney(e.unit)
	if codes := ambiguousSign(e.unit); codes != "" {
		return nil, "", d.refuse("quantity.ambiguous_currency", e.shown, "Codes", codes, "Try", candidate(e.numbers()+" "+codes[:3]+per))
	}
	if u, ok := d.lookUp(code + per); ok {
		return u, code + per, nil
	}
	return nil, "", d.refuseMoney(e, code, per)
}

// refuseMoney says what is wrong with the unit of a price.
func (d *dimension) refuseMoney(e *entry, code, per string) *Refusal {
	if near := d.nearMoney(code, per); near != "" {
		return d.refuse("quantity.near_unit", e.shown, "Unit", e.unit, "Near", near, "Try", candidate(e.numbers()+" "+near))
	}
	switch {
	case IsCurrency(code):
		id := "quantity.unknown_unit"
		if _, known := ownerOf(e.unit); known {
			id = "quantity.wrong_unit"
		}
		units := d.accepts(code)
		return d.refuse(id, e.shown, "Unit", e.unit, "Units", join(units), "Example", candidate(e.numbers()+" "+units[0]))
	case isCode(code):
		return d.refuse("quantity.unknown_currency", e.shown, "Code", code)
	}
	return d.refuse("quantity.no_currency", e.shown)
}

// nearMoney finds the unit that differs only by capital letters.
func (d *dimension) nearMoney(code, per string) string {
	if d.bySpelling[per] == nil {
		if per = d.near(per); per == "" {
			return ""
		}
	}
	if code = strings.ToUpper(code); !IsCurrency(code) {
		return ""
	}
	return code + per
}

// startsWithSign tells whether a text begins with the sign of a currency.
func startsWithSign(text string) bool {
	sign, _ := utf8.DecodeRuneInString(text)
	return symbols[string(sign)] != "" || ambiguous[string(sign)] != ""
}

// ambiguousSign names the codes that a sign in the unit may stand for.
func ambiguousSign(text string) string {
	for sign, codes := range ambiguous {
		if strings.Contains(text, sign) {
			return codes
		}
	}
	return ""
}
