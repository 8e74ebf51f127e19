package tabular_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/tabular"
)

func TestHeadingsMayHaveAUnitBehind(t *testing.T) {
	type way = tabular.Heading
	for cell, want := range map[string][]way{
		"":                 nil,
		"Time":             nil,
		"Time (h)":         {{"Time", "h"}},
		"Time(h)":          {{"Time", "h"}},
		"Time [h]":         {{"Time", "h"}},
		"Time (h":          nil,
		"(h)":              nil,
		"Time ()":          {{"Time", ""}},
		"Mass (net) (g)":   {{"Mass (net)", "g"}},
		"Mass, g":          {{"Mass", "g"}},
		"Mass,g":           {{"Mass", "g"}},
		"Sample, dry, g":   {{"Sample, dry", "g"}, {"Sample", "dry, g"}},
		"Opening / µm":     {{"Opening", "µm"}},
		"Density / g/cm3":  {{"Density", "g/cm3"}, {"Density / g", "cm3"}},
		"Density (g/cm3)":  {{"Density", "g/cm3"}, {"Density (g", "cm3)"}},
		"/ g":              nil,
		" Mass\u00a0\n[g]": {{"Mass", "g"}},
	} {
		ways := tabular.Headings(cell)
		require.NotEmpty(t, ways)
		assert.Empty(t, ways[0].Unit, "%q as it stands comes first", cell)
		assert.ElementsMatch(t, want, ways[1:], "%q", cell)
		assert.Equal(t, append([]way(nil), want...), append([]way(nil), ways[1:]...), "%q, in this order", cell)
	}
}

func TestCellsOfATableBeginWithItsHeader(t *testing.T) {
	for text, want := range map[string][][]string{
		"Time (h);Mass, g\n0;12,5\n":              {{"Time (h)", "Mass, g"}, {"0", "12,5"}},
		"\ufeff\"Time (h)\";\"Mass\"\r\n0;12,5":   {{"Time (h)", "Mass"}, {"0", "12,5"}},
		"0;12,5\n1;11,2\n":                        {{"0", "12,5"}, {"1", "11,2"}},
		"Time,Mass (g)\n0,\"12,5\"\n1,\"11,2\"\n": {{"Time", "Mass (g)"}, {"0", "12,5"}, {"1", "11,2"}},
		"": nil,
	} {
		table, err := tabular.Read([]byte(text))
		require.NoError(t, err)
		assert.Equal(t, want, table.Cells(), "%q", text)
	}
}
