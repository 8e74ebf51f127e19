package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fillwright/internal/tabular"
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
		if !g.editable() && key == fyne.KeyDelete {
			g.deleteRow()
			return
		}
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

// TypedShortcut implements fyne.Shortcutable: copy, paste, Ctrl+Tab and Ctrl+Delete.
func (g *Grid) TypedShortcut(s fyne.Shortcut) {
	switch s := s.(type) {
	case *fyne.ShortcutCopy:
		if g.row < g.rows() && g.col < len(g.opts.Columns) {
			s.Clipboard.SetContent(g.cell(g.row, g.col).Text)
		}
	case *fyne.ShortcutPaste:
		g.paste(tabular.Cells(s.Clipboard.Content()))
	case *desktop.CustomShortcut:
		switch {
		case leaves(s):
			g.leave(s.Modifier&fyne.KeyModifierShift != 0)
		case s.KeyName == fyne.KeyDelete && s.Modifier == fyne.KeyModifierShortcutDefault:
			g.deleteRow()
		}
	}
}

func (g *Grid) deleteRow() {
	if g.opts.OnDeleteRow != nil && g.row < g.rows() {
		g.opts.OnDeleteRow(g.row)
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
