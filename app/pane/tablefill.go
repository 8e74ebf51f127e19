package pane

import (
	"slices"
	"strings"

	"fillwright/app/control"
	"fillwright/internal/project"
)

// cellText is a text for a cell.
type cellText struct {
	col  int
	text string
	unit string // of a bare number; empty when nobody has said so
}

// filledRow is a row of a table while texts are put into it.
type filledRow[T any] struct {
	key     int
	before  T
	value   T
	in      bool          // stands in the list
	stays   bool          // does so even when it is empty
	texts   []cellText    // for its cells; nil for a row that is left alone
	line    int           // of the file that they come from; 0 for none
	refused map[int]error // by column
}

// columnsFrom are those that can be edited, from one on to the right.
func (t *rowsTable[T]) columnsFrom(col int) []int {
	var columns []int
	for i := col; i < len(t.opts.columns); i++ {
		if t.opts.columns[i].set != nil {
			columns = append(columns, i)
		}
	}
	return columns
}

// textsFor gives the texts of a row to its columns. It may have one that is shorter
// than the others: what is not there is left alone.
func textsFor(l *layout, texts []string) (line []cellText, blank bool) {
	blank = true
	for i, text := range texts {
		text = strings.TrimSpace(text)
		blank = blank && text == ""
		if i < len(l.columns) && l.columns[i] >= 0 {
			line = append(line, cellText{l.columns[i], text, l.unit(i)})
		}
	}
	return line, blank
}

// report says why nothing was taken, or what the user must know of how it was.
func (t *rowsTable[T]) report(err error, l *layout, rows [][]string) {
	if err != nil {
		t.tell(err.Error())
		return
	}
	var words []string
	if l.told != nil {
		words = append(words, t.base.words().Error(l.told))
	}
	if names := l.leftOut(rows); len(names) > 0 {
		words = append(words, t.base.words().Say("table.left_out", map[string]any{"Count": len(names), "Names": few(names)}))
	}
	if len(words) > 0 {
		t.tell(strings.Join(words, " "))
	}
}

// filledRows are the rows as they are, texts still to come.
func (t *rowsTable[T]) filledRows(list []T) []filledRow[T] {
	rows := make([]filledRow[T], len(t.lines), len(t.lines)+1)
	for i, l := range t.lines {
		rows[i] = filledRow[T]{key: l.key, in: l.index >= 0, before: t.blank()}
		if l.index >= 0 {
			rows[i].before, rows[i].stays = list[l.index], t.opts.keeps
		}
		rows[i].value = rows[i].before
	}
	return rows
}

// fill makes one edit out of rows of texts. What cannot be read, or is no value
// for its place, is shown in its cell; all else is taken.
func (t *rowsTable[T]) fill(label, place string, build func(list []T) []filledRow[T]) error {
	var rows []filledRow[T]
	before, list := lineUp{t.lines, t.last}, t.seen
	err := t.change(label, place, func(p *project.Project, list []T) ([]T, lineUp, error) {
		rows = build(list)
		for i := range rows {
			t.read(rows, i, p.Currency)
		}
		values := t.accepted(p, rows)
		if len(values) == 0 && rows[0].line > 0 {
			return nil, lineUp{}, t.nothingRead(rows)
		}
		return values, t.linesOf(rows), nil
	})
	if err != nil {
		return err
	}
	t.back, t.from = nil, nil
	if !same(list, t.seen) {
		t.back, t.from = &before, list
	}
	t.showRefused(rows)
	return nil
}

// read puts the texts of a row into its value, but those that were refused.
func (t *rowsTable[T]) read(rows []filledRow[T], i int, currency string) {
	r := &rows[i]
	if r.texts == nil {
		return
	}
	r.value = r.before
	for _, cell := range r.texts {
		if r.refused[cell.col] != nil {
			continue
		}
		c := &t.opts.columns[cell.col]
		above := func() string {
			for j := i - 1; j >= 0; j-- {
				if unit := c.unit(&rows[j].value); unit != "" {
					return unit
				}
			}
			return ""
		}
		if err := c.take(&r.value, cell.text, cell.unit, currency, above); err != nil {
			r.refuse(cell.col, err)
		}
	}
	r.in = r.stays || !t.isEmpty(&r.value)
}

func (r *filledRow[T]) refuse(col int, err error) {
	if r.refused == nil {
		r.refused = map[int]error{}
	}
	r.refused[col] = err
}

// linesOf are the lines that show the rows: those of the list, those with refused
// text, and those that were shown before for another reason.
func (t *rowsTable[T]) linesOf(rows []filledRow[T]) lineUp {
	kept := t.keptKeys()
	next := lineUp{last: t.last}
	if rows[0].line > 0 {
		next.last = t.newKey() // a file leaves nothing of what was there
	}
	for i := range rows {
		switch r := &rows[i]; {
		case r.in:
			next.lines = append(next.lines, line{r.key, 0})
		case len(r.refused) > 0 || r.texts == nil && kept[r.key]:
			next.lines = append(next.lines, line{r.key, -1})
		}
	}
	number(next.lines)
	if slices.ContainsFunc(next.lines, func(l line) bool { return l.key == next.last }) {
		next.last = t.newKey()
	}
	return next
}

// showRefused shows the texts that were refused, and those refused earlier of
// cells that got no other.
func (t *rowsTable[T]) showRefused(rows []filledRow[T]) {
	at := map[int]int{} // row by key
	for i, l := range t.lines {
		at[l.key] = i
	}
	at[t.last] = len(t.lines)
	filled := map[[2]int]bool{}
	var all []control.CellRefusal
	for i := range rows {
		r := &rows[i]
		row, there := at[r.key]
		for _, cell := range r.texts {
			filled[[2]int{row, cell.col}] = there
			if err := r.refused[cell.col]; err != nil && there {
				all = append(all, control.CellRefusal{Row: row, Col: cell.col, Refusal: control.Refusal{Text: cell.text, Message: t.reason(r.line, err)}})
			}
		}
	}
	for _, r := range t.grid.Refusals() {
		if !filled[[2]int{r.Row, r.Col}] {
			all = append(all, r)
		}
	}
	t.grid.ClearRefused()
	t.grid.RestoreRefused(all)
}

// reason says why a text was refused and, for one out of a file, where it stands.
func (t *rowsTable[T]) reason(line int, err error) string {
	text := t.base.words().Error(err)
	if line == 0 {
		return text
	}
	return t.base.words().Say("table.line_refused", map[string]any{"Line": line, "Reason": text})
}
