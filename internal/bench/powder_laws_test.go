package bench

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/printed"
	"fillwright/internal/quantity"
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

// Three sieves that no law meets leave its exponent open down to nothing. What such
// a law says of the grains is known without it.
func TestExponentWithoutALowEndTakesNoTime(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	stack(&p, "5", "63", "5", "45", "30", "1", "0.001")
	began := time.Now()
	s := checkSheet(t, &p, newReader(), "three sieves that no law meets")
	assert.Less(t, time.Since(began), 5*time.Second, "a thousand times what it takes")

	fits := s.Powder(1).Sieving.Fits
	require.Equal(t, "rosin_rammler_line", fits[1].ID)
	assert.True(t, fits[1].ShapeOpen)
	assert.False(t, fits[1].Shape.Known())
	tail := evidence(t, &p, FromTail)
	assert.Zero(t, tail.PerKg.Low, "none may be above the critical size")
	most := 1 / filler.Sphere(1450).MassKg(0.4e-3/3) // if all of the powder were just there
	assert.InEpsilon(t, most*(5+0.01)/40, evidence(t, &p, FromRetained).PerKg.High, 1e-4, "5 g and a step of the scale lie on 63 µm")
	assert.Equal(t, evidence(t, &p, FromRetained).PerKg.High, tail.PerKg.High, "and no more than that may be")
}

// 50 % pass 90 µm, but for what rounding makes of it: an uncertainty that no number
// can show must not take every figure of every blend with it.
func TestARoundStackKeepsTheFigures(t *testing.T) {
	p := quiet()
	stack(&p, "18.5", "125", "5", "90", "45", "63", "31.5")
	s := checkSheet(t, &p, newReader(), "a round stack")
	for i := range s.Blends {
		assert.True(t, s.Blends[i].Result(Density).Known(), "%d", i)
	}
	assert.InDelta(t, 90, value(t, s, 1, SizeD50), 1e-6)
}

// A parameter of which the interval spans more than a factor of 1e4 is open, and the
// tail of its law bounds nothing.
func TestParameterThatTheSievesDoNotDetermine(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	stack(&p, "30", "250", "20", "125", "45", "63", "5")
	for _, fit := range evaluate(t, p).Powder(1).Sieving.Fits {
		assert.True(t, fit.Known && fit.Size.Known() && !fit.SizeOpen, "%s: the size is known within a factor of 50", fit.ID)
		assert.True(t, fit.ShapeOpen && !fit.Shape.Known(), fit.ID)
		assert.False(t, fit.Exact, fit.ID)
	}
	tail := evidence(t, &p, FromTail).PerKg
	assert.Zero(t, tail.Low)
	assert.InEpsilon(t, 1/filler.Sphere(1450).MassKg(0.4e-3/3), tail.High, 1e-9, "all of the powder just critical")

	goodStack(&p)
	for _, fit := range evaluate(t, p).Powder(1).Sieving.Fits {
		assert.False(t, fit.SizeOpen || fit.ShapeOpen, fit.ID)
	}
	stack(&p, "50", "250", "20", "125", "30")
	for _, fit := range evaluate(t, p).Powder(1).Sieving.Fits {
		assert.True(t, fit.Exact && fit.Shape.Certain() && !fit.ShapeOpen, fit.ID)
	}
}

// x' 120 µm and n 1.8: 2.3572 % stay on 250 µm (arithmetic from the stated inputs).
func TestPassingOfAFit(t *testing.T) {
	p := bare(powderOf("grains", "1.35 g/cm3", "1 EUR/kg"), "20 wt%")
	lawStack(&p, filler.RRSB{SizeM: 120e-6, Exponent: 1.8}, 355, 180, 125, 90, 63, 45, 25)
	fit := evaluate(t, p).Powder(1).Sieving.Fits[0]
	printed.Equal(t, "2.3572", 100-fit.Passing(250), arith)
	assert.Zero(t, (&SizeFit{}).Passing(250), "without a law nothing passes")
}

func TestOpeningOfAMesh(t *testing.T) {
	for text, want := range map[string]string{"60 mesh": "250 um", "No. 120": "125 um", "18 mesh": "1000 um", "635 mesh": "20 um", "4 mesh": "4750 um"} {
		opening, is := OpeningOfMesh(text)
		require.True(t, is, text)
		assert.Equal(t, want, opening)
		_, err := quantity.Parse[quantity.Length](opening)
		assert.NoError(t, err, "it can be entered")
	}
	for _, text := range []string{"61 mesh", "mesh", "250 um", ""} {
		_, is := OpeningOfMesh(text)
		assert.False(t, is, text)
	}
}

// 140, 120 and 110 g at even steps end at 100 g; two weighings that differ by less
// than 0.1 % are the end.
func TestEndOfALog(t *testing.T) {
	p := quiet()
	dryingLog(&p, "0", "140", "30", "120", "60", "110")
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.InDelta(t, 100, run.Extrapolated.Value, 1e-9)
	assert.Less(t, run.Extrapolated.Low, 100.0, "by the step of the scale")
	assert.True(t, run.Constant.Known)
	assert.False(t, run.Constant.Reached)
	assert.InDelta(t, 0.5, run.Constant.GapH, 1e-12)
	assert.InEpsilon(t, -100*10.0/110, run.Constant.ChangePercent, 1e-9)

	dryingLog(&p, "0", "140", "60", "110", "90", "100.00", "150", "99.95")
	run = evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.True(t, run.Constant.Known && run.Constant.Reached)
	assert.False(t, run.Extrapolated.Known(), "no even steps")

	dryingLog(&p, "0", "140")
	run = evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.False(t, run.Constant.Known || run.Constant.Reached)
}
