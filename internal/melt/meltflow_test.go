package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/printed"
)

const (
	gramPer10Min = 1e-3 / 600 // kg/s
	cm3Per10Min  = 1e-6 / 600 // m³/s
)

// cutsOf makes cuts of equal time from masses in g.
func cutsOf(timeS float64, grams ...float64) []Cut {
	cuts := make([]Cut, len(grams))
	for i, g := range grams {
		cuts[i] = Cut{MassKg: g / 1000, TimeS: timeS}
	}
	return cuts
}

func TestMassFlowOfOneCut(t *testing.T) {
	test := MassFlowTest(cutsOf(30, 0.512))
	printed.Equal(t, "10.240", test.Rate/gramPer10Min, arith)
	assert.InEpsilon(t, 10.24, test.Rate/gramPer10Min, 1e-12)
	assert.Equal(t, FlowTooFew, test.Verdict)
	assert.True(t, math.IsNaN(test.U) && math.IsNaN(test.SD), "one cut says nothing of the spread")
}

// 0.49, 0.50 and 0.54 g in 30 s: mean 0.51, SD √0.0007 g = 0.026458 g; Student's
// factor for two degrees of freedom is 4.302653 (any table).
func TestMassFlowMeanAndSpread(t *testing.T) {
	test := MassFlowTest(cutsOf(30, 0.49, 0.50, 0.54))
	assert.Equal(t, FlowGood, test.Verdict)
	printed.Same(t, 10.2, test.Rate/gramPer10Min)
	sd := 20 * math.Sqrt(0.0007)
	assert.InEpsilon(t, sd, test.SD/gramPer10Min, 1e-12)
	assert.InEpsilon(t, 4.302652730/math.Sqrt(3)*sd/2, test.U/gramPer10Min, 1e-9)
	assert.InEpsilon(t, 0.05/0.51, test.Spread, 1e-12)
}

// ASTM D1238 prints factors from grams to g/10 min for its intervals (from
// memory, confirm); they are the division by the time, rounded.
func TestFactorsOfASTM(t *testing.T) {
	for minutes, want := range map[float64]string{6: "1.67", 3: "3.33", 1: "10", 0.5: "20", 0.25: "40"} {
		printed.Equal(t, want, MassFlowTest(cutsOf(60*minutes, 1)).Rate/gramPer10Min, "ASTM D1238")
	}
}

func TestMassFlowVerdicts(t *testing.T) {
	bubbly := cutsOf(10, 0.17, 0.10, 0.17, 0.17)
	bubbly[1].Bubbles = true
	unweighed := append(cutsOf(10, 0.17, 0.17, 0.17), Cut{TimeS: 10, Bubbles: true})
	for name, c := range map[string]struct {
		cuts     []Cut
		verdict  FlowVerdict
		readings []FlowReading
	}{
		"nothing":          {nil, FlowTooFew, []FlowReading{}},
		"two":              {cutsOf(10, 0.17, 0.17), FlowTooFew, []FlowReading{ReadingUsed, ReadingUsed}},
		"two uneven":       {cutsOf(10, 0.17, 0.27), FlowTooFew, []FlowReading{ReadingUsed, ReadingUsed}},
		"just 15 per cent": {cutsOf(10, 0.925, 1, 1.075), FlowGood, make([]FlowReading, 3)},
		"above":            {cutsOf(10, 0.925, 1, 1.0751), FlowUneven, make([]FlowReading, 3)},
		"bubbles":          {bubbly, FlowGood, []FlowReading{ReadingUsed, ReadingBubbles, ReadingUsed, ReadingUsed}},
		"not weighed": {
			unweighed, FlowGood,
			[]FlowReading{ReadingUsed, ReadingUsed, ReadingUsed, ReadingBubbles},
		},
		"no numbers": {
			[]Cut{{1e-3, 0, false}, {0, 1, false}, {-1e-3, 10, false}, {1e-3, -10, false}, {math.NaN(), 10, false}, {1e-3, math.NaN(), false}, {math.Inf(1), 1, false}, {1, math.Inf(1), false}, {1e300, 1e-300, false}},
			FlowTooFew,
			[]FlowReading{ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid, ReadingInvalid},
		},
	} {
		t.Run(name, func(t *testing.T) {
			test := MassFlowTest(c.cuts)
			assert.Equal(t, c.verdict, test.Verdict)
			assert.Equal(t, c.readings, test.Readings)
			used := 0
			for _, r := range test.Readings {
				if r == ReadingUsed {
					used++
				}
			}
			assert.Len(t, test.Rates, used)
			assert.Equal(t, used == 0, math.IsNaN(test.Rate))
			assert.Equal(t, used < 2, math.IsNaN(test.U))
		})
	}
}

