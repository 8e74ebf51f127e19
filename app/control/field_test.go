package control_test

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
)

var errNo = errors.New("not like this")

func TestFieldShowsTheReasonUnderIt(t *testing.T) {
	var f, below *control.Field
	open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewField(control.FieldOptions{
			ID: "/a", Label: "A", Remark: "estimated",
			OnCommit: func(s string) error {
				if s == "bad" {
					return errNo
				}
				return nil
			},
		})
		below = control.NewField(control.FieldOptions{ID: "/b", Label: "B"})
		return control.NewColumn(8, f, below)
	}, 420, 300)
	before, at := f.HeightFor(400), below.Position().Y
	f.Entry().SetText("bad")
	assert.False(t, f.Commit())
	assert.Greater(t, f.HeightFor(400), before, "the reason takes room")
	assert.Greater(t, below.Position().Y, at, "what is below makes room at once")
	f.Entry().SetText("good")
	assert.True(t, f.Commit())
	assert.Equal(t, before, f.HeightFor(400))
	assert.Equal(t, at, below.Position().Y)
}

func TestHighlightEndsWithTheFocus(t *testing.T) {
	var f *control.Field
	win := open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewField(control.FieldOptions{ID: "/a"})
		return f
	}, 420, 300)
	in := control.Inputs{}
	in.Add(f)
	assert.False(t, in.Lead("/elsewhere"))
	assert.True(t, in.Lead("/a"))
	assert.Equal(t, f.Entry(), win.Canvas().Focused())
	assert.True(t, f.Entry().Highlighted())
	win.Canvas().Unfocus()
	assert.False(t, f.Entry().Highlighted())
}

func TestLeadScrollsToTheField(t *testing.T) {
	var s *control.ScrollColumn
	in := control.Inputs{}
	open(t, looks[0], func() fyne.CanvasObject {
		col := control.NewColumn(8)
		for _, id := range []string{"/a", "/b", "/c", "/d", "/e", "/f", "/g", "/h"} {
			f := control.NewField(control.FieldOptions{ID: id, Label: id})
			in.Add(f)
			col.Add(f)
		}
		s = control.NewScrollColumn(control.NewCard("All", "", col))
		return s
	}, 420, 200)
	assert.Zero(t, s.Offset())
	in.Lead("/h")
	assert.Greater(t, s.Offset(), float32(100))
	driver := fyne.CurrentApp().Driver()
	f := in.At("/h")
	bottom := driver.AbsolutePositionForObject(f).Y + f.Size().Height
	assert.LessOrEqual(t, bottom, float32(200), "the field is in view")
	in.Lead("/a")
	assert.Less(t, s.Offset(), float32(60))
}

func TestNumberField(t *testing.T) {
	test.NewTempApp(t)
	got, cleared := 0, false
	f := control.NewNumberField(control.NumberOptions{
		Min: 1, Max: 20, Refusal: "a whole number from 1 to 20",
		Number:   func() (int, bool) { return got, got > 0 },
		OnCommit: func(n int) error { got = n; return nil },
	})
	for _, bad := range []string{"x", "1.5", "0", "21", "  ", "1e1", "99999999999999999999"} {
		f.Entry().SetText(bad)
		f.Entry().TypedKey(key(fyne.KeyReturn))
		assert.True(t, f.Refused(), bad)
		assert.Equal(t, "a whole number from 1 to 20", f.RefusedMessage())
	}
	f.Entry().SetText(" 7 ")
	require.True(t, f.Commit())
	assert.Equal(t, 7, got)
	assert.Equal(t, "7", f.Entry().Text)

	opt := control.NewNumberField(control.NumberOptions{Min: 1, Max: 9, OnClear: func() error { cleared = true; return nil }})
	opt.Entry().SetText("3")
	require.True(t, opt.Commit())
	opt.Entry().SetText("")
	require.True(t, opt.Commit())
	assert.True(t, cleared)
}

