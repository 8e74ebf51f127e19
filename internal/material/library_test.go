package material

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
)

func library(t *testing.T) []Material {
	t.Helper()
	materials, err := Library()
	require.NoError(t, err)
	require.NotEmpty(t, materials)
	return materials
}

func TestLibraryNamesEveryMaterialOnce(t *testing.T) {
	classes := map[Kind][]Class{
		Polymer:  {PLA, PETG, ABS, PA6, PA12, PP, TPU, PHB, PHBV, PBAT},
		Filler:   {Organic, Shell, Mineral, Fibre, Metal, Hollow},
		Additive: {VegetableOil, MineralOil, Other},
	}
	ids, names, found := map[ID]bool{}, map[string]bool{}, map[Class]bool{}
	for _, m := range library(t) {
		assert.Regexp(t, `^[a-z0-9]+(-[a-z0-9]+)*$`, string(m.ID))
		assert.False(t, ids[m.ID], m.ID)
		assert.False(t, names[m.Name], m.Name)
		assert.Contains(t, classes[m.Kind], m.Class, m.ID)
		ids[m.ID], names[m.Name], found[m.Class] = true, true, true
	}
	for _, class := range append(classes[Polymer], classes[Filler]...) {
		assert.True(t, found[class], "nothing of class %s", class)
	}
	assert.False(t, found[PVC] || found[POM], "neither may run in such a line")
}

func TestEveryLibraryValueHasItsSource(t *testing.T) {
	for _, m := range library(t) {
		named := map[string]int{}
		for _, s := range m.Sources {
			named[s.Field]++
			f, ok := FieldOf(s.Field)
			require.True(t, ok, "%s: no property %q", m.ID, s.Field)
			assert.True(t, f.Given(&m), "%s: a source for %s, which has no value", m.ID, s.Field)
			assert.True(t, f.For(m.Kind), "%s: a %s has no %s", m.ID, m.Kind, s.Field)
			assert.Equal(t, strings.HasSuffix(s.Text, "from memory of the literature, confirm"), s.Confirm, "%s %s", m.ID, s.Field)
			assert.Greater(t, len(s.Text), 10, "%s %s", m.ID, s.Field)
		}
		for _, f := range Fields() {
			if f.Given(&m) {
				assert.Equal(t, 1, named[f.Member], "%s %s: one source for each value", m.ID, f.Member)
			}
		}
	}
}

func TestLibraryHoldsNothingOfTheMakersOwn(t *testing.T) {
	for _, m := range library(t) {
		assert.False(t, m.Price.Given(), "%s: a price", m.ID)
		assert.False(t, m.Moisture.Given(), "%s: a moisture that nobody measured", m.ID)
		assert.False(t, m.Calcined, m.ID)
	}
}

func TestLibraryGivesWhatTheModelsNeed(t *testing.T) {
	needs := map[Kind]string{
		Polymer:  "density melt_density melt_range moisture_limit modulus strength elongation glass_transition heat_capacity conductivity",
		Filler:   "density packing_limit aspect_ratio modulus heat_capacity conductivity",
		Additive: "density",
	}
	for _, m := range library(t) {
		for member := range strings.FieldsSeq(needs[m.Kind]) {
			f, ok := FieldOf(member)
			require.True(t, ok, member)
			assert.True(t, f.Given(&m), "%s has no %s", m.ID, member)
		}
		if m.Class == Organic || m.Class == Shell {
			assert.True(t, m.Onset.Given(), "%s burns: onset", m.ID)
		}
		assert.Equal(t, m.Class == Organic, m.Kind == Filler && m.MoistureLimit.Given(), "%s: moisture limit", m.ID)
	}
}

