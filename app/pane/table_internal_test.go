package pane

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

func TestTableTakesRowsAsTheyAreTyped(t *testing.T) {
	r := newSieveRig(t)
	assert.Equal(t, []string{"||"}, r.shows(), "an empty row to begin with")
	r.enter(0, 0, "500")
	assert.Equal(t, []string{"500 um|"}, r.list(), "the usual unit")
	assert.Equal(t, []string{"500 µm|#0|", "||"}, r.shows(), "a new row to go on")
	r.enter(0, retainedColumn, "2 kg")
	r.enter(1, retainedColumn, "3")
	assert.Equal(t, []string{"500 um|2 kg", "|3 kg"}, r.list(), "the unit of the cell above")
	r.enter(1, retainedColumn, "4 g")
	r.enter(1, retainedColumn, "5")
	assert.Equal(t, []string{"500 um|2 kg", "|5 g"}, r.list(), "the unit that stood there")
	assert.Equal(t, "Change Sieves", r.desk.history.UndoLabel())
	_, place, _ := r.desk.history.Undo()
	assert.Equal(t, sievesPlace+"/1/retained", place)
	r.enter(2, 0, "  ")
	assert.Len(t, r.list(), 2, "blanks are nothing")
}

func TestTableTakesEmptiedRowsOut(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g", "250 um|", "125 um|3 g")
	r.table.grid.FocusCell(1, 0)
	r.press(fyne.KeyDelete)
	assert.Equal(t, []string{"500 um|1 g", "125 um|3 g"}, r.list())
	r.press(fyne.KeyDelete)
	assert.Equal(t, []string{"500 um|1 g", "|3 g"}, r.list(), "one cell of two")
	r.enter(1, 0, "x")
	r.press(fyne.KeyEscape)
	r.enter(1, 0, "y")
	r.win.Canvas().Unfocus()
	r.table.grid.FocusCell(1, retainedColumn)
	r.press(fyne.KeyDelete)
	assert.Equal(t, []string{"500 um|1 g"}, r.list())
	assert.Equal(t, []string{"500 µm|#0|1 g", "[y]||", "||"}, r.shows(), "refused text is not lost with its row")
	r.enter(1, 0, "90")
	assert.Equal(t, []string{"500 um|1 g", "90 um|"}, r.list())
	assert.False(t, r.table.grid.Refused())
}

func TestTableRefusesInPlace(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	revision := r.desk.history.Revision()
	r.enter(1, 0, "nonsense")
	assert.Equal(t, []string{"500 µm|#0|1 g", "[nonsense]||"}, r.shows())
	assert.Equal(t, revision, r.desk.history.Revision())
	r.enter(1, retainedColumn, "2")
	assert.Equal(t, []string{"500 µm|#0|1 g", "[nonsense]|#1|2 g", "||"}, r.shows(), "the rest of the row is taken")
	r.enter(0, retainedColumn, "-1 g")
	require.Len(t, r.table.grid.Refusals(), 2)
	r.table.grid.FocusCell(0, 0)
	r.press(fyne.KeyDelete, fyne.KeyDown, fyne.KeyDown)
	assert.Equal(t, "|1 g", r.list()[0])
	assert.Equal(t, "[nonsense]|#1|2 g", r.shows()[1])
}

func TestTablePastesABlockInOneEdit(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g", "250 um|2 g")
	r.paste(1, 0, "200\t3\n\n100\t4,5 g\n0.05 mm\t\n")
	assert.Equal(t, []string{"500 um|1 g", "200 um|3 g", "100 um|4.5 g", "0.05 mm|"}, r.list(), "computed columns are passed over, blank lines left out")
	assert.Equal(t, "Paste Sieves", r.desk.history.UndoLabel())
	r.desk.history.Undo()
	assert.Equal(t, []string{"500 um|1 g", "250 um|2 g"}, r.list(), "one edit")
	assert.Empty(t, r.desk.said)

	r.paste(0, retainedColumn, "7\t8\t9\n")
	assert.Equal(t, []string{"500 um|7 g", "250 um|2 g"}, r.list())
	require.Len(t, r.desk.said, 1)
	assert.Contains(t, r.desk.said[0], "2 columns were left out")
	r.paste(0, 0, "\t\n\t\n")
	assert.Equal(t, []string{"500 um|7 g", "250 um|2 g"}, r.list(), "a blank block is nothing")
	r.paste(1, 1, "6")
	assert.Equal(t, []string{"500 um|7 g", "250 um|6 g"}, r.list(), "from a computed column it goes to the next")
}

