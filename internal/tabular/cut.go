package tabular

import (
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strings"
)

// separator guesses what stands between the cells of a text:
//
//   - a tab, if there is any;
//   - else a semicolon, if it stands in at least as many lines as commas that
//     must be separators;
//   - else a comma, if commas separate;
//   - else nothing: a column of one cell a line. A semicolon is returned then.
//
// The hard case is the comma, which many write as decimal sign: "12,5" may be two
// cells or one. A line speaks for the separator when one of its commas can be no
// decimal sign: there is no digit at both sides (a space and a word behind it say
// nothing, for that is how people write sentences), or the number would have a
// second comma or a point behind it, as "0,12.5". Commas separate when at
// least half of the lines with commas speak for it; or one does, such as a header, and
// all of them have equally many commas. When in doubt a cell stays whole: one that then
// cannot be read is seen, one that was cut in two may not be.
//
// What stands in quotes has no part in this.
func separator(text string) rune {
	text = quoted.ReplaceAllString(text, `$1""`)
	if strings.Contains(text, "\t") {
		return '\t'
	}
	semicolons, commas, speaking, even := 0, 0, 0, true
	perLine := 0
	for line := range strings.SplitSeq(text, "\n") {
		if strings.Contains(line, ";") {
			semicolons++
		}
		n := strings.Count(line, ",")
		if n == 0 {
			continue
		}
		commas++
		if separatesByComma(line) {
			speaking++
		}
		if perLine == 0 {
			perLine = n
		}
		even = even && n == perLine
	}
	sure := speaking > 0 && (2*speaking >= commas || even)
	if sure && speaking > semicolons {
		return ','
	}
	return ';'
}

var (
	// quoted is a cell in quotes; quotes inside are doubled.
	quoted = regexp.MustCompile(`(?m)(^|[\t;,] ?)"(?:[^"]|"")*"`)
	// withComma is a stretch of digits and decimal signs with a comma in it, at its
	// beginning or end too.
	withComma = regexp.MustCompile(`[0-9.]*,[0-9.,]*`)
	// oneNumber is what can be one number with a decimal comma, with its thousands
	// grouped by points or not.
	oneNumber = regexp.MustCompile(`^(?:[0-9]+|[0-9]{1,3}(?:\.[0-9]{3})+),[0-9]+$`)
	// sentence is a comma as in running text.
	sentence = regexp.MustCompile(`, +[^0-9+\-−±.,×\s]`)
)

// separatesByComma reports a comma in a line that can be no decimal sign.
func separatesByComma(line string) bool {
	line = sentence.ReplaceAllString(line, " ")
	for _, stretch := range withComma.FindAllString(line, -1) {
		if !oneNumber.MatchString(stretch) {
			return true
		}
	}
	return false
}

// cut cuts a text into rows and cells. When quotes are not used as RFC 4180 has
// them, lines are cut one by one, and in those that cannot be read so a quote is a
// letter like any other: an inch mark.
func cut(text string, by rune) []Row {
	if rows, ok := parse(text, by); ok {
		return rows
	}
	var rows []Row
	for i, line := range strings.Split(text, "\n") {
		parsed, ok := parse(line, by)
		if !ok {
			parsed = []Row{{Cells: strings.Split(line, string(by))}}
			trim(parsed[0].Cells)
		}
		parsed[0].Line = i + 1
		rows = append(rows, parsed[0])
	}
	return rows
}

// parse reads a text whose quotes are well formed. The reader of the library
// leaves out blank lines; they are put back.
func parse(text string, by rune) ([]Row, bool) {
	in := csv.NewReader(strings.NewReader(text))
	in.Comma = by
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = by != '\t' // it would take tabs for space
	var rows []Row
	next := 1 // line on which the next row begins if there is no blank one before it
	fill := func(to int) {
		for ; next < to; next++ {
			rows = append(rows, Row{Line: next, Cells: []string{""}})
		}
	}
	for {
		cells, err := in.Read()
		if err != nil {
			fill(2 + strings.Count(text, "\n"))
			return rows, errors.Is(err, io.EOF)
		}
		line, _ := in.FieldPos(0)
		fill(line)
		next = line + 1
		for _, cell := range cells {
			next += strings.Count(cell, "\n")
		}
		trim(cells)
		rows = append(rows, Row{Line: line, Cells: cells})
	}
}

func trim(cells []string) {
	for i, cell := range cells {
		cells[i] = strings.TrimSpace(cell)
	}
}
