package shell_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/shell"
	"fillwright/internal/project"
)

// textEntry is an entry of any kind.
type textEntry interface {
	fyne.Focusable
	SetText(text string)
	SelectedText() string
}

// nameFile types the name of a file into the dialog on top.
func (r *rig) nameFile(name string) {
	r.t.Helper()
	require.NotNil(r.t, r.dialog())
	entries := all[textEntry](r.dialog())
	require.Len(r.t, entries, 1)
	entries[0].SetText(name)
}

// recent lists the files in the menu.
func (r *rig) recent() []string {
	var list []string
	for _, i := range r.menuItem("menu.recent").ChildMenu.Items {
		list = append(list, i.Label)
	}
	return list
}

func TestSaveAsGivesTheProjectAFile(t *testing.T) {
	r := newRig(t).open(sample(t, olive), "", look)
	shell.ProtectFiles()
	r.enterCell(1, amountColumn, "11 wt%")
	r.choose("menu.save")
	assert.Contains(t, reads(r.dialog()), "olive-stone-clips.json", "a name is offered")
	r.nameFile("mine") // without an ending
	r.press("Save")
	assert.Equal(t, r.file("mine.json"), r.bench.Path())
	assert.FileExists(t, r.file("mine.json"))
	assert.NoFileExists(t, r.file("mine"))
	assert.False(t, r.bench.Dirty())
	assert.Zero(t, r.dialogs())
	assert.Len(t, r.recent(), 1)
}

func TestChoosingAFileDoesNotEmptyIt(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	path := r.file("precious.json")
	require.NoError(t, os.WriteFile(path, []byte("precious"), 0o600))

	uri := storage.NewFileURI(path)
	w, err := storage.Writer(uri)
	require.NoError(t, err)
	assert.Equal(t, uri.String(), w.URI().String())
	require.NoError(t, w.Close())
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "precious", string(data), "a writer that nothing was written to leaves the file alone")

	w, err = storage.Writer(uri)
	require.NoError(t, err)
	_, err = w.Write([]byte("new"))
	require.NoError(t, err)
	_, err = w.Write([]byte("er"))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	data, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "newer", string(data))
}

func TestSaveAsOverAFileKeepsItAsBackup(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	path := r.file("precious.json")
	require.NoError(t, project.Save(path, sample(t, mussel)))
	r.choose("menu.save_as")
	r.nameFile("precious.json")
	r.press("Save")
	require.NotEmpty(t, r.dialogs(), "it asks before it replaces a file")
	r.press("Yes")
	assert.Equal(t, path, r.bench.Path())
	saved, _, err := project.Load(path)
	require.NoError(t, err)
	sameProject(t, *r.bench.Project(), saved, path)
	backup, _, err := project.Load(project.BackupPath(path))
	require.NoError(t, err, "the file was whole until it was replaced")
	assert.Equal(t, "Mussel-shell hooks", backup.Title)
}

func TestANameWithoutEndingDoesNotReplaceAFileUnasked(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	path := r.file("precious.json")
	require.NoError(t, project.Save(path, sample(t, mussel)))
	r.choose("menu.save_as")
	r.nameFile("precious")
	r.press("Save")
	r.answer("dialog.cancel")
	kept, _, err := project.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "Mussel-shell hooks", kept.Title)
	assert.Equal(t, r.file("project.json"), r.bench.Path())

	r.choose("menu.save_as")
	r.nameFile("precious")
	r.press("Save")
	r.answer("dialog.replace_yes")
	assert.Equal(t, path, r.bench.Path())
}

func TestRecentFiles(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Started(nil)
	require.Equal(t, []string{filepath.Join(filepath.Base(r.folder), "project.json")}, r.recent())
	other := otherProject(r)
	r.dropOn(other)
	require.Len(t, r.recent(), 2)
	assert.Contains(t, r.recent()[0], "other.json", "the last one comes first")
	r.menuItem("menu.recent").ChildMenu.Items[1].Action()
	assert.Equal(t, r.file("project.json"), r.bench.Path())
	assert.Len(t, r.recent(), 2, "no file twice")
	assert.Contains(t, r.recent()[0], "project.json")

	require.NoError(t, os.Remove(other))
	r.choose("menu.save")
	assert.Len(t, r.recent(), 1, "a file that is gone is not offered")

	for i := range 12 {
		path := r.file(strings.Repeat("x", i+1) + ".json")
		require.NoError(t, project.Save(path, sample(t, mussel)))
		r.dropOn(path)
	}
	assert.Len(t, r.recent(), 8)

	var kept []string
	require.NoError(t, json.Unmarshal([]byte(r.app.Preferences().String("recent")), &kept))
	assert.Len(t, kept, 8)
}

func TestASpoiltListOfRecentFilesIsAnEmptyOne(t *testing.T) {
	r := newRig(t)
	r.app.Preferences().SetString("recent", "{not json")
	r.open(sample(t, olive), "", look)
	assert.Empty(t, r.recent())
	assert.True(t, r.menuItem("menu.recent").Disabled)
}

