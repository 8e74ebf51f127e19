package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const groundsPaper = "Int. J. Chem. Eng. 2022, 2312147, table 3"

// Rates of spent coffee grounds at 50, 60, 70 and 80 °C (outside data), from
// groundsPaper. The unit, 1/s, is inferred.
var groundsRates = map[float64][]float64{ // by thickness in mm
	0.6: {0.0016, 0.0030, 0.0043, 0.0053},
	1.2: {0.0008, 0.0011, 0.0018, 0.0035},
	1.8: {0.0004, 0.0002, 0.0013, 0.0024}, // the second comes with a = 12.8 and c = -11.7: a fit that went astray
}

func TestActivationEnergyOfGrounds(t *testing.T) {
	for thickness, want := range map[float64]float64{0.6: 37.73, 1.2: 46.47, 1.8: 56.29} {
		var points []RateAt
		for i, k := range groundsRates[thickness] {
			if thickness == 1.8 && i == 1 {
				continue
			}
			points = append(points, RateAt{TempK: zeroCelsiusK + 50 + 10*float64(i), Rate: k})
		}
		fit, err := FitArrhenius(points)
		require.NoError(t, err)
		assert.InEpsilon(t, want, fit.EaJMol/1000, 0.005, "%v mm, %s", thickness, groundsPaper)
		assert.InDelta(t, want, fit.EaJMol/1000, 0.005, "to the last digit as well")
	}
}

// The paper's form is MR = a·exp(-kt) + b·t + c, inferred from a + c = 1.03 to
// 1.09. Times to MR = 0.10 in a layer of 0.6 mm, found by halving.
func TestTimesOfGroundsToATenth(t *testing.T) {
	for i, row := range []struct{ a, b, c, seconds float64 }{
		{1.1674, 1.8260e-6, -0.0775, 1184.9},
		{1.1099, 4.8962e-6, -0.0161, 763.4},
		{1.0798, 9.9879e-7, -0.0002, 554.2},
		{1.0474, -2.0596e-6, 0.0126, 466.5},
	} {
		tau := 1 / groundsRates[0.6][i]
		low, high := 0.0, 5000.0
		for range 60 {
			middle := (low + high) / 2
			if row.a*MoistureRatio(middle, tau, 1)+row.b*middle+row.c > 0.10 {
				low = middle
			} else {
				high = middle
			}
		}
		assert.InEpsilon(t, row.seconds, low, 0.005, groundsPaper)
	}
}

func TestThicknessOfGrounds(t *testing.T) {
	thin, thick := groundsRates[0.6], groundsRates[1.8]
	for i, want := range map[int]float64{0: 1.26, 3: 0.72} {
		exponent := math.Log(thin[i]/thick[i]) / math.Log(3)
		assert.InEpsilon(t, want, exponent, 0.005, groundsPaper)
		printed.Same(t, thick[i]/thin[i], ThicknessFactor(0.6e-3, 1.8e-3, exponent))
	}
	assert.LessOrEqual(t, ThicknessFactor(0.6e-3, 10e-3, ThicknessExponent), 1.0/16, "a tray of 10 mm is at least 16 times slower")
}

func TestShiftFactors(t *testing.T) {
	printed.Equal(t, "2.1748", RateFactor(38e3, 333.15, 353.15), "exp(38000/8.314463·(1/333.15 - 1/353.15)), "+byHand)
	printed.Same(t, 1, RateFactor(38e3, 333.15, 353.15)*RateFactor(38e3, 353.15, 333.15))
	assert.Equal(t, 1.0, RateFactor(0, 300, 400))
	printed.Equal(t, "0.5000", ThicknessFactor(5e-3, 10e-3, 1), byHand)
	printed.Equal(t, "0.2500", ThicknessFactor(5e-3, 10e-3, 2), "diffusion alone, "+byHand)
	for _, none := range []float64{
		RateFactor(-1, 300, 400), RateFactor(38e3, 0, 400), RateFactor(38e3, 300, math.NaN()),
		ThicknessFactor(0, 1e-3, 1), ThicknessFactor(1e-3, -1, 1), ThicknessFactor(1e-3, 1e-3, math.NaN()),
	} {
		assert.True(t, math.IsNaN(none))
	}
}

