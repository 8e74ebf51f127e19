package shell_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// barMenu opens the menu of a blend's card with the keyboard and chooses an item.
func (r *rig) barMenu(id project.BlendID, item string) {
	r.t.Helper()
	r.bench.Choose(id)
	r.canvas().Focus(all[*control.BlendBar](r.bench.Content())[0])
	r.key(fyne.KeyReturn)
	r.answer(item)
}

// addBlend presses the plus at the end of the bar.
func (r *rig) addBlend() {
	r.t.Helper()
	r.canvas().Focus(all[*control.BlendBar](r.bench.Content())[0])
	r.key(fyne.KeyEnd)
	r.key(fyne.KeyRight)
	r.key(fyne.KeyReturn)
}

func names(r *rig) []string {
	var list []string
	for _, b := range r.bench.Project().Blends {
		list = append(list, b.Name)
	}
	return list
}

func TestBlendsAreAddedCopiedRenamedAndDeleted(t *testing.T) {
	r := openSample(t, mussel)
	r.barMenu("mussel-10", "bar.copy")
	require.Len(t, r.bench.Project().Blends, 4)
	copied := r.bench.Project().Blends[3]
	assert.Equal(t, "Mussel 10 copy", copied.Name)
	assert.Equal(t, copied.ID, r.bench.Chosen())
	assert.Equal(t, r.bench.Project().Blends[1].Parts, copied.Parts)
	assert.False(t, copied.MeasuredDensity.Given(), "what was measured on the original is not taken along")

	r.barMenu(copied.ID, "bar.rename")
	r.nameFile("Mussel 12")
	r.answer("dialog.ok")
	assert.Equal(t, []string{"Plain PETG", "Mussel 10", "Mussel 20", "Mussel 12"}, names(r))
	assert.Equal(t, "10 wt%", r.card("Mussel 12"))

	r.barMenu(copied.ID, "bar.make_reference")
	assert.Equal(t, copied.ID, r.bench.Project().Reference)
	assert.Equal(t, r.words.Text("bar.reference"), r.card("Mussel 12"))
	assert.Empty(t, r.figure("verdict.density").Change, "the reference is not held against itself")

	r.barMenu(copied.ID, "bar.delete")
	assert.Equal(t, []string{"Plain PETG", "Mussel 10", "Mussel 20"}, names(r))
	assert.Empty(t, r.bench.Project().Reference)
	assert.NotEqual(t, copied.ID, r.bench.Chosen())

	for range 4 {
		r.undo()
	}
	sameProject(t, sample(t, mussel), *r.bench.Project(), "after undoing all")
	for range 4 {
		r.redo()
	}
	assert.Equal(t, []string{"Plain PETG", "Mussel 10", "Mussel 20"}, names(r))
}

func TestTheLastBlendCanGo(t *testing.T) {
	r := openSample(t, olive)
	for range sample(t, olive).Blends {
		r.barMenu(r.bench.Chosen(), "bar.delete")
	}
	assert.Empty(t, r.bench.Project().Blends)
	for _, id := range bench.Panes() {
		r.show(id)
	}
	assert.Empty(t, r.figures())
	r.addBlend()
	assert.Len(t, r.bench.Project().Blends, 1)
	assert.Equal(t, r.bench.Project().Blends[0].ID, r.bench.Project().Reference)
}

// addPart adds a part to the recipe by way of its menu.
func (r *rig) addPart(kind, item string) {
	r.t.Helper()
	r.show(bench.PaneBlend)
	for _, b := range all[button](r.bench.Content()) {
		if len(texts(b)) == 1 && texts(b)[0] == r.words.Text("pane.blend.add_part") {
			b.Tapped(&fyne.PointEvent{})
		}
	}
	require.NotNil(r.t, r.dialog())
	for _, b := range all[button](r.dialog()) {
		if over, is := b.(desktop.Hoverable); is && strings.Join(texts(b), " ") == r.words.Text(kind) {
			over.MouseIn(&desktop.MouseEvent{}) // opens the list of this kind
			break
		}
	}
	r.press(item)
}

func TestARecipeFromNothing(t *testing.T) {
	r := openSample(t, olive)
	r.choose("menu.new")
	assert.Empty(t, r.bench.Path())
	assert.Equal(t, "EUR", r.bench.Project().Currency)
	r.addBlend()
	r.addPart("kind.polymer", r.words.Say("menu.from_library", map[string]any{"Material": "PLA, extrusion grade"}))
	require.Len(t, r.bench.Project().Blends[0].Parts, 1)
	assert.True(t, r.bench.Project().Blends[0].Parts[0].Amount.Balance(), "the first polymer is the balance")
	assert.NotEqual(t, "—", r.figure("verdict.density").Value)

	r.addPart("kind.filler", r.words.Text("menu.own.filler"))
	parts := r.bench.Project().Blends[0].Parts
	require.Len(t, parts, 2)
	assert.False(t, parts[1].Amount.Given(), "its amount is asked for")
	assert.Equal(t, "—", r.figure("verdict.density").Value)
	r.enterCell(1, amountColumn, "10 wt%")
	r.enter("/materials/1/density", "1.4 g/cm3")
	assert.NotEqual(t, "—", r.figure("verdict.density").Value)

	r.grid().FocusCell(1, amountColumn)
	for _, b := range all[button](r.bench.Content()) {
		if len(texts(b)) == 1 && texts(b)[0] == r.words.Text("pane.blend.remove_part") {
			b.Tapped(&fyne.PointEvent{})
		}
	}
	assert.Len(t, r.bench.Project().Blends[0].Parts, 1)
	r.undo()
	assert.Len(t, r.bench.Project().Blends[0].Parts, 2)
}

