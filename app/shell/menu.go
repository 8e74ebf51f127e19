package shell

import (
	"path/filepath"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fillwright/app/control"
	"fillwright/internal/bench"
)

const modifier = fyne.KeyModifierShortcutDefault

func key(name fyne.KeyName, modifiers fyne.KeyModifier) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: name, Modifier: modifiers}
}

// item is a menu item with a shortcut; nil for none.
func (b *Workbench) item(id string, shortcut fyne.Shortcut, do func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(b.words.Text(id), b.unlessAsking(do))
	i.Shortcut = shortcut
	return i
}

// unlessAsking keeps a menu item from acting behind a dialog.
func (b *Workbench) unlessAsking(do func()) func() {
	if do == nil {
		return nil
	}
	return func() {
		if !b.asking() {
			do()
		}
	}
}

// menu is the main menu as it is now.
func (b *Workbench) menu() *fyne.MainMenu {
	return fyne.NewMainMenu(b.fileMenu(), b.editMenu(), b.viewMenu(), b.helpMenu())
}

func (b *Workbench) fileMenu() *fyne.Menu {
	recent := b.item("menu.recent", nil, nil)
	var files []*fyne.MenuItem
	for _, path := range b.recent() {
		files = append(files, fyne.NewMenuItem(shortPath(path), func() { b.openFile(path) }))
	}
	recent.ChildMenu = fyne.NewMenu("", files...)
	recent.Disabled = len(files) == 0
	samples := b.item("menu.samples", nil, nil)
	samples.ChildMenu = fyne.NewMenu("")
	for _, name := range SampleNames() {
		samples.ChildMenu.Items = append(samples.ChildMenu.Items, fyne.NewMenuItem(b.words.Text(sampleTitles[name]), func() { b.openSample(name) }))
	}
	quit := b.item("menu.quit", key(fyne.KeyQ, modifier), b.quit)
	quit.IsQuit = true
	return fyne.NewMenu(b.words.Text("menu.file"),
		b.item("menu.new", key(fyne.KeyN, modifier), b.newProject),
		b.item("menu.open", key(fyne.KeyO, modifier), b.askOpen),
		recent, samples,
		fyne.NewMenuItemSeparator(),
		b.item("menu.save", key(fyne.KeyS, modifier), func() { b.save(nil) }),
		b.item("menu.save_as", key(fyne.KeyS, modifier|fyne.KeyModifierShift), func() { b.saveAs(nil) }),
		b.item("menu.export_sheet", nil, b.exportSheet),
		fyne.NewMenuItemSeparator(),
		b.item("menu.title", nil, b.editTitle),
		b.item("menu.currency", nil, b.editCurrency),
		fyne.NewMenuItemSeparator(),
		quit)
}

// shortPath is a file with the folder it is in.
func shortPath(path string) string {
	return filepath.Join(filepath.Base(filepath.Dir(path)), filepath.Base(path))
}

func (b *Workbench) editMenu() *fyne.Menu {
	h := b.session.history
	undo := fyne.NewMenuItem(b.undoText(h.UndoLabel()), b.unlessAsking(b.undo))
	undo.Shortcut = &fyne.ShortcutUndo{}
	redo := fyne.NewMenuItem(b.redoText(h.RedoLabel()), b.unlessAsking(b.redo))
	redo.Shortcut = &fyne.ShortcutRedo{}
	again := b.item("menu.redo_too", key(fyne.KeyZ, modifier|fyne.KeyModifierShift), b.redo)
	return fyne.NewMenu(b.words.Text("menu.edit"), undo, redo, again,
		fyne.NewMenuItemSeparator(),
		b.item("menu.start", key(fyne.KeyL, modifier), b.start))
}

// undoText names the edit to undo. The item is never greyed out: an entry may
// have typing to undo.
func (b *Workbench) undoText(edit string) string {
	if edit == "" {
		return b.words.Text("menu.undo_typing")
	}
	return b.words.Say("menu.undo", map[string]any{"Edit": edit})
}

func (b *Workbench) redoText(edit string) string {
	if edit == "" {
		return b.words.Text("menu.redo_too")
	}
	return b.words.Say("menu.redo", map[string]any{"Edit": edit})
}

func (b *Workbench) viewMenu() *fyne.Menu {
	menu := fyne.NewMenu(b.words.Text("menu.view"))
	for i, id := range bench.Panes() {
		shortcut := key(fyne.KeyName(strconv.Itoa(i+1)), modifier)
		menu.Items = append(menu.Items, b.item(paneTitles[id], shortcut, func() { b.show(id) }))
	}
	themes := b.item("menu.theme", nil, nil)
	themes.ChildMenu = fyne.NewMenu("")
	for _, t := range []struct{ name, text string }{
		{"system", "menu.theme_system"}, {"light", "menu.theme_light"}, {"dark", "menu.theme_dark"},
	} {
		i := b.item(t.text, nil, func() { b.setVariant(t.name) })
		i.Checked = b.appearance.Variant == variants[t.name]
		themes.ChildMenu.Items = append(themes.ChildMenu.Items, i)
	}
	text := b.item("menu.text", nil, nil)
	text.ChildMenu = fyne.NewMenu("")
	for _, percent := range textScales {
		i := fyne.NewMenuItem(strconv.Itoa(percent)+" %", func() { b.setText(percent) })
		i.Checked = int(b.appearance.Text*100+0.5) == percent
		text.ChildMenu.Items = append(text.ChildMenu.Items, i)
	}
	menu.Items = append(menu.Items, fyne.NewMenuItemSeparator(), themes, text)
	return menu
}

func (b *Workbench) helpMenu() *fyne.Menu {
	return fyne.NewMenu(b.words.Text("menu.help"),
		b.item("menu.guide", key(fyne.KeyF1, modifier), func() { b.help("guide") }),
		b.item("menu.entries", nil, func() { b.help("entries") }),
		b.item("menu.keys", nil, func() { b.help("keys") }),
		b.item("menu.models", nil, func() { b.help("models") }),
		b.item("menu.safety", nil, func() { b.help("safety") }),
		fyne.NewMenuItemSeparator(),
		b.item("menu.about", nil, func() { b.tell(b.words.Text("menu.about"), b.words.Text("help.about")) }))
}

// undo undoes typing in the focused entry while there is any, else the last edit.
func (b *Workbench) undo() {
	if control.UndoTyping(b.window.Canvas()) {
		return
	}
	b.commit()
	_, place, ok := b.session.history.Undo()
	b.returnTo(place, ok)
}

// redo is the counterpart of undo.
func (b *Workbench) redo() {
	if control.RedoTyping(b.window.Canvas()) {
		return
	}
	b.commit()
	_, place, ok := b.session.history.Redo()
	b.returnTo(place, ok)
}

// start puts the keyboard on the first entry of the pane.
func (b *Workbench) start() {
	if b.current != nil {
		b.current.Start()
	}
}