// The rate does not depend on how long each piece is, nor on their order, and
// all of it goes with the unit of mass.
func TestMassFlowInvariances(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 5))
	for range 200 {
		n := 3 + random.IntN(6)
		cuts, scaled, mixed := make([]Cut, n), make([]Cut, n), make([]Cut, n)
		order := random.Perm(n)
		for i := range cuts {
			rate := 1e-5 * (1 + 0.05*random.NormFloat64())
			time := 5 + 20*random.Float64()
			cuts[i] = Cut{MassKg: rate * time, TimeS: time}
			scaled[i] = Cut{MassKg: 7 * rate * time, TimeS: time}
			mixed[order[i]] = Cut{MassKg: 3 * rate * time, TimeS: 3 * time}
		}
		test, seven, other := MassFlowTest(cuts), MassFlowTest(scaled), MassFlowTest(mixed)
		assert.InEpsilon(t, test.Rate, other.Rate, 1e-12)
		assert.InEpsilon(t, test.U, other.U, 1e-9)
		assert.InEpsilon(t, 7*test.Rate, seven.Rate, 1e-12)
		assert.InEpsilon(t, 7*test.SD, seven.SD, 1e-9)
		assert.Equal(t, test.Verdict, seven.Verdict)
		assert.Equal(t, test.Verdict, other.Verdict)
	}
}

// Twice U holds the truth in 95 of 100 tests, also with three cuts; 2·SD/√3
// would in 81.
func TestMassFlowUncertaintyCovers(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 7))
	const runs, truth = 4000, 1e-5
	held, naive := 0, 0
	for range runs {
		cuts := make([]Cut, 3)
		for i := range cuts {
			cuts[i] = Cut{MassKg: truth * (1 + 0.02*random.NormFloat64()), TimeS: 1}
		}
		test := MassFlowTest(cuts)
		if math.Abs(test.Rate-truth) <= 2*test.U {
			held++
		}
		if math.Abs(test.Rate-truth) <= 2*test.SD/math.Sqrt(3) {
			naive++
		}
	}
	assert.InDelta(t, 0.95, float64(held)/runs, 0.015)
	share := 1 - 2*distuv.StudentsT{Sigma: 1, Nu: 2}.CDF(-2)
	assert.InDelta(t, share, float64(naive)/runs, 0.02)
	assert.InDelta(t, 0.8165, share, 1e-4)
}

// A travel of 2.54 cm in 30 s.
func TestVolumeFlow(t *testing.T) {
	inch := []Travel{{0.0254, 30}, {0.0254, 30}, {0.0254, 30}}
	printed.Equal(t, "0.71063", AreaMeanM2*1e4, arith)
	printed.Equal(t, "426.375", AreaMeanM2*1e4*600, arith)
	printed.Same(t, 427, AreaISOM2*1e4*600)
	mean, iso := VolumeFlowTest(inch, AreaMeanM2), VolumeFlowTest(inch, AreaISOM2)
	printed.Equal(t, "36.0998", mean.Rate/cm3Per10Min, arith)
	printed.Equal(t, "36.1527", iso.Rate/cm3Per10Min, arith)
	assert.Equal(t, FlowGood, iso.Verdict)
	assert.Zero(t, iso.U, "all alike")

	byMass := mean.ByMass(1080)
	// The check value, 38.9877, is 1.08 times 36.0998 as printed, and right to its
	// six digits: 38.98773 without rounding between.
	printed.Equal(t, "38.9877", byMass.Rate/gramPer10Min, arith)
}

