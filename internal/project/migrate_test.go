package project

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
)

func TestVersion1IsReadInFull(t *testing.T) {
	p, unknown, err := Decode(inRepository(t, "testdata/versions/v1-reference.json"))
	require.NoError(t, err)
	assert.Empty(t, unknown)
	assert.Equal(t, Version, p.Version)
	assert.Equal(t, BlendID("neat"), p.Reference)
	var amounts []string
	for _, part := range p.Blends[1].Parts {
		amounts = append(amounts, part.Amount.String())
	}
	assert.Equal(t, []string{"balance", "5.0 wt%", "0.2 phr"}, amounts, "digits as entered")
	assert.False(t, p.Blends[2].Parts[0].Amount.Given())
	assert.Equal(t, material.Organic, p.Materials[1].Class)
}

func TestVersion1KeepsUnknownMembers(t *testing.T) {
	p, unknown, err := Decode(inRepository(t, "testdata/versions/v1-unknown.json"))
	require.NoError(t, err)
	assert.Equal(t, []Unknown{
		{"/shelf"}, {"/materials/0/colour"}, {"/blends/0/mood"}, {"/blends/0/parts/0/lot"}, {"/melt/screen~1mesh~0"},
	}, unknown)
	assert.Equal(t, `{"shelf":{"row":3,"boxes":[1,2.50,null]}}`, string(p.Extra))
	data, err := Encode(p)
	require.NoError(t, err)
	again, _, err := Decode(data)
	require.NoError(t, err)
	assert.Equal(t, p, again)
}

// Every old version has a fixture, and every fixture still loads.
func TestEveryVersionHasFixtures(t *testing.T) {
	versions := map[string]int{}
	files, err := os.ReadDir(filepath.Join(repository, "testdata/versions"))
	require.NoError(t, err)
	for _, file := range files {
		found := regexp.MustCompile(`^v([0-9]+)-.*\.json$`).FindStringSubmatch(file.Name())
		require.NotNil(t, found, file.Name())
		versions[found[1]]++
		data := inRepository(t, "testdata/versions/"+file.Name())
		assert.Contains(t, string(data), `"version": `+found[1])
		p, _, err := Decode(data)
		require.NoError(t, err, file.Name())
		assert.Equal(t, Version, p.Version)
	}
	assert.Len(t, versions, Version)
}

func TestMigrationsDoNotDropWhatTheyDoNotUnderstand(t *testing.T) {
	const head = `{"format": "fillwright project", "version": 1, "currency": "EUR", `
	_, _, err := Decode([]byte(head + `"ref": "a", "reference": "b"}`))
	requireBroken(t, err, "/ref", "project.member_twice")

	p, unknown, err := Decode([]byte(head + `"materials": [{"id": "m", "kind": "filler"}],
		"blends": [{"id": "a", "parts": [{"material": "m", "basis": "wt%"}]}]}`))
	require.NoError(t, err)
	assert.Equal(t, []Unknown{{"/blends/0/parts/0/basis"}}, unknown, "a basis without an amount says nothing, and stays")
	assert.Len(t, p.Blends, 1)
}
