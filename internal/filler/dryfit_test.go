package filler

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// moistureRatio is the share of the water still to go, by Page's law.
func moistureRatio(timeS, tauS, n float64) float64 { return math.Exp(-math.Pow(timeS/tauS, n)) }

// massAt is the mass on a curve with its interval.
func massAt(c *DryingCurve, timeS float64) CurveValue {
	mass, g := c.at(timeS)
	return c.linear(mass, g)
}

// logOf weighs a powder that follows a curve exactly.
func logOf(initialKg, finalKg, tauS, n float64, timesS ...float64) []Weighing {
	rows := make([]Weighing, len(timesS))
	for i, t := range timesS {
		rows[i] = Weighing{t, finalKg + (initialKg-finalKg)*moistureRatio(t, tauS, n)}
	}
	return rows
}

// spread returns times from 0 to lastS in equal steps.
func spread(rows int, lastS float64) []float64 {
	times := make([]float64, rows)
	for i := range times {
		times[i] = lastS * float64(i) / float64(rows-1)
	}
	return times
}

// noisyLog adds readings that scatter.
func noisyLog(random *rand.Rand, sdKg float64, rows []Weighing) []Weighing {
	for i := range rows {
		rows[i].MassKg += sdKg * random.NormFloat64()
	}
	return rows
}

func kindOf(t *testing.T, err error) DryingErrorKind {
	t.Helper()
	var drying *DryingError
	require.ErrorAs(t, err, &drying)
	return drying.Kind
}

// Twenty powders from milligrams in minutes to tonnes in days.
func TestFitRecoversExactLogs(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 11))
	for range 20 {
		final := math.Pow(10, -6+9*random.Float64())
		initial := final * (1.02 + 3*random.Float64())
		tau := math.Pow(10, 1+5*random.Float64())
		n := 0.6 + 1.2*random.Float64()
		rows := logOf(initial, final, tau, n, spread(12+random.IntN(30), tau*(2.5+2*random.Float64()))...)
		random.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })

		c, err := FitDrying(rows, Page, DryingOptions{})
		require.NoError(t, err)
		assert.InEpsilon(t, initial, c.InitialKg, 1e-7)
		assert.InEpsilon(t, final, c.FinalKg, 1e-7)
		assert.InEpsilon(t, tau, c.TauS().Value, 1e-6)
		assert.InEpsilon(t, n, c.Exponent, 1e-6)
		assert.False(t, c.ExponentEnd)

		c, err = FitDrying(rows, Page, DryingOptions{FinalKg: final})
		require.NoError(t, err)
		assert.Equal(t, final, c.FinalKg)
		assert.InEpsilon(t, tau, c.TauS().Value, 1e-7)
		assert.True(t, c.FinalGiven)
		assert.Zero(t, c.Covariance[atFinal])

		rows = logOf(initial, final, tau, 1, spread(12, 3*tau)...)
		c, err = FitDrying(rows, Lewis, DryingOptions{})
		require.NoError(t, err)
		assert.Equal(t, 1.0, c.Exponent)
		assert.InEpsilon(t, initial, c.InitialKg, 1e-7)
		assert.InEpsilon(t, final, c.FinalKg, 1e-7)
		assert.InEpsilon(t, tau, c.TauS().Value, 1e-6)
		assert.False(t, c.OpenEnd)
	}
}

// The same powder in other units gives the same numbers.
func TestFitKnowsNoUnits(t *testing.T) {
	random := rand.New(rand.NewPCG(12, 12))
	grams := noisyLog(random, 0.002, logOf(1, 0.4, 3000, 1.2, spread(15, 9000)...))
	here, err := FitDrying(grams, Page, DryingOptions{})
	require.NoError(t, err)
	for _, k := range []float64{1e-6, 1e6} {
		other := make([]Weighing, len(grams))
		for i, r := range grams {
			other[i] = Weighing{r.TimeS / k, r.MassKg * k}
		}
		there, err := FitDrying(other, Page, DryingOptions{})
		require.NoError(t, err)
		assert.InEpsilon(t, here.FinalKg*k, there.FinalKg, 1e-6)
		assert.InEpsilon(t, here.Exponent, there.Exponent, 1e-6)
		assert.InEpsilon(t, here.TauS().High/k, there.TauS().High, 1e-6)
		assert.InEpsilon(t, here.Final().U*k, there.Final().U, 1e-5)
		assert.InEpsilon(t, here.ExponentN().U, there.ExponentN().U, 1e-5)
		assert.InEpsilon(t, here.RMSKg*k, there.RMSKg, 1e-6)
	}
}

