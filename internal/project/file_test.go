package project

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// named returns a valid project with a title.
func named(name string) Project {
	p := New("EUR")
	p.Title = name
	return p
}

func titleOf(t *testing.T, path string) string {
	t.Helper()
	p, _, err := Load(path)
	require.NoError(t, err)
	return p.Title
}

// filesIn lists a folder, hidden files included.
func filesIn(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	return names
}

func TestSaveKeepsThePreviousFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	require.NoError(t, Save(path, named("one")))
	assert.Equal(t, []string{"work.json"}, filesIn(t, dir), "nothing to back up yet")
	require.NoError(t, Save(path, named("two")))
	require.NoError(t, Save(path, named("three")))
	assert.Equal(t, "three", titleOf(t, path))
	assert.Equal(t, "two", titleOf(t, BackupPath(path)))
	assert.Equal(t, []string{"work.json", "work.json~"}, filesIn(t, dir))
}

func TestSaveOfABrokenProjectTouchesNothing(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	require.NoError(t, Save(path, named("one")))
	bad := named("two")
	bad.Reference = "gone"
	requireBroken(t, Save(path, bad), "/reference", "project.blend_unknown")
	assert.Equal(t, "one", titleOf(t, path))
	assert.Equal(t, []string{"work.json"}, filesIn(t, dir))
}

func TestSaveKeepsPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // it has no such permissions
	}
	path := filepath.Join(t.TempDir(), "work.json")
	require.NoError(t, Save(path, named("one")))
	for _, perm := range []fs.FileMode{0o600, 0o664, 0o640} {
		require.NoError(t, os.Chmod(path, perm))
		require.NoError(t, Save(path, named("two")))
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, perm, info.Mode().Perm())
	}
}

func TestSaveFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "work.json"), filepath.Join(dir, "link.json")
	require.NoError(t, Save(path, named("one")))
	if err := os.Symlink("work.json", link); err != nil {
		return // this system lets users make no links
	}
	require.NoError(t, Save(link, named("two")))
	assert.Equal(t, "two", titleOf(t, path))
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&fs.ModeSymlink, "the link is still a link")
	assert.Equal(t, "one", titleOf(t, BackupPath(path)), "the backup lies beside the file")

	require.NoError(t, os.Symlink("nowhere.json", filepath.Join(dir, "dead.json")))
	requireBroken(t, Save(filepath.Join(dir, "dead.json"), named("x")), "", "project.file_missing")
}

func TestSaveCleansUpAfterKilledSaves(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work[1].json")
	old, young := tempPattern(path, "1-0"), tempPattern(path, "2-0")
	other := tempPattern(filepath.Join(dir, "work1.json"), "1-0")
	for _, name := range []string{old, young, other} {
		require.NoError(t, os.WriteFile(name, []byte("half"), 0o600))
	}
	long := time.Now().Add(-25 * time.Hour)
	require.NoError(t, os.Chtimes(old, long, long))
	require.NoError(t, os.Chtimes(other, long, long))
	require.NoError(t, Save(path, named("one")))
	assert.NoFileExists(t, old)
	assert.FileExists(t, young, "it may be another window's")
	assert.FileExists(t, other, "it belongs to another project")
}

// A save that was killed between backup and rename leaves both names on one
// file; the next save must still make a backup of its own.
func TestBackupAfterAKilledSave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	require.NoError(t, Save(path, named("one")))
	require.NoError(t, os.Link(path, BackupPath(path)))
	require.NoError(t, Save(path, named("two")))
	assert.Equal(t, "two", titleOf(t, path))
	assert.Equal(t, "one", titleOf(t, BackupPath(path)))
	assert.Equal(t, []string{"work.json", "work.json~"}, filesIn(t, dir))
}

// Some file systems, those of memory cards for example, know no second names.
func TestBackupWithoutLinks(t *testing.T) {
	link = func(string, string) error { return errors.ErrUnsupported }
	t.Cleanup(func() { link = os.Link })
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	for _, name := range []string{"one", "two", "three"} {
		require.NoError(t, Save(path, named(name)))
	}
	assert.Equal(t, "three", titleOf(t, path))
	assert.Equal(t, "two", titleOf(t, BackupPath(path)))
	assert.Equal(t, []string{"work.json", "work.json~"}, filesIn(t, dir))
}

func TestAutosaveLiesBeside(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	require.NoError(t, RemoveAutosave(path), "nothing to remove is fine")
	require.NoError(t, Save(path, named("saved")))
	require.NoError(t, Autosave(path, named("unsaved")))
	require.NoError(t, Autosave(path, named("unsaved, later")))
	assert.Equal(t, "saved", titleOf(t, path))
	assert.Equal(t, "unsaved, later", titleOf(t, AutosavePath(path)))
	assert.Equal(t, []string{".work.json.autosave", "work.json"}, filesIn(t, dir))
	require.NoError(t, RemoveAutosave(path))
	assert.Equal(t, []string{"work.json"}, filesIn(t, dir))
}

func TestLoadRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	_, _, err := Load(filepath.Join(dir, "missing.json"))
	requireBroken(t, err, "", "project.file_missing")
	assert.ErrorIs(t, err, fs.ErrNotExist)
	_, _, err = Load(dir)
	requireBroken(t, err, "", "project.file_is_folder")
	_, _, err = Load(filepath.Join(dir, "a\x00b"))
	requireBroken(t, err, "", "project.file_fault")
	requireBroken(t, Save(dir, named("x")), "", "project.file_is_folder")
	requireBroken(t, Save(filepath.Join(dir, "no", "such", "folder.json"), named("x")), "", "project.file_missing")
	_, _, err = Load(os.DevNull)
	requireBroken(t, err, "", "project.file_is_device")
	requireBroken(t, Save(os.DevNull, named("x")), "", "project.file_is_device")
}

func TestLoadRefusesLargeFilesUnread(t *testing.T) {
	path := filepath.Join(t.TempDir(), "large.json")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	require.NoError(t, os.Truncate(path, 1<<40)) // takes no room on the disk
	start := time.Now()
	_, _, err := Load(path)
	requireBroken(t, err, "", "project.too_large")
	assert.Less(t, time.Since(start), 5*time.Second)
}

func TestFailedSaveLeavesNoTrace(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "work.json")
	require.NoError(t, Save(path, named("one")))
	require.NoError(t, os.MkdirAll(filepath.Join(BackupPath(path), "in the way"), 0o755))
	err := Save(path, named("two"))
	require.Error(t, err)
	assert.True(t, strings.HasPrefix(deepest(err), "project.file_"), deepest(err))
	assert.Equal(t, "one", titleOf(t, path))
	assert.Equal(t, []string{"work.json", "work.json~"}, filesIn(t, dir))
}
