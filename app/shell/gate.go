package shell

import (
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"fillwright/app/control"
	"fillwright/internal/project"
)

// gate is the one way past unsaved work: it goes on at once when there is
// none, else asks whether to save, to drop the changes or to stay.
func (b *Workbench) gate(then func()) {
	if b.questions > 0 {
		return
	}
	b.commit()
	if !b.session.history.Dirty() {
		b.forgetKept()
		then()
		return
	}
	if b.window == nil {
		return
	}
	answers := []string{b.words.Text("gate.save"), b.words.Text("gate.drop"), b.words.Text("gate.stay")}
	question := b.words.Say("gate.question", map[string]any{"Project": b.session.history.Peek().Title})
	b.Ask(b.words.Text("gate.title"), question, answers, func(chosen int) {
		switch chosen {
		case 0:
			b.save(then)
		case 1:
			b.forgetKept()
			then()
		}
	})
}

// autosaveEvery is how much work can be lost to a crash, unless told otherwise.
const autosaveEvery = 30 * time.Second

// untitledPath is where work without a file is kept. It is in the program's own
// folder, so that it survives the window.
func untitledPath() string {
	root := fyne.CurrentApp().Storage().RootURI()
	if root == nil || root.Scheme() != "file" {
		return filepath.Join(os.TempDir(), "fillwright-untitled.json")
	}
	child, err := storage.Child(root, "untitled.json")
	if err != nil {
		return filepath.Join(root.Path(), "untitled.json")
	}
	if dir := filepath.Dir(child.Path()); dir != "" {
		_ = os.MkdirAll(dir, 0o700) // autosave will say so if it cannot write
	}
	return child.Path()
}

// keepWork autosaves while the window is open.
func (b *Workbench) keepWork() (stop func()) {
	ticker := time.NewTicker(b.keepEvery)
	done := make(chan struct{})
	go func() {
		for {
			select {
			case <-ticker.C:
				control.InWindow(b.autosave)
			case <-done:
				return
			}
		}
	}()
	return func() {
		ticker.Stop()
		close(done)
	}
}

// autosave keeps unsaved work beside its file. A failure is said once.
func (b *Workbench) autosave() {
	if b.recovering {
		return
	}
	err := b.session.autosave(untitledPath())
	if err != nil && !b.autosaveFailed {
		b.tell(b.words.Text("dialog.autosave_title"), b.words.Say("dialog.autosave_failed", map[string]any{"Reason": err}))
	}
	b.autosaveFailed = err != nil
}

// forgetKept removes the kept work of the project at work: it is saved, or not
// wanted. While the question about it stands it stays.
func (b *Workbench) forgetKept() {
	if b.window != nil && !b.recovering {
		b.session.forgetKept(untitledPath())
	}
}

// offerAutosave asks whether to take up work that was not saved before the
// program ended.
func (b *Workbench) offerAutosave(path string) {
	kept := project.AutosavePath(path)
	p, _, err := project.Load(kept)
	if err != nil {
		return // nothing kept, or nothing that can be read
	}
	answers := []string{b.words.Text("recover.take"), b.words.Text("recover.drop")}
	b.recovering = true
	b.insist(b.words.Text("recover.title"), b.words.Say("recover.question", map[string]any{"Project": p.Title}), answers, func(chosen int) {
		b.recovering = false
		if chosen == 1 {
			_ = project.RemoveAutosave(path)
			return
		}
		b.say(b.Edit(b.words.Text("recover.edit"), "", func(now *project.Project) error {
			*now = p
			return nil
		}))
	})
}
