package pane

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"

	"fillwright/internal/project"
)

// change makes one edit of the list. do gets the list to write to and returns what
// becomes of it, and the lines that show it.
func (t *rowsTable[T]) change(label, place string, do func(p *project.Project, list []T) ([]T, lineUp, error)) error {
	err := t.base.desk.Edit(label, place, func(p *project.Project) error {
		list := t.opts.list(p)
		if list == nil || len(*list) != len(t.seen) {
			return nil // the document has moved on under the table, which is about to follow
		}
		rows, next, err := do(p, *list)
		if err != nil {
			return err
		}
		if len(rows) > t.opts.most {
			return said{"table.too_many_rows", map[string]any{"Length": len(rows), "Max": t.opts.most}}
		}
		*list, t.next = rows, &next
		if t.opts.onOrder != nil {
			if from := origins(t.lines, next.lines); reordered(len(t.seen), from) {
				t.opts.onOrder(p, len(t.seen), from)
			}
		}
		return nil
	})
	if err != nil {
		t.next = nil
		return err
	}
	if t.next != nil { // nothing in the document has changed, so nobody has said so
		t.follow()
	}
	return nil
}

// say is short for a text about the table.
func (t *rowsTable[T]) say(id string) string {
	return t.base.words().Say(id, map[string]any{"Field": t.opts.label})
}

// spot is the index in the list that a row has, or would have.
func (t *rowsTable[T]) spot(row int) int {
	if i := t.index(row); i >= 0 {
		return i
	}
	return count(t.lines[:min(row, len(t.lines))])
}

// edit takes the text of one cell.
func (t *rowsTable[T]) edit(row, col int, text string) error {
	c, spot := &t.opts.columns[col], t.spot(row)
	return t.change(t.say("edit.change"), t.placeOf(spot, col), func(p *project.Project, list []T) ([]T, lineUp, error) {
		value := t.blank()
		if i := t.index(row); i >= 0 {
			value = list[i]
		}
		err := c.take(&value, text, "", p.Currency, func() string { return c.unitAbove(list, spot) })
		if err != nil {
			return nil, lineUp{}, err
		}
		list, next := t.put(list, row, col, value)
		return list, next, nil
	})
}

// put writes a row into the list, adds it or, when it is empty, takes it out.
func (t *rowsTable[T]) put(list []T, row, col int, value T) ([]T, lineUp) {
	next := lineUp{slices.Clone(t.lines), t.last}
	spot, is := t.spot(row), t.index(row) >= 0
	switch empty := t.isEmpty(&value); {
	case is && (!empty || t.opts.keeps):
		list[spot] = value
	case !empty:
		list = slices.Insert(list, spot, value)
		if row == len(next.lines) {
			next = lineUp{append(next.lines, line{t.last, spot}), t.newKey()}
		}
		next.lines[row].index = spot
	case is && t.refusedBeside(row, col):
		list = slices.Delete(list, spot, spot+1)
		next.lines[row].index = -1
	case is:
		list = slices.Delete(list, spot, spot+1)
		next.lines = slices.Delete(next.lines, row, row+1)
	}
	number(next.lines)
	return list, next
}

// refusedBeside reports refused text in another cell of a row.
func (t *rowsTable[T]) refusedBeside(row, col int) bool {
	for _, r := range t.grid.Refusals() {
		if r.Row == row && r.Col != col {
			return true
		}
	}
	return false
}

// number gives the lines of the list their index.
func number(lines []line) {
	n := 0
	for i := range lines {
		if lines[i].index >= 0 {
			lines[i].index = n
			n++
		}
	}
}

// menu is what can be done to a row.
func (t *rowsTable[T]) menu(row int) []*fyne.MenuItem {
	if row >= len(t.lines) {
		return nil
	}
	up := fyne.NewMenuItem(t.base.text("table.move_up"), func() { t.move(row, -1) })
	up.Disabled = row == 0
	down := fyne.NewMenuItem(t.base.text("table.move_down"), func() { t.move(row, 1) })
	down.Disabled = row == len(t.lines)-1
	return []*fyne.MenuItem{
		fyne.NewMenuItem(t.base.text("table.insert_row"), func() { t.insertRow(row) }),
		up, down,
		fyne.NewMenuItem(t.base.text("table.delete_row"), func() { t.deleteRow(row) }),
	}
}

// insertRow shows an empty row. It is in the document once something stands in it.
func (t *rowsTable[T]) insertRow(row int) {
	t.lines = slices.Insert(slices.Clone(t.lines), row, line{t.newKey(), -1})
	t.grid.Sync()
	t.grid.FocusCell(row, t.firstColumn())
}

// deleteRow takes a row out, with text in it that was refused.
func (t *rowsTable[T]) deleteRow(row int) {
	if row >= len(t.lines) {
		return
	}
	next := lineUp{slices.Delete(slices.Clone(t.lines), row, row+1), t.last}
	number(next.lines)
	index := t.index(row)
	if index < 0 {
		t.lines = next.lines
		t.grid.Sync()
		return
	}
	_ = t.change(t.say("edit.remove_row"), t.rowPlace(index), func(_ *project.Project, list []T) ([]T, lineUp, error) {
		return slices.Delete(list, index, index+1), next, nil
	}) // taking a row out cannot break a project
}

// move changes places with the row above or below.
func (t *rowsTable[T]) move(row, by int) {
	to := row + by
	if row >= len(t.lines) || to < 0 || to >= len(t.lines) {
		return
	}
	a, b := t.index(row), t.index(to)
	next := lineUp{slices.Clone(t.lines), t.last}
	next.lines[row], next.lines[to] = next.lines[to], next.lines[row]
	number(next.lines)
	if a < 0 || b < 0 {
		t.lines = next.lines
		t.grid.Sync()
	} else {
		_ = t.change(t.say("edit.move_row"), t.rowPlace(b), func(_ *project.Project, list []T) ([]T, lineUp, error) {
			list[a], list[b] = list[b], list[a]
			return list, next, nil
		}) // the order of rows cannot break a project
	}
	_, col := t.grid.Selected()
	t.grid.Select(to, col)
}

func (t *rowsTable[T]) rowPlace(index int) string {
	return t.opts.place + "/" + strconv.Itoa(index)
}
