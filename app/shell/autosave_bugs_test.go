package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/shell"
	"fillwright/internal/project"
)

func TestEscapeDoesNotDropKeptWork(t *testing.T) {
	r := crash(t, inFile)
	require.Equal(t, 1, r.dialogs())
	r.key(fyne.KeyEscape)
	assert.FileExists(t, project.AutosavePath(inFile(r)))
}

func TestKeptUntitledWorkGoesWithItsFirstSave(t *testing.T) {
	r := newRig(t).open(sample(t, olive), "", look)
	shell.ProtectFiles()
	r.enterCell(1, amountColumn, "11 wt%")
	r.bench.Autosave()
	require.FileExists(t, project.AutosavePath(shell.Untitled()))
	r.choose("menu.save")
	r.nameFile("mine.json")
	r.press("Save")
	require.False(t, r.bench.Dirty())
	assert.NoFileExists(t, project.AutosavePath(shell.Untitled()))
}

func TestKeptWorkGoesWithAnUndoneChangeAtQuit(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	r.bench.Autosave()
	r.undo()
	r.window.closeButton()
	require.True(t, r.window.closed)
	assert.NoFileExists(t, project.AutosavePath(r.file("project.json")))
}

func TestTheClockDoesNotTakeKeptWorkWhileItIsAskedAbout(t *testing.T) {
	r := crash(t, inFile)
	r.bench.Autosave()
	assert.FileExists(t, project.AutosavePath(inFile(r)))
}
