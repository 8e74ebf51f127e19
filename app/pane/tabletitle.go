package pane

import (
	"slices"
	"strings"

	"fillwright/internal/tabular"
)

// titles finds columns for the headings of a block.
type titles[T any] struct {
	layout
	columns []column[T]
	ways    [][]tabular.Heading // to read each heading
	rows    [][]string          // below them
}

// byTitle gives headings the columns that they name: all those of a title first, then
// those of other titles for columns that are still without a heading, most telling
// first. Of several headings for a column the first has it, and one whose unit is
// read there before one whose is not, which is kept to be refused.
func (t *rowsTable[T]) byTitle(names []string, rows [][]string) layout {
	n := titles[T]{layout: layout{names: names, heads: 1}, columns: t.opts.columns, rows: rows}
	for _, name := range names {
		n.layout.columns, n.units = append(n.layout.columns, -1), append(n.units, "")
		n.ways = append(n.ways, tabular.Headings(name))
	}
	own := t.columnsFrom(0)
	read := func(c *column[T], unit string, texts []string) bool { return unit == "" || c.takesUnit(unit, texts) }
	wrong := func(*column[T], string, []string) bool { return true }
	for _, list := range []func(*column[T]) []string{
		func(c *column[T]) []string { return []string{c.title} },
		func(c *column[T]) []string { return c.also },
	} {
		n.give(own, list, read)
		n.give(own, list, wrong)
	}
	n.give(own, func(c *column[T]) []string { return c.vague }, (*column[T]).saysUnit)
	return n.layout
}

// give hands each column that has no heading to the first one that names it by a
// title of its list, earlier titles first. fit is asked for the unit and what stands
// below.
func (n *titles[T]) give(own []int, list func(*column[T]) []string, fit func(c *column[T], unit string, texts []string) bool) {
	for _, col := range own {
		for _, title := range list(&n.columns[col]) {
			if slices.Contains(n.layout.columns, col) {
				break
			}
			n.find(col, title, fit)
		}
	}
}

// find looks for the heading of a column by one title.
func (n *titles[T]) find(col int, title string, fit func(c *column[T], unit string, texts []string) bool) {
	for i, ways := range n.ways {
		if n.layout.columns[i] >= 0 {
			continue
		}
		for _, way := range ways {
			if strings.EqualFold(title, way.Title) && fit(&n.columns[col], way.Unit, columnOf(n.rows, i)) {
				n.layout.columns[i], n.units[i] = col, way.Unit
				return
			}
		}
	}
}
