package project

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// shared finds a place where two values share memory that can change. Types
// that it does not know how to compare are a finding too.
func shared(a, b reflect.Value, at string) string {
	switch a.Kind() {
	case reflect.Bool, reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Float64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.String:
		return ""
	case reflect.Struct:
		for i := range a.NumField() {
			if found := shared(a.Field(i), b.Field(i), at+"."+a.Type().Field(i).Name); found != "" {
				return found
			}
		}
		return ""
	case reflect.Array:
		if a.Len() == 0 {
			return ""
		}
	case reflect.Slice:
		if a.Len() == 0 {
			return at + " is empty: nothing was checked"
		}
		if a.Pointer() == b.Pointer() {
			return at + " is shared"
		}
		if a.Type().Elem().Kind() == reflect.Uint8 {
			return ""
		}
		for i := range a.Len() {
			if found := shared(a.Index(i), b.Index(i), fmt.Sprintf("%s[%d]", at, i)); found != "" {
				return found
			}
		}
		return ""
	}
	return at + " is a " + a.Kind().String()
}

// filled returns a project in which no list is empty.
func filled(t testing.TB) Project {
	p, _ := withExtras(t)
	bench := slices.IndexFunc(p.Materials, func(m material.Material) bool { return len(m.Powder.Sieving.Sieves) > 0 })
	require.GreaterOrEqual(t, bench, 0)
	for i := range p.Materials {
		if len(p.Materials[i].Sources) == 0 {
			p.Materials[i].Sources = Clone(p).Materials[0].Sources
		}
		if i != bench {
			p.Materials[i].Powder = Clone(p).Materials[bench].Powder
		}
	}
	return p
}

func TestCloneSharesNoMemory(t *testing.T) {
	p := filled(t)
	c := Clone(p)
	assert.Equal(t, p, c)
	assert.Empty(t, shared(reflect.ValueOf(p), reflect.ValueOf(c), "Project"))
}

func TestSharedFindsWhatItMust(t *testing.T) {
	p := filled(t)
	find := func(change func(*Project)) string {
		c := Clone(p)
		change(&c)
		return shared(reflect.ValueOf(p), reflect.ValueOf(c), "Project")
	}
	assert.Contains(t, find(func(c *Project) { c.Blends[1].Parts = p.Blends[1].Parts }), ".Parts is shared")
	assert.Contains(t, find(func(c *Project) {
		c.Materials[1].Powder.Drying.Runs[0].Readings[0].Masses = p.Materials[1].Powder.Drying.Runs[0].Readings[0].Masses
	}), ".Masses is shared")
	assert.Contains(t, find(func(c *Project) { c.Cost.Extra = p.Cost.Extra }), ".Cost.Extra is shared")
	assert.Contains(t, find(func(c *Project) { c.Materials[0].Sources[1].Extra = p.Materials[0].Sources[1].Extra }), "Extra is shared")
	for _, v := range []any{struct{ A *int }{}, struct{ A map[int]int }{}, struct{ A any }{}, struct{ A func() }{}, struct{ A chan int }{}} {
		assert.NotEmpty(t, shared(reflect.ValueOf(v), reflect.ValueOf(v), ""))
	}
}

func TestCloneKeepsNilAndEmptyApart(t *testing.T) {
	c := Clone(New("EUR"))
	assert.Equal(t, New("EUR"), c)
}

func TestSizeCountsTextsListsAndExtras(t *testing.T) {
	p := New("EUR")
	empty := sizeOf(&p)
	assert.GreaterOrEqual(t, empty, int(reflect.TypeFor[Project]().Size()))
	p.Notes = string(make([]byte, 1000))
	assert.Equal(t, empty+1000, sizeOf(&p))
	p.Spool.Readings = make([]quantity.Of[quantity.Length], 100)
	assert.Equal(t, empty+1000+100*int(reflect.TypeFor[quantity.Of[quantity.Length]]().Size()), sizeOf(&p))
	p.Spool.Readings = nil
	p.Extra = make([]byte, 300)
	assert.Equal(t, empty+1300, sizeOf(&p))
	p.Extra = nil
	p.Blends = []Blend{{Notes: "12345"}}
	assert.Equal(t, empty+1005+int(reflect.TypeFor[Blend]().Size()), sizeOf(&p))
}

// manyReadings returns a project of 10,000 rows.
func manyReadings(t testing.TB) Project {
	p := full(t)
	p.Spool.Readings = nil
	for i := range 10_000 {
		text := fmt.Sprintf("1.%03d mm", 700+i%100)
		p.Spool.Readings = append(p.Spool.Readings, quantity.MustParse[quantity.Length](text))
	}
	require.NoError(t, Validate(&p))
	return p
}

// BenchmarkClone has a bar of 2 ms.
func BenchmarkClone(b *testing.B) {
	p := manyReadings(b)
	b.ReportAllocs()
	for b.Loop() {
		p = Clone(p)
	}
}

func BenchmarkValidate(b *testing.B) {
	p := manyReadings(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := Validate(&p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEdit(b *testing.B) {
	h := NewHistory(manyReadings(b), 64<<20)
	spools := 0
	b.ReportAllocs()
	for b.Loop() {
		spools = (spools + 1) % 100
		err := h.Edit("Change spools", "", func(p *Project) error { p.Batch.Spools = spools; return nil })
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEncode(b *testing.B) {
	p := manyReadings(b)
	for b.Loop() {
		if _, err := Encode(p); err != nil {
			b.Fatal(err)
		}
	}
}
