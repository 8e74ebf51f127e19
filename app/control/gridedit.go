package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"fillwright/internal/tabular"
)

// CellRefusal is refused text of a cell.
type CellRefusal struct {
	Row, Col int
	Refusal
}

// Refused reports text in the table that was not accepted.
func (g *Grid) Refused() bool { return len(g.Refusals()) > 0 }

// Refusals returns all refused texts, row by row.
func (g *Grid) Refusals() []CellRefusal {
	var out []CellRefusal
	if len(g.refused) == 0 {
		return nil
	}
	for row := range g.rows() {
		for col := range g.opts.Columns {
			if r, ok := g.refused[g.key(row, col)]; ok {
				out = append(out, CellRefusal{row, col, r})
			}
		}
	}
	return out
}

// RestoreRefused puts refused texts back after a pane was built anew.
func (g *Grid) RestoreRefused(all []CellRefusal) {
	for _, r := range all {
		g.refused[g.key(r.Row, r.Col)] = r.Refusal
	}
	g.showMessage()
	g.Refresh()
}

// Refuse marks text that could not be read, as from a paste.
func (g *Grid) Refuse(row, col int, text, message string) {
	g.refused[g.key(row, col)] = Refusal{text, message}
	g.RefreshCell(row, col)
	g.showMessage()
}

// ClearRefused forgets all refused text.
func (g *Grid) ClearRefused() {
	clear(g.refused)
	g.showMessage()
	g.Refresh()
}

// Uncommitted reports an editor with text that differs from the cell.
func (g *Grid) Uncommitted() bool { return g.editing && g.editor.Text != g.base }

// Commit hands on what is being typed and closes the editor. It reports whether
// nothing was refused.
func (g *Grid) Commit() bool {
	if !g.editing {
		return true
	}
	done := g.commitEdit(false)
	g.closeEditor()
	g.RefreshRow(g.row)
	return done
}

func (g *Grid) editable() bool {
	return g.row < g.rows() && g.col < len(g.opts.Columns) && g.opts.Columns[g.col].Editable
}

// startEdit opens the editor on the active cell. A letter replaces what stands there.
func (g *Grid) startEdit(letter *rune) {
	if g.editing || !g.editable() {
		return
	}
	if g.opts.Columns[g.col].Choices != nil {
		g.openChoices()
		return
	}
	g.base = g.editText()
	text := g.base
	if r, ok := g.refused[g.key(g.row, g.col)]; ok {
		text = r.Text
	}
	if letter != nil {
		text = ""
	}
	g.editing = true
	g.editor.open(text)
	g.body.placeCursor()
	focusOn(g.editor)
	if letter != nil {
		g.editor.TypedRune(*letter)
	}
}

func (g *Grid) editText() string {
	if g.opts.EditText != nil {
		return g.opts.EditText(g.row, g.col)
	}
	return g.opts.Cell(g.row, g.col).Text
}

// commitEdit hands on the text of the editor. Text that was refused before is asked
// again only when the user insists.
func (g *Grid) commitEdit(insist bool) bool {
	if g.committing {
		return false
	}
	text, key := g.editor.Text, g.key(g.row, g.col)
	if text == g.base {
		delete(g.refused, key)
		g.showMessage()
		return true
	}
	if r, ok := g.refused[key]; ok && r.Text == text && !insist {
		return false
	}
	return g.submit(text)
}

func (g *Grid) submit(text string) bool {
	row, col, key := g.row, g.col, g.key(g.row, g.col)
	var err error
	if g.opts.OnEdit != nil {
		g.committing = true
		err = g.opts.OnEdit(row, col, text)
		g.committing = false
	}
	if err != nil {
		g.refused[key] = Refusal{text, err.Error()}
	} else {
		delete(g.refused, key)
		g.base = text
	}
	g.RefreshRow(row)
	g.total.Refresh()
	g.body.placeCursor()
	g.showMessage()
	return err == nil
}

// closeEditor takes the editor away. The focus is left alone: this also runs while
// the focus moves.
func (g *Grid) closeEditor() {
	g.editing = false
	g.editor.Hide()
}

// finishEdit commits and moves on; refused text keeps the editor open.
func (g *Grid) finishEdit(move func()) {
	if !g.commitEdit(true) {
		return
	}
	g.closeEditor()
	focusOn(g)
	move()
}

// Drop forgets what was typed into the active cell, refused or not, and closes
// the editor.
func (g *Grid) Drop() { g.dropEdit() }

// dropEdit forgets what was typed.
func (g *Grid) dropEdit() {
	delete(g.refused, g.key(g.row, g.col))
	g.closeEditor()
	focusOn(g)
	g.RefreshRow(g.row)
	g.body.placeCursor()
	g.showMessage()
}

