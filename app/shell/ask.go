package shell

import (
	"bytes"
	"image/color"
	"io"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
)

// say shows what went wrong; nil is nothing.
func (b *Workbench) say(err error) {
	if err == nil || b.window == nil {
		return
	}
	b.tell(b.words.Text("dialog.refused"), b.words.Error(err))
}

// tell shows a message that wraps.
func (b *Workbench) tell(title, text string) {
	b.Ask(title, text, []string{b.words.Text("dialog.close")}, func(int) {})
}

// readable puts objects into a column of a width that is good to read.
func (b *Workbench) readable(objects ...fyne.CanvasObject) fyne.CanvasObject {
	width := canvas.NewRectangle(color.Transparent)
	width.SetMinSize(fyne.NewSize(440*b.appearance.Text, 1))
	return control.NewColumn(8, append([]fyne.CanvasObject{width}, objects...)...)
}

// answerButton is a button that Enter presses, and from which Escape leaves.
type answerButton struct {
	widget.Button
	leave func()
}

func newAnswerButton(text string, press, leave func()) *answerButton {
	b := &answerButton{leave: leave}
	b.Text, b.OnTapped = text, press
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey implements fyne.Focusable.
func (b *answerButton) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		b.OnTapped()
	case fyne.KeyEscape:
		b.leave()
	default:
		b.Button.TypedKey(ev)
	}
}

// Ask implements pane.Desk: a question with its answers as buttons. The last
// answer is the one that changes nothing; Escape gives it.
func (b *Workbench) Ask(title, question string, answers []string, chosen func(int)) {
	b.question(title, question, answers, chosen, len(answers)-1)
}

// insist asks a question that only one of its answers ends.
func (b *Workbench) insist(title, question string, answers []string, chosen func(int)) {
	b.question(title, question, answers, chosen, -1)
}

// question shows a question; escape is the answer that Escape gives, -1 for none.
func (b *Workbench) question(title, question string, answers []string, chosen func(int), escape int) {
	if b.window == nil {
		return
	}
	objects := []fyne.CanvasObject{control.NewText(question, control.Plain)}
	var d *dialog.CustomDialog
	answer := func(i int) func() {
		return func() {
			if i < 0 {
				return
			}
			b.questions--
			d.Hide()
			chosen(i)
		}
	}
	var first *answerButton
	for i, text := range answers {
		button := newAnswerButton(text, answer(i), answer(escape))
		if first == nil {
			button.Importance = widget.HighImportance
			first = button
		}
		objects = append(objects, button)
	}
	d = dialog.NewCustomWithoutButtons(title, b.readable(objects...), b.window)
	b.questions++
	b.dialogShown(d)
	d.Show()
	b.window.Canvas().Focus(first)
}

// dialogShown counts a dialog while it stands open.
func (b *Workbench) dialogShown(d dialog.Dialog) {
	b.dialogs++
	d.SetOnClosed(func() {
		b.dialogs--
		b.leave = nil
	})
}

// escapeEntry is an entry of a dialog that Escape leaves.
type escapeEntry struct {
	widget.Entry
	leave func()
}

// TypedKey implements fyne.Focusable.
func (e *escapeEntry) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyEscape {
		e.leave()
		return
	}
	e.Entry.TypedKey(ev)
}

// asking reports whether a dialog stands open: what is behind it must wait.
func (b *Workbench) asking() bool { return b.dialogs > 0 }

// askText asks for a line of text until it is accepted or given up.
func (b *Workbench) askText(title, label, text string, accept func(string) error) {
	if b.window == nil {
		return
	}
	entry := &escapeEntry{}
	entry.ExtendBaseWidget(entry)
	entry.SetText(text)
	d := dialog.NewForm(title, b.words.Text("dialog.ok"), b.words.Text("dialog.cancel"),
		[]*widget.FormItem{widget.NewFormItem(label, entry)}, func(ok bool) {
			if !ok {
				return
			}
			if err := accept(entry.Text); err != nil {
				b.say(err)
			}
		}, b.window)
	entry.OnSubmitted = func(string) { d.Submit() }
	entry.leave = d.Dismiss
	d.Resize(fyne.NewSize(420, d.MinSize().Height))
	b.dialogShown(d)
	d.Show()
	b.window.Canvas().Focus(entry)
	entry.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// Menu implements pane.Desk.
func (b *Workbench) Menu(below fyne.CanvasObject, items ...*fyne.MenuItem) {
	if b.window == nil {
		return
	}
	pop := widget.NewPopUpMenu(fyne.NewMenu("", items...), b.window.Canvas())
	pop.ShowAtRelativePosition(fyne.NewPos(0, below.Size().Height), below)
}

// Export implements pane.Desk: it writes to memory first, so that a file is
// only touched when there is all of its new content.
func (b *Workbench) Export(name string, write func(io.Writer) error) {
	b.commit()
	var data bytes.Buffer
	if err := write(&data); err != nil {
		b.say(err)
		return
	}
	b.askWhere(name, func(path string) error { return os.WriteFile(path, data.Bytes(), 0o644) })
}

// OpenText implements pane.Desk.
func (b *Workbench) OpenText(title string, endings []string, most int, take func(name, text string)) {
	b.commit()
	if b.window == nil {
		return
	}
	d := b.fileOpen(func(file fyne.URIReadCloser) {
		data, err := io.ReadAll(io.LimitReader(file, int64(most)))
		_ = file.Close() // it was only read
		if err != nil {
			b.say(err)
			return
		}
		take(file.URI().Name(), string(data))
	}, endings)
	d.SetTitleText(title)
	b.openDialog(d)
}
