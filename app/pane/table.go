package pane

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// rowsOptions say what a [rowsTable] shows. Its callbacks only look things up.
type rowsOptions[T any] struct {
	place   string // of the list in the document, a JSON Pointer
	label   string // names the table to a screen reader, and its edits in the menu
	columns []column[T]
	// list points at the list in a project; nil when it is not there (any more).
	list func(*project.Project) *[]T
	// blank is what a new row begins as; the zero value when nil.
	blank func() T
	// isEmpty reports a row that is taken out; one without text in any column when nil.
	isEmpty func(*T) bool
	// keeps says that a row stays when its cells are emptied, because others belong
	// to it by its number. Only deleting takes it out.
	keeps bool
	// onOrder hears, inside the edit that does it, that rows were taken out, moved or
	// put in between: of the rows that there were, from has the one that each row is
	// now, -1 for a new one. Optional.
	onOrder func(p *project.Project, were int, from []int)
	most    int // rows, as project accepts them
	shown   int // rows before the table scrolls; 8 when zero
	// rowNote says what is wrong with a row of the list; empty for nothing. Optional.
	rowNote func(index int) string
	// onSelect hears the index in the list of the active row, -1 for one that is not in it. Optional.
	onSelect func(index int)
	// file is the name to offer for an export. Without it there are no buttons for files.
	file string
}

// rowsTable is an editable table over a list of the document, with an empty row
// at its end to add one. A row all of whose cells were emptied is taken out.
// Typing, a paste and a file change the document in one edit each. Text that
// cannot be read stays in its cell with the reason below, and keeps nothing
// else from being taken; a row of such text only is shown although it is not in
// the document yet.
type rowsTable[T any] struct {
	base *base
	opts rowsOptions[T]
	grid *control.Grid

	lines []line  // the rows shown, top to bottom, without the empty one at the end
	last  int     // key of the empty row at the end
	keys  int     // given out so far
	seen  []T     // the list that lines were made for
	next  *lineUp // what lines will be after the edit that is under way
	back  *lineUp // what they were before the last paste or import
	from  []T     // the list of that time
}

// line is a row that is shown. Its key stays when it moves.
type line struct {
	key   int
	index int // in the list; -1 for a row that is not in the document yet
}

// newRowsTable makes a table and lets the pane keep it.
func newRowsTable[T any](b *base, opts rowsOptions[T]) *rowsTable[T] {
	t := &rowsTable[T]{base: b, opts: opts}
	t.last = t.newKey()
	t.follow()
	grid := control.GridOptions{
		ID: opts.place, Label: opts.label, Columns: t.gridColumns(), MaxRows: opts.shown,
		Rows: func() int { return len(t.lines) + 1 },
		Cell: t.cell, RowKey: func(row int) string { return strconv.Itoa(t.key(row)) },
		OnEdit: t.edit, OnPaste: t.paste, OnDeleteRow: t.deleteRow, Menu: t.menu,
	}
	if opts.rowNote != nil {
		grid.RowMessage = func(row int) string {
			if i := t.index(row); i >= 0 {
				return opts.rowNote(i)
			}
			return ""
		}
	}
	if opts.onSelect != nil {
		grid.OnSelect = func(row int) { opts.onSelect(t.index(row)) }
	}
	t.grid = control.NewGrid(grid)
	b.tables = append(b.tables, t)
	return t
}

func (t *rowsTable[T]) gridColumns() []control.GridColumn {
	columns := make([]control.GridColumn, len(t.opts.columns))
	for i, c := range t.opts.columns {
		columns[i] = control.GridColumn{Title: c.head(), Width: c.width, Align: c.align, Editable: c.set != nil}
		if len(c.choices) > 0 {
			columns[i].Choices = func(int) []string { return c.choices }
		}
	}
	return columns
}

// head is the title of a column with the unit that a bare number takes there, unless
// the column does without.
func (c *column[T]) head() string {
	if c.set == nil || c.usual == "" || c.bare {
		return c.title
	}
	return c.title + ", " + wording.Unit(c.usual)
}

// object is the table, with buttons for files below it.
func (t *rowsTable[T]) object() fyne.CanvasObject {
	if t.opts.file == "" {
		return t.grid
	}
	return control.NewColumn(6, t.grid, container.NewHBox(
		widget.NewButton(t.base.text("table.import"), t.askImport),
		widget.NewButton(t.base.text("table.export"), t.export)))
}