// What is not exact must lie within 95 % intervals about 95 times in 100.
func TestIntervalsOfTheFitHoldTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 13))
	const runs = 400
	hits := map[string]int{}
	for range runs {
		rows := noisyLog(random, 0.003, logOf(1, 0.402, 3000, 1.15, spread(16, 12000)...))
		c, err := FitDrying(rows, Page, DryingOptions{})
		require.NoError(t, err)
		target, err := c.TimeTo(0.1, 0.005)
		require.NoError(t, err)
		truth := madeCurve()
		truth.LogTauS = math.Log(3000)
		due, err := truth.TimeTo(0.1, 0.005)
		require.NoError(t, err)
		for name, v := range map[string]struct {
			got  CurveValue
			want float64
		}{
			"n":                {c.ExponentN(), 1.15},
			"tau":              {c.TauS(), 3000},
			"k":                {c.Rate(60), math.Pow(50, -1.15)},
			"dry mass":         {c.DryMass(0.005), 0.4},
			"initial moisture": {c.MoistureAt(0, 0.005), 1.5},
			"time":             {target, due.Value},
		} {
			if v.got.Low <= v.want && v.want <= v.got.High {
				hits[name]++
			}
		}
	}
	for name, count := range hits {
		assert.InDelta(t, 0.95, float64(count)/runs, 0.035, name)
	}
	assert.Len(t, hits, 6)
}

// Twelve readings that were made up. The reference is least_squares of SciPy
// 1.10.1 over the same model, with derivatives by differences.
func TestFitAgainstAnotherProgram(t *testing.T) {
	minutes := []float64{0, 10, 20, 30, 45, 60, 90, 120, 150, 180, 240, 300}
	kg := []float64{1.002, .905, .811, .730, .632, .559, .473, .431, .413, .407, .401, .403}
	rows := make([]Weighing, len(kg))
	for i := range rows {
		rows[i] = Weighing{60 * minutes[i], kg[i]}
	}
	near := func(want, got float64) { t.Helper(); assert.InEpsilon(t, want, got, 2e-7) }
	roughly := func(want, got float64) { t.Helper(); assert.InEpsilon(t, want, got, 2e-5) }

	c, err := FitDrying(rows, Page, DryingOptions{})
	require.NoError(t, err)
	near(1.001185938, c.InitialKg)
	near(0.4008151061, c.FinalKg)
	near(7.9373643043, c.LogTauS)
	near(1.1433572304, c.Exponent)
	near(0.001303747022, c.ResidualSDKg)
	roughly(0.0012354094, math.Sqrt(c.Covariance[0][0]))
	roughly(0.0007488161, c.Final().U)
	roughly(0.0041215064, c.TauS().U/c.TauS().Value)
	roughly(0.0069266545, c.ExponentN().U)
	roughly(-0.5607527482, c.Covariance[0][3]/math.Sqrt(c.Covariance[0][0]*c.Covariance[3][3]))
	roughly(0.0123519120, c.Rate(60).Value)
	roughly(0.0268406722, c.Rate(60).U/c.Rate(60).Value)
	near(1.5103641364, c.MoistureAt(0, 0.005).Value)
	roughly(0.0059461389, c.MoistureAt(0, 0.005).U)
	due, err := c.TimeTo(0.1, 0.005)
	require.NoError(t, err)
	roughly(6810.53045, due.Value)
	roughly(6689.54296, due.Low)
	roughly(6933.70612, due.High)
	assert.False(t, c.OpenEnd)

	c, err = FitDrying(rows, Lewis, DryingOptions{})
	require.NoError(t, err)
	near(1.0163093987, c.InitialKg)
	near(0.3917194564, c.FinalKg)
	near(7.9445805407, c.LogTauS)
	roughly(0.0055061256, c.Final().U)
	roughly(0.0351466483, c.TauS().U/c.TauS().Value)

	c, err = FitDrying(rows, Page, DryingOptions{FinalKg: 0.402})
	require.NoError(t, err)
	near(1.0009341118, c.InitialKg)
	near(7.9337195513, c.LogTauS)
	near(1.1484811267, c.Exponent)
	roughly(0.0066674194, c.ExponentN().U)
	assert.Equal(t, 9, c.DegreesOfFreedom)

	fits, err := FitDryingLaws(rows, DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, Page, fits.Best)
}

