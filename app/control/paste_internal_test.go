package control

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The expected cells follow from how spreadsheets copy: tabs between cells, line
// ends between rows, quotes around cells that hold either.
func TestParseCells(t *testing.T) {
	for text, want := range map[string][][]string{
		"":                   nil,
		"\n":                 nil,
		"a":                  {{"a"}},
		"a\tb":               {{"a", "b"}},
		"a\tb\nc\td\n":       {{"a", "b"}, {"c", "d"}},
		"a\r\nb\r\n":         {{"a"}, {"b"}},
		"a\rb":               {{"a"}, {"b"}},
		"a\t\nb":             {{"a", ""}, {"b"}},
		"\ta":                {{"", "a"}},
		"a\n\nb":             {{"a"}, {""}, {"b"}},
		"\"x\ty\"\tz":        {{"x\ty", "z"}},
		"\"l1\nl2\"\nb":      {{"l1\nl2"}, {"b"}},
		"\"say \"\"so\"\"\"": {{`say "so"`}},
		"1.75\"\tb":          {{`1.75"`, "b"}},
		"\"open\tb":          {{`"open`, "b"}},
		"\"a\"b\tc":          {{`"a"b`, "c"}},
	} {
		assert.Equal(t, want, parseCells(text), "%q", text)
	}
}

func FuzzParseCells(f *testing.F) {
	f.Add("a\tb\n\"c\td\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		for _, row := range parseCells(text) {
			assert.NotEmpty(t, row)
		}
	})
}
