package shell

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// mostRecent is how many files the menu remembers.
const mostRecent = 8

// newProject starts an empty project.
func (b *Workbench) newProject() {
	b.gate(func() {
		p := project.New(b.session.history.Peek().Currency)
		p.Title = b.words.Text("project.untitled")
		usual(&p)
		b.open(p, "")
	})
}

// usual fills in what nearly every maker would enter first, to be changed in
// plain sight: one spool of a kilogram of the most common strand.
func usual(p *project.Project) {
	p.Batch.Spools = 1
	p.Spool.NetMass = quantity.MustParse[quantity.Mass]("1 kg")
	p.Spool.Diameter = quantity.MustParse[quantity.Length]("1.75 ± 0.05 mm")
}

// openSample opens a copy of a built-in project.
func (b *Workbench) openSample(name string) {
	b.gate(func() {
		p, err := Sample(name)
		if err != nil {
			b.say(err)
			return
		}
		b.open(p, "")
	})
}

// askOpen asks for a file to open.
func (b *Workbench) askOpen() {
	b.gate(func() {
		b.openDialog(b.fileOpen(func(file fyne.URIReadCloser) {
			path := file.URI().Path()
			_ = file.Close() // it was only opened to learn its name
			b.load(path)
		}, []string{".json"}))
	})
}

// fileOpen is a dialog for a file with one of the endings; take closes it.
func (b *Workbench) fileOpen(take func(fyne.URIReadCloser), endings []string) *dialog.FileDialog {
	d := dialog.NewFileOpen(func(file fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			b.say(err)
		case file != nil: // one was chosen
			take(file)
		}
	}, b.window)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	return d
}

// openDialog shows a file dialog that begins beside the file at work. It gets
// its size last: before it is shown it has none to change.
func (b *Workbench) openDialog(d *dialog.FileDialog) {
	if b.session.path != "" {
		if dir, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(b.session.path))); err == nil {
			d.SetLocation(dir)
		}
	}
	b.dialogShown(d)
	d.Show()
	size := b.window.Canvas().Size()
	d.Resize(fyne.NewSize(size.Width*0.8, size.Height*0.85))
}

// openFile opens a file once unsaved work is safe.
func (b *Workbench) openFile(path string) {
	b.gate(func() { b.load(path) })
}

// load opens a file, or says why it cannot.
func (b *Workbench) load(path string) {
	p, unknown, err := project.Load(path)
	if err != nil {
		b.say(err)
		b.forget(path)
		return
	}
	b.open(p, path)
	b.remember(path)
	b.reportUnknown(unknown)
	b.offerAutosave(path)
}

// reportUnknown says which members of a file this program does not know.
func (b *Workbench) reportUnknown(unknown []project.Unknown) {
	if len(unknown) == 0 {
		return
	}
	places := make([]string, len(unknown))
	for i, u := range unknown {
		places[i] = u.Pointer
	}
	b.tell(b.words.Text("dialog.unknown_title"), b.words.Say("dialog.unknown", map[string]any{"Places": places}))
}

// save writes the file, asking for one where there is none.
func (b *Workbench) save(then func()) {
	b.commit()
	if b.session.path == "" {
		b.saveAs(then)
		return
	}
	b.write(b.session.path, then)
}

// saveAs asks for a file and writes it.
func (b *Workbench) saveAs(then func()) {
	b.commit()
	b.askWhere(b.fileName(), func(path string) error {
		if filepath.Ext(path) != "" {
			b.write(path, then)
			return nil
		}
		path += ".json"
		if _, err := os.Stat(path); err != nil {
			b.write(path, then)
			return nil
		}
		b.Ask(b.words.Text("dialog.replace_title"), b.words.Say("dialog.replace", map[string]any{"File": filepath.Base(path)}),
			[]string{b.words.Text("dialog.replace_yes"), b.words.Text("dialog.cancel")}, func(chosen int) {
				if chosen == 0 {
					b.write(path, then)
				}
			})
		return nil
	})
}

