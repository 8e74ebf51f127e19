package project

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// Load reads the project in a file. A refusal is a *Refused around a *Broken;
// errors.Is finds the cause from the file system, such as fs.ErrNotExist.
func Load(path string) (Project, []Unknown, error) {
	data, b := readFile(path)
	if b != nil {
		return Project{}, nil, &Refused{Path: path, Broken: b}
	}
	p, unknown, b := decode(data)
	if b != nil {
		return Project{}, nil, &Refused{Path: path, Broken: b}
	}
	return p, unknown, nil
}

// readFile reads a regular file of bounded size.
func readFile(path string) ([]byte, *Broken) {
	// A pipe would block Open, so look first; what Open then finds is looked at again.
	info, err := os.Stat(path)
	if err != nil {
		return nil, fileFault(err)
	}
	if b := checkRegular(info); b != nil {
		return nil, b
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fileFault(err)
	}
	defer file.Close() //nolint:errcheck // only read from
	if info, err = file.Stat(); err != nil {
		return nil, fileFault(err)
	}
	if b := checkRegular(info); b != nil {
		return nil, b
	}
	data, err := io.ReadAll(io.LimitReader(file, MaxBytes+1)) // the file may grow meanwhile
	if err != nil {
		return nil, fileFault(err)
	}
	if len(data) > MaxBytes {
		return nil, tooLarge()
	}
	return data, nil
}

func checkRegular(info fs.FileInfo) *Broken {
	switch {
	case info.IsDir():
		return broken("", "project.file_is_folder", nil)
	case !info.Mode().IsRegular():
		return broken("", "project.file_is_device", nil)
	case info.Size() > MaxBytes:
		return tooLarge()
	}
	return nil
}

// fileFault tells what the file system has against it.
func fileFault(err error) *Broken {
	b := &Broken{ID: "project.file_fault", Cause: err}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		b.ID = "project.file_missing"
	case errors.Is(err, fs.ErrPermission):
		b.ID = "project.file_denied"
	default:
		b.Values = map[string]any{"Reason": err.Error()}
	}
	return b
}

// Save writes p to a file so that at every moment, through a crash or a full
// disk, either the old or the new content is there in full: it writes beside the
// file, forces that to the disk, and renames. The previous file stays as
// BackupPath. A link is followed, so that it goes on pointing to the file; the
// file keeps its permissions. Nothing is touched when p is Broken.
func Save(path string, p Project) error {
	return save(path, p, true)
}

// BackupPath is where Save keeps the file that was there before.
func BackupPath(path string) string { return path + "~" }

// AutosavePath is where unsaved work on the project in path is kept: a hidden
// file beside it.
func AutosavePath(path string) string {
	dir, name := filepath.Split(path)
	return dir + "." + name + ".autosave"
}

// Autosave writes p to AutosavePath(path), as safely as Save and without a
// backup. Save does not remove it; RemoveAutosave does.
func Autosave(path string, p Project) error {
	return save(AutosavePath(path), p, false)
}

// RemoveAutosave removes what Autosave wrote. It is no error if there is nothing.
func RemoveAutosave(path string) error {
	err := os.Remove(AutosavePath(path))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

func save(path string, p Project, backup bool) error {
	data, err := Encode(p)
	var b *Broken
	if errors.As(err, &b) {
		return &Refused{Path: path, Broken: b}
	}
	if err != nil {
		return err
	}
	if err := replace(path, data, backup); err != nil {
		if !errors.As(err, &b) {
			b = fileFault(err)
		}
		return &Refused{Path: path, Broken: b}
	}
	return nil
}

// replace puts data in the place of a file's content.
func replace(path string, data []byte, backup bool) error {
	target, mode, err := targetOf(path)
	if err != nil {
		return err
	}
	removeLeftovers(target)
	temp, err := writeBeside(target, data, mode)
	if err != nil {
		return err
	}
	defer os.Remove(temp) //nolint:errcheck // gone already when all went well
	if backup && mode.existed {
		if err := keepBackup(target); err != nil {
			return err
		}
	}
	if err := os.Rename(temp, target); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(target))
}

// fileMode is the permission that a written file gets.
type fileMode struct {
	existed bool
	perm    fs.FileMode
}

