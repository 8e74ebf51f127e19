package wording

import (
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
)

var (
	idForm      = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*(\.[a-z0-9]+(_[a-z0-9]+)*)+$`)
	placeholder = regexp.MustCompile(`\{\{\.([A-Z][A-Za-z0-9]*)\}\}`)
)

// catalogueMessages reads the English texts as they stand in the files.
func catalogueMessages(t *testing.T) map[string]*i18n.Message {
	t.Helper()
	paths, err := fs.Glob(assets.Lang, "lang/en*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	messages := map[string]*i18n.Message{}
	for _, p := range paths {
		content, err := fs.ReadFile(assets.Lang, p)
		require.NoError(t, err)
		found, err := i18n.ParseMessageBytes(content, toml.Unmarshal)
		require.NoError(t, err, path.Base(p))
		for _, m := range found {
			messages[m.ID] = m
		}
	}
	return messages
}

// forms returns every plural form of a text that is written.
func forms(m *i18n.Message) []string {
	return slices.DeleteFunc([]string{m.Zero, m.One, m.Two, m.Few, m.Many, m.Other}, func(s string) bool { return s == "" })
}

// holes returns the names of the placeholders in a text.
func holes(m *i18n.Message) []string {
	var names []string
	for _, text := range forms(m) {
		for _, match := range placeholder.FindAllStringSubmatch(text, -1) {
			names = append(names, match[1])
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func TestEveryTextIsWellFormed(t *testing.T) {
	for id, m := range catalogueMessages(t) {
		assert.Regexp(t, idForm, id)
		assert.NotEmpty(t, m.Other, "%s: an empty text", id)
		for _, text := range forms(m) {
			rest := placeholder.ReplaceAllString(text, "")
			assert.NotContains(t, rest, "{{", "%s: placeholders look like {{.Name}}", id)
			assert.NotContains(t, rest, "}}", "%s: placeholders look like {{.Name}}", id)
			assert.Equal(t, strings.TrimSpace(text), text, "%s: space at an end", id)
			assert.NotContains(t, text, "  ", "%s: two spaces", id)
			assert.NotContains(t, text, "\t", "%s: a tab", id)
		}
	}
}

func TestEveryTextRenders(t *testing.T) {
	w := New("en")
	for id, m := range catalogueMessages(t) {
		values := map[string]any{}
		for _, name := range holes(m) {
			values[name] = "x"
			if name == "Count" {
				values[name] = 2
			}
		}
		assert.NotContains(t, w.Say(id, values), "<no value>", id)
	}
	assert.Empty(t, w.Missing())
}

func TestCodeAsksOnlyForTextsThatExist(t *testing.T) {
	messages := catalogueMessages(t)
	for _, use := range scanCode(t).asked {
		m, ok := messages[use.id]
		if !assert.True(t, ok, "%s: no text %q in assets/lang", use.place, use.id) || !use.keysKnown {
			continue
		}
		for _, name := range holes(m) {
			assert.Contains(t, use.keys, name, "%s: %q has {{.%s}}, which gets no value", use.place, use.id, name)
		}
	}
}

func TestEveryTextIsUsed(t *testing.T) {
	code := scanCode(t)
	var unused []string
	for id := range catalogueMessages(t) {
		if !code.uses(id) {
			unused = append(unused, id)
		}
	}
	slices.Sort(unused)
	assert.Empty(t, unused, "no code asks for these texts")
}