func TestAmountsArePastedInOneEdit(t *testing.T) {
	r := openSample(t, olive)
	r.app.Clipboard().SetContent("6 wt%\n0.3 wt%\n")
	r.grid().FocusCell(1, amountColumn)
	r.canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
	assert.Equal(t, "6 wt%", r.bench.Project().Blends[2].Parts[1].Amount.String())
	assert.Equal(t, "0.3 wt%", r.bench.Project().Blends[2].Parts[2].Amount.String())
	r.undo()
	sameProject(t, sample(t, olive), *r.bench.Project(), "one undo")

	r.app.Clipboard().SetContent("7 wt%\nnonsense\n")
	r.grid().FocusCell(1, amountColumn)
	r.canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
	assert.Equal(t, "7 wt%", r.bench.Project().Blends[2].Parts[1].Amount.String(), "what can be read is taken")
	refusals := r.grid().Refusals()
	require.Len(t, refusals, 1)
	assert.Equal(t, "nonsense", refusals[0].Text)
}

func TestCaliperReadings(t *testing.T) {
	r := openSample(t, mussel)
	r.show(bench.PaneSpool)
	before := r.figure("verdict.length")
	readings := func() []string {
		var list []string
		for _, q := range r.bench.Project().Spool.Readings {
			list = append(list, q.String())
		}
		return list
	}
	r.enterCell(0, 1, "1.70")
	r.enterCell(1, 1, "1.71 mm")
	assert.Equal(t, []string{"1.70 mm", "1.71 mm"}, readings(), "a bare number is in millimetres")
	assert.NotEqual(t, before.Value, r.figure("verdict.length").Value)

	r.app.Clipboard().SetContent("1.72\n1,73\nx\n1.74 mm\n")
	r.grid().FocusCell(2, 1)
	r.canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutPaste{Clipboard: r.app.Clipboard()})
	assert.Equal(t, []string{"1.70 mm", "1.71 mm", "1.72 mm", "1.73 mm", "1.74 mm"}, readings())
	require.Len(t, r.grid().Refusals(), 1)
	assert.Equal(t, "x", r.grid().Refusals()[0].Text)
	r.undo()
	assert.Len(t, readings(), 2, "a paste is one edit")

	r.grid().FocusCell(0, 1)
	r.key(fyne.KeyDelete)
	assert.Equal(t, []string{"1.71 mm"}, readings(), "an emptied reading goes")
	r.enterCell(1, 1, nonsense)
	assert.Equal(t, []string{"1.71 mm"}, readings())
	assert.True(t, r.grid().Refused())
}

func TestUsualSpoolsAreOneClick(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneSpool)
	for _, c := range []struct{ press, place, want string }{
		{"2.3 kg", "/spool/net_mass", "2.3 kg"},
		{"750 g", "/spool/net_mass", "750 g"},
		{"2.85 ± 0.05 mm", "/spool/diameter", "2.85 ± 0.05 mm"},
	} {
		found := false
		for _, b := range all[button](r.bench.Content()) {
			if len(texts(b)) == 1 && texts(b)[0] == c.press {
				b.Tapped(&fyne.PointEvent{})
				found = true
			}
		}
		assert.True(t, found, c.press)
		assert.Equal(t, c.want, plain(r.field(c.place).Entry().Text))
		assert.True(t, r.bench.Dirty())
	}
}

func TestSpellingsOfAnAmount(t *testing.T) {
	r := openSample(t, olive)
	for _, c := range []struct{ typed, want string }{
		{"12", "12 wt%"}, {"11 phr", "11 phr"}, {"9", "9 phr"}, {"8 vol%", "8 vol%"}, {"7,5 wt%", "7.5 wt%"}, {"6 ± 0.5 wt%", "6 ± 0.5 wt%"}, {"", ""},
	} {
		r.grid().FocusCell(1, amountColumn)
		if c.typed == "" {
			r.key(fyne.KeyDelete)
		} else {
			r.write(c.typed)
			r.key(fyne.KeyReturn)
		}
		assert.Equal(t, c.want, amountOf(r), c.typed)
		assert.False(t, r.grid().Refused(), c.typed)
	}
	assert.Equal(t, r.words.Text("bar.unfinished"), r.card("Olive 10"))
	for _, refused := range []string{"101 wt%", "-1 wt%", "5 g", "1.234,5 wt%", "NaN", "1e999 wt%", "balance"} {
		before := r.bench.Revision()
		r.enterCell(1, amountColumn, refused)
		assert.Equal(t, before, r.bench.Revision(), refused)
		assert.True(t, r.grid().Refused(), refused)
		r.key(fyne.KeyEscape)
		assert.False(t, r.grid().Refused(), refused)
	}
}
