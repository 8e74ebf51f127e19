package wording

import (
	"errors"
	"fmt"
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const sample = `
[note]
plain = "Dry the powder."
damp = "{{.Name}} holds {{.Water}} of water."
runs = {one = "{{.Count}} run", other = "{{.Count}} runs"}
about = "{{.Topic}}: {{.Cause}}"
`

// refusal is an error with an ID and values, as quantity and project have it.
type refusal struct {
	id     string
	values map[string]any
}

func (r *refusal) Error() string                     { return "raw " + r.id }
func (r *refusal) Message() (string, map[string]any) { return r.id, r.values }

// length is a value that knows how it looks in the window.
type length struct{}

func (length) Pretty(decimalComma bool) string {
	if decimalComma {
		return "1,75 mm"
	}
	return "1.75 mm"
}

type name string

func of(t *testing.T, lang string, files map[string]string) *Words {
	t.Helper()
	folder := fstest.MapFS{}
	for path, text := range files {
		folder["lang/"+path] = &fstest.MapFile{Data: []byte(text)}
	}
	words, err := load(folder, lang)
	require.NoError(t, err)
	return words
}

func TestSayFillsPlaceholders(t *testing.T) {
	w := of(t, "en", map[string]string{"en.toml": sample})
	damp := func(name, water any) string {
		return w.Say("note.damp", map[string]any{"Name": name, "Water": water})
	}
	assert.Equal(t, "Dry the powder.", w.Text("note.plain"))
	assert.Equal(t, "Dry the powder.", w.Text("note.plain"), "the second time too")
	assert.Equal(t, "Olive stone holds 7.25 % of water.", damp("Olive stone", Number{Value: 7.25, Unit: "%"}))
	assert.Equal(t, "Olive stone holds −3 of water.", damp(name("Olive stone"), -3))
	assert.Equal(t, "a, b holds 1.75 mm of water.", damp([]string{"a", "b"}, length{}))
	assert.Equal(t, "Dry the powder. holds 7 of water.", damp(ID("note.plain"), uint8(7)))
	assert.Equal(t, "{{.Name}} <b> holds 1 of water.", damp("{{.Name}} <b>", 1), "texts of the user are no templates")
	assert.Equal(t, "1 run", w.Say("note.runs", map[string]any{"Count": 1}))
	assert.Equal(t, "2 runs", w.Say("note.runs", map[string]any{"Count": 2}))
	assert.Empty(t, w.Missing())
}

func TestSayRefusesWhatNobodyCanPrint(t *testing.T) {
	w := of(t, "en", map[string]string{"en.toml": sample})
	for _, value := range []any{1.5, float32(1), true, nil, struct{}{}, map[string]int{}, []float64{1}} {
		assert.Panics(t, func() { w.Say("note.damp", map[string]any{"Name": "x", "Water": value}) }, "%T", value)
	}
}

func TestMissingTextsAreSeenAndCounted(t *testing.T) {
	w := of(t, "en", map[string]string{"en.toml": sample})
	assert.Equal(t, "[note.none]", w.Text("note.none"))
	assert.Equal(t, "[note.damp]", w.Say("note.damp", map[string]any{"Name": "x"}), "a value is missing")
	assert.Equal(t, []string{"note.damp", "note.none"}, w.Missing())
	assert.True(t, w.Has("note.damp"))
	assert.False(t, w.Has("note.none"))
	assert.Equal(t, []string{"note.about", "note.damp", "note.plain", "note.runs"}, w.IDs())
}

func TestErrorTellsTheCauseInWords(t *testing.T) {
	w := of(t, "en", map[string]string{"en.toml": sample})
	inner := &refusal{"note.damp", map[string]any{"Name": "Shell", "Water": Number{Value: 2, Unit: "%"}}}
	outer := &refusal{"note.about", map[string]any{"Topic": "Open", "Cause": fmt.Errorf("wrapped: %w", inner)}}
	assert.Equal(t, "Shell holds 2 % of water.", w.Error(inner))
	assert.Equal(t, "Open: Shell holds 2 % of water.", w.Error(fmt.Errorf("path: %w", outer)))
	assert.Equal(t, "Open: no such place", w.Error(&refusal{"note.about", map[string]any{"Topic": "Open", "Cause": errors.New("no such place")}}))
	assert.Equal(t, fs.ErrNotExist.Error(), w.Error(fs.ErrNotExist))
	assert.Empty(t, w.Error(nil))
}

func TestLocaleChoosesDecimalSignAndLanguage(t *testing.T) {
	for lang, comma := range map[string]bool{
		"": false, "C": false, "POSIX": false, "C.UTF-8": false, "en": false, "en-GB": false, "zh-CN": false,
		"nonsense in a locale": false, "de": true, "de_DE.UTF-8": true, "fr_FR@euro": true, "pt-BR": true, "es": true,
		"de-CH": false, "es-MX": false,
	} {
		assert.Equal(t, comma, New(lang).DecimalComma(), lang)
	}
	files := map[string]string{"en.toml": sample, "de.note.toml": "[note]\nplain = 'Pulver trocknen.'\n"}
	german := of(t, "de_AT.UTF-8", files)
	assert.Equal(t, "Pulver trocknen.", german.Text("note.plain"))
	assert.Equal(t, "2 runs", german.Say("note.runs", map[string]any{"Count": 2}), "English where nothing is translated")
	assert.Equal(t, "Dry the powder.", of(t, "fr", files).Text("note.plain"))
	assert.Empty(t, german.Missing())
}

func TestFaultyCataloguesAreRefused(t *testing.T) {
	for want, files := range map[string]map[string]string{
		"en.b.toml: note.x stands in lang/en.a.toml too": {"en.a.toml": "note.x = 'a'", "en.b.toml": "note.x = 'b'"},
		"en.a.toml: ":            {"en.a.toml": "note = "},
		"reserved keys [other]":  {"en.a.toml": "[class]\nother = 'a'\nshell = 'b'"},
		"language: tag is not w": {"a lang.toml": "note.x = 'a'"},
	} {
		folder := fstest.MapFS{}
		for path, text := range files {
			folder["lang/"+path] = &fstest.MapFile{Data: []byte(text)}
		}
		_, err := load(folder, "en")
		assert.ErrorContains(t, err, want)
	}
}

func TestWordsServeSeveralGoroutines(t *testing.T) {
	w := of(t, "en", map[string]string{"en.toml": sample})
	done := make(chan string)
	for range 8 {
		go func() {
			w.Text("note.none")
			done <- w.Text("note.plain") + w.Say("note.runs", map[string]any{"Count": 3})
		}()
	}
	for range 8 {
		assert.Equal(t, "Dry the powder.3 runs", <-done)
	}
}
