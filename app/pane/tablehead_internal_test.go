package pane

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
)

// Files of weighings: a time, and the masses of two trays. Nothing is said where
// said is empty, and nothing changed where rows are nil.
func TestHeadingsSayWhatColumnsHold(t *testing.T) {
	both := []string{"0 h|0.1 kg|0.2 kg", "1 h|0.09 kg|0.19 kg"}
	for name, c := range map[string]struct {
		text string
		rows []string
		said []string
	}{
		"units in round brackets":    {"Time (h);Tray 1 (kg);Tray 2 (kg)\n0;0,1;0,2\n1;0,09;0,19\n", both, nil},
		"units in square brackets":   {"time [h],tray 1 [kg],tray 2 [kg]\n0,0.1,0.2\n1,0.09,0.19\n", both, nil},
		"units behind a comma":       {"TIME, h;TRAY 1, kg;TRAY 2,kg\n0;0,1;0,2\n1;0,09;0,19\n", both, nil},
		"units behind a stroke":      {"Time / h\tTray 1/kg\tTray  2 / kg\n0\t0,1\t0,2\n1\t0,09\t0,19\n", both, nil},
		"a byte order mark":          {"\ufeffTime (h);Tray 1 (kg);Tray 2 (kg)\r\n0;0,1;0,2\r\n1;0,09;0,19\r\n", both, nil},
		"one in quotes behind it":    {"\ufeff\"Time (h)\",\"Tray 1, kg\",\"Tray 2, kg\"\n0,0.1,0.2\n1,0.09,0.19\n", both, nil},
		"another order":              {"Tray 2 (kg);Time (h);Tray 1 (kg)\n0,2;0;0,1\n0,19;1;0,09\n", both, nil},
		"units in a row of theirs":   {"Time;Tray 1;Tray 2\nh;(kg);[kg]\n0;0,1;0,2\n1;0,09;0,19\n", both, nil},
		"a cell keeps its unit":      {"Time (h);Tray 1 (kg);Tray 2\n0;0,1\n30 min;95 g\n1;0,09 ± 0,01\n", []string{"0 h|0.1 kg|", "30 min|95 g|", "1 h|0.09 ± 0.01 kg|"}, nil},
		"no units":                   {"Tray 1;Time;Tray 2\n100;0\n90;10\n", []string{"0 min|100 g|", "10 min|90 g|"}, nil},
		"an unknown column":          {"No.;Time (h);Remark;Tray 2;Tray 1 (g);\n1;0;wet;;100;\n2;1;;;90;x\n", []string{"0 h|100 g|", "1 h|90 g|"}, []string{"3 columns", "“No.”, “Remark”, column 6"}},
		"a column twice":             {"Time (h);Tray 1 (g);Tray 1 (kg);Tray 2\n0;100;0,1\n", []string{"0 h|100 g|"}, []string{"“Tray 1 (kg)”"}},
		"one of two has a unit":      {"Time, start;Time (h);Tray 1;Tray 2\n9;0;100;\n", []string{"0 h|100 g|"}, []string{"“Time, start”"}},
		"a wrong unit":               {"Time (g);Tray 1 (g)\n0;100\n", nil, []string{"“Time (g)”", "“g”", "s, min, h", "Nothing was changed"}},
		"a unit that is none":        {"Time (h);Tray 1 (stone)\n0;100\n", nil, []string{"“stone”", "kg, g"}},
		"a unit that is a tolerance": {"Time (h);Tray 1 (± 2 g)\n0;100\n", nil, []string{"“± 2 g”"}},
		"no heading is known":        {"Zeit (h);Schale eins (kg);Schale zwei\n0;0,1;200\n", []string{"0 h|0.1 kg|200 g"}, []string{"None of the headings", "“Zeit (h)” as time, “Schale eins (kg)” as tray 1, “Schale zwei” as tray 2"}},
		"nor does a unit fit":        {"Schale eins (kg);Schale zwei;Zeit (h)\n0,1;200;0\n", nil, []string{"None of these headings is known", "“Schale eins (kg)”", "“time”, “tray 1”, “tray 2”", "Nothing was changed"}},
		"nor how many they are":      {"Zeit;Schale\n0;100\n", nil, []string{"“Zeit”, “Schale”", "Nothing was changed"}},
		"no headings":                {"0;100;200\n10;90;190\n", []string{"0 min|100 g|200 g", "10 min|90 g|190 g"}, nil},
		"no headings, commas":        {"0;100,5;200,5\n", []string{"0 min|100.5 g|200.5 g"}, nil},
		"no headings, one column":    {"0\n10\n", []string{"0 min||", "10 min||"}, nil},
		"a heading with a number":    {"Tray 1;Tray 2 (kg);Time (h);2nd\n1;;2;3\n", []string{"2 h|1 g|"}, []string{"“2nd”"}},
		"a column of two is missing": {"Time (min);Tray 1\n0;1\n", nil, []string{"Nothing was changed", "the column “tray 2”. Its headings are “Time (min)”, “Tray 1”. Read would be “Time (min)” as time, “Tray 1” as tray 1."}},
		"two are missing":            {"Time (min);Mass (g)\n0;1\n", nil, []string{"Nothing was changed", "the columns “tray 1”, “tray 2”. Its headings are “Time (min)”, “Mass (g)”. Read would be “Time (min)” as time."}},
	} {
		t.Run(name, func(t *testing.T) {
			r := newWeighingRig(t)
			r.importFile("5;1;1\n")
			before := r.list()
			require.Empty(t, r.desk.said)
			r.importFile(c.text)
			if c.rows == nil {
				c.rows = before
			}
			assert.Equal(t, c.rows, r.list())
			assert.False(t, r.table.grid.Refused())
			assert.Len(t, r.desk.said, min(1, len(c.said)))
			for _, words := range c.said {
				assert.Contains(t, r.desk.said[0], words)
			}
		})
	}
}

