package pane

import (
	"errors"
	"slices"
	"strings"
	"unicode"

	"fillwright/internal/quantity"
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
	l := t.byTitle(cells[0])
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

// byTitle gives each heading the column of its title, the first of several only.
func (t *rowsTable[T]) byTitle(names []string) layout {
	l := layout{names: names, heads: 1}
	for _, name := range names {
		col, unit := t.columnTitled(name)
		if slices.Contains(l.columns, col) {
			col = -1
		}
		l.columns, l.units = append(l.columns, col), append(l.units, unit)
	}
	return l
}

// columnTitled is the column that a heading names, -1 for none, and the unit in it.
func (t *rowsTable[T]) columnTitled(name string) (col int, unit string) {
	for _, way := range tabular.Headings(name) {
		same := func(title string) bool { return strings.EqualFold(title, way.Title) }
		col := slices.IndexFunc(t.opts.columns, func(c column[T]) bool {
			return c.set != nil && (same(c.title) || slices.ContainsFunc(c.also, same))
		})
		if col >= 0 {
			return col, way.Unit
		}
	}
	return -1, ""
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

// checkUnits refuses a unit that its column cannot take.
func (t *rowsTable[T]) checkUnits(l *layout, rows [][]string) error {
	for i, col := range l.columns {
		if col < 0 || l.units[i] == "" {
			continue
		}
		c := &t.opts.columns[col]
		if c.takesUnit(l.units[i], columnOf(rows, i)) {
			continue
		}
		values := map[string]any{"Heading": short(l.names[i]), "Column": c.title, "Unit": short(l.units[i])}
		if c.unit == nil {
			return said{"table.no_unit_there", values}
		}
		values["Units"] = c.unitsTaken()
		return said{"table.wrong_unit", values}
	}
	return nil
}

// takesUnit reports whether bare numbers can have a unit in a column: one such as
// "g", or what some of its texts make sense with, as mesh numbers do.
func (c *column[T]) takesUnit(unit string, texts []string) bool {
	var row T
	if c.unit == nil {
		return false
	}
	if c.set(&row, "1 "+unit) == nil && c.file(&row) == "1 "+c.unit(&row) { // and not "± 2 g"
		return true
	}
	return strings.IndexFunc(unit, func(r rune) bool { return !unicode.IsLetter(r) }) < 0 &&
		slices.ContainsFunc(texts, func(text string) bool {
			var row T
			return text != "" && c.set(&row, text+" "+unit) == nil
		})
}

// unitsTaken lists the units of a column.
func (c *column[T]) unitsTaken() string {
	var row T
	var refusal *quantity.Refusal
	if errors.As(c.set(&row, "1 ?"), &refusal) {
		units, _ := refusal.Values["Units"].(string)
		return units
	}
	return c.usual
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

// readUnits takes the units of a second row of headings, in which nothing but units
// stands, with or without brackets.
func (t *rowsTable[T]) readUnits(l *layout, cells []string) {
	units, some := slices.Clone(l.units), false
	for i, text := range cells {
		if i >= len(l.columns) || l.columns[i] < 0 || text == "" {
			continue
		}
		unit := strings.Trim(text, "()[] ")
		if !t.opts.columns[l.columns[i]].takesUnit(unit, nil) {
			return
		}
		units[i], some = unit, true
	}
	if some {
		l.units, l.heads = units, 2
	}
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
