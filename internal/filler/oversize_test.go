package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// powderPerMetre is the powder in kg in a metre of strand: 20 wt% of powder of 1350
// kg/m³ in PLA, 1260.54 kg/m³ and 1.75 mm.
const powderPerMetre = 0.20 * 1260.54 * math.Pi / 4 * 1.75e-3 * 1.75e-3

func TestClogChainByHand(t *testing.T) {
	printed.Equal(t, "0.60639", 1000*powderPerMetre, arith)
	lambda := powderPerMetre * allAbove(LogNormal{80 * um, 1.6}, 400*um, Sphere(1350))
	printed.Equal(t, "3.0245", lambda, arith)
	printed.Equal(t, "998", lambda*330, arith)
	assert.InDelta(t, 0.5, BlockChance(lambda, 0.229), 1e-3, "half of all spools are blocked by then, "+arith)
	assert.InEpsilon(t, 0.05, BlockChance(1.55434e-4, 330), 1e-5, arith)
}

func TestRetainedByHand(t *testing.T) {
	o, ok := Retained(0.0002, 0, 200*um, 200*um, Sphere(1350))
	require.True(t, ok)
	printed.Equal(t, "35.37", o.HighPerKg/1000, "0.02 % above 200 µm, "+arith)
	printed.Equal(t, "21.45", o.HighPerKg*powderPerMetre, arith)
	assert.Zero(t, o.LowPerKg)
	assert.InEpsilon(t, o.HighPerKg*6/9, o.LikelyPerKg, 1e-12)
	assert.False(t, o.OtherSize)
	assert.True(t, o.ApertureLeak, "252.4 µm may pass")
}

func TestRetainedOnAFinerSieve(t *testing.T) {
	g := Sphere(1350)
	at, _ := Retained(0.001, 0, 200*um, 200*um, g)
	finer, ok := Retained(0.001, 0, 100*um, 200*um, g)
	require.True(t, ok)
	assert.Equal(t, at.HighPerKg, finer.HighPerKg, "the bound goes by the critical size")
	assert.InEpsilon(t, at.LikelyPerKg/64, finer.LikelyPerKg, 1e-12)
	assert.True(t, finer.OtherSize)
	assert.False(t, finer.ApertureLeak, "133.7 µm may pass")
}

func TestNothingRetainedStillBoundsByTheScale(t *testing.T) {
	o, ok := Retained(0, 1e-5, 125*um, 200*um, Sphere(1350)) // 1 mg of 100 g
	require.True(t, ok)
	assert.Zero(t, o.LowPerKg)
	assert.InEpsilon(t, 1e-5/Sphere(1350).MassKg(200*um), o.HighPerKg, 1e-12)
	half, _ := Retained(0.5e-5, 0, 125*um, 200*um, Sphere(1350))
	assert.InEpsilon(t, half.LikelyPerKg, o.LikelyPerKg, 1e-12, "half of what the scale cannot tell")
	_, ok = Retained(0, 0, 125*um, 200*um, Sphere(1350))
	assert.False(t, ok, "a scale of unknown resolution")
}

func TestRetainedRefuses(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string][4]float64{ // retained, resolution, opening, critical
		"coarser than critical": {0.01, 0, 250 * um, 200 * um},
		"negative":              {-0.01, 0, 125 * um, 200 * um},
		"no resolution":         {0.01, -1, 125 * um, 200 * um},
		"more than all":         {1.01, 0, 125 * um, 200 * um},
		"no fraction":           {nan, 0, 125 * um, 200 * um},
		"no opening":            {0.01, 0, 0, 200 * um},
		"opening no number":     {0.01, 0, nan, 200 * um},
		"critical no number":    {0.01, 0, 125 * um, nan},
		"critical without end":  {0.01, 0, 125 * um, math.Inf(1)},
	} {
		o, ok := Retained(c[0], c[1], c[2], c[3], Sphere(1350))
		assert.False(t, ok, name)
		assert.Equal(t, Oversize{}, o, name)
	}
	_, ok := Retained(0.01, 0, 200.0000001*um, 200*um, Sphere(1350))
	assert.True(t, ok, "the same but for rounding")
}

// What is taken for likely against laws that know how many grains there are:
// near at the sieve, never far too few, and never above the bound.
func TestLikelyRetainedAgainstLaws(t *testing.T) {
	g := Sphere(1350)
	for _, l := range []SizeLaw{LogNormal{80 * um, 1.6}, RRSB{120 * um, 1.8}, LogNormal{100 * um, 1.4}} {
		sieve := l.Quantile(0.98)
		for _, factor := range []float64{1, 1.4, 2} {
			o, ok := Retained(0.02, 0, sieve, factor*sieve, g)
			require.True(t, ok)
			there := allAbove(l, factor*sieve, g)
			assert.LessOrEqual(t, there, o.HighPerKg)
			assert.Greater(t, o.LikelyPerKg, 0.7*there, "%+v at %g", l, factor)
			if factor == 1 {
				assert.Less(t, o.LikelyPerKg, 1.2*there, "%+v", l)
			}
		}
	}
}

func TestSomethingOnASieveAboveTheCriticalSize(t *testing.T) {
	g := Sphere(1350)
	o, ok := RetainedAbove(0.001, 0.1, 300*um, 200*um, g)
	require.True(t, ok)
	printed.Equal(t, "0.51293", o.LowPerKg, "-ln 0.95 in 100 g, "+arith)
	assert.InEpsilon(t, 0.001*math.Pow(1.5, 6)*6/9*MostPerKg(200*um, g), o.LikelyPerKg, 1e-12)
	assert.Equal(t, MostPerKg(200*um, g), o.HighPerKg)
	for name, c := range map[string][3]float64{
		"nothing on it": {0, 0.1, 300 * um}, "not above": {0.001, 0.1, 200 * um}, "more than all": {1.1, 0.1, 300 * um}, "no sample": {0.001, 0, 300 * um},
	} {
		_, ok = RetainedAbove(c[0], c[1], c[2], 200*um, g)
		assert.False(t, ok, name)
	}
}

