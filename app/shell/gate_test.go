package shell_test

import (
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
)

// way is one of the ways that leave the project at work.
type way struct {
	name string
	take func(r *rig)
	left func(r *rig) bool // whether the project was left
}

// otherProject writes a project to go to.
func otherProject(r *rig) string {
	path := r.file("other.json")
	p := sample(r.t, mussel)
	p.Title = "Another one"
	require.NoError(r.t, project.Save(path, p))
	return path
}

// dropOn drops files onto the window.
func (r *rig) dropOn(paths ...string) {
	r.t.Helper()
	require.NotNil(r.t, r.window.dropped)
	var uris []fyne.URI
	for _, p := range paths {
		uris = append(uris, storage.NewFileURI(p))
	}
	r.window.dropped(fyne.NewPos(10, 10), uris)
}

func atOther(r *rig) bool { return r.bench.Project().Title == "Another one" }

func closed(r *rig) bool { return r.window.closed }

var waysOut = []way{
	{"new", func(r *rig) { r.choose("menu.new") }, func(r *rig) bool { return len(r.bench.Project().Blends) == 0 }},
	{"sample", func(r *rig) { r.choose("sample.mussel_shell") }, func(r *rig) bool { return r.bench.Project().Title == "Mussel-shell hooks" }},
	{"drop", func(r *rig) { r.dropOn(otherProject(r)) }, atOther},
	{"quit", func(r *rig) { r.choose("menu.quit") }, closed},
	{"close button", func(r *rig) { r.window.closeButton() }, closed},
	{"open", func(r *rig) { r.choose("menu.open") }, func(r *rig) bool { return r.dialogs() == 1 && r.saysSomewhere("Open") && !r.atGate() }},
}

// saysSomewhere reports a text in the dialog on top.
func (r *rig) saysSomewhere(text string) bool {
	for _, line := range texts(r.dialog()) {
		if line == text {
			return true
		}
	}
	return false
}

// atGate reports the question about unsaved work.
func (r *rig) atGate() bool {
	return r.dialog() != nil && r.saysSomewhere(r.words.Text("gate.drop"))
}

func TestNothingUnsavedIsNotAskedAbout(t *testing.T) {
	for _, w := range waysOut {
		t.Run(w.name, func(t *testing.T) {
			r := openSample(t, olive)
			w.take(r)
			assert.False(t, r.atGate())
			assert.True(t, w.left(r))
		})
	}
}

func TestTheGateAsksOnEveryWayOut(t *testing.T) {
	for _, w := range waysOut {
		t.Run(w.name, func(t *testing.T) {
			r := openSample(t, olive)
			r.enterCell(1, amountColumn, "11 wt%")
			revision := r.bench.Revision()

			w.take(r)
			require.True(t, r.atGate())
			assert.Equal(t, 1, r.dialogs(), "one dialog")
			assert.Contains(t, reads(r.dialog()), r.bench.Project().Title)
			assert.False(t, r.window.closed)
			r.answer("gate.stay")
			assert.Zero(t, r.dialogs())
			assert.False(t, r.window.closed)
			assert.Equal(t, revision, r.bench.Revision(), "nothing happened")
			assert.True(t, r.bench.Dirty())

			w.take(r)
			require.True(t, r.atGate())
			r.key(fyne.KeyEscape)
			assert.Zero(t, r.dialogs(), "Escape stays")
			assert.True(t, r.bench.Dirty())

			w.take(r)
			r.answer("gate.drop")
			assert.False(t, r.atGate(), "it asks once")
			assert.True(t, w.left(r))
			saved, _, err := project.Load(r.file("project.json"))
			require.NoError(t, err)
			assert.Equal(t, "10 wt%", saved.Blends[2].Parts[1].Amount.String(), "the file is as it was")
		})
	}
}

func TestTheGateSavesAndGoesOn(t *testing.T) {
	for _, w := range waysOut {
		t.Run(w.name, func(t *testing.T) {
			r := openSample(t, olive)
			r.enterCell(1, amountColumn, "11 wt%")
			w.take(r)
			r.answer("gate.save")
			assert.False(t, r.atGate())
			assert.True(t, w.left(r))
			saved, _, err := project.Load(r.file("project.json"))
			require.NoError(t, err)
			assert.Equal(t, "11 wt%", saved.Blends[2].Parts[1].Amount.String())
		})
	}
}

func TestTypingNotYetHandedOnIsAskedAbout(t *testing.T) {
	r := openSample(t, olive)
	r.typeCell(1, amountColumn, "11 wt%")
	r.window.closeButton()
	require.True(t, r.atGate())
	r.answer("gate.save")
	assert.True(t, r.window.closed)
	saved, _, err := project.Load(r.file("project.json"))
	require.NoError(t, err)
	assert.Equal(t, "11 wt%", saved.Blends[2].Parts[1].Amount.String())
}

func TestASaveThatFailsAtTheGateStays(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	require.NoError(t, os.Remove(r.bench.Path()))
	require.NoError(t, os.Mkdir(r.bench.Path(), 0o755))
	r.window.closeButton()
	r.answer("gate.save")
	assert.False(t, r.window.closed)
	assert.True(t, r.bench.Dirty())
	assert.True(t, r.saysSomewhere(r.words.Text("dialog.refused")))
}

func TestTheGateSavesWhatHasNoFileYet(t *testing.T) {
	r := newRig(t).open(sample(t, olive), "", look)
	r.enterCell(1, amountColumn, "11 wt%")
	r.window.closeButton()
	r.answer("gate.save")
	require.False(t, r.window.closed)
	require.Equal(t, 1, r.dialogs(), "it asks where")
	r.press("Cancel")
	assert.False(t, r.window.closed, "not saved, not closed")
	assert.True(t, r.bench.Dirty())

	r.window.closeButton()
	r.answer("gate.save")
	r.nameFile("mine.json")
	r.press("Save")
	assert.True(t, r.window.closed)
	saved, _, err := project.Load(r.file("mine.json"))
	require.NoError(t, err)
	assert.Equal(t, "11 wt%", saved.Blends[2].Parts[1].Amount.String())
}
