package project

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// checker holds documents against the schema.
type checker struct{ resolved *jsonschema.Resolved }

func resolvedSchema(t testing.TB) checker {
	t.Helper()
	var schema jsonschema.Schema
	require.NoError(t, json.Unmarshal(Schema(), &schema))
	resolved, err := schema.Resolve(nil)
	require.NoError(t, err)
	return checker{resolved}
}

func (c checker) validate(data []byte) error {
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	return c.resolved.Validate(v)
}

func TestSchemaIsCurrent(t *testing.T) {
	path := filepath.Join(repository, SchemaPath)
	if *update {
		require.NoError(t, os.WriteFile(path, Schema(), 0o666))
	}
	assert.Equal(t, string(Schema()), string(inRepository(t, SchemaPath)), "run: go generate ./internal/project")
}

func TestSchemaAcceptsWhatIsWritten(t *testing.T) {
	schema := resolvedSchema(t)
	p, _ := withExtras(t)
	for _, p := range []Project{New("EUR"), full(t), p} {
		data, err := Encode(p)
		require.NoError(t, err)
		assert.NoError(t, schema.validate(data))
	}
	for _, name := range []string{"v1-reference", "v1-unknown"} {
		old, _, err := Decode(inRepository(t, "testdata/versions/"+name+".json"))
		require.NoError(t, err)
		data, err := Encode(old)
		require.NoError(t, err)
		assert.NoError(t, schema.validate(data), name)
	}
}

// Samples are read by people, so they stand as the program writes them.
func TestSamples(t *testing.T) {
	schema := resolvedSchema(t)
	files, err := filepath.Glob(filepath.Join(repository, "assets/samples/*.json"))
	require.NoError(t, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		p, unknown, err := Decode(data)
		require.NoError(t, err, file)
		assert.Empty(t, unknown, file)
		assert.NoError(t, schema.validate(data), file)
		written, err := Encode(p)
		require.NoError(t, err)
		assert.Equal(t, string(written), string(data), "%s is not as the program writes it", file)
	}
}

func TestBrokenFilesFailSchemaOrDecode(t *testing.T) {
	schema := resolvedSchema(t)
	files, err := filepath.Glob(filepath.Join(repository, refusedFolder, "*.json"))
	require.NoError(t, err)
	bySchema := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		_, _, err = Decode(data)
		assert.Error(t, err, file)
		if schema.validate(data) != nil {
			bySchema++
		}
	}
	assert.Greater(t, bySchema, len(files)/2, "a schema that lets nearly all pass says nothing")
}

func TestSchemaRefuses(t *testing.T) {
	schema := resolvedSchema(t)
	valid := string(inRepository(t, "testdata/versions/v2-full.json"))
	require.NoError(t, schema.validate([]byte(valid)))
	for old, changed := range map[string]string{
		`"density": "1.240 ± 0.005 g/cm3"`: `"density": "1.240"`,
		`"gauge": "0.01 mm"`:               `"gauge": 0.01`,
		`"spools": 4`:                      `"spools": "4"`,
		`"amount": "0.2 phr"`:              `"amount": "0.2 %"`,
		`"kind": "polymer"`:                `"kind": "resin"`,
		`"class": "shell"`:                 `"class": "stone"`,
		`"seed": 20260821`:                 `"seed": 9007199254740992`,
		`"currency": "EUR"`:                `"currency": ""`,
		`"power": "600 W"`:                 `"power": "600 V"`,
		`"id": "neat"`:                     `"note": "no id"`,
	} {
		require.Contains(t, valid, old)
		assert.Error(t, schema.validate([]byte(strings.Replace(valid, old, changed, 1))), changed)
	}
}

// The schema names what is known, in plain words: no field of Go for unknown
// members, no brackets of generic types.
func TestSchemaNames(t *testing.T) {
	text := string(Schema())
	assert.NotContains(t, text, "Extra")
	assert.NotContains(t, text, "Of[")
	var schema jsonschema.Schema
	require.NoError(t, json.Unmarshal(Schema(), &schema))
	for name := range schema.Defs {
		assert.Regexp(t, `^[a-z]+(_[a-z]+)*$`, name)
	}
	everyNode(document(), func(n *node) {
		if n.name != "" {
			assert.Contains(t, text, `"`+n.name+`": {`)
		}
	})
}
