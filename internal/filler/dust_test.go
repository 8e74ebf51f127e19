package filler

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
	"fillwright/internal/wording"
)

// What the caution about dust says: a film that nobody minds is more than a room needs.
func TestAFilmOfDustFillsARoom(t *testing.T) {
	film, room := DustFilm(400, 1e-3, 20), ExplosiveDust(60e-3, 30)
	printed.Equal(t, "8.0000", film, "arithmetic from the stated inputs")
	printed.Equal(t, "1.8000", room, "arithmetic from the stated inputs")
	said := wording.New("en").Text("safety.dust")
	assert.Contains(t, said, "1 mm on 20 m² is about 8 kg")
	assert.Contains(t, said, "1.8 kg in the air of a room of 30 m³")
}
