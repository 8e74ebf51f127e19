package quantity

import (
	"slices"
	"strings"

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

// isCurrency reports whether text is an ISO 4217 code of a currency.
func isCurrency(text string) bool {
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
		return nil, "", d.refuse("quantity.ambiguous_currency", e.shown, "Codes", codes, "Try",
			d.try(strings.Join([]string{e.numbers(), codes[:3] + d.units[0].spellings[0]}, " ")))
	}
	if u, ok := d.lookUp(code + per); ok {
		return u, code + per, nil
	}
	switch owner, known := ownerOf(e.unit); {
	case code == "" || strings.HasPrefix(code, "per "):
		return nil, "", d.refuse("quantity.no_currency", e.shown)
	case isCurrency(code):
		refused := d.refuse("quantity.unknown_unit", e.shown, "Unit", e.unit)
		if known && owner != d {
			refused = d.refuse("quantity.wrong_unit", e.shown, "Unit", e.unit)
		}
		refused.Values["Units"] = join(d.accepts(code))
		return nil, "", refused
	case known:
		return nil, "", d.refuse("quantity.wrong_unit", e.shown, "Unit", e.unit)
	case isCurrency(strings.ToUpper(code)):
		near := strings.ToUpper(code) + per
		return nil, "", d.refuse("quantity.near_unit", e.shown, "Unit", e.unit, "Near", near, "Try", d.try(e.numbers()+" "+near))
	case isCode(code):
		return nil, "", d.refuse("quantity.unknown_currency", e.shown, "Code", code)
	}
	return nil, "", d.refuse("quantity.no_currency", e.shown)
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
