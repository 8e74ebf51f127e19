package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// help shows a page of the guide.
func (b *Workbench) help(page string) {
	text := widget.NewRichTextFromMarkdown(b.words.Text("help." + page))
	text.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustom(b.words.Text("menu."+page), b.words.Text("dialog.close"), container.NewVScroll(text), b.window)
	size := b.window.Canvas().Size()
	d.Resize(fyne.NewSize(min(720*b.appearance.Text, size.Width*0.9), size.Height*0.8))
	b.dialogShown(d)
	b.leave = d.Hide
	d.Show()
}
