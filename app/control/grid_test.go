package control_test

import (
	"fmt"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

// sheet is a table with a document behind it: name (text), amount (anything but
// "bad") and a computed column.
type sheet struct {
	grid     *control.Grid
	canvas   fyne.Canvas
	before   *widget.Entry
	after    *widget.Entry
	rows     [][]string
	asked    int // calls of Cell
	edits    []string
	pasted   [][]string
	selected []int
}

func newSheet(t *testing.T, n int) *sheet {
	s := &sheet{before: widget.NewEntry(), after: widget.NewEntry()}
	for i := range n {
		s.rows = append(s.rows, []string{fmt.Sprint("row ", i), fmt.Sprint(i), "sum"})
	}
	win := open(t, looks[0], func() fyne.CanvasObject {
		s.grid = control.NewGrid(s.options())
		col := control.NewColumn(8, s.before, s.grid, s.after)
		return container.NewStack(col)
	}, 500, 600)
	s.canvas = win.Canvas()
	return s
}

func (s *sheet) options() control.GridOptions {
	return control.GridOptions{
		Columns: []control.GridColumn{{Title: "name", Width: 100, Editable: true}, {Title: "sum", Width: 60}, {Title: "amount", Width: 80, Editable: true}},
		Rows:    func() int { return len(s.rows) },
		RowKey:  func(row int) string { return s.rows[row][0] },
		MaxRows: 5,
		Cell: func(row, col int) control.Cell {
			s.asked++
			return control.Cell{Text: s.rows[row][[]int{0, 2, 1}[col]]}
		},
		OnEdit: func(row, col int, text string) error {
			s.edits = append(s.edits, fmt.Sprintf("%d,%d=%s", row, col, text))
			if text == "bad" {
				return errNo
			}
			s.rows[row][[]int{0, 2, 1}[col]] = text
			return nil
		},
		OnPaste:  func(_, _ int, cells [][]string) { s.pasted = cells },
		OnSelect: func(row int) { s.selected = append(s.selected, row) },
	}
}

func (s *sheet) press(names ...fyne.KeyName) {
	for _, n := range names {
		s.canvas.Focused().TypedKey(key(n))
	}
}

func (s *sheet) at() [2]int {
	row, col := s.grid.Selected()
	return [2]int{row, col}
}

func TestGridWalksWithTheKeys(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.Focus()
	assert.Equal(t, [2]int{0, 0}, s.at())
	s.press(fyne.KeyDown, fyne.KeyRight)
	assert.Equal(t, [2]int{1, 1}, s.at())
	s.press(fyne.KeyUp, fyne.KeyUp, fyne.KeyUp)
	assert.Equal(t, [2]int{0, 1}, s.at(), "the first row holds")
	s.press(fyne.KeyEnd, fyne.KeyRight, fyne.KeyPageDown)
	assert.Equal(t, [2]int{2, 2}, s.at())
	s.press(fyne.KeyHome)
	assert.Equal(t, [2]int{2, 0}, s.at())
	assert.Equal(t, []int{1, 0, 2}, s.selected, "rows are reported when they change")
}

func TestGridTabVisitsEditableCellsAndLeaves(t *testing.T) {
	s := newSheet(t, 2)
	s.canvas.Focus(s.before)
	s.canvas.FocusNext()
	require.Equal(t, fyne.Focusable(s.grid), s.canvas.Focused())
	require.True(t, s.grid.AcceptsTab())
	s.press(fyne.KeyTab)
	assert.Equal(t, [2]int{0, 2}, s.at(), "the computed column is passed over")
	s.press(fyne.KeyTab, fyne.KeyTab)
	assert.Equal(t, [2]int{1, 2}, s.at())
	s.press(fyne.KeyTab)
	assert.Equal(t, fyne.Focusable(s.after), s.canvas.Focused(), "Tab leaves after the last cell")

	s.grid.FocusCell(0, 2)
	shift := key(desktop.KeyShiftLeft)
	s.grid.KeyDown(shift)
	s.press(fyne.KeyTab)
	assert.Equal(t, [2]int{0, 0}, s.at())
	s.press(fyne.KeyTab)
	assert.Equal(t, fyne.Focusable(s.before), s.canvas.Focused())
	s.grid.KeyUp(shift)

	s.grid.FocusCell(0, 0)
	s.grid.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyTab, Modifier: fyne.KeyModifierControl})
	assert.Equal(t, fyne.Focusable(s.after), s.canvas.Focused(), "Ctrl+Tab leaves at once")
}

