// Package shell is the window around the panes: the document with its history
// and file, rail, blend bar, verdict strip and notes, menus, and the one gate
// through which every way out leads.
package shell

import (
	"fillwright/assets"
	"fillwright/internal/project"
)

// historyBytes bounds what undo may hold.
const historyBytes = 64 << 20

// session is the document at work and the file it belongs to.
type session struct {
	history *project.History
	path    string // "" while it has no file
	cancel  func() // of the listener
}

// newSession starts with a project; path is "" for one that has no file yet.
func newSession(p project.Project, path string, changed func()) *session {
	s := &session{history: project.NewHistory(p, historyBytes), path: path}
	s.cancel = s.history.OnChange(changed)
	return s
}

// close lets go of the listener.
func (s *session) close() { s.cancel() }

// save writes the project to its file. What was kept of it is not needed any
// more: neither beside the old file (or in the place for work without one) nor
// beside the new one.
func (s *session) save(path, untitled string) error {
	if err := project.Save(path, s.history.Project()); err != nil {
		return err
	}
	s.forgetKept(untitled)
	s.path = path
	s.history.MarkSaved()
	s.forgetKept(untitled)
	return nil
}

// keptFor is the file that kept work belongs to.
func (s *session) keptFor(untitled string) string {
	if s.path == "" {
		return untitled
	}
	return s.path
}

// forgetKept removes the kept work of this project.
func (s *session) forgetKept(untitled string) {
	_ = project.RemoveAutosave(s.keptFor(untitled)) // what stays behind is offered once more, no harm done
}

// autosave keeps unsaved work beside the file. A project without a file is kept
// under the path given.
func (s *session) autosave(untitled string) error {
	if !s.history.Dirty() {
		return project.RemoveAutosave(s.keptFor(untitled))
	}
	return project.Autosave(s.keptFor(untitled), s.history.Project())
}

// Sample reads a built-in project by its name without ending.
func Sample(name string) (project.Project, error) {
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	if err != nil {
		return project.Project{}, err
	}
	p, _, err := project.Decode(data)
	return p, err
}

// SampleNames lists the built-in projects, the first is the one to start with.
func SampleNames() []string {
	return []string{"olive-stone-pla", "mussel-shell-petg", "olive-mill-pla"}
}

// sampleTitles are the names of the built-in projects.
var sampleTitles = map[string]string{
	"olive-stone-pla":   "sample.olive_stone",
	"mussel-shell-petg": "sample.mussel_shell",
	"olive-mill-pla":    "sample.olive_mill",
}