func TestADroppedFileThatIsNoProject(t *testing.T) {
	r := openSample(t, olive)
	text := r.file("notes.txt")
	require.NoError(t, os.WriteFile(text, []byte("hello"), 0o600))
	r.dropOn(text)
	require.NotNil(t, r.dialog())
	assert.Contains(t, reads(r.dialog()), "notes.txt is not a project")
	r.answer("dialog.close")
	assert.Equal(t, r.file("project.json"), r.bench.Path())

	broken := r.file("broken.json")
	require.NoError(t, os.WriteFile(broken, []byte(`{"format":"fillwright project","version":2,"title":7}`), 0o600))
	r.dropOn(broken)
	require.NotNil(t, r.dialog())
	said := reads(r.dialog())
	assert.Contains(t, said, "broken.json")
	assert.Contains(t, said, "/title")
	r.answer("dialog.close")
	assert.Zero(t, r.dialogs())
	assert.Equal(t, r.file("project.json"), r.bench.Path(), "the project at work stays")
	assert.Empty(t, r.recent())

	other := otherProject(r)
	r.dropOn(text, other)
	assert.True(t, atOther(r), "the first project among them is opened")
	r.dropOn()
	assert.Zero(t, r.dialogs())
}

func TestUnknownMembersAreReportedAndKept(t *testing.T) {
	r := openSample(t, olive)
	path := r.file("newer.json")
	data, err := os.ReadFile(r.file("project.json"))
	require.NoError(t, err)
	data = []byte(strings.Replace(string(data), `"spool": {`, `"spool": {"colour": "green", `, 1))
	require.NoError(t, os.WriteFile(path, data, 0o600))

	r.dropOn(path)
	require.NotNil(t, r.dialog())
	assert.Equal(t, 1, r.dialogs())
	assert.Contains(t, reads(r.dialog()), "/spool/colour")
	r.answer("dialog.close")
	r.enterCell(1, amountColumn, "11 wt%")
	r.choose("menu.save")
	data, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"colour": "green"`)
	assert.Contains(t, string(data), `"11 wt%"`)
}

func TestTheFirstFileIsReportedToo(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Started([]project.Unknown{{Pointer: "/spool/colour"}})
	assert.Contains(t, reads(r.dialog()), "/spool/colour")
}

func TestOpenDialog(t *testing.T) {
	r := openSample(t, olive)
	otherProject(r)
	r.choose("menu.open")
	require.Equal(t, 1, r.dialogs())
	said := reads(r.dialog())
	assert.Contains(t, said, "other", "it begins beside the file at work")
	size := r.dialog().MinSize()
	assert.LessOrEqual(t, size.Width, float32(1280))
	assert.LessOrEqual(t, size.Height, float32(800))
}

func TestTitleAndCurrencyAreAskedFor(t *testing.T) {
	r := openSample(t, olive)
	r.choose("menu.title")
	r.nameFile("Clips of the spring")
	r.answer("dialog.ok")
	assert.Equal(t, "Clips of the spring", r.bench.Project().Title)
	assert.Contains(t, r.window.Title(), "Clips of the spring")

	r.choose("menu.currency")
	r.nameFile("chf")
	r.answer("dialog.ok")
	assert.Equal(t, "CHF", r.bench.Project().Currency)
	assert.Equal(t, "18.90 CHF/kg", r.bench.Project().Materials[0].Price.String())
	assert.Contains(t, r.figure("verdict.cost").Unit, "CHF")
	assert.Contains(t, r.field("/cost/bought_price").Entry().PlaceHolder, "CHF")

	r.choose("menu.currency")
	r.nameFile("XYZ")
	r.answer("dialog.ok")
	assert.Contains(t, reads(r.dialog()), "XYZ")
	assert.Equal(t, "CHF", r.bench.Project().Currency)
}

func TestExportWritesWhatIsComputed(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	r.choose("menu.export_sheet")
	r.nameFile("sheet.json")
	r.press("Save")
	data, err := os.ReadFile(r.file("sheet.json"))
	require.NoError(t, err)
	var sheet struct{ Blends []struct{ ID string } }
	require.NoError(t, json.Unmarshal(data, &sheet))
	assert.Len(t, sheet.Blends, len(sample(t, olive).Blends))
	assert.Equal(t, r.file("project.json"), r.bench.Path(), "the project keeps its file")
	assert.False(t, r.bench.Dirty())

	r.choose("pane.plan.title")
	for _, b := range all[button](r.bench.Content()) {
		if strings.Join(texts(b), " ") == r.words.Text("pane.plan.export") {
			b.Tapped(&fyne.PointEvent{})
		}
	}
	r.nameFile("trials.csv")
	r.press("Save")
	data, err = os.ReadFile(r.file("trials.csv"))
	require.NoError(t, err)
	list, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	assert.Len(t, list, 1+9+1, "a head, three spools of three contents and a total")
}