func TestRowsThatSuffice(t *testing.T) {
	for _, tt := range []struct {
		law   DryingLaw
		given bool
		need  int
	}{{Lewis, false, 3}, {Lewis, true, 2}, {Page, false, 4}, {Page, true, 3}} {
		o := DryingOptions{}
		if tt.given {
			o.FinalKg = 0.4
		}
		rows := logOf(1, 0.4, 3000, 1, spread(tt.need+1, 9000)...)
		_, err := FitDrying(rows[:tt.need-1], tt.law, o)
		var short *DryingError
		require.ErrorAs(t, err, &short)
		assert.Equal(t, DryingError{Kind: DryingTooFewRows, Have: tt.need - 1, Need: tt.need}, *short)

		c, err := FitDrying(rows[:tt.need], tt.law, o)
		require.NoError(t, err)
		assert.InEpsilon(t, 3000, c.TauS().Value, 1e-6)
		assert.Zero(t, c.DegreesOfFreedom)
		assert.False(t, c.TauS().Known)
		assert.Zero(t, c.ResidualSDKg)

		c, err = FitDrying(rows, tt.law, o)
		require.NoError(t, err)
		assert.Equal(t, 1, c.DegreesOfFreedom)
		assert.True(t, c.TauS().Known)
	}
	// the same time twice is one time
	_, err := FitDrying([]Weighing{{0, 1}, {60, 0.9}, {60, 0.91}}, Lewis, DryingOptions{})
	assert.Equal(t, DryingTooFewRows, kindOf(t, err))
}

func TestLogsWithoutACurve(t *testing.T) {
	good := logOf(1, 0.4, 3000, 1, spread(8, 9000)...)
	with := func(i int, w Weighing) []Weighing {
		rows := append([]Weighing(nil), good...)
		rows[i] = w
		return rows
	}
	for name, tt := range map[string]struct {
		rows []Weighing
		o    DryingOptions
		want DryingErrorKind
	}{
		"nothing":             {nil, DryingOptions{}, DryingTooFewRows},
		"time below 0":        {with(3, Weighing{-1, 0.5}), DryingOptions{}, DryingBadRow},
		"time missing":        {with(3, Weighing{math.NaN(), 0.5}), DryingOptions{}, DryingBadRow},
		"no mass":             {with(3, Weighing{60, 0}), DryingOptions{}, DryingBadRow},
		"mass without end":    {with(3, Weighing{60, math.Inf(1)}), DryingOptions{}, DryingBadRow},
		"level":               {[]Weighing{{0, 1}, {60, 1}, {120, 1}, {180, 1}, {240, 1}}, DryingOptions{}, DryingNotSeen},
		"rising":              {[]Weighing{{0, 1}, {60, 1.1}, {120, 1.15}, {180, 1.17}, {240, 1.18}}, DryingOptions{}, DryingNotSeen},
		"below the scale":     {[]Weighing{{0, 1}, {60, .9999}, {120, .9999}, {180, .9999}, {240, .9999}}, DryingOptions{ResolutionKg: 1e-3}, DryingNotSeen},
		"final not below":     {good, DryingOptions{FinalKg: 1}, DryingBadFinal},
		"final below 0":       {good, DryingOptions{FinalKg: -0.4}, DryingBadFinal},
		"final missing":       {good, DryingOptions{FinalKg: math.NaN()}, DryingBadFinal},
		"faster than weighed": {[]Weighing{{0, 1}, {600, .4}, {1200, .4}, {1800, .4}, {2400, .4}}, DryingOptions{}, DryingNotIdentified},
	} {
		for _, law := range []DryingLaw{Lewis, Page} {
			_, err := FitDrying(tt.rows, law, tt.o)
			require.Error(t, err, name)
			assert.Equal(t, tt.want, kindOf(t, err), name)
		}
	}
	// the mass falls at last only, which an exponential cannot follow
	_, err := FitDrying([]Weighing{{0, 1}, {60, 1.5}, {120, 1.6}, {180, 1.6}, {240, 0.999}}, Lewis, DryingOptions{})
	assert.Equal(t, DryingNotSeen, kindOf(t, err))
	// as fast, with some scatter: the search runs away
	fast := []Weighing{{0, 1}, {600, .4003}, {1200, .3998}, {1800, .4001}, {2400, .4}, {3000, .4002}}
	_, err = FitDrying(fast, Page, DryingOptions{})
	assert.Equal(t, DryingNotIdentified, kindOf(t, err))
	_, err = FitDrying(with(3, Weighing{-1, 0.5}), Page, DryingOptions{})
	var bad *DryingError
	require.ErrorAs(t, err, &bad)
	assert.Equal(t, 3, bad.Row)
	assert.Contains(t, err.Error(), "Row:3")
}