func (b *Workbench) write(path string, then func()) {
	moved, err := b.moveLogs(path)
	if err == nil {
		err = b.session.save(path, untitledPath())
	}
	if err != nil {
		if moved {
			b.session.history.Undo() // it stays where it was
		}
		b.say(err)
		return
	}
	b.remember(path)
	b.changed()
	if then != nil {
		then()
	}
}

// fileName is a name to offer: that of the file, or one made of the title.
func (b *Workbench) fileName() string {
	if b.session.path != "" {
		return filepath.Base(b.session.path)
	}
	title := b.session.history.Peek().Title
	return project.UniqueID(title, func(string) bool { return false }) + ".json"
}

// askWhere asks for a place to write to.
func (b *Workbench) askWhere(name string, write func(path string) error) {
	d := dialog.NewFileSave(func(file fyne.URIWriteCloser, err error) {
		if err != nil {
			b.say(err)
			return
		}
		if file == nil {
			return
		}
		path := file.URI().Path()
		_ = file.Close() // nothing was written through it, see untouchedFiles
		b.say(write(path))
	}, b.window)
	d.SetFileName(name)
	b.openDialog(d)
}

// recent lists the files opened last that are still there.
func (b *Workbench) recent() []string {
	var list []string
	if b.prefs != nil {
		_ = json.Unmarshal([]byte(b.prefs.String(prefRecent)), &list) // a spoilt list is an empty one
	}
	return slices.DeleteFunc(list, func(path string) bool {
		_, err := os.Stat(path)
		return err != nil
	})
}

func (b *Workbench) remember(path string) {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	list := slices.DeleteFunc(b.recent(), func(p string) bool { return p == path })
	b.setRecent(append([]string{path}, list...))
}

func (b *Workbench) forget(path string) {
	b.setRecent(slices.DeleteFunc(b.recent(), func(p string) bool { return p == path }))
}

func (b *Workbench) setRecent(list []string) {
	if b.prefs == nil {
		return
	}
	data, err := json.Marshal(list[:min(len(list), mostRecent)])
	if err == nil {
		b.prefs.SetString(prefRecent, string(data))
	}
	b.changed()
}

// dropped opens the first project among files dropped onto the window.
func (b *Workbench) dropped(uris []fyne.URI) {
	for _, u := range uris {
		if strings.EqualFold(u.Extension(), ".json") {
			b.openFile(u.Path())
			return
		}
	}
	if len(uris) > 0 {
		b.tell(b.words.Text("dialog.refused"), b.words.Say("dialog.not_json", map[string]any{"File": uris[0].Name()}))
	}
}

// editTitle asks for the title of the project.
func (b *Workbench) editTitle() {
	b.commit()
	b.askText(b.words.Text("menu.title"), b.words.Text("field.title"), b.session.history.Peek().Title, func(title string) error {
		return b.Edit(b.words.Say("edit.change", map[string]any{"Field": b.words.Text("field.title")}), "/title",
			func(p *project.Project) error {
				p.Title = strings.TrimSpace(title)
				return nil
			})
	})
}

// editCurrency names the prices of the project in another currency. No rate is
// applied: the numbers stay.
func (b *Workbench) editCurrency() {
	b.commit()
	b.askText(b.words.Text("menu.currency"), b.words.Text("field.currency"), b.session.history.Peek().Currency, func(code string) error {
		return b.Edit(b.words.Say("edit.change", map[string]any{"Field": b.words.Text("field.currency")}), "/currency",
			func(p *project.Project) error { return p.SetCurrency(strings.ToUpper(strings.TrimSpace(code))) })
	})
}

// title is the text of the title bar.
func (b *Workbench) title() string {
	p := b.session.history.Peek()
	name := p.Title
	if name == "" {
		name = b.words.Text("project.untitled")
	}
	values := map[string]any{"Project": name}
	if b.session.history.Dirty() {
		return b.words.Say("window.title_unsaved", values)
	}
	return b.words.Say("window.title", values)
}