func TestGridTypingReplacesAndEnterGoesDown(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.FocusCell(0, 2)
	typeInto(s.canvas, "12")
	assert.True(t, s.grid.Editing())
	assert.True(t, s.grid.Uncommitted())
	assert.Empty(t, s.edits)
	s.press(fyne.KeyReturn)
	assert.Equal(t, []string{"0,2=12"}, s.edits)
	assert.Equal(t, [2]int{1, 2}, s.at())
	assert.False(t, s.grid.Editing())
	assert.Equal(t, fyne.Focusable(s.grid), s.canvas.Focused())

	s.press(fyne.KeyF2)
	typeInto(s.canvas, "5")
	s.press(fyne.KeyTab)
	assert.Equal(t, "15", s.rows[1][1], "F2 keeps what stands there")
	assert.Equal(t, [2]int{2, 0}, s.at())

	s.press(fyne.KeyReturn, fyne.KeyReturn)
	assert.Len(t, s.edits, 2, "unchanged text is not an edit")
}

func TestGridEscapeAndReadOnly(t *testing.T) {
	s := newSheet(t, 2)
	s.grid.FocusCell(0, 0)
	typeInto(s.canvas, "x")
	s.press(fyne.KeyEscape)
	assert.False(t, s.grid.Editing())
	assert.Empty(t, s.edits)
	s.press(fyne.KeyRight)
	typeInto(s.canvas, "x")
	s.press(fyne.KeyF2, fyne.KeyDelete)
	assert.False(t, s.grid.Editing(), "a computed column cannot be edited")
	assert.Empty(t, s.edits)
	s.press(fyne.KeyLeft, fyne.KeyDelete)
	assert.Equal(t, []string{"0,0="}, s.edits, "Delete empties a cell")
}

func TestGridRefusalStaysInPlace(t *testing.T) {
	s := newSheet(t, 3)
	h := s.grid.HeightFor(480)
	s.grid.FocusCell(0, 2)
	typeInto(s.canvas, "bad")
	s.press(fyne.KeyReturn)
	assert.True(t, s.grid.Editing(), "the editor stays open on refused text")
	assert.Equal(t, [2]int{0, 2}, s.at())
	assert.Greater(t, s.grid.HeightFor(480), h, "the reason stands below")
	s.canvas.Focus(s.after)
	assert.False(t, s.grid.Editing())
	require.Len(t, s.grid.Refusals(), 1)
	assert.Equal(t, control.Refusal{Text: "bad", Message: "not like this"}, s.grid.Refusals()[0].Refusal)
	assert.Len(t, s.edits, 1, "leaving does not ask again")
	assert.Equal(t, "0", s.rows[0][1])

	s.rows = slices.Insert(s.rows, 0, []string{"new", "9", "sum"})
	s.grid.Refresh()
	assert.Equal(t, 1, s.grid.Refusals()[0].Row, "refused text moves with its row")

	s.grid.FocusCell(1, 2)
	s.press(fyne.KeyReturn)
	assert.True(t, s.grid.Uncommitted(), "the refused text is there to be corrected")
	h = s.grid.HeightFor(480)
	s.press(fyne.KeyEscape)
	assert.False(t, s.grid.Refused())
	assert.Less(t, s.grid.HeightFor(480), h, "the reason is gone")
}

func TestGridCommitFocusedAndLeaving(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.FocusCell(1, 0)
	typeInto(s.canvas, "olive")
	assert.True(t, control.CommitFocused(s.canvas))
	assert.Equal(t, "olive", s.rows[1][0])
	assert.False(t, s.grid.Editing())

	s.grid.FocusCell(2, 0)
	typeInto(s.canvas, "shell")
	s.canvas.Focus(s.before)
	assert.Equal(t, "shell", s.rows[2][0])

	s.grid.FocusCell(2, 2)
	typeInto(s.canvas, "bad")
	assert.False(t, control.CommitFocused(s.canvas))
	assert.True(t, s.grid.Refused())
}

