package control

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// CellState says how a cell is shown.
type CellState int

// The states of a cell.
const (
	CellNormal  CellState = iota
	CellMuted             // computed or of less weight
	CellStrong            // of most weight
	CellRefused           // cannot be read
)

// Cell is what one cell shows.
type Cell struct {
	Text  string
	State CellState
}

// GridColumn is one column of a [Grid].
type GridColumn struct {
	Title    string
	Width    float32 // share of the width; the least width wanted at text scale 1
	Align    fyne.TextAlign
	Least    float32 // that a column of words keeps when numbers need room, at text scale 1; 70 when zero
	Editable bool
	// Choices turns editing into choosing from a list. Optional.
	Choices func(row int) []string
}

// GridOptions say what a grid shows and whom it tells. The callbacks that give
// cells must only look things up: they run for every visible cell.
type GridOptions struct {
	// ID is the place of the table in the document, a JSON Pointer.
	ID      string
	Label   string // names the table to a screen reader
	Columns []GridColumn
	Rows    func() int
	Cell    func(row, col int) Cell
	// EditText is what the editor opens with; the text of the cell when nil.
	EditText func(row, col int) string
	// RowKey tells rows apart when they move, so that refused text stays with its
	// row; the number of the row when nil.
	RowKey func(row int) string
	// RowMessage says why a row cannot be read; empty when it can. Optional.
	RowMessage func(row int) string
	// Total gives a last row of sums. Optional.
	Total func(col int) Cell
	// Empty is shown instead of rows.
	Empty string
	// MaxRows are shown before the table scrolls; 8 when zero.
	MaxRows int

	// OnEdit takes the text of a cell; an error, already worded, refuses it. It must not move the focus.
	OnEdit func(row, col int, text string) error
	// OnPaste takes a block of cells for the active one. Use Refuse for what cannot be read.
	OnPaste func(row, col int, cells [][]string)
	// OnSelect hears the active row when it changes.
	OnSelect func(row int)
	// OnDeleteRow takes a row out: Ctrl+Delete, or Delete on a cell that cannot be edited. Optional.
	OnDeleteRow func(row int)
	// Menu returns what can be done to a row. Optional.
	Menu func(row int) []*fyne.MenuItem
}

type cellKey struct {
	row string
	col int
}

// Grid is the table of the window. Cells are plain text; one entry floats over the
// active cell while it is edited. Arrows, Tab, Enter, F2, Escape and typing work
// as in a spreadsheet, and a block copied from one can be pasted.
type Grid struct {
	widget.BaseWidget
	hosted

	opts     GridOptions
	row, col int
	focused  bool
	lit      bool
	shift    shiftKeys

	editing    bool
	committing bool
	editor     *gridEntry
	base       string // what the editor opened with, if nothing was refused
	refused    map[cellKey]Refusal
	told       int     // the row OnSelect heard last
	height     float32 // that Sync asked for last

	plan     gridPlan
	scrolled bool
	frame    *canvas.Rectangle
	head     *gridStrip
	total    *gridStrip
	headClip *container.Clip
	sumClip  *container.Clip
	body     *gridBody
	scroll   *container.Scroll
	sideways *gridWheel
	empty    *Text
	sign     *sign
	message  *Text
}

// NewGrid returns a table.
func NewGrid(opts GridOptions) *Grid {
	g := &Grid{opts: opts, refused: map[cellKey]Refusal{}, told: -1}
	g.frame = newBox()
	g.head = newGridStrip(g, ColourStrip, func(col int) Cell { return Cell{g.opts.Columns[col].Title, CellMuted} })
	g.total = newGridStrip(g, ColourStrip, g.totalCell)
	g.head.small = true
	g.headClip, g.sumClip = container.NewClip(g.head), container.NewClip(g.total)
	g.editor = newGridEntry(g)
	g.body = newGridBody(g)
	g.scroll = container.NewScroll(g.body)
	g.scroll.OnScrolled = func(fyne.Position) { g.followScroll() }
	g.sideways = newGridWheel(g)
	g.empty = NewText(opts.Empty, Muted)
	for _, clip := range []*container.Clip{g.headClip, g.sumClip} {
		clip.ExtendBaseWidget(clip)
	}
	g.sign = newSign(iconStop)
	g.sign.Hide()
	g.message = NewText("", Danger)
	g.message.SizeName = theme.SizeNameCaptionText
	g.ExtendBaseWidget(g)
	g.col = max(g.nextEditable(-1, 1), 0)
	return g
}

func (g *Grid) totalCell(col int) Cell {
	if g.opts.Total == nil {
		return Cell{}
	}
	return g.opts.Total(col)
}