func TestTablePasteKeepsWhatCannotBeRead(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	r.paste(0, 0, "400\tx\n?\t2\n!\t!!\n100\t-3\n50\t4\n")
	assert.Equal(t, []string{"400 um|1 g", "|2 g", "100 um|", "50 um|4 g"}, r.list())
	assert.Equal(t, []string{"400 µm|#0|[x]", "[?]|#1|2 g", "[!]||[!!]", "100 µm|#2|[-3]", "50 µm|#3|4 g", "||"}, r.shows())
	r.paste(0, retainedColumn, "9\n8\n7\n6\n")
	assert.Equal(t, []string{"400 um|9 g", "|8 g", "|7 g", "100 um|6 g", "50 um|4 g"}, r.list())
	assert.Equal(t, []string{"400 µm|#0|9 g", "[?]|#1|8 g", "[!]|#2|7 g", "100 µm|#3|6 g", "50 µm|#4|4 g", "||"}, r.shows(), "what is read takes the place of what was refused")
}

func TestTableUndoTakesBackWhatAPasteRefused(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	r.enter(1, 0, "typed")
	r.win.Canvas().Unfocus()
	before := r.shows()
	r.paste(0, retainedColumn, "2\n!\n3\n?\n")
	assert.Equal(t, []string{"500 µm|#0|2 g", "[typed]||[!]", "|#1|3 g", "||[?]", "||"}, r.shows())
	r.enter(2, 0, "100")
	r.desk.history.Undo()
	r.desk.history.Undo()
	assert.Equal(t, []string{"500 µm|#0|1 g", "[typed]||[!]"}, r.shows(), "but not what stands in a row that was there")
	r.table.grid.FocusCell(1, retainedColumn)
	r.press(fyne.KeyEscape)
	assert.Equal(t, before, r.shows())

	r.paste(1, 0, "a\nb\n")
	want := []string{"500 µm|#0|1 g", "[a]||", "[b]||", "||"}
	assert.Equal(t, want, r.shows())
	r.base.refresh()
	assert.Equal(t, want, r.shows(), "a paste of which nothing was read is nothing to undo")
	r.choose(2, "table.delete_row")
	r.choose(1, "table.delete_row")

	r.importFile("1\n2\nx\n")
	r.desk.history.Undo()
	assert.Equal(t, []string{"500 µm|#0|1 g", "||"}, r.shows())
	r.paste(0, 0, "x\ny\n")
	r.desk.history.Redo()
	assert.Equal(t, []string{"1 um|", "2 um|"}, r.list())
}

// Limits of the document are met one value at a time, and do not cost the others.
func TestTablePasteKeepsWhatTheDocumentRefuses(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	r.paste(0, 0, "9 km\t2 g\n8 km\t999999 kg\n250 um\t888888 kg\n125 um\t4 g\n7 km\t5 g\n")
	assert.Equal(t, []string{"500 um|2 g", "250 um|", "125 um|4 g", "|5 g"}, r.list())
	assert.Equal(t, []string{"[9 km]|#0|2 g", "[8 km]||[999999 kg]", "250 µm|#1|[888888 kg]", "125 µm|#2|4 g", "[7 km]|#3|5 g", "||"}, r.shows())
	for _, f := range r.table.grid.Refusals() {
		assert.NotContains(t, f.Message, "{{")
		assert.NotEmpty(t, f.Message)
	}
}

