package project

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/wording"
)

const (
	refusedFolder = "testdata/refused/projects"
	refusedTable  = "testdata/refused/projects.tsv"
	refusedHead   = "file\tpointer\tid\tmessage"
)

// deepest returns the ID of the innermost refusal: for a bad quantity that of
// the quantity.
func deepest(err error) (id string) {
	for ; err != nil; err = errors.Unwrap(err) {
		if m, ok := err.(messenger); ok {
			id, _ = m.Message()
		}
	}
	return id
}

// TestRefusedProjects holds every file of a folder against a table: what is
// refused, where, why, and in which words.
func TestRefusedProjects(t *testing.T) {
	folder := filepath.Join(repository, refusedFolder)
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	words := wording.New("en")
	got := []string{refusedHead}
	for _, file := range files {
		data, err := os.ReadFile(filepath.Join(folder, file.Name()))
		require.NoError(t, err)
		_, _, err = Decode(data)
		var b *Broken
		require.ErrorAs(t, err, &b, file.Name())
		got = append(got, strings.Join([]string{file.Name(), b.Pointer, deepest(b), words.Error(b)}, "\t"))
	}
	assert.Greater(t, len(got), 40)
	assert.Empty(t, words.Missing(), "every refusal has a text")
	table := filepath.Join(repository, refusedTable)
	if *update {
		require.NoError(t, os.WriteFile(table, []byte(strings.Join(got, "\n")+"\n"), 0o666))
	}
	want := strings.Split(strings.TrimSpace(string(inRepository(t, refusedTable))), "\n")
	assert.Equal(t, want, got)
}

// Every text that this package can answer with is met by one of the files, or
// by a test of its own.
func TestEveryRefusalIsMet(t *testing.T) {
	elsewhere := []string{
		"project.refused", "project.refused_at", // around every refusal of Load
		"project.file_missing", "project.file_denied", "project.file_is_folder", "project.file_is_device", "project.file_fault",
		"project.too_large", "project.extra", "project.not_utf8",
		"project.unreadable",                                                          // around every refusal of a quantity
		"project.not_a_machine", "project.machine_version", "project.machine_missing", // TestBadMachinesAreRefused
	}
	content, err := assets.Lang.ReadFile("lang/en.project.toml")
	require.NoError(t, err)
	var catalogue struct{ Project map[string]string }
	require.NoError(t, toml.Unmarshal(content, &catalogue))
	require.NotEmpty(t, catalogue.Project)
	table := string(inRepository(t, refusedTable))
	for key := range catalogue.Project {
		id := "project." + key
		met := strings.Contains(table, "\t"+id+"\t") || slices.Contains(elsewhere, id)
		assert.True(t, met, "no file is refused with %s", id)
	}
}

func TestRefusedTellsFilePlaceAndReason(t *testing.T) {
	path := filepath.Join(repository, refusedFolder, "density-of-nothing.json")
	_, _, err := Load(path)
	words := wording.New("en")
	text := words.Error(err)
	assert.Contains(t, text, path)
	assert.Contains(t, text, "/materials/0/density")
	assert.Contains(t, text, "1.24 kg/m³")
	assert.Contains(t, text, "25 g/cm³")
	assert.NotContains(t, text, "\n")
	assert.Contains(t, wording.New("de").Error(err), "1,24 kg/m³")
	assert.Contains(t, err.Error(), "project.outside_limits")

	_, _, err = Load(filepath.Join(repository, refusedFolder, "percent-of-what.json"))
	var b *Broken
	require.ErrorAs(t, err, &b)
	assert.Equal(t, "project.unreadable", b.ID)
	assert.Equal(t, `"5 %"`, b.Values["Found"])
	assert.Equal(t, "quantity.percent_ambiguous", deepest(err))
	assert.Empty(t, words.Missing())
}