// current is the list as the view has it now.
func (t *rowsTable[T]) current() []T {
	if t.base.view.Project == nil {
		return nil
	}
	if list := t.opts.list(t.base.view.Project); list != nil {
		return *list
	}
	return nil
}

func (t *rowsTable[T]) cell(row, col int) control.Cell {
	c, i := &t.opts.columns[col], t.index(row)
	switch {
	case c.numbers:
		return control.Cell{Text: strconv.Itoa(row + 1), State: control.CellMuted}
	case i < 0:
		return control.Cell{}
	case c.cell != nil:
		return c.cell(i)
	}
	return control.Cell{Text: c.show(&t.seen[i])}
}

// isEmpty reports a row that has nothing to keep.
func (t *rowsTable[T]) isEmpty(row *T) bool {
	if t.opts.isEmpty != nil {
		return t.opts.isEmpty(row)
	}
	return !slices.ContainsFunc(t.opts.columns, func(c column[T]) bool { return c.set != nil && c.has(row) })
}

func (t *rowsTable[T]) blank() T {
	if t.opts.blank != nil {
		return t.opts.blank()
	}
	var row T
	return row
}

// firstColumn is the first that can be edited, 0 when there is none.
func (t *rowsTable[T]) firstColumn() int {
	return max(slices.IndexFunc(t.opts.columns, func(c column[T]) bool { return c.set != nil }), 0)
}

// selected is the index in the list of the active row, -1 for one that is not in it.
func (t *rowsTable[T]) selected() int {
	row, _ := t.grid.Selected()
	return t.index(row)
}

// ID is the place of the list.
func (t *rowsTable[T]) ID() string { return t.opts.place }

// Sync brings the table up to date with the view.
func (t *rowsTable[T]) Sync() {
	t.follow()
	t.grid.Sync()
}

// Commit hands on what is being typed.
func (t *rowsTable[T]) Commit() { t.grid.Commit() }

// Has reports whether a place is the list or lies in it.
func (t *rowsTable[T]) Has(place string) bool {
	_, _, has := t.find(place)
	return has
}

// Lead moves the keyboard to the cell of a place.
func (t *rowsTable[T]) Lead(place string) bool {
	row, col, has := t.find(place)
	if has {
		t.grid.FocusCell(row, col)
	}
	return has
}

// find is the cell of a place: of a row or something in it, and for the list itself,
// or a row that is not there, of the row that comes next.
func (t *rowsTable[T]) find(place string) (row, col int, has bool) {
	below, has := strings.CutPrefix(place, t.opts.place)
	if !has || below != "" && below[0] != '/' {
		return 0, 0, false
	}
	number, member, _ := strings.Cut(strings.TrimPrefix(below, "/"), "/")
	row = len(t.lines)
	if below != "" {
		index, err := strconv.Atoi(number)
		if err != nil || index < 0 {
			return 0, 0, false
		}
		if at := slices.IndexFunc(t.lines, func(l line) bool { return l.index == index }); at >= 0 {
			row = at
		}
	}
	if col = t.columnOf(member); col < 0 { // the whole row, or a list in it
		col = slices.IndexFunc(t.opts.columns, func(c column[T]) bool { return strings.HasPrefix(c.member, member+"/") })
	}
	if col < 0 {
		col = t.firstColumn()
	}
	return row, col, true
}

// columnOf is the column of a member of a row, or of something in it; -1 for none.
func (t *rowsTable[T]) columnOf(member string) int {
	return slices.IndexFunc(t.opts.columns, func(c column[T]) bool {
		return c.set != nil && (member == c.member || c.member != "" && strings.HasPrefix(member, c.member+"/"))
	})
}

// placeOf is the place of a cell.
func (t *rowsTable[T]) placeOf(index, col int) string {
	place := t.opts.place + "/" + strconv.Itoa(index)
	if member := t.opts.columns[col].member; member != "" {
		place += "/" + member
	}
	return place
}

// tell says something in a dialog.
func (t *rowsTable[T]) tell(text string) {
	t.base.desk.Ask(t.opts.label, text, []string{t.base.text("dialog.close")}, func(int) {})
}