// targetOf follows links and looks at what is there.
func targetOf(path string) (target string, mode fileMode, err error) {
	target, err = filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(path); err == nil {
			return "", mode, fmt.Errorf("%s is a link that leads nowhere: %w", path, fs.ErrNotExist)
		}
		return path, fileMode{perm: 0o666}, nil
	}
	if err != nil {
		return "", mode, err
	}
	info, err := os.Stat(target)
	if err != nil {
		return "", mode, err
	}
	if !info.Mode().IsRegular() {
		return "", mode, checkRegular(info)
	}
	return target, fileMode{existed: true, perm: info.Mode().Perm()}, nil
}

// tempPattern names the files that are being written. The name starts with a
// dot, so that no list of projects shows them.
func tempPattern(target, middle string) string {
	dir, name := filepath.Split(target)
	return dir + "." + name + "." + middle + ".saving"
}

// writeBeside writes data to a new file beside target, down to the disk.
func writeBeside(target string, data []byte, mode fileMode) (temp string, err error) {
	file, err := createBeside(target, mode.perm)
	if err != nil {
		return "", err
	}
	temp = file.Name()
	defer func() {
		if err != nil {
			file.Close()    //nolint:errcheck // the first error counts
			os.Remove(temp) //nolint:errcheck // the first error counts
		}
	}()
	if mode.existed { // the umask must not take what the old file had
		if err = file.Chmod(mode.perm); err != nil && runtime.GOOS != "windows" {
			return "", err
		}
	}
	if _, err = file.Write(data); err != nil {
		return "", err
	}
	if err = file.Sync(); err != nil {
		return "", err
	}
	return temp, file.Close()
}

// createBeside makes a new file with a name that nobody has.
func createBeside(target string, perm fs.FileMode) (*os.File, error) {
	const tries = 100
	for i := range tries {
		name := tempPattern(target, fmt.Sprintf("%d-%d", os.Getpid(), i))
		file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
		if !errors.Is(err, fs.ErrExist) {
			return file, err
		}
	}
	return nil, fmt.Errorf("too many unfinished files beside %s: %w", target, fs.ErrExist)
}

// link is os.Link, except in a test of systems that have no such thing.
var link = os.Link

// keepBackup makes the file's content the backup, without a moment in which the
// file is missing: by a second name for it or, where the file system knows no
// such thing, by a copy.
func keepBackup(target string) error {
	temp := tempPattern(target, fmt.Sprintf("%d-backup", os.Getpid()))
	os.Remove(temp) //nolint:errcheck // a leftover; link says if it is still there
	if err := link(target, temp); err != nil {
		data, b := readFile(target)
		if b != nil {
			return b
		}
		if temp, err = writeBeside(target, data, fileMode{perm: 0o600}); err != nil {
			return err
		}
	}
	// A rename onto another name of the same file does nothing, so that a
	// leftover name must go in any case.
	defer os.Remove(temp) //nolint:errcheck // gone already after a rename
	return os.Rename(temp, BackupPath(target))
}

// removeLeftovers removes what saves left behind that were killed a day ago or
// more; younger files may belong to another window that is saving right now.
func removeLeftovers(target string) {
	const age = 24 * time.Hour
	names, err := filepath.Glob(tempPattern(globEscape(target), "*"))
	if err != nil {
		return
	}
	for _, name := range names {
		if info, err := os.Lstat(name); err == nil && time.Since(info.ModTime()) > age {
			os.Remove(name) //nolint:errcheck // it only takes room
		}
	}
}

// globEscape makes Glob take a path literally.
func globEscape(path string) string {
	if runtime.GOOS == "windows" { // no escapes there; [ is then a pattern that matches nothing harmful
		return path
	}
	return globSpecial.Replace(path)
}

var globSpecial = strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`)

// syncFolder makes the new name last. Windows has no such thing for folders,
// and some file systems refuse it; the rename itself is done by then.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	folder, err := os.Open(dir)
	if err != nil {
		return nil //nolint:nilerr // a folder may be writable and not readable
	}
	defer folder.Close() //nolint:errcheck // only synced
	err = folder.Sync()
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		return nil
	}
	return err
}
