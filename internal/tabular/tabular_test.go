package tabular_test

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/tabular"
)

func TestRead(t *testing.T) {
	for name, c := range map[string]struct {
		text   string
		header []string
		rows   [][]string
	}{
		"nothing":                             {"", nil, nil},
		"blank lines only":                    {"\n \r\n;;\n", nil, nil},
		"tabs":                                {"0\t12.5\n1\t11.2\n", nil, [][]string{{"0", "12.5"}, {"1", "11.2"}}},
		"tabs and decimal commas":             {"0\t12,5\n1\t11,2", nil, [][]string{{"0", "12,5"}, {"1", "11,2"}}},
		"an empty cell before a tab":          {"\t12.5\n1\t", nil, [][]string{{"", "12.5"}, {"1", ""}}},
		"semicolons and decimal commas":       {"t;m\n0;12,5\n1;11,2\n", []string{"t", "m"}, [][]string{{"0", "12,5"}, {"1", "11,2"}}},
		"semicolons and sentences":            {"0;12,5;grey, damp\n1;11,2;dry\n", nil, [][]string{{"0", "12,5", "grey, damp"}, {"1", "11,2", "dry"}}},
		"semicolons, text that sets no space": {"0;12,5;grey,damp\n1;11,2;grey,dry\n", nil, [][]string{{"0", "12,5", "grey,damp"}, {"1", "11,2", "grey,dry"}}},
		"commas":                              {"time,mass\n0,12.5\n1,11.2\n", []string{"time", "mass"}, [][]string{{"0", "12.5"}, {"1", "11.2"}}},
		"commas and spaces":                   {"Time, Mass\n0, 12.5\n1, 11.2\n", []string{"Time", "Mass"}, [][]string{{"0", "12.5"}, {"1", "11.2"}}},
		"commas between units":                {"0 h,12 g\n1 h,11 g\n", nil, [][]string{{"0 h", "12 g"}, {"1 h", "11 g"}}},
		"commas and a semicolon in a note":    {"time,mass,note\n0,12.5,dry; grey\n1,11.2,\n", []string{"time", "mass", "note"}, [][]string{{"0", "12.5", "dry; grey"}, {"1", "11.2", ""}}},
		"commas and quotes":                   {"a,b\n\"12,5\",\"say \"\"so\"\"\"\n", []string{"a", "b"}, [][]string{{"12,5", `say "so"`}}},
		"whole numbers under a header":        {"cycles,count\n1,2\n3,4\n", []string{"cycles", "count"}, [][]string{{"1", "2"}, {"3", "4"}}},
		"whole numbers in three columns":      {"0,1,2\n3,4,5\n", nil, [][]string{{"0", "1", "2"}, {"3", "4", "5"}}},
		"two whole numbers, or one decimal":   {"1,2\n3,4\n", nil, [][]string{{"1,2"}, {"3,4"}}},
		"one column of decimal commas":        {"12,5\n11,2\n", nil, [][]string{{"12,5"}, {"11,2"}}},
		"one column under a sentence":         {"Mass, g\n12,5\n11,2\n", []string{"Mass, g"}, [][]string{{"12,5"}, {"11,2"}}},
		"one column and a slip":               {"12,5\n11,2,\n10,8\n", nil, [][]string{{"12,5"}, {"11,2,"}, {"10,8"}}},
		"one column with grouped thousands":   {"1.234,5\n987,5\n", nil, [][]string{{"1.234,5"}, {"987,5"}}},
		"one column with ±":                   {"12,5 ± 0,1 g\n11,2 ± 0,1 g\n", nil, [][]string{{"12,5 ± 0,1 g"}, {"11,2 ± 0,1 g"}}},
		"one column of points":                {"mass\n12.5\n11.2\n", []string{"mass"}, [][]string{{"12.5"}, {"11.2"}}},
		"commas that end lines":               {"a,b,\n12.5,1,\n11.2,2,\n", []string{"a", "b"}, [][]string{{"12.5", "1"}, {"11.2", "2"}}},
		"semicolons that end lines":           {"12,5;1;;\n11,2;2;;\n", nil, [][]string{{"12,5", "1"}, {"11,2", "2"}}},
		"ragged":                              {"a;b;c\n1;2\n3\n4;5;6\n", []string{"a", "b", "c"}, [][]string{{"1", "2"}, {"3"}, {"4", "5", "6"}}},
		"ragged commas":                       {"0 h,12 g\n1 h\n2 h,10 g\n", nil, [][]string{{"0 h", "12 g"}, {"1 h"}, {"2 h", "10 g"}}},
		"CR LF":                               {"1;2\r\n\r\n3;4\r\n", nil, [][]string{{"1", "2"}, {"3", "4"}}},
		"CR":                                  {"1;2\r3;4", nil, [][]string{{"1", "2"}, {"3", "4"}}},
		"byte order mark":                     {"\ufeff1;2\n3;4", nil, [][]string{{"1", "2"}, {"3", "4"}}},
		"an inch mark":                        {"0.5\"\t12\n\"two\"\t\"a\tb\"\n", nil, [][]string{{`0.5"`, "12"}, {"two", "a\tb"}}},
		"a quote that does not end":           {"\"open\t1\n2\t3\n", nil, [][]string{{`"open`, "1"}, {"2", "3"}}},
		"a line end in a cell":                {"1;\"two\nlines\"\n2;x\n", nil, [][]string{{"1", "two\nlines"}, {"2", "x"}}},
		"spaces around cells":                 {" 1 ; 2 \n 3;4", nil, [][]string{{"1", "2"}, {"3", "4"}}},
		"words only":                          {"wash;twice\ndry;long\n", nil, [][]string{{"wash", "twice"}, {"dry", "long"}}},
		"a header and nothing":                {"time;mass\n", nil, [][]string{{"time", "mass"}}},
		"signs begin numbers":                 {"t;T\n0;-40\n", []string{"t", "T"}, [][]string{{"0", "-40"}}},
		"a number in the first row":           {"0;x\n1;y\n", nil, [][]string{{"0", "x"}, {"1", "y"}}},
	} {
		t.Run(name, func(t *testing.T) {
			table, err := tabular.Read([]byte(c.text))
			require.NoError(t, err)
			assert.Equal(t, c.header, table.Header)
			assert.Equal(t, c.rows, cellsOf(table.Rows))
		})
	}
}

