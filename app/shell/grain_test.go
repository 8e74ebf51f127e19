package shell_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
)

// grainDensity is what the Density part says of the grains.
func (r *rig) grainDensity() string {
	r.t.Helper()
	_, after, found := strings.Cut(r.said(), "Density of the grains, dry")
	require.True(r.t, found)
	after, _, found = strings.Cut(after, "Use this density")
	require.True(r.t, found)
	return after
}

// The powder that was weighed has a moisture of its own: the field says what an
// empty one means, and what the oven says moves no density.
func TestThePowderThatWasWeighedHasItsOwnMoisture(t *testing.T) {
	r := openSample(t, olive)
	r.part("grain")
	place := olivePowder + "/grain/moisture"
	assert.Contains(t, strings.Join(texts(r.field(place)), "\n"), "empty: weighed dry")

	before := r.grainDensity()
	assert.Contains(t, before, "1.396 g/cm³")
	r.enter(place, "5 %")
	assert.NotContains(t, r.grainDensity(), "1.396 g/cm³")
	r.undo()
	assert.Equal(t, before, r.grainDensity())
	require.NoError(t, r.bench.Edit("", "", func(p *project.Project) error { p.Materials[1].Powder.Drying.SetAside = true; return nil }))
	assert.Equal(t, before, r.grainDensity(), "of powder that lies elsewhere")

	r.enter(place, "")
	assert.False(t, powderOf(r).Grain.Moisture.Given())
	assert.Contains(t, r.grainDensity(), "measured", "by scale and thermometer alone")
	dry := r.grainDensity()
	r.enter(place, "0 %")
	assert.Equal(t, dry, r.grainDensity())
	assert.False(t, r.field(place).Refused())
}