func TestGridEditorKeepsWorkingWhenTheWindowLosesTheFocus(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.FocusCell(0, 2)
	typeInto(s.canvas, "7")
	editor := s.canvas.Focused()
	editor.FocusLost() // the window lost the focus; the canvas still remembers the editor
	assert.Equal(t, "7", s.rows[0][1])
	editor.FocusGained()
	s.press(fyne.KeyDown)
	assert.Equal(t, [2]int{1, 2}, s.at(), "keys go to the table")
	typeInto(s.canvas, "8")
	s.press(fyne.KeyReturn)
	assert.Equal(t, "8", s.rows[1][1])
}

func TestGridPaste(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.FocusCell(1, 0)
	clip := test.NewClipboard()
	clip.SetContent("a\t1\r\nb\t2\r\n")
	paste := &fyne.ShortcutPaste{Clipboard: clip}
	s.grid.TypedShortcut(paste)
	assert.Equal(t, [][]string{{"a", "1"}, {"b", "2"}}, s.pasted)

	s.pasted = nil
	typeInto(s.canvas, "half")
	s.canvas.Focused().(fyne.Shortcutable).TypedShortcut(paste)
	assert.Equal(t, [][]string{{"a", "1"}, {"b", "2"}}, s.pasted, "a block goes to the table even while a cell is edited")
	assert.False(t, s.grid.Editing())

	clip.SetContent("one")
	s.grid.TypedShortcut(paste)
	assert.Equal(t, []string{"1,0=one"}, s.edits, "a single cell counts as typed")

	s.grid.Refuse(2, 2, "?", "cannot be read")
	require.Len(t, s.grid.Refusals(), 1)
	s.grid.TypedShortcut(&fyne.ShortcutCopy{Clipboard: clip})
	assert.Equal(t, "one", clip.Content())
}

func TestGridRefreshIsCheap(t *testing.T) {
	s := newSheet(t, 10000)
	s.canvas.Capture()
	s.asked = 0
	s.grid.RefreshCell(2, 1)
	assert.Equal(t, 1, s.asked)
	s.asked = 0
	s.grid.RefreshCell(5000, 1)
	assert.Zero(t, s.asked, "what is out of view is not drawn")
	s.grid.Focus()
	s.asked = 0
	s.press(fyne.KeyPageDown)
	assert.Less(t, s.asked, 100, "scrolling draws the rows in view")
	s.grid.Select(9999, 2)
	s.asked = 0
	s.grid.Refresh()
	assert.Less(t, s.asked, 300, "refresh draws the rows in view")
	s.rows = s.rows[:1]
	s.grid.Refresh()
	assert.Equal(t, [2]int{0, 2}, s.at(), "the active cell stays in the table")
}

func TestGridMouse(t *testing.T) {
	s := newSheet(t, 3)
	pos := fyne.CurrentApp().Driver().AbsolutePositionForObject(s.grid)
	cell := pos.AddXY(20, s.grid.HeightFor(500)-10) // last row
	test.TapCanvas(s.canvas, cell)
	assert.Equal(t, [2]int{2, 0}, s.at())
	assert.False(t, s.grid.Editing(), "the first tap only goes there")
	assert.Equal(t, fyne.Focusable(s.grid), s.canvas.Focused())
}

func TestGridChoices(t *testing.T) {
	chosen := ""
	var g *control.Grid
	win := open(t, looks[0], func() fyne.CanvasObject {
		g = control.NewGrid(control.GridOptions{
			Columns: []control.GridColumn{{Title: "basis", Width: 80, Editable: true, Choices: func(int) []string { return []string{"wt%", "phr"} }}},
			Rows:    func() int { return 1 },
			Cell:    func(int, int) control.Cell { return control.Cell{Text: chosen} },
			OnEdit:  func(_, _ int, text string) error { chosen = text; return nil },
			Menu: func(int) []*fyne.MenuItem {
				return []*fyne.MenuItem{fyne.NewMenuItem("Remove", func() { chosen = "" })}
			},
		})
		return g
	}, 300, 300)
	g.Focus()
	g.TypedKey(key(fyne.KeyReturn))
	require.NotNil(t, win.Canvas().Overlays().Top())
	win.Canvas().Focused().TypedKey(key(fyne.KeyDown))
	win.Canvas().Focused().TypedKey(key(fyne.KeyDown))
	win.Canvas().Focused().TypedKey(key(fyne.KeyReturn))
	assert.Equal(t, "phr", chosen)
	g.TypedKey(key(desktop.KeyMenu))
	assert.NotNil(t, win.Canvas().Overlays().Top())
}