// Page with k = 0.012 min^-n and n = 1.15, ratios rounded to three digits: a straight
// line through ln(-ln MR) over ln t finds n 1.14962 and k 0.012025, which gives much
// weight to the first and the last.
func TestFitOfRoundedRatios(t *testing.T) {
	minutes := []float64{0, 10, 20, 30, 45, 60, 90}
	ratios := []float64{1, 0.844, 0.686, 0.549, 0.384, 0.264, 0.120}
	rows := make([]Weighing, len(minutes))
	for i := range rows {
		rows[i] = Weighing{60 * minutes[i], 0.4 + 0.6*ratios[i]}
	}
	c, err := FitDrying(rows, Page, DryingOptions{FinalKg: 0.4})
	require.NoError(t, err)
	assert.InEpsilon(t, 1.14962, c.Exponent, 0.003, byHand)
	assert.InEpsilon(t, 0.012025, c.Rate(60).Value, 0.01, byHand)
}

// A log that was ended far too early runs straight.
func TestOpenEnds(t *testing.T) {
	straight := make([]Weighing, 8)
	for i := range straight {
		straight[i] = Weighing{60 * float64(i), 1 - 0.02*float64(i)}
	}
	c, err := FitDrying(straight, Lewis, DryingOptions{})
	require.NoError(t, err)
	assert.True(t, c.OpenEnd)
	assert.False(t, c.Final().Known, "m_e ran to its end")
	assert.True(t, math.IsInf(c.Covariance[atFinal][atFinal], 1))
	assert.InDelta(t, 0.9, massAt(&c, 300).Value, 0.01, "it still shows the rows")

	early := noisyLog(rand.New(rand.NewPCG(14, 14)), 0.001, logOf(1, 0.4, 3000, 1, spread(10, 2000)...))
	c, err = FitDrying(early, Lewis, DryingOptions{})
	require.NoError(t, err)
	assert.True(t, c.OpenEnd, "half of the water is still to go")
	assert.True(t, c.Final().Known)

	c, err = FitDrying(early, Lewis, DryingOptions{FinalKg: 0.4})
	require.NoError(t, err)
	assert.False(t, c.OpenEnd, "the end is given")
	assert.InEpsilon(t, 3000, c.TauS().Value, 0.02)

	scattered := noisyLog(rand.New(rand.NewPCG(15, 15)), 0.12, logOf(1, 0.4, 3000, 1, spread(8, 9000)...))
	c, err = FitDrying(scattered, Lewis, DryingOptions{})
	require.NoError(t, err)
	assert.True(t, c.OpenEnd, "the interval of m_e is wide")

	c, err = FitDrying(logOf(1, 0.4, 3000, 1, spread(10, 9000)...), Lewis, DryingOptions{})
	require.NoError(t, err)
	assert.False(t, c.OpenEnd)
}

// Nothing is lost for a while, then all at once.
func TestExponentAtItsEnd(t *testing.T) {
	rows := []Weighing{{0, 1}, {600, 1}, {1200, 1}, {1800, 0.999}, {2400, 0.75}, {3000, 0.4}, {3600, 0.4}, {4200, 0.4}}
	c, err := FitDrying(rows, Page, DryingOptions{})
	require.NoError(t, err)
	assert.True(t, c.ExponentEnd)
	assert.Equal(t, ExponentHigh, c.Exponent)
	assert.False(t, c.ExponentN().Known)
}

func TestResidualsKeepTheOrderOfTheRows(t *testing.T) {
	rows := noisyLog(rand.New(rand.NewPCG(16, 16)), 0.003, logOf(1, 0.4, 3000, 1.2, spread(12, 9000)...))
	rows[2], rows[9] = rows[9], rows[2]
	before := append([]Weighing(nil), rows...)
	c, err := FitDrying(rows, Page, DryingOptions{})
	require.NoError(t, err)
	assert.Equal(t, before, rows, "rows are left alone")
	sum := 0.0
	for i, r := range rows {
		assert.InDelta(t, r.MassKg-massAt(&c, r.TimeS).Value, c.ResidualsKg[i], 1e-12)
		sum += c.ResidualsKg[i] * c.ResidualsKg[i]
	}
	assert.InEpsilon(t, math.Sqrt(sum/12), c.RMSKg, 1e-12)
	assert.InEpsilon(t, math.Sqrt(sum/8), c.ResidualSDKg, 1e-12)
	assert.Equal(t, 9000.0, c.LastS)
}

func TestTenThousandWeighings(t *testing.T) {
	rows := noisyLog(rand.New(rand.NewPCG(17, 17)), 0.002, logOf(1, 0.4, 3000, 1.2, spread(10000, 12000)...))
	start := time.Now()
	c, err := FitDrying(rows, Page, DryingOptions{})
	assert.Less(t, time.Since(start), time.Second, "50 ms are usual")
	require.NoError(t, err)
	assert.InEpsilon(t, 0.4, c.FinalKg, 0.001)
	assert.InEpsilon(t, 1.2, c.Exponent, 0.01)
}
