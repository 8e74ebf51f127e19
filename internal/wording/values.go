package wording

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// ID as a value stands for the text with that ID, as in "{{.Figure}} is not
// known yet" with Figure: wording.ID("figure.density").
type ID string

// messenger is what refusals and notes have in common: an ID and its values.
type messenger interface {
	Message() (id string, values map[string]any)
}

// pretty is what quantities have: how they look in the window.
type pretty interface {
	Pretty(decimalComma bool) string
}

// Error renders an error. The outermost one in the chain that has a Message is
// told in words; one without, from the system, says its own text.
func (w *Words) Error(err error) string {
	if err == nil {
		return ""
	}
	var m messenger
	if errors.As(err, &m) {
		return w.Say(m.Message())
	}
	return err.Error()
}

// show renders one value of a template.
func (w *Words) show(value any) string {
	switch v := value.(type) {
	case Number:
		return w.quantity(v)
	case ID:
		return w.Text(string(v))
	case messenger:
		return w.Say(v.Message())
	case error:
		return w.Error(v)
	case pretty:
		return v.Pretty(w.comma)
	}
	v := reflect.ValueOf(value)
	switch v.Kind() {
	case reflect.String:
		return v.String()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return strings.Replace(strconv.FormatInt(v.Int(), 10), "-", minus, 1)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return strconv.FormatUint(v.Uint(), 10)
	case reflect.Slice:
		items := make([]string, v.Len())
		for i := range items {
			items[i] = w.show(v.Index(i).Interface())
		}
		return strings.Join(items, ", ")
	default:
		panic(fmt.Sprintf("wording: a value of type %T has no digits and unit: use wording.Number", value))
	}
}
