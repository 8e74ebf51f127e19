package project

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryObjectKeepsUnknownMembers(t *testing.T) {
	objects := 0
	everyNode(document(), func(n *node) {
		if n.kind != isObject {
			return
		}
		objects++
		field, ok := n.typ.FieldByName("Extra")
		require.True(t, ok, "%s", n.typ)
		assert.Equal(t, reflect.TypeFor[jsontext.Value](), field.Type)
		assert.Equal(t, `json:",embed"`, string(field.Tag), "%s", n.typ)
	})
	assert.Equal(t, 53, objects, "project, material, source, regrind, blend, part, spool, batch, cost, melt, print, plan; "+
		"evenness, melt-flow test and its row, line, machine, output, spreading, changes, purge sample, change, run, zone, event; "+
		"powder, drying, its run and reading, storage, preparation, step, sieving, sieve, clogging, control, inspection, nozzle run, grain; "+
		"reel, bend and its test, made spool, print taken, trace, its column, summary, lump and wave; strength and its point, loading and its effort")
}

// What the document must never hold makes the program stop at its first use,
// and so fails every test of this package.
func TestDescribeRefusesTypes(t *testing.T) {
	type extra = jsontext.Value
	for name, v := range map[string]any{
		"pointer": struct {
			A     *int  `json:"a"`
			Extra extra `json:",embed"`
		}{},
		"map": struct {
			A     map[string]int `json:"a"`
			Extra extra          `json:",embed"`
		}{},
		"interface": struct {
			A     any   `json:"a"`
			Extra extra `json:",embed"`
		}{},
		"function": struct {
			A     func() `json:"a"`
			Extra extra  `json:",embed"`
		}{},
		"channel": struct {
			A     chan int `json:"a"`
			Extra extra    `json:",embed"`
		}{},
		"float": struct {
			A     float64 `json:"a"`
			Extra extra   `json:",embed"`
		}{},
		"array": struct {
			A     [2]bool `json:"a"`
			Extra extra   `json:",embed"`
		}{},
		"no extra": struct {
			A bool `json:"a"`
		}{},
		"wrong tag": struct {
			Extra extra `json:",unknown"`
		}{},
		"no name": struct {
			A     bool
			Extra extra `json:",embed"`
		}{},
		"no rule": struct {
			A     string `json:"no_rule"`
			Extra extra  `json:",embed"`
		}{},
		"deep": struct {
			A []struct {
				B *int `json:"b"`
			} `json:"materials"`
			Extra extra `json:",embed"`
		}{},
	} {
		assert.Panics(t, func() { describe(reflect.TypeOf(v), "") }, name)
	}
	fine := struct {
		A     bool  `json:"a"`
		Extra extra `json:",embed"`
	}{}
	assert.NotPanics(t, func() { describe(reflect.TypeOf(fine), "") })
}

// A rule for a place that is not there would be a rule that was meant for another.
func TestEveryRuleHasItsPlace(t *testing.T) {
	want := map[string]bool{}
	for _, keys := range [][]string{
		slices.Collect(maps.Keys(quantityLimits)), slices.Collect(maps.Keys(wholeLimits)),
		slices.Collect(maps.Keys(textRules)), slices.Collect(maps.Keys(listLimits)),
	} {
		for _, key := range keys {
			assert.False(t, want[key], "%s stands in two tables", key)
			want[key] = true
		}
	}
	everyNode(document(), func(n *node) { delete(want, n.pattern) })
	assert.Empty(t, want)
}

func TestFixtureGivesEveryMember(t *testing.T) {
	p := full(t)
	missing := map[string]bool{}
	everyNode(document(), func(n *node) { missing[n.pattern] = true })
	require.NoError(t, walkProject(&p, func(n *node, v reflect.Value, _ path) error {
		if !v.IsZero() {
			delete(missing, n.pattern)
		}
		return nil
	}))
	assert.Empty(t, missing)
}

func TestPointersAreThoseOfTheFile(t *testing.T) {
	p := full(t)
	var all []string
	require.NoError(t, walkProject(&p, func(_ *node, _ reflect.Value, at path) error {
		all = append(all, at.pointer())
		return nil
	}))
	for _, want := range []string{
		"", "/currency", MaterialPointer(1, "density"), BlendPointer(0, "id"), PartPointer(1, 2, "amount"),
		"/spool/readings/2", "/materials/0/sources/1/field",
	} {
		assert.Contains(t, all, want)
	}
	assert.Equal(t, len(all), len(slices.Compact(slices.Sorted(slices.Values(all)))), "each pointer once")
	for _, at := range all {
		assert.NotNil(t, document().find(at), at)
	}
	assert.Nil(t, document().find("/spool/colour"))
	assert.Nil(t, document().find("/title/0"))
}
