package shell_test

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"

	"fillwright/internal/bench"
)

func TestAskingTwiceShowsOneDialog(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	r.window.closeButton()
	r.window.closeButton()
	assert.Equal(t, 1, r.dialogs())
}

func TestShortcutsBehindADialogDoNothing(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "11 wt%")
	r.window.closeButton()
	r.choose("menu.new")
	assert.Equal(t, 1, r.dialogs())
	r.undo()
	assert.Equal(t, "11 wt%", amountOf(r))
}

func TestListsKeepTheKeyboard(t *testing.T) {
	r := openSample(t, olive)
	for _, c := range []struct {
		pane        bench.Pane
		place, pick string
	}{
		{bench.PaneFiller, "/materials/1/class", "mineral"},
		{bench.PaneMelt, "/materials/0/class", "ABS"},
		{bench.PanePlan, "/plan/base", "Olive 5"},
	} {
		r.show(c.pane)
		before := r.bench.Revision()
		r.input(c.place).Focus()
		r.key(fyne.KeySpace)
		r.press(c.pick)
		assert.NotEqual(t, before, r.bench.Revision(), c.place)
		assert.Zero(t, r.dialogs(), c.place)
		alive(r, c.place)
		r.undo()
		assert.Equal(t, before, r.bench.Revision(), c.place)
		alive(r, "undo of "+c.place)
	}
}

func TestChoosingAPowderKeepsTheKeyboard(t *testing.T) {
	p := sample(t, olive)
	second := p.Materials[1].Clone()
	second.ID, second.Name = "second", "Second powder"
	p.Materials = append(p.Materials, second)
	density := fmt.Sprintf("/materials/%d/density", len(p.Materials)-1)
	r := newRig(t).open(p, "", look)
	r.show(bench.PaneFiller)
	pick := func(name string) {
		r.input("").Focus()
		r.key(fyne.KeySpace)
		r.press(name)
	}
	pick("Second powder")
	assert.Contains(t, r.places(), density)
	alive(r, "list of powders")
	assert.False(t, r.bench.Dirty())
	r.enter(density, "1.5 g/cm3")
	pick("Olive stone flour")
	r.show(bench.PaneSpool)
	r.undo()
	assert.Equal(t, bench.PaneFiller, r.bench.Pane())
	assert.Contains(t, r.places(), density, "undo leads back to the powder")
}
