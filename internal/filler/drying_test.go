package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const (
	byHand  = "arithmetic from the stated inputs"
	minuteS = 60.0
)

// Page with k = 0.012 min^-n and n = 1.15; 1.5 to 0.03 on dry basis with 0.005
// left by the oven.
func TestPageByHand(t *testing.T) {
	tau := minuteS * math.Pow(0.012, -1/1.15)
	ratio := (0.03 - 0.005) / (1.5 - 0.005)
	printed.Equal(t, "0.016722", ratio, byHand)
	printed.Equal(t, "159.332", TimeToRatio(ratio, tau, 1.15)/minuteS, byHand)
	share, _, _ := pageShare(math.Log(60*minuteS/tau), 1.15)
	printed.Equal(t, "0.264312", share, byHand)
}

func TestTimeToRatioAtTheEdges(t *testing.T) {
	assert.False(t, math.Signbit(TimeToRatio(1, 100, 1.3)))
	for _, none := range [][3]float64{{0, 100, 1}, {1.01, 100, 1}, {0.5, 0, 1}, {0.5, 100, -1}} {
		assert.True(t, math.IsNaN(TimeToRatio(none[0], none[1], none[2])), "%v", none)
	}
	random := rand.New(rand.NewPCG(6, 6))
	for range 1000 {
		ratio, tau, n := 0.001+0.998*random.Float64(), 1e5*random.Float64()+1, 0.3+3*random.Float64()
		assert.InEpsilon(t, ratio, moistureRatio(TimeToRatio(ratio, tau, n), tau, n), 1e-10)
	}
}

// Nothing is gone at once, and all in the end.
func TestPageShareAtTheEdges(t *testing.T) {
	for _, c := range []struct{ timeS, want float64 }{{0, 1}, {math.Inf(1), 0}} {
		share, byLogTau, byExponent := pageShare(math.Log(c.timeS), 1.3)
		assert.Equal(t, [3]float64{c.want, 0, 0}, [3]float64{share, byLogTau, byExponent})
	}
	share, _, _ := pageShare(math.Log(2500.0/3000), 1.2)
	assert.InEpsilon(t, moistureRatio(2500, 3000, 1.2), share, 1e-12)
}

// madeCurve is a curve that nobody fitted, of a batch that loses 0.598 of 1 kg:
// 0.4 kg dry, 0.5 % left on dry basis.
func madeCurve() DryingCurve {
	return DryingCurve{
		Law: Page, InitialKg: 1, FinalKg: 0.402, LogTauS: math.Log(minuteS) - math.Log(0.012)/1.15, Exponent: 1.15,
		Covariance: [4][4]float64{
			{4e-6, 1e-6, -2e-6, -3e-6},
			{1e-6, 9e-6, -3e-6, 4e-6},
			{-2e-6, -3e-6, 4e-4, 1e-4},
			{-3e-6, 4e-6, 1e-4, 9e-4},
		},
		DegreesOfFreedom: 8, LastS: 7200,
	}
}

func TestNumbersOfACurve(t *testing.T) {
	c := madeCurve()
	printed.Equal(t, "0.4000", c.DryMass(0.005).Value, byHand)
	printed.Equal(t, "1.5000", c.MoistureAt(0, 0.005).Value, byHand)
	printed.Equal(t, "0.264312", (c.MoistureAt(60*minuteS, 0.005).Value-0.005)/1.495, byHand)
	printed.Equal(t, "0.560059", massAt(&c, 60*minuteS).Value, "0.402 + 0.598·0.264312, "+byHand)
	target, err := c.TimeTo(0.03, 0.005)
	require.NoError(t, err)
	printed.Equal(t, "159.332", target.Value/minuteS, byHand)
	printed.Equal(t, "0.01200", c.Rate(minuteS).Value, "k in min^-n as given")
	printed.Same(t, c.Rate(minuteS).Value*math.Pow(60, -1.15), c.Rate(1).Value, "k in s^-n")
}

func TestTimeToATargetThatNeedsNoTime(t *testing.T) {
	c := madeCurve()
	for _, there := range []float64{1.5000001, 2} {
		v, err := c.TimeTo(there, 0.005)
		require.NoError(t, err)
		assert.Equal(t, CurveValue{}, v)
	}
	for _, never := range []float64{0.005, 0.001, 0, -1} {
		_, err := c.TimeTo(never, 0.005)
		assert.ErrorIs(t, err, ErrCannotBeReached)
	}
}

