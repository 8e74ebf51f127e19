package control

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// FocusGained implements fyne.Focusable.
func (g *Grid) FocusGained() {
	g.setFocused(true)
	g.revealed(g)
}

// FocusLost implements fyne.Focusable.
func (g *Grid) FocusLost() { g.setFocused(false) }

func (g *Grid) setFocused(on bool) {
	g.focused = on
	if !on && g.lit {
		g.lit = false
		g.paint()
	}
	g.body.refreshGround(g.row)
	g.body.placeCursor()
	g.showMessage()
}

// wasFocused reports that the keyboard is at the table already.
func (g *Grid) wasFocused() bool { return g.focused && !g.editing }

// AcceptsTab keeps Tab in the table; at its ends it is passed on.
func (g *Grid) AcceptsTab() bool { return true }

// KeyDown implements desktop.Keyable.
func (g *Grid) KeyDown(ev *fyne.KeyEvent) { g.shift.key(ev, true) }

// KeyUp implements desktop.Keyable.
func (g *Grid) KeyUp(ev *fyne.KeyEvent) { g.shift.key(ev, false) }

// TypedRune starts editing the active cell.
func (g *Grid) TypedRune(r rune) {
	if r == ' ' {
		g.startEdit(nil)
		return
	}
	g.startEdit(&r)
}

// TypedKey implements fyne.Focusable.
func (g *Grid) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyUp:
		g.Select(g.row-1, g.col)
	case fyne.KeyDown:
		g.Select(g.row+1, g.col)
	case fyne.KeyLeft:
		g.Select(g.row, g.col-1)
	case fyne.KeyRight:
		g.Select(g.row, g.col+1)
	case fyne.KeyHome:
		g.Select(g.row, 0)
	case fyne.KeyEnd:
		g.Select(g.row, len(g.opts.Columns)-1)
	case fyne.KeyPageUp:
		g.Select(g.row-g.page(), g.col)
	case fyne.KeyPageDown:
		g.Select(g.row+g.page(), g.col)
	case fyne.KeyTab:
		g.tab(g.shift.held())
	default:
		g.actOn(ev.Name)
	}
}

// actOn does what keys other than those that move do to the active cell.
func (g *Grid) actOn(key fyne.KeyName) {
	switch key {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyF2:
		g.startEdit(nil)
	case fyne.KeyDelete, fyne.KeyBackspace:
		if g.editable() && g.opts.Columns[g.col].Choices == nil && g.cell(g.row, g.col).Text != "" {
			g.submit("")
		}
	case fyne.KeyEscape:
		if _, ok := g.refused[g.key(g.row, g.col)]; ok {
			g.dropEdit()
		}
	case desktop.KeyMenu:
		g.openMenu(g.belowActive())
	}
}

func (g *Grid) page() int {
	if g.plan.rowH <= 0 {
		return 1
	}
	return max(int(g.plan.viewH/g.plan.rowH)-1, 1)
}

// nextEditable finds the next column that can be edited, -1 when there is none.
func (g *Grid) nextEditable(from, step int) int {
	for col := from + step; col >= 0 && col < len(g.opts.Columns); col += step {
		if g.opts.Columns[col].Editable {
			return col
		}
	}
	return -1
}

// tab goes to the next cell that can be edited, over the ends of rows, and leaves
// the table after the last.
func (g *Grid) tab(back bool) {
	step, edge := 1, -1
	if back {
		step, edge = -1, len(g.opts.Columns)
	}
	if col := g.nextEditable(g.col, step); col >= 0 {
		g.Select(g.row, col)
		return
	}
	row, col := g.row+step, g.nextEditable(edge, step)
	if row < 0 || row >= g.rows() || col < 0 {
		g.leave(back)
		return
	}
	g.Select(row, col)
}

func (g *Grid) leave(back bool) {
	c := canvasOf(g)
	switch {
	case c == nil:
	case back:
		c.FocusPrevious()
	default:
		c.FocusNext()
	}
}

// TypedShortcut implements fyne.Shortcutable: copy, paste and Ctrl+Tab.
func (g *Grid) TypedShortcut(s fyne.Shortcut) {
	switch s := s.(type) {
	case *fyne.ShortcutCopy:
		if g.row < g.rows() && g.col < len(g.opts.Columns) {
			s.Clipboard.SetContent(g.cell(g.row, g.col).Text)
		}
	case *fyne.ShortcutPaste:
		g.paste(parseCells(s.Clipboard.Content()))
	case *desktop.CustomShortcut:
		if leaves(s) {
			g.leave(s.Modifier&fyne.KeyModifierShift != 0)
		}
	}
}

// paste hands on a block; a single cell counts as typed.
func (g *Grid) paste(cells [][]string) {
	switch {
	case len(cells) == 0:
		return
	case !isBlock(cells) && g.editable():
		g.submit(cells[0][0])
		return
	case g.opts.OnPaste == nil:
		return
	}
	g.opts.OnPaste(g.row, g.col, cells)
	g.Refresh()
	g.showMessage()
	g.settled()
}

// isBlock reports more than one cell.
func isBlock(cells [][]string) bool {
	return len(cells) > 1 || (len(cells) == 1 && len(cells[0]) > 1)
}

// parseCells cuts a text into rows at line ends and into cells at tabs, as
// spreadsheets copy them. A cell in quotes may hold both; its quotes are doubled
// inside. A quote elsewhere, as in 1.75", is a letter like any other.
func parseCells(text string) [][]string {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	text = strings.TrimSuffix(text, "\n")
	if text == "" {
		return nil
	}
	var rows [][]string
	row := []string{}
	for {
		cell, rest, end := cutCell(text)
		row = append(row, cell)
		if end != '\t' {
			rows = append(rows, row)
			row = []string{}
		}
		if end == 0 {
			return rows
		}
		text = rest
	}
}

// cutCell takes the first cell off a text and says what ended it: a tab, a line end
// or, as 0, the end of the text.
func cutCell(text string) (cell, rest string, end byte) {
	if strings.HasPrefix(text, `"`) {
		if cell, rest, end, ok := cutQuoted(text[1:]); ok {
			return cell, rest, end
		}
	}
	i := strings.IndexAny(text, "\t\n")
	if i < 0 {
		return text, "", 0
	}
	return text[:i], text[i+1:], text[i]
}

func cutQuoted(text string) (cell, rest string, end byte, ok bool) {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '"')
		if i < 0 {
			return "", "", 0, false
		}
		b.WriteString(text[:i])
		text = text[i+1:]
		switch {
		case text == "":
			return b.String(), "", 0, true
		case text[0] == '"':
			b.WriteByte('"')
			text = text[1:]
		case text[0] == '\t' || text[0] == '\n':
			return b.String(), text[1:], text[0], true
		default:
			return "", "", 0, false
		}
	}
}
