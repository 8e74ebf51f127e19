package quantity

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/nicksnyder/go-i18n/v2/i18n/template"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/language"
)

const (
	entriesFile   = "../../testdata/refused/entries.tsv"
	catalogueFile = "../../assets/lang/en.quantity.toml"
)

// rewrite fills in IDs and messages again: go test ./internal/quantity -run
// TestRefusedEntries -rewrite. Read every line that changes.
var rewrite = flag.Bool("rewrite", false, "write the table of refused entries anew")

// messages is the English catalogue.
type messages struct{ localizer *i18n.Localizer }

func catalogue(t testing.TB) messages {
	t.Helper()
	bundle := i18n.NewBundle(language.English)
	bundle.RegisterUnmarshalFunc("toml", toml.Unmarshal)
	content, err := os.ReadFile(catalogueFile)
	require.NoError(t, err)
	_, err = bundle.ParseMessageFileBytes(content, "en.toml")
	require.NoError(t, err)
	return messages{i18n.NewLocalizer(bundle, "en")}
}

// render fails for an ID without a text and for a blank without a value.
func (m messages) render(t testing.TB, refusal *Refusal) string {
	t.Helper()
	id, values := refusal.Message()
	text, err := m.localizer.Localize(&i18n.LocalizeConfig{
		MessageID: id, TemplateData: values, TemplateParser: &template.TextParser{Option: "missingkey=error"},
	})
	require.NoError(t, err, id)
	return text
}

// row is a line of the table of refused entries. The text stands there as a Go
// string literal, for what is refused is often not printable.
type row struct{ dimension, text, id, message string }

func refusedEntries(t testing.TB) []row {
	t.Helper()
	content, err := os.ReadFile(entriesFile)
	require.NoError(t, err)
	var rows []row
	for i, line := range strings.Split(strings.TrimSuffix(string(content), "\n"), "\n") {
		if i == 0 || strings.HasPrefix(line, "#") {
			continue
		}
		fields := strings.Split(line, "\t")
		require.Len(t, fields, 4, "line %d", i+1)
		text, err := strconv.Unquote(fields[1])
		require.NoError(t, err, "line %d", i+1)
		rows = append(rows, row{fields[0], text, fields[2], fields[3]})
	}
	return rows
}

func TestRefusedEntries(t *testing.T) {
	texts := catalogue(t)
	var table strings.Builder
	table.WriteString("dimension\ttext\tid\tmessage\n")
	for _, want := range refusedEntries(t) {
		k := kindNamed(t, want.dimension)
		q, err := k.parse(want.text)
		var refusal *Refusal
		if !assert.True(t, errors.As(err, &refusal), "%s %q is read as %q", want.dimension, want.text, q) {
			continue
		}
		message := texts.render(t, refusal)
		fmt.Fprintf(&table, "%s\t%s\t%s\t%s\n", want.dimension, strconv.Quote(want.text), refusal.ID, message)
		if !*rewrite {
			assert.Equal(t, want.id, refusal.ID, "%s %q", want.dimension, want.text)
			assert.Equal(t, want.message, message)
		}
		assert.False(t, q.Given())
		checkRefused(t, k, texts, err)
	}
	if *rewrite {
		require.NoError(t, os.WriteFile(entriesFile, []byte(table.String()), 0o644))
	}
}

// TestEveryRefusalHasARow keeps the table complete.
func TestEveryRefusalHasARow(t *testing.T) {
	var content map[string]map[string]string
	_, err := toml.DecodeFile(catalogueFile, &content)
	require.NoError(t, err)
	rows := refusedEntries(t)
	assert.GreaterOrEqual(t, len(rows), 40)
	for key := range content["quantity"] {
		id := "quantity." + key
		assert.True(t, slices.ContainsFunc(rows, func(r row) bool { return r.id == id }), "no entry is refused with %s", id)
	}
}

func TestRefusalsProposeInTheReadersDecimalSign(t *testing.T) {
	_, err := Parse[HeatCapacity]("1.8 kJ/(kg.K) ± 10 %")
	var refusal *Refusal
	require.ErrorAs(t, err, &refusal)
	try, ok := refusal.Values["Try"].(interface{ Pretty(bool) string })
	require.True(t, ok)
	assert.Equal(t, "1,8 ± 0,18 kJ/(kg.K)", try.Pretty(true))
	assert.Equal(t, "1.8 ± 0.18 kJ/(kg.K)", try.Pretty(false))
	assert.Contains(t, err.Error(), "quantity.relative_spread")
}

func TestCurrencyCodes(t *testing.T) {
	for _, code := range []string{"EUR", "USD", "GBP", "JPY", "CHF", "SEK", "XCG", "VES"} {
		assert.Equal(t, code, MustParse[Price]("1 "+code).Currency())
	}
	for _, code := range []string{"ABC", "XXX", "XTS", "EU", "EURO", "ZZZ"} {
		_, err := Parse[Price]("1 " + code)
		assert.Error(t, err, code)
	}
}

// TestLongestEntry: the longest that is read can be read back in every form,
// whatever the unit.
func TestLongestEntry(t *testing.T) {
	for i, d := range dimensions {
		for _, spelling := range spellingsOf(d) {
			low := "1." + strings.Repeat("0", maxDigits-2)
			high := "2." + strings.Repeat("0", maxDigits-2)
			q, err := kinds[i].parse(withUnit(d, low+"-"+high, spelling))
			require.NoError(t, err)
			checkRead(t, kinds[i], q)

			_, err = kinds[i].parse(withUnit(d, low+"-0"+high, spelling))
			var refusal *Refusal
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, "quantity.too_many_digits", refusal.ID)
		}
	}
}
