package pane

import "reflect"

// lineUp is all rows that a table shows: its lines and the key of the empty row.
type lineUp struct {
	lines []line
	last  int
}

func (t *rowsTable[T]) newKey() int {
	t.keys++
	return t.keys
}

// line is a row that is shown; the empty one at the end is not in the document.
func (t *rowsTable[T]) line(row int) line {
	if row < len(t.lines) {
		return t.lines[row]
	}
	return line{t.last, -1}
}

func (t *rowsTable[T]) key(row int) int { return t.line(row).key }

// index is that of a row in the list, -1 for a row that is not in it.
func (t *rowsTable[T]) index(row int) int { return t.line(row).index }

// follow makes the lines for the list as the view has it now.
func (t *rowsTable[T]) follow() {
	now := t.current()
	switch {
	case t.next != nil && count(t.next.lines) == len(now):
		t.lines, t.last = t.next.lines, t.next.last
	case t.back != nil && same(now, t.from):
		t.lines, t.last, t.back, t.from = t.back.lines, t.back.last, nil, nil
	case t.plain():
		t.lines = t.resized(len(now))
	default:
		t.lines = t.moved(now)
	}
	t.next = nil
	t.seen = now
}

// same reports one and the same list: the states of the document stay as they
// are, so an undo brings back the very list that was there. What a paste brought
// and could not be read goes with the paste.
func same[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// count is how many lines stand for rows of the list.
func count(lines []line) int {
	n := 0
	for _, l := range lines {
		if l.index >= 0 {
			n++
		}
	}
	return n
}

// plain reports that nothing hangs on which row is which: no refused text, no
// row that is not in the document.
func (t *rowsTable[T]) plain() bool {
	return len(t.lines) == len(t.seen) && (t.grid == nil || !t.grid.Refused())
}

// resized is the lines for so many rows, with the keys that there are.
func (t *rowsTable[T]) resized(n int) []line {
	lines := t.lines[:min(len(t.lines), n):min(len(t.lines), n)]
	for i := range lines {
		lines[i].index = i
	}
	for i := len(lines); i < n; i++ {
		lines = append(lines, line{t.newKey(), i})
	}
	return lines
}

// moved finds the rows of the old list in the new one: those before and after
// what changed keep their keys, and so does what changed in between, from its
// top. A row that is not in the document stays where it was while it holds
// refused text or the keyboard.
func (t *rowsTable[T]) moved(now []T) []line {
	head, tail := unchanged(t.seen, now)
	kept := t.keptKeys()
	var lines []line
	next := 0 // row of the new list to be shown next
	put := func(key, index int) {
		for ; next < index; next++ {
			lines = append(lines, line{t.newKey(), next})
		}
		lines = append(lines, line{key, index})
		next = index + 1
	}
	for _, l := range t.lines {
		switch {
		case l.index < 0:
			if kept[l.key] {
				lines = append(lines, l)
			}
		case l.index >= len(t.seen)-tail:
			put(l.key, l.index+len(now)-len(t.seen))
		case l.index < head || l.index < len(now)-tail:
			put(l.key, l.index)
		}
	}
	for ; next < len(now); next++ {
		lines = append(lines, line{t.newKey(), next})
	}
	return lines
}

// keptKeys are those of rows that hold refused text, and of the active one.
func (t *rowsTable[T]) keptKeys() map[int]bool {
	row, _ := t.grid.Selected()
	kept := map[int]bool{t.key(row): true}
	for _, r := range t.grid.Refusals() {
		kept[t.key(r.Row)] = true
	}
	return kept
}

// unchanged counts the rows that two lists have in common, from their beginning
// and from their end.
func unchanged[T any](a, b []T) (head, tail int) {
	most := min(len(a), len(b))
	for head < most && reflect.DeepEqual(a[head], b[head]) {
		head++
	}
	for tail < most-head && reflect.DeepEqual(a[len(a)-1-tail], b[len(b)-1-tail]) {
		tail++
	}
	return head, tail
}
