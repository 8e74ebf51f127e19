package shell_test

import (
	"os"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

func TestEveryPaneOfTheSamplesShows(t *testing.T) {
	for _, name := range []string{olive, mussel} {
		t.Run(name, func(t *testing.T) {
			r := openSample(t, name)
			for _, id := range bench.Panes() {
				r.show(id)
				assert.Equal(t, id, r.bench.Pane())
				assert.NotEmpty(t, r.inputs(), id)
				settle(r.bench.Content())
				settle(r.bench.Content())
				size := r.picture().Image().Bounds().Size()
				assert.Greater(t, size.X, 300, "picture of %s", id)
				assert.Greater(t, size.Y, 150, "picture of %s", id)
				assert.NotEmpty(t, r.picture().AccessibilityLabel(), "words for the picture of %s", id)
				for _, text := range texts(r.bench.Content()) {
					assert.NotContains(t, text, "NaN")
					assert.NotContains(t, text, "Inf")
					assert.NotContains(t, text, "<no value>")
				}
			}
			assert.False(t, r.bench.Dirty())
			assert.Zero(t, r.dialogs())
		})
	}
}

func TestAnAmountChangesEverythingAndComesBack(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	before := r.figure("verdict.density")
	assert.Equal(t, "10 wt%", r.card("Olive 10"))
	assert.NotContains(t, r.window.Title(), "unsaved")
	assert.Equal(t, r.words.Text("menu.undo_typing"), r.undoItem().Label)

	r.enterCell(1, amountColumn, "20 wt%")

	after := r.figure("verdict.density")
	assert.NotEqual(t, before.Value, after.Value)
	assert.Equal(t, "g/cm³", after.Unit)
	assert.NotEqual(t, before.Change, after.Change)
	assert.Equal(t, "20 wt%", r.card("Olive 10"))
	assert.Contains(t, r.window.Title(), "unsaved change")
	assert.Contains(t, r.undoItem().Label, "Change "+r.words.Text("field.blend.amount"))
	assert.True(t, r.bench.Dirty())

	r.bench.Choose("neat")
	r.show(bench.PanePlan)
	r.undo()

	assert.Equal(t, bench.PaneBlend, r.bench.Pane(), "undo leads back to the pane")
	assert.Equal(t, project.BlendID("olive-10"), r.bench.Chosen(), "and to the blend")
	assert.True(t, contains(r.grid(), r.canvas().Focused()), "and puts the keyboard on the table")
	row, col := r.grid().Selected()
	assert.Equal(t, [2]int{1, amountColumn}, [2]int{row, col}, "and on the cell")
	assert.Equal(t, before, r.figure("verdict.density"))
	assert.NotContains(t, r.window.Title(), "unsaved")
	assert.Contains(t, r.redoItem().Label, "Change "+r.words.Text("field.blend.amount"))

	r.redo()
	assert.Equal(t, after, r.figure("verdict.density"))
	assert.Contains(t, r.window.Title(), "unsaved change")
}

func TestUndoOfAFieldLeadsBackToIt(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.enter("/melt/temperature", "200 °C")
	r.show(bench.PaneSpool)
	r.undo()
	assert.Equal(t, bench.PaneMelt, r.bench.Pane())
	assert.Same(t, r.field("/melt/temperature").Entry(), r.canvas().Focused())
	assert.Equal(t, "190 ± 5 °C", plain(r.field("/melt/temperature").Entry().Text))
	r.redo()
	assert.Equal(t, "200 °C", plain(r.field("/melt/temperature").Entry().Text))
}

func TestUndoInAnEntryUndoesTypingFirst(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.enter("/melt/temperature", "200 °C")
	r.typeInto("/melt/residence", "7")
	r.undo()
	assert.Equal(t, "200 °C", r.bench.Project().Melt.Temperature.Pretty(false), "the document is as it was")
	r.key(fyne.KeyEscape)
	r.undo()
	assert.Equal(t, "190 ± 5 °C", r.bench.Project().Melt.Temperature.Pretty(false))
}

func TestSaveWritesTheFileAndClearsTheMark(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	require.Contains(t, r.window.Title(), "unsaved")
	r.choose("menu.save")
	assert.NotContains(t, r.window.Title(), "unsaved")
	assert.False(t, r.bench.Dirty())
	assert.Zero(t, r.dialogs())
	saved, unknown, err := project.Load(r.bench.Path())
	require.NoError(t, err)
	assert.Empty(t, unknown)
	sameProject(t, *r.bench.Project(), saved, "in the file")
	assert.Equal(t, "11 wt%", saved.Blends[2].Parts[1].Amount.String())
	assert.FileExists(t, project.BackupPath(r.bench.Path()))

	r.undo()
	assert.Contains(t, r.window.Title(), "unsaved", "undo past the save is unsaved again")
	r.redo()
	assert.NotContains(t, r.window.Title(), "unsaved")
}

func TestSaveTakesWhatIsStillBeingTyped(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.typeInto("/melt/temperature", "205 °C")
	r.choose("menu.save")
	saved, _, err := project.Load(r.bench.Path())
	require.NoError(t, err)
	assert.Equal(t, "205 °C", saved.Melt.Temperature.Pretty(false))

	r.show(bench.PaneBlend)
	r.typeCell(1, amountColumn, "12 wt%")
	r.choose("menu.save")
	saved, _, err = project.Load(r.bench.Path())
	require.NoError(t, err)
	assert.Equal(t, "12 wt%", saved.Blends[2].Parts[1].Amount.String())
}

func TestASaveThatFailsIsSaidAndStaysUnsaved(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	require.NoError(t, os.Remove(r.bench.Path()))
	require.NoError(t, os.Mkdir(r.bench.Path(), 0o755))
	r.choose("menu.save")
	require.NotNil(t, r.dialog())
	assert.Contains(t, reads(r.dialog()), r.words.Text("dialog.refused"))
	assert.True(t, r.bench.Dirty())
	assert.Contains(t, r.window.Title(), "unsaved")
}

func TestTypingInAPaneThatIsLeftCounts(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.typeInto("/melt/temperature", "205 °C")
	r.show(bench.PaneSpool)
	assert.Equal(t, "205 °C", r.bench.Project().Melt.Temperature.Pretty(false))
	assert.Nil(t, r.canvas().Focused(), "the keyboard is not left on an entry that is gone")
}

func TestTheWindowStandsBeforeItsContent(t *testing.T) {
	r := newRig(t)
	later := shell.Options{Words: r.words, Preferences: r.app.Preferences(), Appearance: look, Later: true, AutosaveEvery: 24 * time.Hour}
	r.bench = shell.New(sample(t, olive), "", later)
	r.window = &spyWindow{Window: r.app.NewWindow("")}
	r.bench.Attach(r.window)
	assert.Contains(t, r.window.Title(), "Olive-stone clips")
	r.bench.Autosave()
	r.undo()
	r.redo()
	r.choose("menu.start")
	r.bench.Started(nil)
	assert.Equal(t, bench.PaneBlend, r.bench.Pane())
	assert.NotEqual(t, "—", r.figure("verdict.density").Value)
	assert.False(t, r.bench.Dirty())
	r.choose("menu.quit")
	assert.True(t, r.window.closed)
}