func TestTableTakesNoMoreThanItsMost(t *testing.T) {
	p := powderProject()
	r := newTableRig(t, p, func(b *base) rowsOptions[material.Sieve] {
		o := sieveOptions(b)
		o.most = 3
		return o
	})
	r.paste(0, 0, "1\n2\n3\n")
	require.Len(t, r.list(), 3)
	r.enter(3, 0, "4")
	require.True(t, r.table.grid.Refused())
	assert.Contains(t, r.table.grid.Refusals()[0].Message, "3 rows at most")
	r.press(fyne.KeyEscape)
	r.paste(2, 0, "7\n8\n")
	assert.Equal(t, []string{"1 um|", "2 um|", "3 um|"}, r.list(), "nothing is changed")
	assert.False(t, r.table.grid.Refused())
	require.Len(t, r.desk.said, 1)
	assert.Contains(t, r.desk.said[0], "3 rows at most")
	r.importFile("1\n2\n3\n4\n")
	assert.Len(t, r.desk.said, 2)
	assert.Equal(t, []string{"1 um|", "2 um|", "3 um|"}, r.list())
}

func TestTableInsertsDeletesAndMovesRows(t *testing.T) {
	r := newSieveRig(t, "3 um|", "2 um|", "1 um|")
	assert.Nil(t, r.table.menu(3), "nothing can be done to the empty row")
	r.choose(1, "table.insert_row")
	assert.Equal(t, []string{"3 µm|#0|", "||", "2 µm|#1|", "1 µm|#2|", "||"}, r.shows())
	assert.Len(t, r.list(), 3, "it is not in the document yet")
	r.enter(1, retainedColumn, "5")
	assert.Equal(t, []string{"3 um|", "|5 g", "2 um|", "1 um|"}, r.list())

	r.enter(1, 0, "x")
	r.win.Canvas().Unfocus()
	r.choose(1, "table.move_down")
	assert.Equal(t, []string{"3 um|", "2 um|", "|5 g", "1 um|"}, r.list())
	assert.Equal(t, []string{"3 µm|#0|", "2 µm|#1|", "[x]|#2|5 g", "1 µm|#3|", "||"}, r.shows(), "refused text goes along")
	row, _ := r.table.grid.Selected()
	assert.Equal(t, 2, row)
	r.choose(2, "table.move_up")
	r.choose(1, "table.move_up")
	assert.Equal(t, []string{"|5 g", "3 um|", "2 um|", "1 um|"}, r.list())
	assert.True(t, r.table.menu(0)[1].Disabled)
	assert.True(t, r.table.menu(3)[2].Disabled)

	r.choose(0, "table.delete_row")
	assert.Equal(t, []string{"3 um|", "2 um|", "1 um|"}, r.list())
	assert.Equal(t, []string{"3 µm|#0|", "2 µm|#1|", "1 µm|#2|", "||"}, r.shows())
	r.desk.history.Undo()
	assert.Equal(t, "|5 g", r.list()[0])
	r.table.grid.FocusCell(1, 1)
	r.press(fyne.KeyDelete)
	assert.Equal(t, []string{"|5 g", "2 um|", "1 um|"}, r.list(), "Delete on a computed cell takes the row out")
	r.table.grid.FocusCell(1, 0)
	r.table.grid.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyDelete, Modifier: fyne.KeyModifierShortcutDefault})
	assert.Equal(t, []string{"|5 g", "1 um|"}, r.list())
}

func TestTableForgetsARowThatNothingWasWrittenInto(t *testing.T) {
	r := newSieveRig(t, "3 um|", "2 um|")
	r.choose(1, "table.insert_row")
	r.choose(1, "table.move_up")
	assert.Equal(t, []string{"||", "3 µm|#0|", "2 µm|#1|", "||"}, r.shows())
	r.enter(1, retainedColumn, "1")
	assert.Equal(t, []string{"||", "3 µm|#0|1 g", "2 µm|#1|", "||"}, r.shows())
	r.enter(1, retainedColumn, "2")
	r.desk.history.Undo()
	assert.Equal(t, []string{"3 µm|#0|1 g", "2 µm|#1|", "||"}, r.shows())
	r.choose(1, "table.insert_row")
	r.choose(1, "table.delete_row")
	assert.Len(t, r.shows(), 3)
}