func TestProposedOvenIsHeldForOrganicPowder(t *testing.T) {
	tempK, held := ProposedOven(393.15, true)
	assert.Equal(t, 378.15, tempK)
	assert.True(t, held)
	tempK, held = ProposedOven(378.15, true)
	assert.Equal(t, 378.15, tempK)
	assert.False(t, held)
	tempK, held = ProposedOven(393.15, false)
	assert.Equal(t, 393.15, tempK)
	assert.False(t, held)
}

// Twice as fast, in an oven that leaves 0.2 % instead of 0.5 %.
func TestCurveElsewhere(t *testing.T) {
	c := madeCurve()
	c.ResidualsKg = []float64{1}
	there := c.Elsewhere(2, 0.3, 0.005, 0.002)
	printed.Same(t, c.DryMass(0.005).Value, there.DryMass(0.002).Value, "the same powder")
	printed.Same(t, c.InitialMoisture(0.005).Value, there.InitialMoisture(0.002).Value)
	printed.Same(t, c.DryMass(0.005).U, there.DryMass(0.002).U)
	printed.Same(t, c.TauS().Value/2, there.TauS().Value)
	printed.Equal(t, "0.300666", there.TauS().U/there.TauS().Value, "√(0.02² + 0.3²), "+byHand)
	assert.Nil(t, there.ResidualsKg)
	assert.Equal(t, []float64{1}, c.ResidualsKg, "left alone")

	here := there.Elsewhere(0.5, 0, 0.002, 0.005)
	printed.Same(t, c.FinalKg, here.FinalKg)
	printed.Same(t, c.LogTauS, here.LogTauS)
	printed.Same(t, c.LastS, here.LastS)
}

func TestArrheniusFit(t *testing.T) {
	at := func(tempC float64) RateAt {
		tempK := zeroCelsiusK + tempC
		return RateAt{TempK: tempK, Rate: 3e4 * math.Exp(-45e3/(GasConstantJMolK*tempK))}
	}
	fit, err := FitArrhenius([]RateAt{at(60), at(80)})
	require.NoError(t, err)
	assert.InEpsilon(t, 45e3, fit.EaJMol, 1e-9)
	assert.False(t, fit.Known, "two rates give no spread")

	fit, err = FitArrhenius([]RateAt{at(60), at(105), at(80)})
	require.NoError(t, err)
	assert.InEpsilon(t, 45e3, fit.EaJMol, 1e-9)
	assert.True(t, fit.Known)
	assert.InEpsilon(t, at(95).Rate, fit.RateAt(zeroCelsiusK+95), 1e-9)

	slower := at(80)
	slower.Rate *= 0.9
	fit, err = FitArrhenius([]RateAt{at(60), at(105), slower})
	require.NoError(t, err)
	assert.Positive(t, fit.U)
	assert.Less(t, fit.Low, fit.EaJMol)
	assert.Greater(t, fit.High, fit.EaJMol)

	for name, points := range map[string][]RateAt{
		"none":            nil,
		"one":             {at(60)},
		"one temperature": {at(60), at(60)},
	} {
		_, err := FitArrhenius(points)
		assert.ErrorIs(t, err, ErrTooFewTemperatures, name)
	}
	_, err = FitArrhenius([]RateAt{at(60), {TempK: 353.15}})
	assert.ErrorIs(t, err, ErrBadRate)
	_, err = FitArrhenius([]RateAt{at(60), {TempK: 1e-200, Rate: 1}})
	assert.ErrorIs(t, err, ErrBadRate)
}