func cellsOf(rows []tabular.Row) [][]string {
	var cells [][]string
	for _, row := range rows {
		cells = append(cells, row.Cells)
	}
	return cells
}

func TestRowsKnowTheirLines(t *testing.T) {
	for text, want := range map[string][]int{
		"1;2\n3;4\n":                         {1, 2},
		"a;b\n\n\n1;2\n;\n3;4\n":             {4, 6},
		"1;\"two\n\nlines\"\n2;3\n\n4;5\n":   {1, 4, 6},
		"0.5\"\t1\n\n2\"\t3\n":               {1, 3},
		"\r\n1;2\r\n":                        {2},
		"a;b\n\"1\";\"x\ny\"\n\"2\";\"z\"\n": {2, 4},
	} {
		table, err := tabular.Read([]byte(text))
		require.NoError(t, err)
		var lines []int
		for _, row := range table.Rows {
			lines = append(lines, row.Line)
		}
		assert.Equal(t, want, lines, "%q", text)
	}
}

func TestUTF16IsReadWhereAMarkSaysSo(t *testing.T) {
	text := "\ufefftime;µm\n0;12,5\n"
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		var data []byte
		for _, unit := range utf16.Encode([]rune(text)) {
			data = order.AppendUint16(data, unit)
		}
		table, err := tabular.Read(data)
		require.NoError(t, err)
		assert.Equal(t, []string{"time", "µm"}, table.Header)
		assert.Equal(t, [][]string{{"0", "12,5"}}, cellsOf(table.Rows))
	}
}

func TestWhatIsNoTableIsRefused(t *testing.T) {
	full := []byte(strings.Repeat("1\n", tabular.MostRows))
	table, err := tabular.Read(full)
	require.NoError(t, err)
	assert.Len(t, table.Rows, tabular.MostRows)
	table, err = tabular.Read(append([]byte("a\n"), full...))
	require.NoError(t, err, "the header is no row")
	assert.Len(t, table.Rows, tabular.MostRows)

	var large *tabular.TooLarge
	_, err = tabular.Read(append(full, '2'))
	require.ErrorAs(t, err, &large)
	assert.Equal(t, tabular.TooLarge{Most: tabular.MostRows, Rows: true}, *large)

	_, err = tabular.Read(bytes.Repeat([]byte("x"), tabular.MostBytes))
	require.NoError(t, err)
	_, err = tabular.Read(bytes.Repeat([]byte("x"), tabular.MostBytes+1))
	require.ErrorAs(t, err, &large)
	assert.Equal(t, tabular.TooLarge{Most: tabular.MostBytes}, *large)

	var none *tabular.NotText
	_, err = tabular.Read([]byte("PK\x03\x04\x00\x00"))
	require.ErrorAs(t, err, &none)
}

