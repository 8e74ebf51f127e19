package shell

import (
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// What tests may see and do beyond what the window offers.

// Project is the document at work, to read.
func (b *Workbench) Project() *project.Project { return b.session.history.Peek() }

// Dirty reports unsaved work.
func (b *Workbench) Dirty() bool { return b.session.history.Dirty() }

// Path is the file of the project, "" for none.
func (b *Workbench) Path() string { return b.session.path }

// Notes are those listed for the blend at work, in the order handed to the list.
func (b *Workbench) Notes() []bench.Note { return b.listed }

// Chosen is the blend at work.
func (b *Workbench) Chosen() project.BlendID { return b.chosen }

// Pane is the one shown.
func (b *Workbench) Pane() bench.Pane { return b.current.ID() }

// Autosave does what the clock does every half minute.
func (b *Workbench) Autosave() { b.autosave() }

// Untitled is where work without a file is kept.
func Untitled() string { return untitledPath() }

// Revision names the state of the document.
func (b *Workbench) Revision() int { return b.session.history.Revision() }

// WriteTo saves the project to a file.
func (b *Workbench) WriteTo(path string) { b.write(path, nil) }