// ID is the place of the table in the document.
func (g *Grid) ID() string { return g.opts.ID }

// Selected is the active cell.
func (g *Grid) Selected() (row, col int) { return g.row, g.col }

// Editing reports an open editor.
func (g *Grid) Editing() bool { return g.editing }

// SetColumns replaces the columns.
func (g *Grid) SetColumns(columns []GridColumn) {
	g.closeEditor()
	g.opts.Columns = columns
	g.col = min(g.col, max(len(columns)-1, 0))
	g.Refresh()
}

// Sync shows the table again. What lies below makes room when it has grown.
func (g *Grid) Sync() {
	g.Refresh()
	g.showMessage()
	if width := g.Size().Width; width > 0 && g.HeightFor(width) != g.height {
		g.height = g.HeightFor(width)
		g.settled()
	}
}

// RefreshCell shows one cell again; much cheaper than Refresh.
func (g *Grid) RefreshCell(row, col int) { g.body.refreshCell(row, col) }

// RefreshRow shows one row again.
func (g *Grid) RefreshRow(row int) {
	for col := range g.opts.Columns {
		g.body.refreshCell(row, col)
	}
}

// Select makes a cell the active one and scrolls to it.
func (g *Grid) Select(row, col int) {
	n := g.rows()
	row = min(max(row, 0), max(n-1, 0))
	col = min(max(col, 0), max(len(g.opts.Columns)-1, 0))
	old := g.row
	g.row, g.col = row, col
	g.showActive()
	if old != row {
		g.body.refreshGround(old)
	}
	g.body.refreshGround(row)
	g.body.placeCursor()
	g.showMessage()
	if g.told != row && n > 0 {
		g.told = row
		if g.opts.OnSelect != nil {
			g.opts.OnSelect(row)
		}
	}
}

// Focus moves the keyboard to the table.
func (g *Grid) Focus() { focusOn(g) }

// FocusCell moves the keyboard to a cell.
func (g *Grid) FocusCell(row, col int) {
	focusOn(g)
	g.Select(row, col)
	g.revealed(g)
}

// Highlight frames the table until the focus leaves it.
func (g *Grid) Highlight() {
	g.lit = true
	g.paint()
	g.revealed(g)
}

func (g *Grid) rows() int {
	if g.opts.Rows == nil {
		return 0
	}
	return g.opts.Rows()
}

func (g *Grid) key(row, col int) cellKey {
	if g.opts.RowKey != nil && row < g.rows() {
		return cellKey{g.opts.RowKey(row), col}
	}
	return cellKey{strconv.Itoa(row), col}
}

// cell is what a cell shows, refused text first.
func (g *Grid) cell(row, col int) Cell {
	if len(g.refused) > 0 {
		if r, ok := g.refused[g.key(row, col)]; ok {
			return Cell{r.Text, CellRefused}
		}
	}
	return g.opts.Cell(row, col)
}

// AccessibilityLabel implements fyne.Accessible.
func (g *Grid) AccessibilityLabel() string {
	if g.row < g.rows() && g.col < len(g.opts.Columns) {
		return g.opts.Label + ", " + g.opts.Columns[g.col].Title + ": " + g.cell(g.row, g.col).Text
	}
	return g.opts.Label
}

// AccessibilityRole implements fyne.Accessible.
func (g *Grid) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleContainer }

func (g *Grid) leastWidth() float32 { return em(200) }

// CreateRenderer implements fyne.Widget.
func (g *Grid) CreateRenderer() fyne.WidgetRenderer {
	g.paint()
	return &parts{
		objects: g.objects,
		layout:  g.lay,
		min:     leastOf(g),
		refresh: func() {
			g.settleActive()
			g.paint()
			g.lay(g.Size())
			canvas.Refresh(g)
		},
	}
}

func (g *Grid) objects() []fyne.CanvasObject {
	var view fyne.CanvasObject = g.body
	if g.scrolled {
		view = g.scroll
	}
	return []fyne.CanvasObject{g.headClip, view, g.sideways, g.sumClip, g.empty, g.frame, g.sign.Image, g.message}
}

// settleActive keeps the active cell inside a table that has become smaller.
func (g *Grid) settleActive() {
	n := g.rows()
	if g.editing && g.row >= n {
		g.closeEditor()
	}
	g.row = min(g.row, max(n-1, 0))
}

func (g *Grid) paint() {
	switch {
	case g.lit:
		paintBox(g.frame, "", theme.ColorNamePrimary, 2.5, radius())
	default:
		paintBox(g.frame, "", ColourCardBorder, 1, radius())
	}
	g.sign.Refresh()
	g.empty.Refresh()
	g.message.Refresh()
}
