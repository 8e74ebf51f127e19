package project

import (
	"strings"

	"fillwright/internal/quantity"
)

// balanceText is how the file and the entries spell a balance.
const balanceText = "balance"

// Amount is how much of one material goes into a blend: a content with its
// basis (wt% of the whole, vol% of the whole, or phr on the polymer), or the
// balance that fills the whole up. The zero Amount is not given. Amounts are
// comparable.
type Amount struct {
	balance bool
	content quantity.Of[quantity.Content]
}

// Balance returns the amount that fills the whole up.
func Balance() Amount { return Amount{balance: true} }

// Content returns an amount that states its content.
func Content(content quantity.Of[quantity.Content]) Amount { return Amount{content: content} }

// ParseAmount reads "balance" or a content such as "10 wt%". A blank text is an
// amount that was not given. The refusal is that of quantity.
func ParseAmount(text string) (Amount, error) {
	if strings.EqualFold(strings.TrimSpace(text), balanceText) {
		return Balance(), nil
	}
	content, err := quantity.Parse[quantity.Content](text)
	if err != nil {
		return Amount{}, err
	}
	return Content(content), nil
}

// Balance reports whether the amount fills the whole up.
func (a Amount) Balance() bool { return a.balance }

// Content returns the stated content; it is not given for a balance.
func (a Amount) Content() quantity.Of[quantity.Content] { return a.content }

// Given reports whether there is an amount at all.
func (a Amount) Given() bool { return a.balance || a.content.Given() }

// IsZero reports whether there is no amount; the file then omits it.
func (a Amount) IsZero() bool { return !a.Given() }

// String is the file form. ParseAmount(a.String()) equals a.
func (a Amount) String() string {
	if a.balance {
		return balanceText
	}
	return a.content.String()
}

// Pretty is the form for the window.
func (a Amount) Pretty(decimalComma bool) string {
	if a.balance {
		return balanceText
	}
	return a.content.Pretty(decimalComma)
}

// Estimate returns the content as a fraction; a balance has none.
func (a Amount) Estimate() (quantity.Estimate, bool) { return a.content.Estimate() }

// Unit returns the basis as entered: "wt%", "vol%" or "phr"; "" for a balance.
func (a Amount) Unit() string { return a.content.Unit() }

// Currency is always empty; it makes an Amount look like every quantity.
func (a Amount) Currency() string { return "" }

// MarshalText writes the file form.
func (a Amount) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads the file form.
func (a *Amount) UnmarshalText(text []byte) error {
	read, err := ParseAmount(string(text))
	if err != nil {
		return err
	}
	*a = read
	return nil
}
