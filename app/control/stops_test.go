package control_test

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"

	"fillwright/app/control"
)

// Who moves the slider is heard once for each place; setting it from the document tells
// nobody.
func TestStopsTellWhoMovesThem(t *testing.T) {
	test.NewTempApp(t)
	var heard []int
	s := control.NewStops(5, func(place int) { heard = append(heard, place) })
	s.Set(3)
	assert.Empty(t, heard)
	assert.Equal(t, 3, s.Place())
	s.Move(1)
	s.Move(1)
	s.Move(4)
	assert.Equal(t, []int{1, 4}, heard)
	s.Set(-1)
	assert.Equal(t, 0, s.Place(), "what is not given stands at the beginning")
	assert.Equal(t, []int{1, 4}, heard)
}