func TestTableRefusedTextStaysWithItsRow(t *testing.T) {
	r := newSieveRig(t, "4 um|", "3 um|", "2 um|", "1 um|")
	r.enter(2, retainedColumn, "x")
	r.win.Canvas().Unfocus()
	edit := func(change func(list []material.Sieve) []material.Sieve) {
		require.NoError(t, r.desk.Edit("elsewhere", "", func(p *project.Project) error {
			*sieves(p) = change(*sieves(p))
			return nil
		}))
	}
	edit(func(l []material.Sieve) []material.Sieve { return l[1:] })
	assert.Equal(t, []string{"3 µm|#0|", "2 µm|#1|[x]", "1 µm|#2|", "||"}, r.shows(), "a row before it went")
	edit(func(l []material.Sieve) []material.Sieve {
		return append([]material.Sieve{{Opening: l[0].Opening}, {Retained: quantity.MustParse[quantity.Mass]("1 g")}}, l...)
	})
	assert.Equal(t, "2 µm|#3|[x]", r.shows()[3], "rows before it came")
	edit(func(l []material.Sieve) []material.Sieve { return l[:4] })
	assert.Equal(t, "2 µm|#3|[x]", r.shows()[3], "a row after it went")
	edit(func([]material.Sieve) []material.Sieve { return nil })
	assert.Equal(t, []string{"||"}, r.shows())
}

func TestTableOutlivesThatItsPaneIsBuiltAnew(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	r.paste(0, 0, "400\tx\n?\t!\n")
	before := r.shows()
	require.Len(t, r.table.grid.Refusals(), 3)
	require.NoError(t, r.desk.Edit("more", "", func(p *project.Project) error {
		p.Materials = append(p.Materials, material.Material{ID: "clay", Kind: material.Filler})
		return nil
	}))
	assert.Equal(t, before, r.shows())
	assert.Len(t, r.base.tables, 1)
}

func TestTableImportsAFile(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g", "250 um|2 g")
	r.enter(2, 0, "nonsense")
	r.win.Canvas().Unfocus()
	r.importFile("\ufeffSieve, µm;Rest\r\n1000;12,5\r\n;\r\n500;\r\nx;3,5\r\ny;z\r\n")
	assert.Equal(t, []string{"1000 µm|12.5 g", "500 µm|", "|3.5 g"}, r.list())
	assert.Equal(t, []string{"1000 µm|#0|12.5 g", "500 µm|#1|", "[x]|#2|3.5 g", "[y]||[z]", "||"}, r.shows())
	assert.Contains(t, r.table.grid.Refusals()[0].Message, "Line 5 of the file: ")
	assert.Contains(t, r.table.grid.Refusals()[2].Message, "Line 6 of the file: ")
	assert.Equal(t, "Import Sieves", r.desk.history.UndoLabel())
	require.Len(t, r.desk.said, 1)
	assert.Contains(t, r.desk.said[0], "None of the headings is known here, so the columns were read in their order: “Sieve, µm” as opening, “Rest” as retained.")
	r.desk.history.Undo()
	assert.Equal(t, []string{"500 um|1 g", "250 um|2 g"}, r.list(), "one edit")
}

func TestTableFindsColumnsByTheirName(t *testing.T) {
	r := newSieveRig(t)
	r.importFile("no.,Retained,passing,Opening\n1,3 g,50,250 um\n2,4 g,20,125 um\n")
	assert.Equal(t, []string{"250 um|3 g", "125 um|4 g"}, r.list())
	require.Len(t, r.desk.said, 1)
	assert.Contains(t, r.desk.said[0], "2 columns")
	r.importFile("Opening,Mass\n100,1\n")
	assert.Equal(t, []string{"250 um|3 g", "125 um|4 g"}, r.list(), "a column that is not known is no other one, and none is emptied")
	require.Len(t, r.desk.said, 2)
	assert.Contains(t, r.desk.said[1], "the column “retained”. Its headings are “Opening”, “Mass”. Read would be “Opening” as opening.")
	r.importFile("100;1;2;3\n")
	require.Len(t, r.desk.said, 3)
	assert.Contains(t, r.desk.said[2], "column 3, column 4")
}