func TestAPasteWithHeadings(t *testing.T) {
	r := newWeighingRig(t)
	r.importFile("0 min;100 g;200 g\n1 min;90 g;190 g\n")
	r.paste(1, 2, "\nTray 1 (kg)\tTime (h)\n0,05\t2\n0,04\t3\n")
	assert.Equal(t, []string{"0 min|100 g|200 g", "2 h|0.05 kg|190 g", "3 h|0.04 kg|"}, r.list(), "over another unit too")
	assert.Empty(t, r.desk.said)
	r.desk.history.Undo()

	r.paste(1, 1, "Schale (kg)\n0,05\n")
	assert.Equal(t, "1 min|0.05 kg|190 g", r.list()[1])
	require.Len(t, r.desk.said, 1)
	assert.Contains(t, r.desk.said[0], "“Schale (kg)” as tray 1")

	before := r.list()
	r.paste(0, 1, "Schale (h)\n5\n")
	r.paste(0, 1, "Tray 1 (h)\n5\n")
	assert.Equal(t, before, r.list())
	require.Len(t, r.desk.said, 3)
	assert.False(t, r.table.grid.Refused())
	r.paste(0, 1, "Time\n")
	assert.True(t, r.table.grid.Refused(), "a word alone is no heading")

	steps := newStepRig(t)
	steps.paste(0, 0, "dry\thot air\nsieve\t2 mm\n")
	assert.Equal(t, []string{"dry|hot air", "sieve|2 mm"}, steps.list(), "words over numbers that are no headings")
	steps.paste(0, 0, "Name\tKind\nx\tdry\n")
	assert.Equal(t, []string{"dry|x", "sieve|2 mm"}, steps.list())
}

// A file of one tray fits a log without several, whatever it calls the mass, and its
// own title has it before any other.
func TestALogOfOneTray(t *testing.T) {
	for file, leftOut := range map[string]string{
		"Time (h);Mass (kg)\n2;0,012\n":                "",
		"Time (h);Tray 1 (kg)\n2;0,012\n":              "",
		"Time (h);Weight (kg)\n2;0,012\n":              "",
		"Time (h);gross mass (kg)\n2;0,012\n":          "",
		"Weight (g);Time (h);Mass (kg)\n99;2;0,012\n":  "“Weight (g)”.",
		"Tray 1 (g);Time (h);Mass (kg)\n99;2;0,012\n":  "“Tray 1 (g)”.",
		"Weight (g);Time (h);Gross (kg)\n99;2;0,012\n": "“Weight (g)”.",
	} {
		for _, tares := range []string{"", "1"} {
			r := newDryingRig(t, tares, "11")
			r.log.importFile(file)
			r.has(tares, "0.012")
			if leftOut == "" {
				assert.Empty(t, r.log.desk.said, file)
				continue
			}
			require.Len(t, r.log.desk.said, 1, file)
			assert.Contains(t, r.log.desk.said[0], leftOut)
		}
	}
}

