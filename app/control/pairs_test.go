package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
)

func TestPairsStandSideBySideWhereThereIsRoom(t *testing.T) {
	test.NewTempApp(t)
	a, b, c := NewField(FieldOptions{Label: "a"}), NewField(FieldOptions{Label: "b"}), NewField(FieldOptions{Label: "c"})
	pairs := NewPairs(8, a, b, c)
	w := test.NewTempWindow(t, pairs)
	w.SetPadded(false)

	w.Resize(fyne.NewSize(400, 300))
	assert.Equal(t, a.Position().Y, b.Position().Y, "a and b share a line")
	assert.Greater(t, b.Position().X, a.Position().X+a.Size().Width)
	assert.Greater(t, c.Position().Y, a.Position().Y+a.Size().Height, "c starts the next line")
	assert.Equal(t, a.Position().X, c.Position().X)
	wide := pairs.HeightFor(400)

	pairs.Resize(fyne.NewSize(200, 300))
	assert.Equal(t, a.Position().X, b.Position().X, "too narrow for two")
	assert.Greater(t, pairs.HeightFor(200), wide)
}

func TestPairsMakeRoomForARefusal(t *testing.T) {
	test.NewTempApp(t)
	a, b, c := NewField(FieldOptions{Label: "a"}), NewField(FieldOptions{Label: "b"}), NewField(FieldOptions{Label: "c"})
	pairs := NewPairs(8, a, b, c)
	w := test.NewTempWindow(t, pairs)
	w.Resize(fyne.NewSize(400, 300))
	before := c.Position().Y
	b.RestoreRefused("12 x", "This says what is wrong at some length, so that it takes more than a single line of text.")
	assert.Greater(t, c.Position().Y, before)
}