// leftEditor runs when the focus leaves the editor by itself.
func (g *Grid) leftEditor() {
	if !g.editing {
		return
	}
	g.commitEdit(false)
	g.closeEditor()
	if g.row < g.rows() {
		g.RefreshRow(g.row)
	}
	g.body.refreshGround(g.row)
	g.body.placeCursor()
}

// openChoices lets one of the choices of the active cell be picked.
func (g *Grid) openChoices() {
	c := canvasOf(g)
	if c == nil {
		return
	}
	var items []*fyne.MenuItem
	for _, text := range g.opts.Columns[g.col].Choices(g.row) {
		items = append(items, fyne.NewMenuItem(text, func() { g.submit(text) }))
	}
	if len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, g.belowActive())
	}
}

func (g *Grid) openMenu(at fyne.Position) {
	c := canvasOf(g)
	if g.opts.Menu == nil || c == nil || g.row >= g.rows() {
		return
	}
	if items := g.opts.Menu(g.row); len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, at)
	}
}

// belowActive is the place on the canvas under the active cell.
func (g *Grid) belowActive() fyne.Position {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(g.body)
	return at.AddXY(g.plan.x[g.col], float32(g.row+1)*g.plan.rowH)
}

// gridEntry is the entry that floats over the active cell. When the window lost and
// regained the focus while it was open, it is hidden and still has the focus: it
// then passes everything on to the table.
type gridEntry struct {
	widget.Entry
	grid *Grid
}

func newGridEntry(g *Grid) *gridEntry {
	e := &gridEntry{grid: g}
	e.ExtendBaseWidget(e)
	e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	e.Hide()
	return e
}

func (e *gridEntry) open(text string) {
	e.SetText(text)
	e.CursorRow, e.CursorColumn = 0, len([]rune(text))
	e.Show()
	e.Refresh()
}

// Commit lets the window hand on what is being typed before save or undo.
func (e *gridEntry) Commit() bool { return e.grid.Commit() }

// Uncommitted implements Committer.
func (e *gridEntry) Uncommitted() bool { return e.grid.Uncommitted() }

// AcceptsTab keeps Tab in the table.
func (e *gridEntry) AcceptsTab() bool { return true }

func (e *gridEntry) FocusGained() {
	e.Entry.FocusGained()
	e.grid.setFocused(true)
}

func (e *gridEntry) FocusLost() {
	e.Entry.FocusLost()
	e.grid.leftEditor()
	e.grid.setFocused(false)
}

func (e *gridEntry) KeyDown(ev *fyne.KeyEvent) {
	e.grid.shift.key(ev, true)
	e.Entry.KeyDown(ev)
}

func (e *gridEntry) KeyUp(ev *fyne.KeyEvent) {
	e.grid.shift.key(ev, false)
	e.Entry.KeyUp(ev)
}

func (e *gridEntry) TypedRune(r rune) {
	if !e.grid.editing {
		e.grid.TypedRune(r)
		return
	}
	e.Entry.TypedRune(r)
}

func (e *gridEntry) TypedKey(ev *fyne.KeyEvent) {
	g := e.grid
	if !g.editing {
		g.TypedKey(ev)
		return
	}
	switch ev.Name {
	case fyne.KeyEscape:
		g.dropEdit()
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown:
		g.finishEdit(func() { g.Select(g.row+1, g.col) })
	case fyne.KeyUp:
		g.finishEdit(func() { g.Select(g.row-1, g.col) })
	case fyne.KeyTab:
		back := g.shift.held()
		g.finishEdit(func() { g.tab(back) })
	default:
		e.Entry.TypedKey(ev)
	}
}

func (e *gridEntry) TypedShortcut(s fyne.Shortcut) {
	g := e.grid
	if !g.editing {
		g.TypedShortcut(s)
		return
	}
	if paste, ok := s.(*fyne.ShortcutPaste); ok {
		if cells := tabular.Cells(paste.Clipboard.Content()); isBlock(cells) {
			g.dropEdit()
			g.paste(cells)
			return
		}
	}
	if leaves(s) {
		g.finishEdit(func() { g.TypedShortcut(s) })
		return
	}
	e.Entry.TypedShortcut(s)
}

// leaves reports Ctrl+Tab, which leaves the table at once.
func leaves(s fyne.Shortcut) bool {
	c, ok := s.(*desktop.CustomShortcut)
	return ok && c.KeyName == fyne.KeyTab && c.Modifier&fyne.KeyModifierControl != 0
}
