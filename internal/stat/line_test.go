package stat

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// Norris, NIST StRD, linear regression: calibration of ozone monitors. Certified
// values to 15 digits.
var (
	norrisX = []float64{
		0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
	}
	norrisY = []float64{
		0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
	}
)

func TestLineAgainstCertifiedValues(t *testing.T) {
	l, err := FitLine(norrisX, norrisY, nil)
	require.NoError(t, err)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"intercept", l.Intercept, -0.262323073774029},
		{"slope", l.Slope, 1.00211681802045},
		{"sd of the intercept", l.InterceptSD, 0.232818234301152},
		{"sd of the slope", l.SlopeSD, 0.429796848199937e-3},
		{"residual sd", l.ResidualSD, 0.884796396144373},
		{"R²", l.R2, 0.999993745883712},
		{"residual sum of squares", l.RSS, 26.6173985294224},
	} {
		assert.GreaterOrEqual(t, correctDigits(c.got, c.want), 12.0, c.name)
	}
	assert.Equal(t, 34, l.DegreesOfFreedom)
	assert.InEpsilon(t, l.InterceptSD, l.SDAt(0), 1e-12)
	assert.InEpsilon(t, -l.SlopeSD*l.SlopeSD*15090.4/36, l.Covariance, 1e-9, "x adds up to 15090.4")
}

func TestLineThroughExactPoints(t *testing.T) {
	x := []float64{-2, 0, 1, 5}
	y := []float64{7, 3, 1, -7} // 3 - 2x
	l, err := FitLine(x, y, []float64{1, 4, 2, 0.5})
	require.NoError(t, err)
	assert.InDelta(t, 3, l.Intercept, 1e-14)
	assert.InDelta(t, -2, l.Slope, 1e-14)
	assert.InDelta(t, 1, l.R2, 1e-14)
	assert.InDelta(t, -17, l.At(10), 1e-13)
}

// A weight of 3 is the point three times; the order does not matter.
func TestLineWeightsCountPoints(t *testing.T) {
	x, y := []float64{1, 2, 4, 7}, []float64{2, 1, 5, 6}
	weighted, err := FitLine(x, y, []float64{1, 3, 1, 1})
	require.NoError(t, err)
	repeated, err := FitLine([]float64{7, 2, 1, 2, 4, 2}, []float64{6, 1, 2, 1, 5, 1}, nil)
	require.NoError(t, err)
	assert.InDelta(t, repeated.Slope, weighted.Slope, 1e-14)
	assert.InDelta(t, repeated.Intercept, weighted.Intercept, 1e-14)
	assert.InDelta(t, repeated.RSS, weighted.RSS, 1e-13)
}

func TestLineRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		x, y, w []float64
		want    error
	}{
		"lengths":       {[]float64{1, 2}, []float64{1}, nil, ErrBadProblem},
		"weights":       {[]float64{1, 2}, []float64{1, 2}, []float64{1}, ErrBadProblem},
		"one point":     {[]float64{1}, []float64{1}, nil, ErrTooFewPoints},
		"same x":        {[]float64{3, 3, 3}, []float64{1, 2, 3}, nil, ErrSingular},
		"not finite":    {[]float64{1, math.NaN()}, []float64{1, 2}, nil, ErrBadData},
		"zero weight":   {[]float64{1, 2}, []float64{1, 2}, []float64{1, 0}, ErrBadData},
		"far too large": {[]float64{1, 1e200}, []float64{1, 2}, nil, ErrBadData},
	} {
		_, err := FitLine(c.x, c.y, c.w)
		assert.ErrorIs(t, err, c.want, name)
	}
}

func TestLineThroughTwoPointsKnowsNoSpread(t *testing.T) {
	l, err := FitLine([]float64{1, 2}, []float64{5, 7}, nil)
	require.NoError(t, err)
	assert.InDelta(t, 2, l.Slope, 1e-14)
	for _, v := range []float64{l.SlopeSD, l.InterceptSD, l.ResidualSD, l.Covariance, l.SDAt(3)} {
		assert.True(t, math.IsNaN(v))
	}
}

func TestLineLeavesItsPointsAlone(t *testing.T) {
	x, y := slices.Clone(norrisX), slices.Clone(norrisY)
	_, err := FitLine(x, y, nil)
	require.NoError(t, err)
	assert.Equal(t, norrisX, x)
	assert.Equal(t, norrisY, y)
}

// Rate constants of drying in a layer of 0.6 mm at 50 to 80 °C, per second:
// Int. J. Chem. Eng. 2022, 2312147, table 3. The activation energy is the slope
// of ln k over -1/(R·T); 37.73 kJ/mol was calculated apart from this code.
func TestLineThroughRateConstants(t *testing.T) {
	const gasConstant = 8.314462618 // J/(mol·K)
	var x, y []float64
	for i, rate := range []float64{0.0016, 0.0030, 0.0043, 0.0053} {
		x = append(x, -1/(gasConstant*(323.15+10*float64(i))))
		y = append(y, math.Log(rate))
	}
	l, err := FitLine(x, y, nil)
	require.NoError(t, err)
	printed.Equal(t, "37.73", l.Slope/1000, "calculated from the table")
}

// Far from zero a line keeps the digits of its points: it moves with them.
func TestLineMovesWithItsPoints(t *testing.T) {
	x, y := []float64{1, 2, 4, 7, 8}, []float64{2, 1, 5, 6, 9}
	near, err := FitLine(x, y, nil)
	require.NoError(t, err)
	far, high := slices.Clone(x), slices.Clone(y)
	for i := range far {
		far[i] += 1e9
		high[i] -= 1e9
	}
	moved, err := FitLine(far, high, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, near.Slope, moved.Slope, 1e-13)
	assert.InEpsilon(t, near.SlopeSD, moved.SlopeSD, 1e-13)
	assert.InEpsilon(t, near.RSS, moved.RSS, 1e-13)
	assert.InDelta(t, near.At(3), moved.At(1e9+3)+1e9, 1e-6, "the digits of 1e9")
	assert.InEpsilon(t, near.SDAt(3), moved.SDAt(1e9+3), 1e-13)
	assert.InEpsilon(t, near.R2, moved.R2, 1e-13)
}

func TestLineThroughALevel(t *testing.T) {
	l, err := FitLine([]float64{1, 2, 3}, []float64{0.1, 0.1, 0.1}, nil)
	require.NoError(t, err)
	assert.Equal(t, [4]float64{0.1, 0, 0, 0}, [4]float64{l.Intercept, l.Slope, l.RSS, l.R2})
}
