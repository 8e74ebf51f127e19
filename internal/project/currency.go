package project

import (
	"encoding"
	"reflect"
	"strings"
)

// SetCurrency gives every price of the project another currency. No exchange
// rate is applied: the numbers stay. A code that is no ISO 4217 code is Broken,
// and nothing changes then.
func (p *Project) SetCurrency(code string) error {
	old := p.Currency
	renamed := Clone(*p)
	renamed.Currency = code
	if b := checkCurrency(&renamed); b != nil {
		return b
	}
	err := walkProject(&renamed, func(n *node, v reflect.Value, _ path) error {
		if n.kind != isQuantity {
			return nil
		}
		q := v.Addr().Interface().(anyQuantity)
		if q.Currency() != old || old == "" {
			return nil
		}
		text := strings.Replace(q.String(), old, code, 1)
		return v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text))
	})
	if err != nil {
		return err
	}
	*p = renamed
	return nil
}
