package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const groundsPaper = "Int. J. Chem. Eng. 2022, 2312147, table 3"

// groundsRates are those of spent coffee grounds at 50, 60, 70 and 80 °C (outside data), from
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
			if row.a*moistureRatio(middle, tau, 1)+row.b*middle+row.c > 0.10 {
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

// Twice as fast, in an oven that leaves 0.2 % instead of 0.5 %.
func TestCurveElsewhere(t *testing.T) {
	c := madeCurve()
	c.ResidualsKg = []float64{1}
	there := c.Elsewhere(2, 0.005, 0.002)
	printed.Same(t, c.DryMass(0.005).Value, there.DryMass(0.002).Value, "the same powder")
	printed.Same(t, c.MoistureAt(0, 0.005).Value, there.MoistureAt(0, 0.002).Value)
	printed.Same(t, c.DryMass(0.005).U, there.DryMass(0.002).U)
	printed.Same(t, c.TauS().Value/2, there.TauS().Value)
	printed.Same(t, c.TauS().U/2, there.TauS().U)
	assert.Nil(t, there.ResidualsKg)
	assert.Equal(t, []float64{1}, c.ResidualsKg, "left alone")

	here := there.Elsewhere(0.5, 0.002, 0.005)
	printed.Same(t, c.FinalKg, here.FinalKg)
	printed.Same(t, c.LogTauS, here.LogTauS)
	printed.Same(t, c.LastS, here.LastS)
}

// rateAt is a rate that follows 45 kJ/mol.
func rateAt(tempC float64) RateAt {
	tempK := zeroCelsiusK + tempC
	return RateAt{TempK: tempK, Rate: 3e4 * math.Exp(-45e3/(GasConstantJMolK*tempK))}
}

func TestArrheniusFit(t *testing.T) {
	fit, err := FitArrhenius([]RateAt{rateAt(60), rateAt(80)})
	require.NoError(t, err)
	assert.InEpsilon(t, 45e3, fit.EaJMol, 1e-9)
	assert.False(t, fit.Known, "two rates without an uncertainty give no spread")
	assert.Zero(t, fit.U+fit.Low+fit.High)

	fit, err = FitArrhenius([]RateAt{rateAt(60), rateAt(105), rateAt(80)})
	require.NoError(t, err)
	assert.InEpsilon(t, 45e3, fit.EaJMol, 1e-9)
	assert.True(t, fit.Known)

	slower := rateAt(80)
	slower.Rate *= 0.9
	fit, err = FitArrhenius([]RateAt{rateAt(60), rateAt(105), slower})
	require.NoError(t, err)
	assert.Positive(t, fit.U)
	assert.InEpsilon(t, 12.7062*fit.U, fit.EaJMol-fit.Low, 1e-5, "Student's factor of one degree of freedom")
	assert.InEpsilon(t, fit.High-fit.EaJMol, fit.EaJMol-fit.Low, 1e-9)
}

func TestArrheniusRefuses(t *testing.T) {
	for name, points := range map[string][]RateAt{
		"none":            nil,
		"one":             {rateAt(60)},
		"one temperature": {rateAt(60), rateAt(60)},
	} {
		_, err := FitArrhenius(points)
		assert.ErrorIs(t, err, ErrTooFewTemperatures, name)
	}
	for name, bad := range map[string]RateAt{
		"no rate":              {TempK: 353.15},
		"no temperature":       {TempK: 1e-200, Rate: 1},
		"negative uncertainty": {TempK: 353.15, Rate: 1, ULogRate: -0.1},
		"missing uncertainty":  {TempK: 353.15, Rate: 1, UTempK: math.NaN()},
	} {
		_, err := FitArrhenius([]RateAt{rateAt(60), bad})
		assert.ErrorIs(t, err, ErrBadRate, name)
	}
}

// What the rates and the ovens may be off by is in the interval: for two rates by
// hand, E = ln(k2/k1)/(x1 - x2) with x = 1/(R·T).
func TestArrheniusPropagates(t *testing.T) {
	apart := 1/(GasConstantJMolK*333.15) - 1/(GasConstantJMolK*353.15)
	cold, warm := rateAt(60), rateAt(80)
	cold.ULogRate, warm.ULogRate = 0.03, 0.04
	fit, err := FitArrhenius([]RateAt{cold, warm})
	require.NoError(t, err)
	require.True(t, fit.Known)
	assert.InEpsilon(t, 0.05/apart, fit.U, 1e-9)
	assert.InEpsilon(t, fit.EaJMol-2*fit.U, fit.Low, 1e-12)
	assert.InEpsilon(t, fit.EaJMol+2*fit.U, fit.High, 1e-12)

	cold, warm = rateAt(60), rateAt(80)
	cold.UTempK = 1 // as if the rate were that of an oven of 61 °C
	fit, err = FitArrhenius([]RateAt{cold, warm})
	require.NoError(t, err)
	cold.TempK += 1e-3
	moved, err := FitArrhenius([]RateAt{cold, warm})
	require.NoError(t, err)
	assert.InEpsilon(t, math.Abs(moved.EaJMol-fit.EaJMol)/1e-3, fit.U, 1e-3)

	both := []RateAt{rateAt(60), rateAt(80)}
	both[0].ULogRate, both[1].UTempK = 0.03, 1
	fit, err = FitArrhenius(both)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Hypot(0.03, 45e3/(GasConstantJMolK*353.15*353.15))/apart, fit.U, 1e-9)
}

// Three rates on a line by chance are known no better than each of them; three that
// scatter widely tell it themselves.
func TestArrheniusIsAtLeastAsWideAsItsRates(t *testing.T) {
	points := []RateAt{rateAt(60), rateAt(80), rateAt(100)}
	for i := range points {
		points[i].ULogRate = 0.05
	}
	fit, err := FitArrhenius(points)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*fit.U, fit.High-fit.EaJMol, 1e-9)
	slope := func(change int) float64 { // what one rate moves the energy by
		moved := append([]RateAt{}, points...)
		moved[change].Rate *= math.Exp(0.05)
		there, err := FitArrhenius(moved)
		require.NoError(t, err)
		return there.EaJMol - fit.EaJMol
	}
	assert.InEpsilon(t, math.Sqrt(math.Pow(slope(0), 2)+math.Pow(slope(1), 2)+math.Pow(slope(2), 2)), fit.U, 1e-6)

	points[1].Rate *= 0.7
	wide, err := FitArrhenius(points)
	require.NoError(t, err)
	for i := range points {
		points[i].ULogRate = 0
	}
	scatter, err := FitArrhenius(points)
	require.NoError(t, err)
	assert.Equal(t, scatter, wide)
}
