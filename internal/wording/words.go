// Package wording renders every text that people read. The texts stand in the
// catalogues of assets/lang, one file for each area and language; code holds
// only their IDs. An ID is dotted lower snake case, as "note.powder_damp".
package wording

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/nicksnyder/go-i18n/v2/i18n/template"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"fillwright/assets"
)

// Words renders texts in one language with one decimal sign. It is safe for
// use by several goroutines.
type Words struct {
	localizer *i18n.Localizer
	known     map[string]entry
	comma     bool
	settled   sync.Map // ID -> text, for texts without placeholders

	mu      sync.Mutex
	missing map[string]bool
}

// entry is what Words must know of a text before it asks for it.
type entry struct {
	plural bool // has a form for one
	holes  bool // has placeholders
}

// strict makes a placeholder without a value an error, not "<no value>".
var strict = &template.TextParser{Option: "missingkey=error"}

// New returns the texts in the language of a locale such as "en", "de-DE" or
// "pt_BR.UTF-8". A language without a catalogue gets English texts, with the
// decimal sign of the locale. A catalogue that cannot be read is an error of
// the program, not of its user: New panics.
func New(lang string) *Words {
	words, err := load(assets.Lang, lang)
	if err != nil {
		panic(err)
	}
	return words
}

// load reads all catalogues of a folder lang/ in files.
func load(files fs.FS, lang string) (*Words, error) {
	paths, err := fs.Glob(files, "lang/*.toml")
	if err != nil {
		return nil, fmt.Errorf("wording: %w", err)
	}
	c := catalogue{bundle: i18n.NewBundle(language.English), known: map[string]entry{}, places: map[string]string{}}
	for _, path := range paths {
		if err := c.add(files, path); err != nil {
			return nil, fmt.Errorf("wording: %s: %w", path, err)
		}
	}
	tag := localeTag(lang)
	return &Words{
		localizer: i18n.NewLocalizer(c.bundle, tag.String()),
		known:     c.known,
		comma:     usesComma(tag),
		missing:   map[string]bool{},
	}, nil
}

// catalogue gathers the files of texts.
type catalogue struct {
	bundle *i18n.Bundle
	known  map[string]entry
	places map[string]string // language and ID -> file
}

// add reads one file. Its language is the name up to the first dot:
// en.blend.toml holds the English texts of one area.
func (c *catalogue) add(files fs.FS, path string) error {
	content, err := fs.ReadFile(files, path)
	if err != nil {
		return err
	}
	name, _, _ := strings.Cut(strings.TrimPrefix(path, "lang/"), ".")
	tag, err := language.Parse(name)
	if err != nil {
		return err
	}
	messages, err := c.bundle.ParseMessageBytes(tag, content, toml.Unmarshal)
	if err != nil {
		return err
	}
	for _, m := range messages {
		// The bundle would let a later text replace an earlier one in silence.
		place := tag.String() + " " + m.ID
		if earlier, ok := c.places[place]; ok {
			return fmt.Errorf("%s stands in %s too", m.ID, earlier)
		}
		c.places[place] = path
		known := c.known[m.ID]
		known.plural = known.plural || m.One != ""
		known.holes = known.holes || known.plural || strings.Contains(m.Other, "{{")
		c.known[m.ID] = known
	}
	return nil
}

// localeTag reads a locale as it stands in the environment. One that says
// nothing, such as "" and "C", is English.
func localeTag(lang string) language.Tag {
	name, _, _ := strings.Cut(lang, ".")
	name, _, _ = strings.Cut(name, "@")
	tag, err := language.Parse(name)
	if err != nil || tag == language.Und {
		return language.English
	}
	return tag
}

// usesComma says whether the locale writes 1,5 for one and a half.
func usesComma(tag language.Tag) bool {
	return strings.Contains(message.NewPrinter(tag).Sprint(number.Decimal(1.5)), ",")
}

// DecimalComma says whether numbers are printed with a comma.
func (w *Words) DecimalComma() bool { return w.comma }

// Has says whether the catalogue holds a text.
func (w *Words) Has(id string) bool {
	_, ok := w.known[id]
	return ok
}

// IDs returns the ID of every text, sorted.
func (w *Words) IDs() []string {
	return slices.Sorted(maps.Keys(w.known))
}

// Missing returns, sorted, the IDs that were asked for and could not be
// rendered. Tests that draw the window hold it against an empty list.
func (w *Words) Missing() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.Sorted(maps.Keys(w.missing))
}

// Text returns a text without placeholders. An unknown ID comes back in
// brackets, so that it is seen and the window lives on.
func (w *Words) Text(id string) string {
	if text, ok := w.settled.Load(id); ok {
		return text.(string)
	}
	return w.Say(id, nil)
}

// Say fills the placeholders {{.Name}} of a text. A value is a text, a whole
// number, a Number, an ID, an error, something with a Message, a quantity, or a
// list of these; any other type, a bare float64 above all, is a mistake of the
// program (nobody could know its digits and unit), and Say panics. A whole
// number named Count chooses between the forms for one and for several.
func (w *Words) Say(id string, values map[string]any) string {
	known, ok := w.known[id]
	if !ok {
		return w.miss(id)
	}
	shown := make(map[string]any, len(values))
	for name, value := range values {
		shown[name] = w.show(value)
	}
	request := &i18n.LocalizeConfig{MessageID: id, TemplateData: shown, TemplateParser: strict}
	if count, ok := values["Count"].(int); ok && known.plural {
		request.PluralCount = count
	}
	text, err := w.localizer.Localize(request)
	if err != nil && text == "" {
		return w.miss(id)
	}
	if !known.holes {
		w.settled.Store(id, text)
	}
	return text
}

// miss notes an ID that could not be rendered.
func (w *Words) miss(id string) string {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.missing[id] = true
	return "[" + id + "]"
}
