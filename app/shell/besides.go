package shell

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/assets"
	"fillwright/internal/project"
)

// Files that the document names, such as the logs of gauges, lie beside it: they are named
// by their paths from its folder, so that both can be moved together.

// OpenBeside implements pane.Desk. While the project has no file of its own its files are
// looked for in the folder it came from, else among those of the samples.
func (b *Workbench) OpenBeside(name string) (io.ReadSeekCloser, error) {
	path := filepath.FromSlash(name)
	switch {
	case filepath.IsAbs(path):
	case b.session.path != "":
		path = filepath.Join(filepath.Dir(b.session.path), path)
	case b.folder != "":
		path = filepath.Join(b.folder, path)
	default:
		data, err := assets.Samples.ReadFile("samples/" + name)
		if err != nil {
			return nil, fs.ErrNotExist
		}
		return inMemory{bytes.NewReader(data)}, nil
	}
	return os.Open(path)
}

// inMemory is a file that needs no closing.
type inMemory struct{ *bytes.Reader }

func (inMemory) Close() error { return nil }

// Beside implements pane.Desk.
func (b *Workbench) Beside(path string) string {
	if b.session.path == "" {
		return path
	}
	return from(filepath.Dir(b.session.path), path)
}

// from is a path from a folder, with slashes; the whole path where there is no way.
func from(folder, path string) string {
	whole, err := filepath.Abs(folder)
	if err != nil {
		return path
	}
	way, err := filepath.Rel(whole, path)
	if err != nil {
		return path
	}
	return filepath.ToSlash(way)
}

// moveLogs names the logs of gauges from the folder that the project is to be saved to,
// and reports whether that changed the project.
func (b *Workbench) moveLogs(path string) (moved bool, err error) {
	old := b.folder
	if b.session.path != "" {
		old = filepath.Dir(b.session.path)
	}
	folder := filepath.Dir(path)
	renamed := func(name string) string {
		whole := filepath.FromSlash(name)
		if !filepath.IsAbs(whole) {
			if old == "" {
				return name
			}
			whole = filepath.Join(old, whole)
		}
		if abs, err := filepath.Abs(whole); err == nil {
			whole = abs
		}
		return from(folder, whole)
	}
	made := b.session.history.Peek().Spool.Made
	for i := range made {
		moved = moved || made[i].Trace.File != "" && renamed(made[i].Trace.File) != made[i].Trace.File
	}
	if !moved {
		return false, nil
	}
	err = b.Edit(b.words.Text("edit.move_logs"), "/spool/made", func(p *project.Project) error {
		for i := range p.Spool.Made {
			if file := &p.Spool.Made[i].Trace.File; *file != "" {
				*file = renamed(*file)
			}
		}
		return nil
	})
	return err == nil, err
}

// OpenPath implements pane.Desk.
func (b *Workbench) OpenPath(title string, endings []string, take func(path string)) {
	b.commit()
	if b.window == nil {
		return
	}
	d := b.fileOpen(func(file fyne.URIReadCloser) {
		path := file.URI().Path()
		_ = file.Close() // it was only opened to learn its name
		take(path)
	}, endings)
	d.SetTitleText(title)
	b.openDialog(d)
}

// Runner implements pane.Desk.
func (b *Workbench) Runner(progress func(share float64, running bool)) control.Runner {
	if b.immediate {
		return control.Immediate{}
	}
	r := control.NewRunner()
	r.OnProgress = progress
	return r
}
