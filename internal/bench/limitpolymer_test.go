package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Of a blend without polymer, each limit that is about the polymer says that there is none,
// and asks for nothing that would not help.
func TestLimitsNeedAPolymer(t *testing.T) {
	p := sample(t, oliveStone)
	for i := range p.Blends[2].Parts {
		if p.Blends[2].Parts[i].Material == "pla" {
			p.Blends[2].Parts[i].Material = "white-mineral-oil"
		}
	}
	p.Blends[2].Parts = p.Blends[2].Parts[:2]
	require.Equal(t, -1, Compile(&p).blends[2].main)
	sheet := evaluate(t, p).Limits(2)
	require.True(t, sheet.Known)
	for _, id := range []LimitID{LimitPickUp, LimitHydrolysis, LimitBubbles, LimitMoisture, LimitFlat, LimitUpright, LimitStiffness} {
		l := limitOf(t, sheet, id)
		assert.Equal(t, LimitUnknown, l.State, id)
		assert.Equal(t, Answer{ID: "limit_missing_polymer"}, l.Missing, id)
		assert.Equal(t, "/blends/2/parts", l.Where, id)
	}
}
