package shell_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
)

func TestRefusedTextInTheTableOutlivesAnotherBlend(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, nonsense)
	require.Len(t, r.grid().Refusals(), 1)
	r.bench.Choose("olive-5")
	assert.Empty(t, r.grid().Refusals(), "another blend has nothing refused")
	r.bench.Choose("olive-10")
	assert.Len(t, r.grid().Refusals(), 1)
}

func TestRefusedTextInTheTableOutlivesAnUndo(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(2, amountColumn, "0.3 wt%")
	r.enterCell(1, amountColumn, nonsense)
	r.canvas().Unfocus()
	r.undo()
	assert.Len(t, r.grid().Refusals(), 1)
	assert.Equal(t, "0.2 wt%", r.bench.Project().Blends[2].Parts[2].Amount.String())
}

func TestRefusedTextInTheTableOutlivesACopy(t *testing.T) {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, nonsense)
	r.show(bench.PaneFiller)
	r.enter("/materials/1/name", "Olive stones")
	r.show(bench.PaneBlend)
	assert.Len(t, r.grid().Refusals(), 1, "after a material was renamed")
}

func TestRefusedTextDoesNotMoveToAnotherBlend(t *testing.T) {
	r := openSample(t, olive)
	r.enter("/blends/2/measured_density", nonsense)
	r.bench.Choose("olive-5")
	r.barMenu("olive-5", "bar.delete") // what was /blends/2 is now /blends/1
	r.bench.Choose("olive-10")
	require.Equal(t, "olive-10", string(r.bench.Project().Blends[1].ID))
	assert.True(t, r.field("/blends/1/measured_density").Refused(), "it belongs to this blend")
	r.barMenu("neat", "bar.copy")
	copied := fmt.Sprintf("/blends/%d/measured_density", len(r.bench.Project().Blends)-1)
	assert.False(t, r.field(copied).Refused(), "and not to another one")
}
