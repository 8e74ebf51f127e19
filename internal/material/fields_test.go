package material

import (
	"reflect"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// quantityMembers returns the JSON names of the quantities of Material.
func quantityMembers() []string {
	var members []string
	for _, f := range reflect.VisibleFields(reflect.TypeFor[Material]()) {
		if strings.HasPrefix(f.Type.String(), "quantity.Of[") {
			member, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			members = append(members, member)
		}
	}
	return members
}

func TestFieldsCoverEveryQuantityOfMaterial(t *testing.T) {
	var listed []string
	for _, f := range Fields() {
		listed = append(listed, f.Member)
		assert.True(t, f.For(Polymer) || f.For(Filler) || f.For(Additive), f.Member)
	}
	assert.Equal(t, quantityMembers(), listed, "in the order of the struct")
}

// entry returns a text that the property accepts.
func entry(f Field) string {
	units := f.Accepts()
	if len(units) == 0 {
		return "7"
	}
	return "7 " + units[0]
}

func TestFieldReadsAndWritesItsOwnMember(t *testing.T) {
	for _, f := range Fields() {
		var m Material
		require.NoError(t, f.Set(&m, entry(f)), f.Member)
		content, err := json.Marshal(&m)
		require.NoError(t, err)
		var members map[string]any
		require.NoError(t, json.Unmarshal(content, &members))
		assert.Equal(t, f.Text(&m), members[f.Member], f.Member)
		assert.Len(t, members, 4, "%s: id, name, kind and this one only", f.Member)
		assert.True(t, f.Given(&m))
		assert.Contains(t, f.Pretty(&m, true), "7", f.Member)
		e, ok := f.Estimate(&m)
		assert.True(t, ok)
		assert.Positive(t, e.Value, f.Member)

		require.NoError(t, f.Set(&m, " "), "blank is not given")
		assert.False(t, f.Given(&m), f.Member)
		_, ok = f.Estimate(&m)
		assert.False(t, ok)
	}
}

func TestFieldsHaveNamesInTheCatalogue(t *testing.T) {
	w := wording.New("en")
	for _, f := range Fields() {
		assert.True(t, w.Has(f.Label), f.Label)
		assert.True(t, w.Has(f.Help), f.Help)
	}
}

func TestSetMakesTheValueTheMakers(t *testing.T) {
	density, ok := FieldOf("density")
	require.True(t, ok)
	fresh := func() Material {
		m, ok := Lookup("wood-flour")
		require.True(t, ok)
		return m
	}

	for _, same := range []string{"1.40-1.50 g/cm3", " 1.40-1.50 g/cm3 ", "1,40–1,50 g/cm³", "1.40 to 1.50 g/cm3"} {
		m := fresh()
		require.NoError(t, density.Set(&m, same))
		_, ok := m.SourceOf("density")
		assert.True(t, ok, "%q says what was there: the source stays", same)
		assert.Equal(t, "1.40-1.50 g/cm3", density.Text(&m))
		assert.Equal(t, "g/cm3", density.Unit(&m))
	}

	m := fresh()
	before := fresh()
	var refusal *quantity.Refusal
	require.ErrorAs(t, density.Set(&m, "1.45"), &refusal)
	assert.Equal(t, before, m, "a refused text changes nothing")

	sources := m.Sources
	require.NoError(t, density.Set(&m, "1.43 ± 0.02 g/cm3"))
	_, ok = m.SourceOf("density")
	assert.False(t, ok, "the value is the maker's now")
	assert.Len(t, m.Sources, len(before.Sources)-1)
	assert.Equal(t, before.Sources, sources, "an earlier state of the document keeps its sources")
	s, ok := m.SourceOf("onset")
	assert.True(t, ok)
	assert.Equal(t, "onset", s.Field)
}

func TestFieldsForAKind(t *testing.T) {
	members := func(kind Kind) string {
		var list []string
		for _, f := range FieldsFor(kind) {
			list = append(list, f.Member)
		}
		return strings.Join(list, " ")
	}
	assert.Contains(t, members(Polymer), "melt_density")
	assert.NotContains(t, members(Filler), "melt_density")
	assert.Contains(t, members(Filler), "packing_limit")
	assert.NotContains(t, members(Additive), "packing_limit")
	_, ok := FieldOf("colour")
	assert.False(t, ok)
}