func TestSelectField(t *testing.T) {
	value, asked := "w", 0
	var f *control.SelectField
	win := open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewSelectField(control.SelectOptions{
			ID: "/basis", Label: "Basis",
			Choices: []control.Choice{{Value: "w", Text: "by weight"}, {Value: "v", Text: "by volume"}, {Value: "p", Text: "on polymer"}},
			Value:   func() string { return value },
			OnCommit: func(s string) error {
				asked++
				if s == "v" {
					return errNo
				}
				value = s
				return nil
			},
		})
		return f
	}, 420, 300)
	f.Focus()
	win.Canvas().Focused().TypedKey(key(fyne.KeyLeft))
	assert.Equal(t, "p", value)
	assert.Equal(t, "p", f.Value())
	win.Canvas().Focused().TypedKey(key(fyne.KeyLeft))
	assert.True(t, f.Refused())
	assert.Equal(t, "v", f.RefusedText())
	assert.Equal(t, "p", f.Value())
	f.Sync()
	assert.True(t, f.Refused(), "a refused choice stays")
	win.Canvas().Focused().TypedKey(key(fyne.KeyEscape))
	assert.False(t, f.Refused())
	assert.Equal(t, 2, asked)
	value = "w"
	f.Sync()
	assert.Equal(t, "w", f.Value())
	assert.Equal(t, 2, asked, "showing a value is not choosing it")
}

func TestCheckField(t *testing.T) {
	on, refuse := false, false
	var f *control.CheckField
	win := open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewCheckField(control.CheckOptions{
			ID: "/wet", Label: "Damp", Checked: func() bool { return on },
			OnCommit: func(b bool) error {
				if refuse {
					return errNo
				}
				on = b
				return nil
			},
		})
		return f
	}, 420, 300)
	f.Focus()
	win.Canvas().Focused().TypedRune(' ')
	assert.True(t, on)
	refuse = true
	win.Canvas().Focused().TypedKey(key(fyne.KeyReturn))
	assert.True(t, on)
	assert.True(t, f.Checked(), "a refused tick is taken back")
	assert.Equal(t, "not like this", f.RefusedMessage())
	on = false
	f.Sync()
	assert.False(t, f.Checked())
	assert.False(t, f.Refused())
}

func TestInputsCarryRefusalsOver(t *testing.T) {
	test.NewTempApp(t)
	build := func() *control.Inputs {
		in := &control.Inputs{}
		in.Add(
			control.NewField(control.FieldOptions{ID: "/a", OnCommit: func(string) error { return errNo }}),
			control.NewField(control.FieldOptions{ID: "/b"}),
		)
		return in
	}
	first := build()
	first.At("/a").(*control.Field).Entry().SetText("bad")
	first.At("/a").Commit()
	all := first.Refused()
	require.Equal(t, map[string]control.Refusal{"/a": {Text: "bad", Message: "not like this"}}, all)
	second := build()
	second.RestoreRefused(all)
	assert.Equal(t, "bad", second.At("/a").RefusedText())
	assert.False(t, second.At("/b").Refused())
}

func TestNestedContainersMakeRoom(t *testing.T) {
	var f *control.Field
	var below, card fyne.CanvasObject
	open(t, looks[0], func() fyne.CanvasObject {
		f = control.NewField(control.FieldOptions{ID: "/a", OnCommit: func(string) error { return errNo }})
		below = control.NewText("below the field", control.Plain)
		inner := control.NewCard("Inner", "", control.NewColumn(4, f, below))
		card = control.NewCard("Next", "", control.NewText("next card", control.Plain))
		return control.NewSplit(control.NewColumn(8, inner, card), control.NewText("picture", control.Plain))
	}, 1000, 500)
	atText, atCard := below.Position().Y, card.Position().Y
	f.Entry().SetText("bad")
	f.Commit()
	assert.Greater(t, below.Position().Y, atText, "in the same card")
	assert.Greater(t, card.Position().Y, atCard, "and below it")
}
