package control_test

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"

	"fillwright/app/control"
)

func key(name fyne.KeyName) *fyne.KeyEvent { return &fyne.KeyEvent{Name: name} }

func typeInto(c fyne.Canvas, text string) {
	for _, r := range text {
		c.Focused().TypedRune(r)
	}
}

// bench is an entry with a document behind it: anything but "bad" is accepted and
// spaces around the text are dropped.
type bench struct {
	entry   *control.QuantityEntry
	other   *widget.Entry
	canvas  fyne.Canvas
	value   string
	commits []string
}

func newBench(t *testing.T, value string) *bench {
	b := &bench{value: value}
	open(t, looks[0], func() fyne.CanvasObject {
		b.entry = control.NewQuantityEntry(control.EntryOptions{
			ID: "/density", Hint: "1.24 g/cm³", Text: func() string { return b.value },
			OnCommit: func(text string) error {
				b.commits = append(b.commits, text)
				if text == "bad" {
					return errors.New("say a density")
				}
				b.value = text + " g/cm³"
				return nil
			},
		})
		b.other = widget.NewEntry()
		box := container.NewVBox(b.entry, b.other)
		return box
	}, 300, 200)
	b.canvas = fyne.CurrentApp().Driver().CanvasForObject(b.entry)
	return b
}

func (b *bench) retype(text string) {
	b.canvas.Focus(b.entry)
	b.entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	b.entry.TypedKey(key(fyne.KeyDelete))
	typeInto(b.canvas, text)
}

func TestEntryCommitsOnEnter(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	assert.Equal(t, "1.24 g/cm³", b.entry.Text)
	b.retype("1.3")
	assert.Empty(t, b.commits, "typing does not commit")
	assert.True(t, b.entry.Uncommitted())
	b.entry.TypedKey(key(fyne.KeyReturn))
	assert.Equal(t, []string{"1.3"}, b.commits)
	assert.Equal(t, "1.3 g/cm³", b.entry.Text, "the committed text is shown as the document words it")
	assert.False(t, b.entry.Uncommitted())
	b.entry.TypedKey(key(fyne.KeyReturn))
	assert.Len(t, b.commits, 1, "unchanged text is not committed again")
}

func TestEntryCommitsWhenTheFocusLeaves(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.canvas.Focus(b.entry)
	b.canvas.Focus(b.other)
	assert.Empty(t, b.commits, "nothing was changed")
	b.retype("1.3")
	b.canvas.Focus(b.other)
	assert.Equal(t, []string{"1.3"}, b.commits)
}

func TestEntryFocusSelectsCleanText(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.canvas.Focus(b.entry)
	typeInto(b.canvas, "2")
	assert.Equal(t, "2", b.entry.Text, "typing replaces the clean text")
	b.entry.TypedKey(key(fyne.KeyEscape))
	assert.Equal(t, "1.24 g/cm³", b.entry.Text)
	assert.Empty(t, b.commits)
}

func TestRefusedTextStays(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("bad")
	b.canvas.Focus(b.other)
	assert.True(t, b.entry.Refused())
	assert.Equal(t, "bad", b.entry.RefusedText())
	assert.Equal(t, "say a density", b.entry.RefusedMessage())

	b.entry.Sync()
	b.entry.SetCommitted("1.24 g/cm³")
	b.entry.Hide()
	b.entry.Show()
	assert.Equal(t, "bad", b.entry.Text, "refused text survives what does not change the value")

	b.canvas.Focus(b.entry)
	b.canvas.Focus(b.other)
	assert.Len(t, b.commits, 1, "the same refused text is not asked again by itself")
	b.canvas.Focus(b.entry)
	assert.Equal(t, "bad", b.entry.Text, "refused text is not selected away")
	b.entry.TypedKey(key(fyne.KeyReturn))
	assert.Len(t, b.commits, 2, "Enter asks again")

	b.entry.TypedKey(key(fyne.KeyEscape))
	assert.Equal(t, "1.24 g/cm³", b.entry.Text)
	assert.False(t, b.entry.Refused())
}

func TestRefusalEndsWhenTheValueChanges(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("bad")
	b.canvas.Focus(b.other)
	b.entry.SetCommitted("1.50 g/cm³")
	assert.Equal(t, "1.50 g/cm³", b.entry.Text)
	assert.False(t, b.entry.Refused())
}

