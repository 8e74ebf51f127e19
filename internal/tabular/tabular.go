// Package tabular reads and writes tables as text: what is copied from a
// spreadsheet, and files of separated values, however they came to be written.
// It knows cells and lines, not what stands in them.
package tabular

import (
	"bytes"
	"fmt"
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// What Read accepts at most.
const (
	MostBytes = 1_000_000
	MostRows  = 20_000
)

// Row is one row with the number of the line that it begins on, from 1. Rows may
// be of different length.
type Row struct {
	Line  int
	Cells []string
}

// Table is what a file holds.
type Table struct {
	Header []string // nil when the first row is one like the others
	Rows   []Row
}

// Cells are those of all rows, the header first if there is one.
func (t Table) Cells() [][]string {
	var cells [][]string
	if t.Header != nil {
		cells = append(cells, t.Header)
	}
	for _, row := range t.Rows {
		cells = append(cells, row.Cells)
	}
	return cells
}

// TooLarge refuses a file with more than is read of one.
type TooLarge struct {
	Most int
	Rows bool // rows are too many, else bytes
}

// Message hands the refusal to whoever renders texts.
func (e *TooLarge) Message() (id string, values map[string]any) {
	if e.Rows {
		return "tabular.too_many_rows", map[string]any{"Max": e.Most}
	}
	return "tabular.too_many_bytes", map[string]any{"Max": e.Most / 1_000_000}
}

// Error is for logs; people read the text of the Message.
func (e *TooLarge) Error() string {
	if e.Rows {
		return fmt.Sprintf("tabular: more than %d rows", e.Most)
	}
	return fmt.Sprintf("tabular: more than %d bytes", e.Most)
}

// NotText refuses a file that is none of text, such as that of a spreadsheet itself.
type NotText struct{}

// Message hands the refusal to whoever renders texts.
func (*NotText) Message() (id string, values map[string]any) { return "tabular.not_text", nil }

// Error is for logs; people read the text of the Message.
func (*NotText) Error() string { return "tabular: not a text" }

// Read reads a file. UTF-8 is expected, or UTF-16 where a byte order mark says so.
// Line ends may be those of any system. Blank lines are left out, and so are
// columns at the right that are empty all the way down, which separators at the
// ends of lines make. Spaces around a cell are dropped.
//
// How cells are separated is guessed, see separator. Whether the first row is a
// header is for Headed to say.
//
// The error is a *TooLarge or a *NotText.
func Read(data []byte) (Table, error) {
	if len(data) > MostBytes {
		return Table{}, &TooLarge{Most: MostBytes}
	}
	text, err := decode(data)
	if err != nil {
		return Table{}, err
	}
	var rows []Row
	for _, row := range cut(text, separator(text)) {
		if !blank(row.Cells) {
			rows = append(rows, row)
		}
	}
	cutEmptyColumns(rows)
	var table Table
	if Headed(Table{Rows: rows}.Cells()) {
		table.Header, rows = rows[0].Cells, rows[1:]
	}
	if len(rows) > MostRows {
		return Table{}, &TooLarge{Most: MostRows, Rows: true}
	}
	table.Rows = rows
	return table, nil
}

// Cells cuts what was copied into cells by the rule of Read, but keeps blank lines
// and empty columns: in a block of cells each has its place. One line without a
// tab is one cell, for it may have been copied from anywhere.
func Cells(text string) [][]string {
	text = strings.TrimSuffix(unixLines(text), "\n")
	if text == "" {
		return nil
	}
	by := separator(text)
	if !strings.Contains(text, "\n") {
		by = '\t'
	}
	rows := cut(text, by)
	cells := make([][]string, len(rows))
	for i, row := range rows {
		cells[i] = row.Cells
	}
	return cells
}

// decode makes text with plain line ends of what a file holds.
func decode(data []byte) (string, error) {
	text, _, err := transform.Bytes(unicode.BOMOverride(encoding.Nop.NewDecoder()), data)
	if err != nil || bytes.IndexByte(text, 0) >= 0 {
		return "", &NotText{}
	}
	return unixLines(string(text)), nil
}

func unixLines(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
}

// blank reports a row in which nothing stands.
func blank(cells []string) bool {
	for _, cell := range cells {
		if cell != "" {
			return false
		}
	}
	return true
}

// cutEmptyColumns takes the columns away that are empty from some place on to the
// right, in all rows.
func cutEmptyColumns(rows []Row) {
	width := 0
	for _, row := range rows {
		for col, cell := range row.Cells {
			if cell != "" {
				width = max(width, col+1)
			}
		}
	}
	for i := range rows {
		rows[i].Cells = rows[i].Cells[:min(len(rows[i].Cells), width)]
	}
}
