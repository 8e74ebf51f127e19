package bench

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Three stories of the samples: a coarse powder is stopped by the nozzle, a dry mineral by
// strength, an oily and damp one by its water. One field turned, and another limit binds.
func TestStoriesOfTheSamples(t *testing.T) {
	for _, c := range []struct {
		name, sample string
		blend        int
		binds        []LimitID // these together come first in at least 7 of 10 draws
		turn         func(p *project.Project)
		then         LimitID
	}{
		{
			"coarse grit", "olive-mill-pla", 1,
			[]LimitID{LimitClog},
			func(p *project.Project) { p.Print.Nozzle = q[quantity.Length]("0.8 mm") }, LimitUpright,
		},
		{
			"oily, damp pomace", "olive-mill-pla", 2,
			[]LimitID{LimitBubbles, LimitHydrolysis},
			func(p *project.Project) { p.Materials[2].Moisture = q[quantity.Fraction]("0.20 ± 0.02 %") }, LimitUpright,
		},
		{
			"dry shell", musselShell, 1,
			[]LimitID{LimitUpright, LimitFlat},
			func(p *project.Project) { p.Materials[1].Moisture = q[quantity.Fraction]("3.0 ± 0.2 %") }, LimitBubbles,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sample(t, c.sample)
			s := evaluate(t, p)
			d, err := s.Model.DrawLimits(context.Background(), c.blend, Drawing{Draws: 1 << 12, Seed: 1})
			require.NoError(t, err)
			sheet := s.WithLimits(d).Limits(c.blend)
			first := 0.0
			for _, id := range c.binds {
				first += limitOf(t, sheet, id).First
			}
			assert.Greater(t, first, 0.7)
			assert.Contains(t, c.binds, sheet.Binding().ID)
			before := sheet.Words()[0]

			c.turn(&p)
			turned := evaluate(t, p)
			assert.Equal(t, c.then, turned.Limits(c.blend).Binding().ID)
			assert.NotEqual(t, before.Values["Least"], turned.Limits(c.blend).Words()[0].Values["Least"])
		})
	}
}