// A file that knows less than the log does not take the rest away.
func TestAFileWithoutAColumnOfTheLog(t *testing.T) {
	r := newDryingRig(t, "1", "11")
	for file, missing := range map[string]string{"Time;Moisture (%)\n0;9\n": "Mass", "Remark;Mass (g)\nwet;9\n": "Time"} {
		r.log.importFile(file)
		r.has("1", "11")
		assert.Contains(t, r.log.desk.said[len(r.log.desk.said)-1], "the column “"+missing+"”")
	}
	r = newDryingRig(t, "1 2", "11 12")
	for _, file := range []string{"Tray 2 (kg);Net, g;Time (h)\n0,022;20;1\n", "Time;Weight (g)\n0;100\n", "Time (min);Mass (g)\n0;100\n"} {
		r.log.importFile(file)
		r.has("1 2", "11 12")
	}
	require.Len(t, r.log.desk.said, 3)
	assert.Contains(t, r.log.desk.said[0], "“Tray 1”. Its headings are “Tray 2 (kg)”, “Net, g”, “Time (h)”. Read would be “Tray 2 (kg)” as Tray 2, “Time (h)” as Time.")
	assert.Empty(t, r.log.desk.words.Missing())

	r.log.importFile("Time (h);Tray 2 (kg);Tray 1\n1;0,022;\n")
	r.has("1 2", "- 0.022")
	r.log.paste(0, 0, "Tray 1 (g)\tTime (h)\n7\t2\n")
	r.has("1 2", "7 0.022")
	assert.Len(t, r.log.desk.said, 3, "a column may be empty, and a paste leaves others alone")
}

func TestALogOfSeveralTraysGoesOutAndComesBack(t *testing.T) {
	r := newDryingRig(t, "1 2 3", "11 12 13", "- 22", "")
	before := r.log.list()
	r.log.table.export()
	assert.True(t, strings.HasPrefix(r.log.desk.written.String(), "Time,Tray 1,Tray 2,Tray 3\r\n"), r.log.desk.written.String())
	r.log.importFile("7;7;7;7\n")
	r.log.importFile(r.log.desk.written.String())
	assert.Equal(t, before, r.log.list())
	assert.Empty(t, r.log.desk.said)
}

// Mesh numbers are no quantities, but a column may know them.
func TestAUnitThatOnlyTheCellsMakeSenseWith(t *testing.T) {
	var c column[material.Sieve]
	r := newSieveRig(t)
	c = r.table.opts.columns[0]
	plain := c.set
	c.set = func(s *material.Sieve, text string) error {
		if text == "60 mesh" {
			text = "250 um"
		}
		return plain(s, text)
	}
	assert.True(t, c.takesUnit("mesh", []string{"", "60"}))
	assert.False(t, c.takesUnit("mesh", []string{"60 mesh", "61"}))
	assert.False(t, c.takesUnit("5 g", []string{"60"}))
}

// Whatever stands in a file, nothing breaks, and nothing is said in broken words.
func TestFilesAndPastesAtRandom(t *testing.T) {
	seeds := []string{"Time (h);Tray 1 [kg]\n1;2\n", "Tray 2, g\th\n(\t)\n1\t2\n", "time;tray 1\nh;g\n1;2\n", "a/b/c,d [e](f)\n1\n"}
	signs := "\n\t;,/()[]±1h gkx\x00\xff\"µ -."
	random := rand.New(rand.NewPCG(1, 2))
	r := newWeighingRig(t)
	for range 300 {
		text := seeds[random.IntN(len(seeds))]
		for range random.IntN(8) {
			at, sign := random.IntN(len(text)), random.IntN(len(signs))
			text = text[:at] + signs[sign:sign+1] + text[at+random.IntN(2):] // put in, or in its place
		}
		r.importFile(text)
		r.paste(random.IntN(3), random.IntN(3), text)
		for _, row := range r.list() {
			assert.NotContains(t, row, "\x00", "%q", text)
		}
	}
	assert.Greater(t, len(r.desk.said), 100)
	assert.Empty(t, r.desk.words.Missing())
}

// What a file of a wrong kind says of itself is cut to what a dialog has room for.
func TestMessagesStayShort(t *testing.T) {
	r := newWeighingRig(t)
	r.importFile(strings.Repeat("x;", 10000) + strings.Repeat("y", 10000) + "\n1;2\n")
	r.importFile("Time;" + strings.Repeat("x\ty;", 10000) + "\n1;2\n")
	for _, said := range r.desk.said {
		assert.Less(t, len(said), 600)
	}
	assert.Len(t, r.desk.said, 2)
}
