package bench

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
)

// A spread below that of a random mix is told: as certain where all of its interval lies
// below, else as possible. Nothing is told while the random mix is not known.
func TestMoreEvenThanChance(t *testing.T) {
	for _, c := range []struct {
		loadings string
		sample   string
		want     BelowRandom
	}{
		{"8.1 11.9 9.0 11.2 10.4 8.6 12.3 8.5", "2 g", NotBelow},      // 17 % against 11 %
		{"9.6 10.4 9.9 10.8 9.3 10.1 9.7 10.5", "2 g", CertainlyLess}, // 5.1 %, at most 10.3 %
		{"9.6 10.4 9.9 10.8 9.3 10.1 9.7 10.5", "3 g", MaybeBelow},    // against 8.9 %
		{"10.00 10.01 10.00 9.99 10.00 10.01 10.00 9.99", "2 g", CertainlyLess},
		{"10.0 10.0 10.0 10.0 10.0", "2 g", CertainlyLess},
		{"9.95 10.05", "2 g", MaybeBelow}, // of two, the high end of the spread is 32 times the spread
		{"10.00 10.01 10.00 9.99 10.00 10.01 10.00 9.99", "", NotBelow},
		{"9.6 10.4 9.9 10.8 9.3 10.1 9.7 10.5", "1 mg", CertainlyLess}, // far smaller than a pellet
	} {
		p := sample(t, oliveStone)
		e := &p.Blends[2].Evenness
		e.Loadings, e.SampleMass = nil, quantity.Of[quantity.Mass]{}
		for _, l := range strings.Fields(c.loadings) {
			e.Loadings = append(e.Loadings, q[quantity.Fraction](l+" %"))
		}
		if c.sample != "" {
			e.SampleMass = q[quantity.Mass](c.sample)
		}
		got := evaluate(t, p).Blends[2].Line.Evenness
		require.True(t, got.RSD.Known())
		assert.Equal(t, c.want, got.Below, "%s in %s: %v of %v", c.loadings, c.sample, got.RSD, got.Random)
	}
}
