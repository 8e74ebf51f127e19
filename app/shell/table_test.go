package shell_test

import (
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
)

// pressButton presses a button of the pane shown by its catalogue ID.
func (r *rig) pressButton(id string) {
	r.t.Helper()
	for _, b := range all[button](r.bench.Content()) {
		if strings.Join(texts(b), " ") == r.words.Text(id) {
			b.Tapped(&fyne.PointEvent{})
			return
		}
	}
	require.Fail(r.t, "no such button", id)
}

func readingsOf(r *rig) []string {
	var list []string
	for _, q := range r.bench.Project().Spool.Readings {
		list = append(list, q.String())
	}
	return list
}

// chooseFile taps a file of the dialog on top, which shows name and ending apart.
func (r *rig) chooseFile(name string) {
	r.t.Helper()
	for _, o := range all[fyne.Tappable](r.dialog()) {
		shown := texts(o.(fyne.CanvasObject))
		if len(shown) == 2 && shown[1]+shown[0] == name {
			o.Tapped(&fyne.PointEvent{})
			r.press("Open")
			return
		}
	}
	require.Failf(r.t, "no such file", "%q among %q", name, texts(r.dialog()))
}

func TestATableGoesOutToAFileAndComesBack(t *testing.T) {
	r := openSample(t, mussel)
	shell.ProtectFiles()
	r.show(bench.PaneSpool)
	r.enterCell(0, 1, "1.70")
	r.enterCell(1, 1, "1.71 ± 0.02 mm")
	r.typeCell(2, 1, "1.72")
	r.pressButton("table.export")
	assert.Contains(t, reads(r.dialog()), "readings.csv", "a name is offered")
	r.press("Save")
	data, err := os.ReadFile(r.file("readings.csv"))
	require.NoError(t, err)
	assert.Equal(t, "diameter\r\n1.70 mm\r\n1.71 ± 0.02 mm\r\n1.72 mm\r\n", string(data), "what was being typed is in it")

	before := readingsOf(r)
	r.grid().FocusCell(0, 1)
	r.key(fyne.KeyDelete)
	require.Len(t, readingsOf(r), 2)
	r.pressButton("table.import")
	r.chooseFile("readings.csv")
	assert.Equal(t, before, readingsOf(r))
	assert.Zero(t, r.dialogs())
	assert.Equal(t, r.file("project.json"), r.bench.Path(), "the project keeps its file")
	r.undo()
	assert.Len(t, readingsOf(r), 2)
}

func TestAFileThatIsNoTableIsSaidSo(t *testing.T) {
	r := openSample(t, mussel)
	require.NoError(t, os.WriteFile(r.file("strange.csv"), []byte("PK\x03\x04\x00\x00"), 0o600))
	require.NoError(t, os.WriteFile(r.file("huge.csv"), []byte(strings.Repeat("1.75 mm\n", 200_000)), 0o600))
	r.show(bench.PaneSpool)
	revision := r.bench.Revision()
	for name, said := range map[string]string{"strange.csv": "not a text file", "huge.csv": "more than 1 MB"} {
		r.pressButton("table.import")
		r.chooseFile(name)
		require.NotNil(t, r.dialog(), name)
		assert.Contains(t, reads(r.dialog()), said)
		r.answer("dialog.close")
	}
	assert.Equal(t, revision, r.bench.Revision())
	assert.Zero(t, r.dialogs())
}

func TestUndoLeadsBackToTheRow(t *testing.T) {
	r := openSample(t, mussel)
	r.show(bench.PaneSpool)
	r.app.Clipboard().SetContent("1.70\n1.71\n1.72\n")
	r.grid().FocusCell(0, 1)
	r.grid().TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
	require.Len(t, readingsOf(r), 3)
	r.grid().FocusCell(2, 0)
	r.key(fyne.KeyDelete)
	assert.Equal(t, []string{"1.70 mm", "1.71 mm"}, readingsOf(r), "Delete on the number takes the reading out")
	r.grid().FocusCell(0, 1)
	r.show(bench.PaneBlend)
	r.undo()
	assert.Equal(t, bench.PaneSpool, r.bench.Pane())
	row, col := r.grid().Selected()
	assert.Equal(t, [2]int{2, 1}, [2]int{row, col})
	alive(r, "undo")
	r.key(desktop.KeyMenu)
	require.NotNil(t, r.dialog())
	assert.Contains(t, reads(r.dialog()), r.words.Text("table.insert_row"))
}

// A table in a pane grows and shrinks with its rows, in every size of text.
func TestATablePushesWhatIsBelow(t *testing.T) {
	for _, scale := range []float32{1, 2} {
		r := newRig(t).open(sample(t, mussel), "", shell.Appearance{Variant: control.Light, Text: scale})
		r.show(bench.PaneSpool)
		below := func() float32 {
			return fyne.CurrentApp().Driver().AbsolutePositionForObject(r.field("/spool/net_mass")).Y -
				fyne.CurrentApp().Driver().AbsolutePositionForObject(r.grid()).Y
		}
		at := below()
		r.enterCell(0, 1, "1.70")
		assert.Greater(t, below(), at)
		r.undo()
		assert.InDelta(t, at, below(), 0.01)
	}
}