func TestTail(t *testing.T) {
	g := Sphere(1350)
	law := LogNormal{80 * um, 1.6}
	fits := FitSizes(stackOf(law).Analyse())
	inf := math.Inf(1)
	o, ok := Tail(fits, 400*um, inf, g)
	require.True(t, ok)
	printed.Equal(t, "4.98764", o.LikelyPerKg/1000, "the law itself, "+arith)
	// the band holds what every law says, and a factor of 10
	assert.LessOrEqual(t, o.LowPerKg, o.LikelyPerKg/10)
	assert.GreaterOrEqual(t, o.HighPerKg, o.LikelyPerKg*10)
	for _, fit := range fits {
		n := allAbove(fit.Law, 400*um, g)
		assert.True(t, o.LowPerKg <= n && n <= o.HighPerKg)
	}

	// through 250 µm, whose largest legal aperture is 307.8
	cut, ok := Tail(fits, 200*um, LargestAperture(250*um), g)
	require.True(t, ok)
	assert.InEpsilon(t, law.NumberBetween(200*um, LargestAperture(250*um), g), cut.LikelyPerKg, 1e-6)
	none, ok := Tail(fits, 400*um, LargestAperture(250*um), g)
	require.True(t, ok)
	assert.Equal(t, Oversize{}, none, "no legal grain is that large")
}

func TestTailOfFitsWithoutAnEnd(t *testing.T) {
	g := Sphere(1350)
	// bad fits: their intervals have no end or no law at it
	for _, f := range []SizeFit{
		{Kind: FitRRSBCurve, Law: RRSB{120 * um, 1.8}, Size: SizeParameter{120 * um, 0, 0, math.Inf(1)}, Shape: SizeParameter{1.8, 0, 0, math.Inf(1)}},
		{Kind: FitLogNormal, Law: LogNormal{80 * um, 1.6}, Size: SizeParameter{80 * um, 0, 1 * um, 1e300}, Shape: SizeParameter{1.6, 0, 1, math.Inf(1)}},
	} {
		o, ok := Tail([]SizeFit{f}, 200*um, math.Inf(1), g)
		require.True(t, ok)
		assert.Zero(t, o.LowPerKg)
		assert.InEpsilon(t, 1/g.MassKg(200*um), o.HighPerKg, 1e-12, "all of the powder")
		assert.Positive(t, o.LikelyPerKg)
	}
}

func TestTailRefuses(t *testing.T) {
	g := Sphere(1350)
	_, ok := Tail(nil, 200*um, math.Inf(1), g)
	assert.False(t, ok)
	_, ok = Tail([]SizeFit{{Problem: FitTooFew}}, 200*um, math.Inf(1), g)
	assert.False(t, ok)
	fits := FitSizes(stackOf(RRSB{120 * um, 1.8}).Analyse())
	for _, critical := range []float64{0, -1, math.NaN()} {
		_, ok = Tail(fits, critical, math.Inf(1), g)
		assert.False(t, ok)
		_, ok = Tail(fits, 200*um, critical, g)
		assert.False(t, ok, "a top of %g", critical)
	}
}

func TestTailNeverLeavesItsBand(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	g := Sphere(1350)
	for range 300 {
		fits := FitSizes(noisy(random, RRSB{120 * um, 1 + 3*random.Float64()}, 0.5))
		critical := 100 * um * math.Exp(random.NormFloat64())
		top := math.Inf(1)
		if random.IntN(2) == 0 {
			top = critical * (0.5 + 2*random.Float64())
		}
		o, ok := Tail(fits, critical, top, g)
		require.True(t, ok)
		assert.True(t, 0 <= o.LowPerKg && o.LowPerKg <= o.LikelyPerKg && o.LikelyPerKg <= o.HighPerKg)
		assert.LessOrEqual(t, o.HighPerKg, 1/g.MassKg(critical))
	}
}

func TestChances(t *testing.T) {
	assert.Zero(t, BlockChance(0, 1000))
	assert.InDelta(t, 0.5, BlockChance(2, math.Ln2/2), 1e-12)
	assert.InEpsilon(t, 1e-20, BlockChance(1e-20, 1), 1e-12, "small chances keep their digits")
	for _, p := range []float64{1e-9, 0.05, 0.5, 0.999} {
		assert.InEpsilon(t, p, BlockChance(-math.Log1p(-p)/330, 330), 1e-12)
	}
	previous := 0.0
	for _, length := range []float64{0.1, 1, 10, 100} {
		chance := BlockChance(0.05, length)
		assert.Greater(t, chance, previous)
		previous = chance
	}
}

// 2.99573/0.0512933 = 58.404 times the powder of a spool.
func TestCheckMass(t *testing.T) {
	printed.Equal(t, "11.6808", CheckMass(0, 0.95, 1, 0.2, 0.05), arith)
	printed.Equal(t, "2.9202", CheckMass(0, 0.95, 0.25, 0.2, 0.05), "a quarter of critical grains block, "+arith)
	// the circle closes: with so many in that mass, the upper bound gives just that
	// chance
	for _, found := range []int{0, 1, 7} {
		o, ok := countedAt(CheckMass(found, 0.95, 1, 0.2, 0.05), found)
		require.True(t, ok)
		assert.InEpsilon(t, 0.05, BlockChance(o.HighPerKg*0.2, 1), 1e-9)
	}
}
