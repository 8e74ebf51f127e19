package pane

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"fillwright/internal/project"
)

// accepted is the list that the rows make. A value that the document does not
// accept is refused like one that cannot be read. Each look at the document ends at
// the first such value, and the next one begins there.
func (t *rowsTable[T]) accepted(p *project.Project, rows []filledRow[T]) []T {
	var values, rest []T
	var of []int // rows that rest stands for
	for i := range rows {
		if rows[i].in {
			rest, of = append(rest, rows[i].value), append(of, i)
		}
	}
	if len(rest) > t.opts.most {
		return rest // refused by change
	}
	list := t.opts.list(p)
	for len(rest) > 0 {
		*list = rest
		index, col, err := t.firstBroken(p)
		if err == nil || index >= len(rest) || !rows[of[index]].fills(col) {
			break // nothing that could be left out; the document itself says what is wrong
		}
		r := &rows[of[index]]
		r.refuse(col, err)
		t.read(rows, of[index], p.Currency)
		values = append(values, rest[:index]...)
		if r.in {
			rest[index] = r.value
			rest, of = rest[index:], of[index:]
		} else {
			rest, of = rest[index+1:], of[index+1:]
		}
	}
	return append(values, rest...)
}

// nothingRead refuses a file of which no row can be taken: it would only empty
// the table.
func (t *rowsTable[T]) nothingRead(rows []filledRow[T]) error {
	for i := range rows {
		for _, cell := range rows[i].texts {
			if err := rows[i].refused[cell.col]; err != nil {
				return said{"table.nothing_read", map[string]any{"Reason": t.reason(rows[i].line, err)}}
			}
		}
	}
	return said{"table.no_rows", nil}
}

// fills reports a text for a column that was not refused yet.
func (r *filledRow[T]) fills(col int) bool {
	return r.refused[col] == nil && slices.ContainsFunc(r.texts, func(c cellText) bool { return c.col == col })
}

// firstBroken is the first cell whose value the document does not accept.
func (t *rowsTable[T]) firstBroken(p *project.Project) (index, col int, err error) {
	var broken *project.Broken
	if !errors.As(project.Validate(p), &broken) {
		return 0, 0, nil
	}
	below, inside := strings.CutPrefix(broken.Pointer, t.opts.place+"/")
	number, member, _ := strings.Cut(below, "/")
	index, bad := strconv.Atoi(number)
	col = t.columnOf(member)
	if !inside || bad != nil || col < 0 {
		return 0, 0, nil
	}
	return index, col, broken
}
