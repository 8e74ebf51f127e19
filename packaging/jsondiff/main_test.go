package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDifferNamesThePlaceOfEachChange(t *testing.T) {
	for name, test := range map[string]struct {
		old, new string
		want     []string
	}{
		"the same":             {`{"a": [1, 2]}`, `{"a":[1,2]}`, nil},
		"order of members":     {`{"a": 1, "b": 2}`, `{"b": 2, "a": 1}`, nil},
		"a value":              {`{"a": {"b": "5 wt%"}}`, `{"a": {"b": "12 wt%"}}`, []string{`/a/b "5 wt%" "12 wt%"`}},
		"spelling of a number": {`[1.0]`, `[1]`, []string{`/0 1.0 1`}},
		"a new member":         {`{}`, `{"a": null}`, []string{`/a "(absent)" null`}},
		"a lost element":       {`[1, [2]]`, `[1]`, []string{`/1 [2] "(absent)"`}},
		"another kind":         {`{"a": []}`, `{"a": {}}`, []string{`/a [] {}`}},
		"odd names":            {`{"a/b~c": 1}`, `{"a/b~c": 2}`, []string{`/a~1b~0c 1 2`}},
		"the whole":            {`1`, `2`, []string{` 1 2`}},
		"signs kept":           {`["<µ>"]`, `["&"]`, []string{`/0 "<µ>" "&"`}},
	} {
		t.Run(name, func(t *testing.T) {
			old, err := decode([]byte(test.old))
			require.NoError(t, err)
			new, err := decode([]byte(test.new))
			require.NoError(t, err)
			var got []string
			for _, c := range differ(nil, "", old, new) {
				got = append(got, c.pointer+" "+compact(c.old)+" "+compact(c.new))
			}
			assert.Equal(t, test.want, got)
		})
	}
}

func TestCompareRefusesWhatItCannotRead(t *testing.T) {
	good := filepath.Join(t.TempDir(), "good.json")
	require.NoError(t, os.WriteFile(good, []byte(`{}`), 0o600))
	bad := filepath.Join(t.TempDir(), "bad.json")
	require.NoError(t, os.WriteFile(bad, []byte(`{} {}`), 0o600))

	for _, paths := range [][]string{nil, {good}, {good, bad}, {bad, good}, {good, filepath.Join(t.TempDir(), "none")}} {
		_, err := compare(paths)
		assert.Error(t, err, "%v", paths)
	}
	changes, err := compare([]string{good, good})
	require.NoError(t, err)
	assert.Empty(t, changes)
}