// TestLibraryReferenceValues holds the library against values named beside
// them; where a range was given the table has its ends.
func TestLibraryReferenceValues(t *testing.T) {
	const gPerCm3, gpa, mpa, celsius = 1e3, 1e9, 1e6, 273.15
	for _, c := range []struct {
		id                  ID
		member              string
		low, value, high    float64 // SI
		source, explanation string
	}{
		{id: "pla", member: "density", low: 1.23 * gPerCm3, value: 1.24 * gPerCm3, high: 1.25 * gPerCm3, source: "data sheet of an extrusion grade: 1.24"},
		{id: "pla", member: "strength", low: 53 * mpa, value: 54 * mpa, high: 55 * mpa, source: "data sheet 53; Kariz 2018: 55"},
		{id: "pla", member: "melting", low: 145 + celsius, value: 152.5 + celsius, high: 160 + celsius, source: "data sheet 145-160 °C"},
		{id: "pla", member: "moisture_limit", low: 250e-6, value: 250e-6, high: 250e-6, source: "data sheets: 250 ppm"},
		{id: "pla", member: "melt_density", low: 1.06 * gPerCm3, value: 1.08 * gPerCm3, high: 1.10 * gPerCm3, source: "from memory, confirm: 1.08"},
		{id: "pla", member: "melt_flow", low: 1e-5, value: 4.0 / 3 * 1e-5, high: 5.0 / 3 * 1e-5, source: "data sheets of two extrusion grades: 6 and 10 g/10 min at 210 °C, 2.16 kg"},
		{id: "pbat", member: "melt_flow", low: 0.45e-5, value: 3.85 / 6 * 1e-5, high: 5.0 / 6 * 1e-5, source: "Gigante 2020: 2.7-5 g/10 min at 190 °C, 2.16 kg"},
		{id: "pp", member: "modulus", low: .6 * gpa, value: 1.15 * gpa, high: 1.7 * gpa, source: "PMC4456503 table 3: 0.6-1.7 GPa"},
		{id: "pp", member: "elongation", low: 4, value: 6.5, high: 9, source: "PMC4456503 table 3: 400-900 %"},
		{id: "phbv", member: "strength", low: 37 * mpa, value: 37 * mpa, high: 37 * mpa, source: "Foods 2024, 950, table 1: 37 MPa"},
		{id: "phbv", member: "melting", low: 170.6 + celsius, value: 170.9 + celsius, high: 171.2 + celsius, source: "Foods 2024, 950, table 1: 170.6-171.2 °C"},
		{id: "pbat", member: "density", low: 1.25 * gPerCm3, value: 1.26 * gPerCm3, high: 1.27 * gPerCm3, source: "Gigante 2020: 1.26"},
		{id: "spent-coffee-grounds", member: "oil_content", low: .08, value: .12, high: .16, source: "10.98 % and 14.7 % lie within"},
		{id: "spent-grain", member: "onset", low: 215 + celsius, value: 215 + celsius, high: 215 + celsius, source: "Hejna 2021: above 215 °C"},
		{id: "wood-flour", member: "density", low: 1.40 * gPerCm3, value: 1.45 * gPerCm3, high: 1.50 * gPerCm3, source: "from memory, confirm: 1.45 (1.40-1.50)"},
		{id: "wood-flour", member: "packing_limit", low: .45, value: .50, high: .55, source: "from memory, confirm: 0.45-0.55 for wood flour"},
		{id: "calcium-carbonate", member: "density", low: 2.70 * gPerCm3, value: 2.71 * gPerCm3, high: 2.72 * gPerCm3, source: "density of calcite 2.71"},
		{id: "copper", member: "density", low: 8.96 * gPerCm3, value: 8.96 * gPerCm3, high: 8.96 * gPerCm3, source: "density of copper 8.96"},
	} {
		m, ok := Lookup(c.id)
		require.True(t, ok, c.id)
		f, ok := FieldOf(c.member)
		require.True(t, ok, c.member)
		e, ok := f.Estimate(&m)
		require.True(t, ok, "%s %s", c.id, c.member)
		assert.InEpsilonSlice(t, []float64{c.low, c.value, c.high}, []float64{e.Low, e.Value, e.High}, 1e-9, "%s %s: %s", c.id, c.member, c.source)
	}
}

func TestLibraryFilesAreWrittenInOneWay(t *testing.T) {
	for _, path := range libraryFiles {
		content, err := assets.Library.ReadFile(path)
		require.NoError(t, err)
		var materials []Material
		require.NoError(t, json.Unmarshal(content, &materials))
		written, err := json.Marshal(materials, jsontext.WithIndent("\t"))
		require.NoError(t, err)
		assert.Equal(t, string(written)+"\n", string(content), path)
	}
}

func TestLibraryRefusesSpellingMistakes(t *testing.T) {
	good := func() fstest.MapFS {
		files := fstest.MapFS{}
		for _, path := range libraryFiles {
			files[path] = &fstest.MapFile{Data: []byte(`[{"id": "x", "name": "X", "kind": "filler", "density": "1 g/cm3"}]`)}
		}
		return files
	}
	_, err := readLibrary(good())
	require.NoError(t, err)
	for text, want := range map[string]string{
		`[{"id": "x", "densitty": "1 g/cm3"}]`:      "densitty",
		`[{"id": "x", "density": "1 kg"}]`:          "/0/density",
		`[{"id": "x", "sources": [{"page": "7"}]}]`: "page",
		`[{"id": "x", "id": "y"}]`:                  "duplicate",
		`{}`:                                        "library/fillers.json",
	} {
		files := good()
		files["library/fillers.json"] = &fstest.MapFile{Data: []byte(text)}
		_, err := readLibrary(files)
		assert.ErrorContains(t, err, want)
	}
	_, err = readLibrary(fstest.MapFS{})
	assert.ErrorContains(t, err, "polymers.json")
}

func TestLibraryHandsOutCopies(t *testing.T) {
	first, ok := Lookup("pla")
	require.True(t, ok)
	first.Sources[0].Text = "changed"
	library(t)[0].Sources[1].Text = "changed"
	again, _ := Lookup("pla")
	for _, s := range again.Sources {
		assert.NotEqual(t, "changed", s.Text)
	}
	_, ok = Lookup("no such material")
	assert.False(t, ok)
}
