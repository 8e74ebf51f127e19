package bench

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
)

// 1 mg between two sieves is no distribution: its spread would have no end.
func TestNextToNothingBetweenSievesIsNoLaw(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	stack(&p, "20", "90", "100", "63", "0.001")
	s := checkSheet(t, &p, newReader(), "next to nothing between")
	sieving := s.Powder(1).Sieving
	for _, fit := range sieving.Fits {
		assert.False(t, fit.Known, fit.ID)
		assert.False(t, fit.Size.Known() || fit.Shape.Known() || fit.Sauter.Known(), fit.ID)
	}
	assert.Equal(t, -1, sieving.Best)
	assert.True(t, sieving.Rows[0].Known && sieving.Rows[1].Known, "the analysis stands all the same")
	for _, e := range s.Powder(1).Clogging.Evidence {
		assert.NotEqual(t, FromTail, e.Kind, "nor is there a tail of it")
	}

	stack(&p, "20", "90", "100", "63", "30")
	assert.GreaterOrEqual(t, evaluate(t, p).Powder(1).Sieving.Best, 0, "30 g are one")
}

// Three sieves that no law meets leave its exponent open down to nothing. To count
// grains by such a law would take minutes, and what it says is known without.
func TestExponentWithoutALowEndTakesNoTime(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	stack(&p, "5", "63", "5", "45", "30", "1", "0.001")
	began := time.Now()
	s := checkSheet(t, &p, newReader(), "three sieves that no law meets")
	assert.Less(t, time.Since(began), 5*time.Second, "a thousand times what it takes")

	fits := s.Powder(1).Sieving.Fits
	require.Equal(t, "rosin_rammler_line", fits[1].ID)
	assert.Zero(t, fits[1].Shape.Low)
	assert.Greater(t, fits[1].Shape.Value, leastExponent)
	tail := evidence(t, &p, FromTail)
	assert.Zero(t, tail.PerKg.Low, "none may be above the critical size")
	assert.InEpsilon(t, 1/filler.Sphere(1450).MassKg(0.4e-3/3), tail.PerKg.High, 1e-9, "and all of the powder may be just there")
}