// The expected cells follow from how spreadsheets copy: tabs between cells, line
// ends between rows, quotes around cells that hold either.
func TestCells(t *testing.T) {
	for text, want := range map[string][][]string{
		"":                      nil,
		"\n":                    nil,
		"a":                     {{"a"}},
		"a\tb":                  {{"a", "b"}},
		"a\tb\nc\td\n":          {{"a", "b"}, {"c", "d"}},
		"a\r\nb\r\n":            {{"a"}, {"b"}},
		"a\rb":                  {{"a"}, {"b"}},
		"a\t\nb":                {{"a", ""}, {"b"}},
		"\ta":                   {{"", "a"}},
		"\t":                    {{"", ""}},
		"a\n\nb":                {{"a"}, {""}, {"b"}},
		"\n\nb\n\n":             {{""}, {""}, {"b"}, {""}},
		"\"x\ty\"\tz":           {{"x\ty", "z"}},
		"\"l1\nl2\"\nb":         {{"l1\nl2"}, {"b"}},
		"\"say \"\"so\"\"\"":    {{`say "so"`}},
		"a\t\"say \"\"so\"\"\"": {{"a", `say "so"`}},
		"1.75\"\tb":             {{`1.75"`, "b"}},
		"\"open\tb":             {{`"open`, "b"}},
		"\"a\"b\tc":             {{`"a"b`, "c"}},
		"12,5":                  {{"12,5"}},
		"a,b":                   {{"a,b"}},
		"0; 5; 10 %":            {{"0; 5; 10 %"}},
		"12,5\n11,2":            {{"12,5"}, {"11,2"}},
		"0;12,5\n1;11,2":        {{"0", "12,5"}, {"1", "11,2"}},
		"0,12.5\n1,11.2":        {{"0", "12.5"}, {"1", "11.2"}},
		"grind, sieve\nwash":    {{"grind, sieve"}, {"wash"}},
	} {
		assert.Equal(t, want, tabular.Cells(text), "%q", text)
	}
}

func TestWriteIsReadBack(t *testing.T) {
	header := []string{"time", "mass, g", `say "so"`}
	rows := [][]string{{"0 h", "12.5", "dry; grey"}, {"", "11.2", "two\nlines"}, {"2 h", "-3", "µm"}}
	var out bytes.Buffer
	require.NoError(t, tabular.Write(&out, header, rows))
	assert.Equal(t, "time,\"mass, g\",\"say \"\"so\"\"\"\r\n0 h,12.5,dry; grey\r\n,11.2,\"two\r\nlines\"\r\n2 h,-3,µm\r\n", out.String())
	table, err := tabular.Read(out.Bytes())
	require.NoError(t, err)
	assert.Equal(t, header, table.Header)
	assert.Equal(t, rows, cellsOf(table.Rows))
}

// Whatever is read: lines rise and are those of the text, rows hold something, no
// cell has spaces around it.
func FuzzRead(f *testing.F) {
	for _, text := range []string{"a\tb\n\"c\td\"\n", "t;m\n0;12,5\n", "1,2\n3\"", "\ufeffx", "\xff\xfe1\x00", "a,b,\n\n\"q\n\"\"", "12,5 ± 0,1\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, row := range tabular.Cells(string(data)) {
			assert.NotEmpty(t, row)
		}
		table, err := tabular.Read(data)
		if err != nil {
			return
		}
		last := 0
		for _, row := range table.Rows {
			assert.Greater(t, row.Line, last)
			last = row.Line
			assert.True(t, slices.ContainsFunc(row.Cells, func(c string) bool { return c != "" }))
			for _, cell := range row.Cells {
				assert.Equal(t, strings.TrimSpace(cell), cell)
			}
		}
		assert.LessOrEqual(t, last, 1+len(data))
	})
}