// The gradients are held against differences of the numbers themselves.
func TestUncertaintiesFollowTheCovariance(t *testing.T) {
	for name, read := range map[string]func(c *DryingCurve) CurveValue{
		"mass at the start": func(c *DryingCurve) CurveValue { return massAt(c, 0) },
		"mass in between":   func(c *DryingCurve) CurveValue { return massAt(c, 2500) },
		"mass at last":      func(c *DryingCurve) CurveValue { return massAt(c, 1e7) },
		"dry mass":          func(c *DryingCurve) CurveValue { return c.DryMass(0.005) },
		"initial moisture":  func(c *DryingCurve) CurveValue { return c.MoistureAt(0, 0.005) },
		"moisture":          func(c *DryingCurve) CurveValue { return c.MoistureAt(5000, 0.005) },
		"tau":               (*DryingCurve).TauS,
		"exponent":          (*DryingCurve).ExponentN,
		"final mass":        (*DryingCurve).Final,
		"rate":              func(c *DryingCurve) CurveValue { return c.Rate(60) },
		"time": func(c *DryingCurve) CurveValue {
			v, err := c.TimeTo(0.03, 0.005)
			require.NoError(t, err)
			return v
		},
	} {
		c := madeCurve()
		places := []func(c *DryingCurve) *float64{
			func(c *DryingCurve) *float64 { return &c.InitialKg },
			func(c *DryingCurve) *float64 { return &c.FinalKg },
			func(c *DryingCurve) *float64 { return &c.LogTauS },
			func(c *DryingCurve) *float64 { return &c.Exponent },
		}
		var slope [4]float64
		for i, place := range places {
			above, below := c, c
			*place(&above) += 1e-6
			*place(&below) -= 1e-6
			slope[i] = (read(&above).Value - read(&below).Value) / 2e-6
		}
		var variance float64
		for i := range slope {
			for j := range slope {
				variance += slope[i] * slope[j] * c.Covariance[i][j]
			}
		}
		got := read(&c)
		assert.True(t, got.Known, name)
		assert.InEpsilon(t, math.Sqrt(variance), got.U, 1e-6, name)
		assert.Less(t, got.Low, got.Value, name)
		assert.Greater(t, got.High, got.Value, name)
	}
}

// Student's t of 8 degrees of freedom is 2.306.
func TestIntervalsOfACurve(t *testing.T) {
	c := madeCurve()
	end := c.Final()
	printed.Equal(t, "0.006918", end.High-end.Value, "2.306·0.003, "+byHand)
	printed.Equal(t, "0.006918", end.Value-end.Low, "2.306·0.003, "+byHand)
	tau := c.TauS()
	printed.Equal(t, "1.047200", tau.High/tau.Value, "exp(2.306·0.02), "+byHand)
	printed.Same(t, tau.Value*tau.Value, tau.Low*tau.High, "symmetric on the logarithm")

	c.DegreesOfFreedom = 0
	assert.Equal(t, CurveValue{Value: 0.402}, c.Final(), "not known without degrees of freedom")
	c = madeCurve()
	c.Covariance[atFinal][atFinal] = math.Inf(1)
	assert.Equal(t, CurveValue{Value: 0.402}, c.Final(), "not known for a parameter at its end")
	assert.True(t, c.TauS().Known, "does not hang on it")
	assert.True(t, massAt(&c, 0).Known, "nor does the mass at the start")
	assert.False(t, massAt(&c, 60).Known)
}

func TestTimeToATargetIsMonotone(t *testing.T) {
	c := madeCurve()
	before := math.Inf(1)
	for target := 0.0051; target < 1.5; target *= 1.05 {
		v, err := c.TimeTo(target, 0.005)
		require.NoError(t, err)
		assert.Less(t, v.Value, before, "a wetter target takes less time")
		assert.InDelta(t, target, c.MoistureAt(v.Value, 0.005).Value, 1e-9, "and the curve is there then")
		before = v.Value
	}
}

func TestMissingMoistureGivesNaN(t *testing.T) {
	c := madeCurve()
	assert.True(t, math.IsNaN(c.DryMass(math.NaN()).Value))
	assert.True(t, math.IsNaN(c.MoistureAt(0, -0.1).Value))
	v, err := c.TimeTo(math.NaN(), 0.005)
	assert.NoError(t, err)
	assert.True(t, math.IsNaN(v.Value))
	assert.False(t, v.Known)
}
