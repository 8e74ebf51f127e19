package shell_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/shell"
	"fillwright/internal/project"
)

// keptOf is the kept work of a project file, if there is any.
func keptOf(t *testing.T, path string) (project.Project, bool) {
	p, _, err := project.Load(project.AutosavePath(path))
	if os.IsNotExist(err) || err != nil {
		require.NoFileExists(t, project.AutosavePath(path))
		return p, false
	}
	return p, true
}

// crash leaves a program that was killed with unsaved work, and starts it again
// on the same file.
func crash(t *testing.T, path func(r *rig) string) *rig {
	r := newRig(t)
	file := path(r)
	if file != "" {
		require.NoError(t, project.Save(file, sample(t, olive)))
	}
	r.open(sample(t, olive), file, look)
	r.enterCell(1, amountColumn, "11 wt%")
	r.bench.Autosave()
	r.window.Close()

	r.open(sample(t, olive), file, look)
	r.bench.Started(nil)
	return r
}

func inFile(r *rig) string { return r.file("project.json") }

func inNoFile(*rig) string { return "" }

func TestUnsavedWorkIsKeptAndTakenUp(t *testing.T) {
	for name, path := range map[string]func(*rig) string{"in a file": inFile, "in no file": inNoFile} {
		t.Run(name, func(t *testing.T) {
			r := crash(t, path)
			require.Equal(t, 1, r.dialogs())
			assert.Contains(t, reads(r.dialog()), "Olive-stone clips")
			assert.False(t, r.bench.Dirty())
			r.answer("recover.take")
			assert.Zero(t, r.dialogs())
			assert.Equal(t, "11 wt%", amountOf(r))
			assert.True(t, r.bench.Dirty(), "it is not in the file yet")
			assert.Contains(t, r.undoItem().Label, r.words.Text("recover.edit"))
			r.undo()
			assert.Equal(t, "10 wt%", amountOf(r))
			assert.False(t, r.bench.Dirty())
		})
	}
}

func TestKeptWorkCanBeDropped(t *testing.T) {
	for name, path := range map[string]func(*rig) string{"in a file": inFile, "in no file": inNoFile} {
		t.Run(name, func(t *testing.T) {
			r := crash(t, path)
			r.answer("recover.drop")
			assert.Equal(t, "10 wt%", amountOf(r))
			file := path(r)
			if file == "" {
				file = shell.Untitled()
			}
			_, kept := keptOf(t, file)
			assert.False(t, kept)
			r.window.Close()
			r.open(sample(t, olive), path(r), look)
			r.bench.Started(nil)
			assert.Zero(t, r.dialogs(), "it is not offered again")
		})
	}
}

func TestOpeningAFileOffersItsKeptWork(t *testing.T) {
	r := openSample(t, olive)
	other := otherProject(r)
	p := sample(t, mussel)
	p.Title = "Kept"
	require.NoError(t, project.Autosave(other, p))
	r.dropOn(other)
	require.Equal(t, 1, r.dialogs())
	r.answer("recover.take")
	assert.Equal(t, "Kept", r.bench.Project().Title)
	assert.Equal(t, other, r.bench.Path())
	assert.True(t, r.bench.Dirty())
}

func TestKeptWorkThatCannotBeReadIsNotOffered(t *testing.T) {
	r := openSample(t, olive)
	require.NoError(t, os.WriteFile(project.AutosavePath(r.bench.Path()), []byte("{"), 0o600))
	r.bench.Started(nil)
	assert.Zero(t, r.dialogs())
}

func TestKeptWorkGoesWithTheSave(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Autosave()
	_, kept := keptOf(t, r.bench.Path())
	assert.False(t, kept, "nothing unsaved, nothing kept")

	r.enterCell(1, amountColumn, "11 wt%")
	r.bench.Autosave()
	p, kept := keptOf(t, r.bench.Path())
	require.True(t, kept)
	sameProject(t, *r.bench.Project(), p, "kept")
	assert.True(t, r.bench.Dirty(), "kept is not saved")

	r.choose("menu.save")
	_, kept = keptOf(t, r.bench.Path())
	assert.False(t, kept)

	r.enterCell(1, amountColumn, "12 wt%")
	r.bench.Autosave()
	r.undo()
	r.bench.Autosave()
	_, kept = keptOf(t, r.bench.Path())
	assert.False(t, kept, "an undo back to the file leaves nothing to keep")
}

func TestKeptWorkGoesWhenItIsDroppedAtTheGate(t *testing.T) {
	for name, path := range map[string]func(*rig) string{"in a file": inFile, "in no file": inNoFile} {
		t.Run(name, func(t *testing.T) {
			r := crash(t, path)
			r.answer("recover.take")
			r.bench.Autosave()
			r.window.closeButton()
			r.answer("gate.drop")
			assert.True(t, r.window.closed)
			r.open(sample(t, olive), path(r), look)
			r.bench.Started(nil)
			assert.Zero(t, r.dialogs())
		})
	}
}

func TestWorkThatCannotBeKeptIsSaidOnce(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	require.NoError(t, os.Mkdir(project.AutosavePath(r.bench.Path()), 0o755))
	r.bench.Autosave()
	require.Equal(t, 1, r.dialogs())
	assert.Contains(t, reads(r.dialog()), r.words.Text("dialog.autosave_title"))
	r.answer("dialog.close")
	r.bench.Autosave()
	assert.Zero(t, r.dialogs())
}
