package internal_test

import (
	"errors"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

const refusedEntries = "../testdata/refused/entries.tsv"

// parse reads an entry of one dimension and keeps only whether it was refused.
func parse[D quantity.Dim](text string) error {
	_, err := quantity.Parse[D](text)
	return err
}

// parsers finds the reader of a dimension by the name it has in the schema.
var parsers = map[string]func(string) error{
	quantity.Name[quantity.Mass]():           parse[quantity.Mass],
	quantity.Name[quantity.Length]():         parse[quantity.Length],
	quantity.Name[quantity.Density]():        parse[quantity.Density],
	quantity.Name[quantity.Volume]():         parse[quantity.Volume],
	quantity.Name[quantity.Temperature]():    parse[quantity.Temperature],
	quantity.Name[quantity.Duration]():       parse[quantity.Duration],
	quantity.Name[quantity.Fraction]():       parse[quantity.Fraction],
	quantity.Name[quantity.Factor]():         parse[quantity.Factor],
	quantity.Name[quantity.Pressure]():       parse[quantity.Pressure],
	quantity.Name[quantity.MolarMass]():      parse[quantity.MolarMass],
	quantity.Name[quantity.Power]():          parse[quantity.Power],
	quantity.Name[quantity.Energy]():         parse[quantity.Energy],
	quantity.Name[quantity.MolarEnergy]():    parse[quantity.MolarEnergy],
	quantity.Name[quantity.MassFlow]():       parse[quantity.MassFlow],
	quantity.Name[quantity.MeltFlow]():       parse[quantity.MeltFlow],
	quantity.Name[quantity.Speed]():          parse[quantity.Speed],
	quantity.Name[quantity.Rotation]():       parse[quantity.Rotation],
	quantity.Name[quantity.Current]():        parse[quantity.Current],
	quantity.Name[quantity.SpecificEnergy](): parse[quantity.SpecificEnergy],
	quantity.Name[quantity.HeatCapacity]():   parse[quantity.HeatCapacity],
	quantity.Name[quantity.Conductivity]():   parse[quantity.Conductivity],
	quantity.Name[quantity.Content]():        parse[quantity.Content],
	quantity.Name[quantity.Price]():          parse[quantity.Price],
	quantity.Name[quantity.PricePerMass]():   parse[quantity.PricePerMass],
	quantity.Name[quantity.PricePerEnergy](): parse[quantity.PricePerEnergy],
	quantity.Name[quantity.PricePerTime]():   parse[quantity.PricePerTime],
	quantity.Name[quantity.PricePerLength](): parse[quantity.PricePerLength],
}

// refusedEntry is a row of the table: what was typed (a Go string literal in
// the file, for what is refused is often not printable) and what is answered.
type refusedEntry struct {
	dimension, text, id, message string
}

func readRefusedEntries(t *testing.T) []refusedEntry {
	t.Helper()
	content, err := os.ReadFile(refusedEntries)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(string(content), "\n"), "\n")
	var rows []refusedEntry
	for _, line := range lines[1:] { // the first one names the columns
		cells := strings.Split(line, "\t")
		require.Len(t, cells, 4, "%q", line)
		text, err := strconv.Unquote(cells[1])
		require.NoError(t, err, "%q", line)
		rows = append(rows, refusedEntry{cells[0], text, cells[2], cells[3]})
	}
	return rows
}

// TestEveryRefusedEntryGetsItsMessage follows each bad entry to the sentence
// that its writer reads.
func TestEveryRefusedEntryGetsItsMessage(t *testing.T) {
	words, comma := wording.New("en"), wording.New("de")
	rows := readRefusedEntries(t)
	require.GreaterOrEqual(t, len(rows), 40)
	for _, row := range rows {
		read, ok := parsers[row.dimension]
		require.True(t, ok, "no dimension %q", row.dimension)
		err := read(row.text)
		var refusal *quantity.Refusal
		if assert.True(t, errors.As(err, &refusal), "%s %q is not refused", row.dimension, row.text) {
			assert.Equal(t, row.id, refusal.ID, "%s %q", row.dimension, row.text)
			assert.Equal(t, row.message, words.Error(err), "%s %q", row.dimension, row.text)
			assert.NotEmpty(t, comma.Error(err), "with a decimal comma")
		}
	}
	assert.Empty(t, words.Missing())
	assert.Empty(t, comma.Missing())
}
