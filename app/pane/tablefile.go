package pane

import (
	"io"
	"slices"
	"strings"

	"fillwright/internal/tabular"
)

// tableFiles are the endings of files that may hold a table.
var tableFiles = []string{".csv", ".tsv", ".txt"}

// askImport asks for a file whose rows take the place of those of the table.
func (t *rowsTable[T]) askImport() {
	title := t.say("edit.import")
	t.base.desk.OpenText(title, tableFiles, tabular.MostBytes+1, func(_, text string) { t.importText(text) })
}

// importText replaces the rows by those of a file, in one edit.
func (t *rowsTable[T]) importText(text string) {
	table, err := tabular.Read([]byte(text))
	if err != nil {
		t.tell(t.base.words().Error(err))
		return
	}
	columns, rows := t.match(table)
	var filled []filledRow[T]
	leftOut := 0
	for _, row := range rows {
		texts, wide := textsFor(columns, row.Cells)
		filled = append(filled, filledRow[T]{before: t.blank(), texts: texts, line: row.Line})
		leftOut = max(leftOut, wide-len(columns)) // beyond the columns that there are
	}
	for _, col := range columns {
		if col < 0 {
			leftOut++
		}
	}
	if len(filled) == 0 {
		t.tell(t.base.text("table.no_rows"))
		return
	}
	err = t.fill(t.say("edit.import"), t.opts.place, func([]T) []filledRow[T] {
		for i := range filled {
			filled[i].key, filled[i].refused = t.newKey(), nil
		}
		return filled
	})
	t.report(err, leftOut)
}

// match gives the columns of a file to those of the table, -1 for one to be left
// out: by name when the file names all columns of the table, else in their order.
// A first row that names them is no row, even where nothing else says so.
func (t *rowsTable[T]) match(table tabular.Table) (columns []int, rows []tabular.Row) {
	rows = table.Rows
	names := table.Header
	if names == nil && len(rows) > 0 {
		names = rows[0].Cells
	}
	own := t.columnsFrom(0)
	found := 0
	for _, name := range names {
		col := slices.IndexFunc(t.opts.columns, func(c column[T]) bool { return c.set != nil && strings.EqualFold(c.title, name) })
		if slices.Contains(columns, col) {
			col = -1
		}
		if col >= 0 {
			found++
		}
		columns = append(columns, col)
	}
	if found < len(own) {
		return own, rows
	}
	if table.Header == nil {
		rows = rows[1:]
	}
	return columns, rows
}

// export writes the columns that can be edited.
func (t *rowsTable[T]) export() {
	columns := t.columnsFrom(0)
	t.base.desk.Export(t.opts.file, func(out io.Writer) error {
		header := make([]string, len(columns))
		for i, col := range columns {
			header[i] = t.opts.columns[col].title
		}
		list := t.current()
		rows := make([][]string, len(list))
		for i := range list {
			for _, col := range columns {
				rows[i] = append(rows[i], t.opts.columns[col].file(&list[i]))
			}
		}
		return tabular.Write(out, header, rows)
	})
}
