package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// 250 g in all: 5 wt% is 12.5 g of powder, 5 phr is 250·5/105 g.
func TestPartMassShowsWhatABasisMeans(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Spool.NetMass = q[quantity.Mass]("250 g")
	before := project.Clone(p)
	for text, want := range map[string]float64{"5 wt%": 12.5, "5 phr": 250 * 5 / 105.0} {
		grams, known := PartMass(&p, 1, 1, amount(text))
		require.True(t, known)
		assert.InEpsilon(t, want, grams, 1e-12, text)
	}
	assert.Equal(t, before, p, "asking changes nothing")
	for _, at := range [][2]int{{-1, 0}, {2, 0}, {1, -1}, {1, 2}} {
		_, known := PartMass(&p, at[0], at[1], amount("5 wt%"))
		assert.False(t, known)
	}
	_, known := PartMass(&p, 1, 1, project.Amount{})
	assert.False(t, known)
	p.Spool.NetMass = quantity.Of[quantity.Mass]{}
	_, known = PartMass(&p, 1, 1, amount("5 wt%"))
	assert.False(t, known, "the batch is not known")
}

func TestReadings(t *testing.T) {
	p := sample(t, oliveStone)
	s, some := Readings(&p)
	require.True(t, some)
	assert.Equal(t, 10, s.N)
	assert.InEpsilon(t, 1.75e-3, s.Mean, 1e-9)
	assert.InEpsilon(t, 0.0182574e-3, s.SD, 1e-5)
	p.Spool.Readings = nil
	_, some = Readings(&p)
	assert.False(t, some)
}

// Ten readings: mean 1.75, s 0.018257 mm, and the factor of ISO 16269-6 for ten is 3.393.
func TestReadingsHoldMostOfTheStrand(t *testing.T) {
	p := project.New("EUR")
	for _, text := range []string{"1.74", "1.76", "1.75", "1.78", "1.73", "1.75", "1.77", "1.74", "1.76", "1.72"} {
		p.Spool.Readings = append(p.Spool.Readings, q[quantity.Length](text+" mm"))
	}
	r, some := Readings(&p)
	require.True(t, some)
	assert.InDelta(t, 1.75-3.39343*0.0182574, r.ToleranceLow*1e3, 1e-5)
	assert.InDelta(t, 1.75+3.39343*0.0182574, r.ToleranceHigh*1e3, 1e-5)
	assert.Empty(t, r.Odd)
	p.Spool.Readings[3] = q[quantity.Length]("1.95 mm")
	r, _ = Readings(&p)
	assert.Equal(t, []int{4}, r.Odd)
	p.Spool.Readings = p.Spool.Readings[:1]
	r, _ = Readings(&p)
	assert.True(t, math.IsNaN(r.ToleranceLow))
}