func TestVolumeFlowLeavesOutWhatIsNoTravel(t *testing.T) {
	test := VolumeFlowTest([]Travel{{0.01, 10}, {0, 10}, {0.01, 0}, {0.011, 10}, {0.0125, 10}}, AreaISOM2)
	assert.Equal(t, []FlowReading{ReadingUsed, ReadingInvalid, ReadingInvalid, ReadingUsed, ReadingUsed}, test.Readings)
	assert.Equal(t, FlowUneven, test.Verdict)
	assert.Equal(t, FlowTooFew, VolumeFlowTest([]Travel{{0.01, 10}}, math.NaN()).Verdict)
}

// A test by mass of known density gives that density back, with the
// uncertainties of both in it.
func TestMeltDensity(t *testing.T) {
	travels := []Travel{{0.0100, 10}, {0.0104, 10}, {0.0102, 10}}
	volume := VolumeFlowTest(travels, AreaISOM2)
	mass := volume.ByMass(1138)
	density, u, ok := MeltDensity(mass, volume)
	require.True(t, ok)
	assert.InEpsilon(t, 1138, density, 1e-12)
	relative := volume.U / volume.Rate
	assert.InEpsilon(t, 1138*relative*math.Sqrt2, u, 1e-12)
	assert.InEpsilon(t, relative, mass.U/mass.Rate, 1e-12)
	assert.InEpsilon(t, volume.SD*1138, mass.SD, 1e-12)
	assert.InEpsilon(t, volume.Rates[1]*1138, mass.Rates[1], 1e-12)
	assert.NotEqual(t, volume.Rates[1], mass.Rates[1], "the rates by volume stay as they are")

	for _, pair := range [][2]FlowTest{
		{mass, VolumeFlowTest(travels[:2], AreaISOM2)},
		{MassFlowTest(cutsOf(10, 1, 1, 2)), volume},
	} {
		density, u, ok = MeltDensity(pair[0], pair[1])
		assert.False(t, ok)
		assert.True(t, math.IsNaN(density) && math.IsNaN(u))
	}
}

// The guide as remembered; each row holds up to and with its upper end.
func TestAdviseCuts(t *testing.T) {
	for rate, want := range map[float64]float64{
		0.1: 240, 0.15: 240, 0.16: 120, 0.4: 120, 0.41: 40, 1: 40, 1.1: 20, 2: 20, 2.1: 10, 5: 10, 5.1: 5, 50: 5,
	} {
		got, ok := AdviseCuts(rate * gramPer10Min)
		require.True(t, ok)
		assert.Equal(t, want, got.IntervalS, "%v g/10 min", rate)
		assert.GreaterOrEqual(t, got.ChargeLowKg, 3e-3)
		assert.Greater(t, got.ChargeHighKg, got.ChargeLowKg)
		assert.LessOrEqual(t, got.ChargeHighKg, 8e-3)
		// What the cuts of a whole run weigh is in the barrel: three of them.
		if rate <= 20 {
			assert.Less(t, 3*want*rate*gramPer10Min, got.ChargeHighKg)
		}
	}
	for _, rate := range []float64{0, 0.09, -1, math.NaN()} {
		_, ok := AdviseCuts(rate * gramPer10Min)
		assert.False(t, ok, "%v g/10 min", rate)
	}
	_, ok := AdviseCuts(math.Inf(1))
	assert.True(t, ok)
}
