package pane

import (
	"io"

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
	cells := table.Cells()
	l, err := t.lay(cells, table.Header != nil, t.columnsFrom(0), true)
	if err != nil {
		t.tell(t.base.words().Error(err))
		return
	}
	rows, cells := table.Rows[l.heads-(len(cells)-len(table.Rows)):], cells[l.heads:]
	var filled []filledRow[T]
	for _, row := range rows {
		texts, _ := textsFor(&l, row.Cells)
		filled = append(filled, filledRow[T]{before: t.blank(), texts: texts, line: row.Line})
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
	t.report(err, &l, cells)
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