func TestCorrectedTextEndsTheRefusal(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("bad")
	b.entry.TypedKey(key(fyne.KeyReturn))
	b.retype("1.3")
	b.canvas.Focus(b.other)
	assert.False(t, b.entry.Refused())
	assert.Equal(t, "1.3 g/cm³", b.entry.Text)
}

func TestSetCommittedLeavesTypingAlone(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("1.3")
	b.entry.SetCommitted("1.50 g/cm³")
	assert.Equal(t, "1.3", b.entry.Text)
	b.entry.TypedKey(key(fyne.KeyEscape))
	assert.Equal(t, "1.50 g/cm³", b.entry.Text, "Escape brings the newest committed text")

	b.canvas.Focus(b.other)
	b.entry.SetCommitted("1.60 g/cm³")
	assert.Equal(t, "1.60 g/cm³", b.entry.Text)
}

func TestSetCommittedKeepsUndo(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("1.3")
	b.entry.SetCommitted("1.24 g/cm³")
	assert.True(t, control.UndoTyping(b.canvas))
	assert.NotEqual(t, "1.3", b.entry.Text)
}

func TestCommitFocused(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.retype("1.3")
	b.entry.Hide() // no focus event comes with this
	assert.True(t, control.CommitFocused(b.canvas))
	assert.Equal(t, []string{"1.3"}, b.commits)
	assert.Nil(t, b.canvas.Focused())

	b.entry.Show()
	b.retype("bad")
	assert.False(t, control.CommitFocused(b.canvas))
	assert.True(t, b.entry.Refused())
	assert.Len(t, b.commits, 2, "refused text is asked once")

	b.canvas.Focus(b.other)
	assert.True(t, control.CommitFocused(b.canvas))
	assert.Equal(t, b.other, b.canvas.Focused(), "other controls keep the focus")
}

func TestUndoTypingIsForUncommittedText(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	assert.False(t, control.UndoTyping(b.canvas))
	b.canvas.Focus(b.entry)
	assert.False(t, control.UndoTyping(b.canvas), "clean: undo belongs to the document")
	b.retype("1.3")
	assert.True(t, control.UndoTyping(b.canvas))
	assert.True(t, control.RedoTyping(b.canvas))
	assert.Equal(t, "1.3", b.entry.Text)
}

func TestRestoreRefused(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.entry.RestoreRefused("bad", "say a density")
	assert.Equal(t, "bad", b.entry.Text)
	assert.True(t, b.entry.Refused())
	assert.False(t, b.entry.Commit())
	assert.Empty(t, b.commits, "restored text is known to be refused")
}

func TestCommitDuringCommitIsInert(t *testing.T) {
	open(t, looks[0], func() fyne.CanvasObject { return widget.NewLabel("") }, 300, 200)
	n := 0
	var e *control.QuantityEntry
	e = control.NewQuantityEntry(control.EntryOptions{OnCommit: func(string) error {
		n++
		e.Commit()
		e.SetCommitted("from the document")
		return nil
	}})
	e.SetText("typed")
	assert.True(t, e.Commit())
	assert.Equal(t, 1, n)
	assert.Equal(t, "from the document", e.Text)
}

func TestTabMovesOn(t *testing.T) {
	b := newBench(t, "1.24 g/cm³")
	b.canvas.Focus(b.entry)
	assert.False(t, b.entry.AcceptsTab())
	b.canvas.FocusNext()
	assert.Equal(t, b.other, b.canvas.Focused())
	b.canvas.FocusPrevious()
	assert.Equal(t, b.entry, b.canvas.Focused())
}

func TestMultilineEntry(t *testing.T) {
	var got string
	var e *control.QuantityEntry
	win := open(t, looks[0], func() fyne.CanvasObject {
		e = control.NewQuantityEntry(control.EntryOptions{Lines: 3, OnCommit: func(s string) error { got = s; return nil }})
		return e
	}, 300, 200)
	win.Canvas().Focus(e)
	typeInto(win.Canvas(), "a")
	e.TypedKey(key(fyne.KeyReturn))
	typeInto(win.Canvas(), "b")
	assert.Empty(t, got)
	assert.False(t, e.AcceptsTab(), "Tab still moves on")
	win.Canvas().Unfocus()
	assert.Equal(t, "a\nb", got)
}

func TestEntryInForeignTheme(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, test.Theme())
	win := test.NewTempWindow(t, control.NewCard("Title", "", control.NewField(control.FieldOptions{Label: "x"})))
	win.Resize(fyne.NewSize(300, 200))
	assert.NotPanics(t, func() { win.Canvas().Capture() })
}
