package pane

import (
	"errors"
	"slices"
	"strings"
	"unicode"

	"fillwright/internal/tabular"
)

// layout is where the columns of a block of texts go.
type layout struct {
	columns []int    // of the table; -1 for one that has no place there
	units   []string // that the headings name, for bare numbers; empty for none
	names   []string // the headings; nil without any
	heads   int      // rows of headings above those of values
	told    error    // what the user must know when all went well
}

// unit is that of a column of the block.
func (l *layout) unit(i int) string {
	if i < len(l.units) {
		return l.units[i]
	}
	return ""
}

// lay finds out where the columns of a block go, whose first row is a heading for
// sure or perhaps. A heading gives its column a place by its title, in whatever order
// they are, and the unit of its bare numbers. Without one that is known here columns
// go to those of own in their order, and only if their headings say nothing against
// it; whole asks for headings of all of own. The error is for the user.
func (t *rowsTable[T]) lay(cells [][]string, sure bool, own []int, whole bool) (layout, error) {
	if len(cells) == 0 {
		return layout{columns: own}, nil
	}
	l := t.byTitle(cells[0], cells[1:])
	var err error
	switch {
	case t.isHeading(&l, sure):
		if err = t.checkUnits(&l, cells[1:]); err == nil && whole {
			err = t.checkWhole(&l, own)
		}
	case !sure:
		return layout{columns: own}, nil
	default:
		l, err = t.inOrder(cells, own, whole)
	}
	if err != nil {
		return layout{}, err
	}
	if len(cells) > 2 {
		t.readUnits(&l, cells[1])
	}
	return l, nil
}

// isHeading reports that headings are some, or that a row that may be one is: it
// names a column that cannot hold such a word, or all columns.
func (t *rowsTable[T]) isHeading(l *layout, sure bool) bool {
	found := 0
	for _, col := range l.columns {
		if col >= 0 {
			found++
			sure = sure || t.opts.columns[col].unit != nil
		}
	}
	return found > 0 && (sure || found == len(t.columnsFrom(0)))
}

// inOrder takes columns whose headings are not known here in their order. The user
// is told, because they may have another one.
func (t *rowsTable[T]) inOrder(cells [][]string, own []int, whole bool) (layout, error) {
	l, names := layout{heads: 1}, cells[0]
	for len(names) > 0 && names[len(names)-1] == "" {
		names = names[:len(names)-1]
	}
	var pairs []error
	plain := len(names) == len(own) || !whole && len(names) < len(own)
	for i := 0; plain && i < len(names); i++ {
		c := &t.opts.columns[own[i]]
		ways := tabular.Headings(names[i])
		at := slices.IndexFunc(ways[1:], func(w tabular.Heading) bool { return c.takesUnit(w.Unit, columnOf(cells[1:], i)) })
		plain = at >= 0 || len(ways) == 1
		l.columns, l.units = append(l.columns, own[i]), append(l.units, ways[at+1].Unit)
		pairs = append(pairs, t.headingAs(names, i, own[i]))
	}
	values := map[string]any{"Columns": t.titles()}
	if !plain {
		values["Headings"] = few(namesOf(names))
		return layout{}, said{"table.unknown_headings", values}
	}
	values["Pairs"] = pairs
	l.names, l.told = names, said{"table.in_order", values}
	return l, nil
}

// checkWhole refuses headings that leave a column of own without one, for rows that
// take the place of all: nothing would be left in it.
func (t *rowsTable[T]) checkWhole(l *layout, own []int) error {
	var missing []string
	for _, col := range own {
		if !slices.Contains(l.columns, col) {
			missing = append(missing, t.opts.columns[col].title)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	var pairs []error
	for i, col := range l.columns {
		if col >= 0 {
			pairs = append(pairs, t.headingAs(l.names, i, col))
		}
	}
	return said{"table.missing_columns", map[string]any{
		"Count": len(missing), "Missing": few(namesOf(missing)), "Headings": few(namesOf(l.names)), "Pairs": few(pairs),
	}}
}

// headingAs says in which column a heading is read.
func (t *rowsTable[T]) headingAs(names []string, i, col int) error {
	return said{"table.heading_as", map[string]any{"Heading": nameOf(names, i), "Column": t.opts.columns[col].title}}
}

// leftOut names the columns of a block in which something stands that has no place
// in the table.
func (l *layout) leftOut(rows [][]string) []error {
	var filled []bool
	for _, row := range append([][]string{l.names}, rows...) {
		filled = append(filled, make([]bool, max(0, len(row)-len(filled)))...)
		for i, text := range row {
			filled[i] = filled[i] || strings.TrimSpace(text) != ""
		}
	}
	var names []error
	for i := range filled {
		if filled[i] && (i >= len(l.columns) || l.columns[i] < 0) {
			names = append(names, nameOf(l.names, i))
		}
	}
	return names
}

// titles are those of the columns that can be filled.
func (t *rowsTable[T]) titles() []error {
	var titles []string
	for _, col := range t.columnsFrom(0) {
		titles = append(titles, t.opts.columns[col].title)
	}
	return namesOf(titles)
}

// nameOf is a heading in quotes or, without one, the number of its column.
func nameOf(names []string, i int) error {
	if i >= len(names) || names[i] == "" {
		return said{"table.column_number", map[string]any{"Number": i + 1}}
	}
	return said{"table.quoted", map[string]any{"Text": short(names[i])}}
}

func namesOf(names []string) []error {
	list := make([]error, len(names))
	for i := range names {
		list[i] = nameOf(names, i)
	}
	return list
}

// few cuts a list to what can be read in a dialog.
func few(list []error) []error {
	const most = 8
	if len(list) > most {
		return append(list[:most:most], errors.New("…"))
	}
	return list
}

// short makes a text of a file fit for a sentence.
func short(text string) string {
	const most = 40
	text = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// columnOf is a column of a block; shorter rows have nothing there.
func columnOf(rows [][]string, i int) []string {
	texts := make([]string, len(rows))
	for k, row := range rows {
		if i < len(row) {
			texts[k] = row[i]
		}
	}
	return texts
}