func TestGridEmpty(t *testing.T) {
	s := newSheet(t, 0)
	s.grid.Focus()
	assert.NotPanics(t, func() {
		s.press(fyne.KeyDown, fyne.KeyTab)
		s.grid.Focus()
		s.press(fyne.KeyReturn, fyne.KeyDelete, desktop.KeyMenu)
		s.canvas.Focused().TypedRune('x')
		s.grid.TypedShortcut(&fyne.ShortcutCopy{Clipboard: test.NewClipboard()})
	})
	assert.Empty(t, s.edits)
	assert.Empty(t, s.selected)
}

func TestGridCutsNoNumbers(t *testing.T) {
	var g *control.Grid
	open(t, look{"", control.Light, 2}, func() fyne.CanvasObject {
		g = control.NewGrid(control.GridOptions{
			Columns: []control.GridColumn{{Title: "part", Width: 130}, {Title: "to weigh, g", Width: 60, Align: fyne.TextAlignTrailing}},
			Rows:    func() int { return 1 },
			Cell: func(_, col int) control.Cell {
				return control.Cell{Text: []string{"Mussel-shell powder", "1 234 567.8"}[col]}
			},
		})
		return g
	}, 420, 300)
	markup := test.RenderObjectToMarkup(g)
	assert.Contains(t, markup, "1 234 567.8")
	assert.Contains(t, markup, "…", "words give way")
}

// A block is cut by the rule of package tabular, however it was separated.
func TestGridPastesFromOtherPrograms(t *testing.T) {
	s := newSheet(t, 3)
	s.grid.FocusCell(1, 0)
	clip := test.NewClipboard()
	paste := func(text string) [][]string {
		s.pasted = nil
		clip.SetContent(text)
		s.grid.TypedShortcut(&fyne.ShortcutPaste{Clipboard: clip})
		return s.pasted
	}
	assert.Equal(t, [][]string{{"a", "12,5"}, {"b", "11,2"}}, paste("a;12,5\nb;11,2\n"))
	assert.Equal(t, [][]string{{"a", "12.5"}, {"b", "11.2"}}, paste("a,12.5\nb,11.2\n"))
	assert.Equal(t, [][]string{{"12,5"}, {"11,2"}}, paste("12,5\n11,2\n"), "a comma between digits is a decimal sign")
	assert.Nil(t, paste("a; b, c"), "one line is one cell")
	assert.Equal(t, "a; b, c", s.rows[1][0])
}

func TestGridDeletesRows(t *testing.T) {
	var deleted []int
	var g *control.Grid
	open(t, looks[0], func() fyne.CanvasObject {
		g = control.NewGrid(control.GridOptions{
			Columns:     []control.GridColumn{{Title: "no.", Width: 40}, {Title: "mass", Width: 80, Editable: true}},
			Rows:        func() int { return 3 },
			Cell:        func(_, _ int) control.Cell { return control.Cell{} },
			OnDeleteRow: func(row int) { deleted = append(deleted, row) },
		})
		return g
	}, 300, 300)
	g.FocusCell(1, 1)
	g.TypedKey(key(fyne.KeyDelete))
	assert.Empty(t, deleted, "Delete empties a cell")
	g.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyDelete, Modifier: fyne.KeyModifierShortcutDefault})
	g.FocusCell(2, 0)
	g.TypedKey(key(fyne.KeyDelete))
	g.TypedKey(key(fyne.KeyBackspace))
	assert.Equal(t, []int{1, 2}, deleted)
}

func TestGridMakesRoomWhenItGrows(t *testing.T) {
	s := newSheet(t, 1)
	at := s.after.Position().Y
	s.rows = append(s.rows, []string{"more", "1", "sum"})
	s.grid.Sync()
	assert.Greater(t, s.after.Position().Y, at)
	s.rows = s.rows[:1]
	s.grid.Sync()
	assert.Equal(t, at, s.after.Position().Y)
}
