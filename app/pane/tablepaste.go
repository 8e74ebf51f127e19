package pane

import (
	"slices"
	"strings"

	"fillwright/internal/tabular"
)

// paste puts a block of cells in, from the active one to the right and down, in one
// edit. Columns that are computed are passed over, blank rows of the block left out
// where rows have no place of their own. With headings see lay.
func (t *rowsTable[T]) paste(row, col int, cells [][]string) {
	own := t.columnsFrom(col)
	above, cells := withinBlanks(cells)
	if len(own) == 0 || len(cells) == 0 {
		return
	}
	l, err := t.layPaste(cells, own)
	if err != nil {
		t.tell(t.base.words().Error(err))
		return
	}
	cells = cells[l.heads:]
	if l.heads == 0 {
		cells = append(above, cells...)
	}
	block := t.blockOf(&l, cells)
	if len(block) == 0 {
		return
	}
	err = t.fill(t.say("edit.paste"), t.placeOf(t.spot(row), block[0][0].col), func(list []T) []filledRow[T] {
		rows := t.filledRows(list)
		for i, texts := range block {
			if row+i >= len(rows) {
				rows = append(rows, filledRow[T]{key: t.keyBelow(len(rows)), before: t.blank()})
			}
			rows[row+i].texts = texts
			rows[row+i].stays = rows[row+i].stays || t.opts.keeps && i < len(block)-1
		}
		return rows
	})
	t.report(err, &l, cells)
}

// blockOf gives each row of a block its cells.
func (t *rowsTable[T]) blockOf(l *layout, cells [][]string) [][]cellText {
	var block [][]cellText
	for _, texts := range cells {
		line, blank := textsFor(l, texts)
		if len(line) > 0 && (!blank || t.opts.keeps) {
			block = append(block, line)
		}
	}
	return block
}

// layPaste is lay for what was pasted. A row of words is a heading only above rows of
// numbers, and where none of its cells could stand.
func (t *rowsTable[T]) layPaste(cells [][]string, own []int) (layout, error) {
	if len(cells) < 2 {
		return layout{columns: own}, nil
	}
	sure := tabular.Headed(cells)
	for i, text := range cells[0][:min(len(cells[0]), len(own))] {
		var row T
		sure = sure && (text == "" || t.opts.columns[own[i]].set(&row, text) != nil)
	}
	return t.lay(cells, sure, own, false)
}

// withinBlanks is a block without the blank rows above and below; those above too.
func withinBlanks(cells [][]string) (above, within [][]string) {
	some := func(texts []string) bool { return strings.TrimSpace(strings.Join(texts, "")) != "" }
	first := slices.IndexFunc(cells, some)
	if first < 0 {
		return nil, nil
	}
	last := len(cells)
	for !some(cells[last-1]) {
		last--
	}
	return cells[:first:first], cells[first:last]
}

// keyBelow is the key for a row that is added: the first one is the empty row.
func (t *rowsTable[T]) keyBelow(row int) int {
	if row == len(t.lines) {
		return t.last
	}
	return t.newKey()
}
