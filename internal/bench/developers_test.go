package bench

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/wording"
)

var update = flag.Bool("update", false, "write the table of figures in DEVELOPERS.md anew")

const (
	guide     = "../../DEVELOPERS.md"
	readme    = "../../README.md"
	tableHead = "<!-- figures -->\n"
	tableEnd  = "<!-- /figures -->\n"
)

// figuresTable lists every figure as DEVELOPERS.md shows it.
func figuresTable(words *wording.Words) string {
	var out strings.Builder
	out.WriteString("| key | unit | interval on | where it does not apply | name |\n|---|---|---|---|---|\n")
	for _, f := range Figures() {
		d := definitions[f]
		scale, absent := "the value", "null, with a note"
		if d.log {
			scale = "its logarithm"
		}
		switch {
		case d.optional:
			absent = "left out"
		case d.powder:
			absent = "null, with a note; left out without powder"
		}
		if d.chance {
			scale = "the count to expect"
		}
		fmt.Fprintf(&out, "| `%s` | %s | %s | %s | %s |\n", d.key, d.unit, scale, absent, words.Text("figure."+d.key))
	}
	return out.String()
}

// TestDevelopersGuideListsTheFigures keeps the generated table true.
func TestDevelopersGuideListsTheFigures(t *testing.T) {
	words := wording.New("en")
	table := figuresTable(words)
	require.Empty(t, words.Missing(), "each figure has a name in assets/lang/en.figure.toml")
	data, err := os.ReadFile(guide)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(data), tableHead)
	require.True(t, ok, "DEVELOPERS.md has no %s", tableHead)
	found, after, ok := strings.Cut(rest, tableEnd)
	require.True(t, ok, "DEVELOPERS.md has no %s", tableEnd)
	if *update {
		require.NoError(t, os.WriteFile(guide, []byte(before+tableHead+table+tableEnd+after), 0o666))
		found = table
	}
	assert.Equal(t, table, found, "run: go test ./internal/bench -run TestDevelopersGuideListsTheFigures -update")
}

// TestReadmeListsTheFigures: each figure has a row in README.md, with its unit.
func TestReadmeListsTheFigures(t *testing.T) {
	data, err := os.ReadFile(readme)
	require.NoError(t, err)
	for _, f := range Figures() {
		d := definitions[f]
		assert.Contains(t, string(data), fmt.Sprintf("| `%s` | %s |", d.key, d.unit), "README.md, calc as JSON")
	}
}
