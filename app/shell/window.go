package shell

import (
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/report"
)

// The size of the window at its first start.
const (
	firstWidth  = 1280
	firstHeight = 800
)

// Attach puts the workbench into a window: title, menu, every way out, files
// dropped onto it, size and pane of last time.
func (b *Workbench) Attach(w fyne.Window) {
	b.window = w
	w.SetPadded(false)
	w.SetContent(b.content)
	w.Resize(b.rememberedSize())
	stop := b.keepWork()
	w.SetOnClosed(stop)
	w.SetCloseIntercept(b.quit)
	w.Canvas().SetOnTypedKey(b.typedKey)
	w.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) { b.dropped(uris) })
	b.changed = b.follow
	b.follow()
}

// typedKey hears keys that no field takes.
func (b *Workbench) typedKey(ev *fyne.KeyEvent) {
	switch {
	case ev.Name == fyne.KeyEscape && b.leave != nil:
		b.leave()
	case ev.Name == fyne.KeyF1 && !b.asking():
		b.help("guide")
	}
}

func (b *Workbench) rememberedSize() fyne.Size {
	width, height := b.prefs.FloatWithFallback(prefWidth, firstWidth), b.prefs.FloatWithFallback(prefHeight, firstHeight)
	const least, most = 320, 8192 // what a screen can hold
	if width < least || width > most || height < least || height > most {
		width, height = firstWidth, firstHeight
	}
	return fyne.NewSize(float32(width), float32(height))
}

// follow keeps title and menu true.
func (b *Workbench) follow() {
	b.window.SetTitle(b.title())
	if state := b.menuState(); state != b.menuShown {
		b.menuShown = state
		b.window.SetMainMenu(b.menu())
	}
}

// menuState is all that the menu depends on; it is built anew only when that changed.
func (b *Workbench) menuState() string {
	h := b.session.history
	return fmt.Sprint(h.UndoLabel(), "|", h.RedoLabel(), "|", b.prefs.String(prefRecent), "|", b.appearance)
}

// quit leaves through the gate.
func (b *Workbench) quit() {
	b.gate(func() {
		size := b.window.Canvas().Size()
		b.prefs.SetFloat(prefWidth, float64(size.Width))
		b.prefs.SetFloat(prefHeight, float64(size.Height))
		b.window.SetCloseIntercept(nil)
		b.window.Close()
	})
}

// returnTo leads back to where an undone edit had been made.
func (b *Workbench) returnTo(place string, ok bool) {
	if !ok {
		return
	}
	blend, field, _ := strings.Cut(place, " ")
	if b.session.history.Peek().BlendByID(project.BlendID(blend)) >= 0 {
		b.choose(project.BlendID(blend))
	}
	b.Lead(field)
}

// exportSheet writes what was computed, for other programs.
func (b *Workbench) exportSheet() {
	sheet := b.sheet
	b.Export(b.words.Text("menu.export_name"), func(out io.Writer) error {
		return report.CalcJSON(out, sheet, nil, b.words)
	})
}

// Show changes to a pane.
func (b *Workbench) Show(id bench.Pane) { b.show(id) }

// Choose makes a blend the one at work.
func (b *Workbench) Choose(id project.BlendID) { b.choose(id) }

// Started says what there is to say about the project that the window opened
// with: what of it is unknown, and work that was kept when the program ended.
func (b *Workbench) Started(unknown []project.Unknown) {
	if b.current == nil {
		b.begin()
	}
	b.reportUnknown(unknown)
	path := b.session.path
	if path == "" {
		path = untitledPath()
	} else {
		b.remember(path)
	}
	b.offerAutosave(path)
}