func TestTableImportChangesNothingWhenNothingIsRead(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g")
	revision := r.desk.history.Revision()
	for i, c := range []struct{ text, said string }{
		{"", "no rows"},
		{"Opening;Retained\n", "no rows"},
		{"dear sir\nyours\n", "Line 1 of the file"},
		{"PK\x03\x04\x00", "not a text file"},
		{strings.Repeat("1\n", 20001), "20000 rows"},
		{strings.Repeat("1 um\n", 300000), "1 MB"},
		{strings.Repeat("1 um\n", 101), "100 rows at most"},
	} {
		r.importFile(c.text)
		require.Len(t, r.desk.said, i+1, c.said)
		assert.Contains(t, r.desk.said[i], c.said)
	}
	assert.Equal(t, revision, r.desk.history.Revision())
	assert.Equal(t, []string{"500 µm|#0|1 g", "||"}, r.shows())
}

func TestTableExportIsReadBack(t *testing.T) {
	r := newSieveRig(t, "500 um|1.5 ± 0.1 g", "|2 g", "0.125-0.13 mm|")
	before := r.list()
	r.table.export()
	assert.Equal(t, "opening,retained\r\n500 um,1.5 ± 0.1 g\r\n,2 g\r\n0.125-0.13 mm,\r\n", r.desk.written.String())
	r.enter(0, 0, "1 mm")
	r.importFile(r.desk.written.String())
	assert.Equal(t, before, r.list())
	assert.Empty(t, r.desk.said)
}

func TestTableLeadsToCells(t *testing.T) {
	r := newSieveRig(t, "500 um|1 g", "250 um|2 g")
	r.choose(0, "table.insert_row") // rows of the list are no longer those of the table
	for place, want := range map[string][2]int{
		sievesPlace:                        {3, 0}, // what comes next
		sievesPlace + "/0/opening":         {1, 0},
		sievesPlace + "/1/retained":        {2, retainedColumn},
		sievesPlace + "/1":                 {2, 0},
		sievesPlace + "/1/something":       {2, 0},
		sievesPlace + "/9/retained":        {3, retainedColumn},
		sievesPlace + "/0/retained/deeper": {1, retainedColumn},
	} {
		assert.True(t, r.base.Has(place), place)
		require.True(t, r.base.Lead(place), place)
		row, col := r.table.grid.Selected()
		assert.Equal(t, want, [2]int{row, col}, place)
		assert.Equal(t, fyne.Focusable(r.table.grid), r.win.Canvas().Focused())
	}
	for _, place := range []string{"", "/materials/0/powder/sieving", sievesPlace + "x", sievesPlace + "/x", sievesPlace + "/-1", "/materials/1/powder/sieving/sieves/0"} {
		assert.False(t, r.base.Has(place), place)
		assert.False(t, r.base.Lead(place), place)
	}
}

func TestTableCommitsWhatIsTyped(t *testing.T) {
	r := newSieveRig(t)
	r.table.grid.FocusCell(0, 0)
	for _, c := range "63" {
		r.win.Canvas().Focused().TypedRune(c)
	}
	assert.Empty(t, r.list())
	r.base.Commit()
	assert.Equal(t, []string{"63 um|"}, r.list())
}

func TestTableNotesAndSelection(t *testing.T) {
	var heard []int
	p := powderProject()
	r := newTableRig(t, p, func(b *base) rowsOptions[material.Sieve] {
		o := sieveOptions(b)
		o.rowNote = func(i int) string { return []string{"", "rises"}[i%2] }
		o.onSelect = func(i int) { heard = append(heard, i) }
		return o
	})
	r.paste(0, 0, "1\n2\n")
	r.table.grid.FocusCell(0, 0)
	r.table.grid.FocusCell(2, 0)
	assert.Equal(t, []int{-1, -1}, heard, "rows are reported when they change")
	assert.Equal(t, -1, r.table.selected())
	r.table.grid.FocusCell(1, 0)
	assert.Equal(t, 1, r.table.selected())
	assert.Equal(t, []int{-1, -1, 1}, heard)
	assert.Contains(t, test.RenderObjectToMarkup(r.table.grid), "rises")
}
