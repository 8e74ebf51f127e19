package bench

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

// shape is where numbers lie within values of a type; nil where there can be none. Some ten
// thousand sheets are walked through, so that a type is looked at once and no value twice.
type shape struct {
	kind   reflect.Kind
	fields []fieldShape // of a struct, those below which a number can lie
	elem   *shape       // of a slice, an array or a pointer
}

type fieldShape struct {
	index int
	name  string
	*shape
}

// shapes are those of the types that were met, by one goroutine.
type shapes map[reflect.Type]*shape

func (all shapes) of(t reflect.Type) *shape {
	if s, known := all[t]; known {
		return s
	}
	s := &shape{kind: t.Kind()}
	all[t] = s // what leads back to itself may hold a number
	switch s.kind {
	case reflect.Float32, reflect.Float64, reflect.Map, reflect.Interface: // the last two may hold anything
		return s
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			if f.Name == "Model" { // holds NaN for what was not given, and is not shown
				continue
			}
			if below := all.of(f.Type); below != nil {
				s.fields = append(s.fields, fieldShape{i, f.Name, below})
			}
		}
	case reflect.Slice, reflect.Array, reflect.Pointer:
		s.elem = all.of(t.Elem())
	}
	if s.fields == nil && s.elem == nil {
		s = nil
	}
	all[t] = s
	return s
}

// odd leads to the first number that is none.
func (all shapes) odd(s *shape, v reflect.Value) (path string, found bool) {
	if s == nil {
		return "", false
	}
	switch s.kind {
	case reflect.Float32, reflect.Float64:
		f := v.Float()
		return "", math.IsNaN(f) || math.IsInf(f, 0)
	case reflect.Struct:
		for _, f := range s.fields {
			if path, found := all.odd(f.shape, v.Field(f.index)); found {
				return "." + f.name + path, true
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if path, found := all.odd(s.elem, v.Index(i)); found {
				return "[]" + path, true
			}
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			value := v.MapIndex(key)
			if path, found := all.odd(all.of(value.Type()), value); found {
				return "." + key.String() + path, true
			}
		}
	case reflect.Interface:
		if !v.IsNil() {
			return all.odd(all.of(v.Elem().Type()), v.Elem())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return all.odd(s.elem, v.Elem())
		}
	}
	return "", false
}

// checkFinite walks through everything that can be shown.
func (all shapes) checkFinite(t *testing.T, s *Sheet, about string) {
	t.Helper()
	v := reflect.ValueOf(s).Elem()
	path, found := all.odd(all.of(v.Type()), v)
	assert.False(t, found, "%s: a number that is none: %s", about, path)
}

// No number that is none escapes, wherever in a sheet it lies.
func TestNumbersThatAreNoneAreFound(t *testing.T) {
	p := sample(t, oliveStone)
	for where, spoil := range map[string]func(s *Sheet){
		".Blends[].Results[].Low":       func(s *Sheet) { s.Blends[2].Results[MeltFlow].Low = math.NaN() },
		".Powders[].Feeds[].Value.High": func(s *Sheet) { s.Powders[0].Feeds[0].Value.High = math.Inf(1) },
		".Blends[].Notes[].Values.percent[]": func(s *Sheet) {
			notes := s.Blends[2].Notes
			notes[len(notes)-1].Values = map[string]any{"percent": []float64{1, math.Inf(-1)}}
		},
	} {
		s := Evaluate(&p)
		all := shapes{}
		_, found := all.odd(all.of(reflect.TypeFor[Sheet]()), reflect.ValueOf(s).Elem())
		assert.False(t, found, "a sheet as it is")
		spoil(s)
		path, found := all.odd(all.of(reflect.TypeFor[Sheet]()), reflect.ValueOf(s).Elem())
		assert.True(t, found, where)
		assert.Equal(t, where, path)
	}
}
