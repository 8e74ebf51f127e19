package pane

// origins are the rows of an old list that those of a new one were, -1 for a new
// row, by the lines that show them. Nil when a file has taken the place of all: its
// rows are paired with the old ones by their number.
func origins(old, now []line) []int {
	was := map[int]int{} // index by key
	for _, l := range old {
		if l.index >= 0 {
			was[l.key] = l.index
		}
	}
	from, stayed := make([]int, 0, len(now)), false
	for _, l := range now {
		if l.index < 0 {
			continue
		}
		index, is := was[l.key]
		if !is {
			index = -1
		}
		from, stayed = append(from, index), stayed || is
	}
	if !stayed && len(was) > 0 && len(from) > 0 {
		return nil
	}
	return from
}

// reordered reports that a row that there was has another number or is gone.
// Rows that come at the end change nothing for the others.
func reordered(were int, from []int) bool {
	for i := range were {
		if from != nil && (i >= len(from) || from[i] != i) {
			return true
		}
	}
	return false
}

// order is where the rows of the list as the view has it now stood in the one that
// is still shown, -1 for a new row; nil as of origins. What came from elsewhere, such
// as an undo, is told by the rows that are the same before and after it.
func (t *rowsTable[T]) order() []int {
	now := t.current()
	if t.next != nil && count(t.next.lines) == len(now) {
		return origins(t.lines, t.next.lines)
	}
	head, tail := unchanged(t.seen, now)
	from := make([]int, len(now))
	for i := range from {
		switch {
		case i >= len(now)-tail:
			from[i] = i + len(t.seen) - len(now)
		case i < head || i < len(t.seen)-tail:
			from[i] = i
		default:
			from[i] = -1
		}
	}
	return from
}
