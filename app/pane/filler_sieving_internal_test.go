package pane

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
)

// newStackRig is the table of a sieve stack as the pane has it.
func newStackRig(t *testing.T) *tableRig[material.Sieve] {
	return newTableRig(t, powderProject(), func(b *base) rowsOptions[material.Sieve] {
		o := sieveOptions(b)
		o.columns = NewFiller(b.desk).sieveColumns(0)
		return o
	})
}

// Files of sieve stacks: what is read, the columns left out, and what is said when
// nothing is read.
func TestTheStackKnowsOtherTitles(t *testing.T) {
	rows := []string{"250 µm|5 g", "125 µm|30 g"}
	for name, c := range map[string]struct {
		text string
		rows []string
		said string
	}{
		"its own":                        {"Opening;Mass on it\n250 µm;5\n125;30\n", rows, ""},
		"a number of the sieve":          {"Sieve;Opening (µm);Mass (g)\n1;250;5\n2;125;30\n", rows, "“Sieve”."},
		"its opening behind":             {"Sieve size;Mass (g);Opening (µm)\n1;5;250\n2;30;125\n", rows, "“Sieve size”."},
		"a gross mass":                   {"Opening (µm);Mass;Retained (g)\n250;405;5\n125;430;30\n", rows, "“Mass”."},
		"several masses":                 {"Opening (µm);Mass;Kept back;Mass retained;Retained\n250;1;2;5;3\n125;1;2;30;3\n", rows, "“Mass”, “Kept back”, “Retained”."},
		"its own behind a telling one":   {"Opening (µm);Mass retained;Mass on it\n250;1;5\n125;2;30\n", rows, "“Mass retained”."},
		"a share that is no mass":        {"Opening (µm);Retained (%);Mass (g)\n250;14;5\n125;86;30\n", rows, "“Retained (%)”."},
		"a sieve with a unit":            {"Sieve (µm);Mass (g)\n250;5\n125;30\n", rows, ""},
		"one in a row of units":          {"Sieve;Mass\n[µm];g\n250;5\n125;30\n", rows, ""},
		"one behind each number":         {"Sieve;Mass\n250 µm;5\n0.125 mm;30\n", []string{"250 µm|5 g", "0.125 mm|30 g"}, ""},
		"sieves by mesh":                 {"Sieve (mesh);Mass\n60;5\n120;30\n", []string{"250 um|5 g", "125 um|30 g"}, ""},
		"bare numbers below a vague one": {"Sieve;Mass (g)\n1;5\n2;30\n", nil, "the column “Opening”. Its headings are “Sieve”, “Mass (g)”. Read would be “Mass (g)” as Mass on it."},
		"a vague one of another unit":    {"Sieve (g);Mass (g)\n1;5\n2;30\n", nil, "the column “Opening”."},
		"a unit that is no mass":         {"Opening;Retained (%)\n250;5\n125;30\n", nil, "gives Mass on it the unit “%”"},
	} {
		t.Run(name, func(t *testing.T) {
			r := newStackRig(t)
			r.importFile(c.text)
			assert.Equal(t, c.rows, r.list())
			if c.said == "" {
				assert.Empty(t, r.desk.said)
				return
			}
			require.Len(t, r.desk.said, 1)
			assert.Contains(t, r.desk.said[0], c.said)
		})
	}
}

func TestTheStackGoesOutAndComesBack(t *testing.T) {
	r := newStackRig(t)
	r.paste(0, 0, "250 um\t5\n125\t\n\t30\n")
	before := r.list()
	require.Len(t, before, 3)
	r.table.export()
	r.importFile("63;1\n")
	r.importFile(r.desk.written.String())
	assert.Equal(t, before, r.list())
	assert.Empty(t, r.desk.said)
}
