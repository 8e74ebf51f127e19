package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

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

// Upper 95 % bounds of the mean of a Poisson count, χ²(0.95, 2n+2)/2.
func TestCountsByHand(t *testing.T) {
	for n, want := range map[int]string{0: "2.99573", 1: "4.74386", 2: "6.29579", 5: "10.51303"} {
		o, ok := Inspected(1, n, 200*um, 200*um)
		require.True(t, ok)
		printed.Equal(t, want, o.HighPerKg, arith)
	}
	// none in 100 g, 200 g in a spool
	o, _ := Inspected(0.1, 0, 200*um, 200*um)
	printed.Equal(t, "0.030", o.HighPerKg/1000, arith)
	printed.Equal(t, "6.0", o.HighPerKg*0.2, arith)
	assert.Zero(t, o.LowPerKg)
}

func TestCountsAgainstChiSquared(t *testing.T) {
	quantile := func(p, freedom float64) float64 { return distuv.ChiSquared{K: freedom}.Quantile(p) / 2 }
	for _, n := range []int{0, 1, 2, 3, 7, 20, 100, 1000, 1000000} {
		o, ok := Inspected(2, n, 300*um, 300*um)
		require.True(t, ok)
		c := float64(n)
		assert.InEpsilon(t, quantile(0.95, 2*c+2)/2, o.HighPerKg, 1e-6)
		assert.InEpsilon(t, quantile(0.5, 2*c+2)/2, o.LikelyPerKg, 1e-6)
		if n > 0 {
			assert.InEpsilon(t, quantile(0.05, 2*c)/2, o.LowPerKg, 1e-6)
		}
		assert.True(t, o.LowPerKg < o.LikelyPerKg && o.LikelyPerKg < o.HighPerKg)
	}
}

// By the definition of the bounds: at the upper one no more than n are found in
// 5 % of samples, at the lower one no fewer, and as often as not at the likely one.
func TestBoundsOfCountsAreWhatTheySay(t *testing.T) {
	for _, n := range []int{0, 1, 4, 30} {
		o, ok := Inspected(1, n, 200*um, 200*um)
		require.True(t, ok)
		atMost := func(mean float64, n int) float64 {
			sum, term := 0.0, math.Exp(-mean)
			for k := range n + 1 {
				sum += term
				term *= mean / float64(k+1)
			}
			return sum
		}
		assert.InDelta(t, 0.05, atMost(o.HighPerKg, n), 1e-9)
		if n > 0 {
			assert.InDelta(t, 0.05, 1-atMost(o.LowPerKg, n-1), 1e-9)
		}
		assert.InDelta(t, 0.5, atMost(o.LikelyPerKg, n), 1e-9)
	}
}

func TestCountedAboveASmallerSize(t *testing.T) {
	at, _ := Inspected(0.1, 5, 200*um, 200*um)
	other, ok := Inspected(0.1, 5, 100*um, 200*um)
	require.True(t, ok)
	assert.Equal(t, at.HighPerKg, other.HighPerKg, "there are no more above 200 than above 100")
	assert.Zero(t, other.LowPerKg)
	assert.InEpsilon(t, at.LikelyPerKg/512, other.LikelyPerKg, 1e-12, "size^-9")
	assert.True(t, other.OtherSize)
	assert.False(t, at.OtherSize)
}

// 5 in 100 g above 300 µm: at least the low end for 5, 1.97015 (χ²(0.05, 10)/2,
// tables), are above 200 µm, and 50 of the likely ones as size^-9 says; nothing
// says that there are not more.
func TestCountedAboveALargerSize(t *testing.T) {
	g := Sphere(1350)
	most := MostPerKg(200*um, g)
	o, ok := FoundLarger(0.1, 5, 300*um, 200*um, most)
	require.True(t, ok)
	printed.Equal(t, "1.9701", o.LowPerKg/10, arith)
	at, _ := Inspected(0.1, 5, 300*um, 300*um)
	assert.InEpsilon(t, at.LikelyPerKg*math.Pow(1.5, 9), o.LikelyPerKg, 1e-12)
	assert.Equal(t, most, o.HighPerKg)
	assert.True(t, o.OtherSize)

	o, ok = FoundLarger(1e-9, 1000, 300*um, 200*um, most)
	require.True(t, ok)
	assert.Equal(t, Oversize{FromInspection, most, most, most, true, false}, o, "no more than all there is")

	for name, c := range map[string]struct {
		count         int
		counted, most float64
	}{
		"none found": {0, 300 * um, most}, "the same size": {5, 200 * um, most}, "smaller": {5, 100 * um, most},
		"density not known": {5, 300 * um, math.NaN()}, "negative": {-1, 300 * um, most},
	} {
		o, ok = FoundLarger(0.1, c.count, c.counted, 200*um, c.most)
		assert.False(t, ok, name)
		assert.Equal(t, Oversize{}, o, name)
	}
}

func TestSomethingOnASieveAboveTheCriticalSize(t *testing.T) {
	g := Sphere(1350)
	o, ok := RetainedAbove(0.001, 0.1, 300*um, 200*um, g)
	require.True(t, ok)
	printed.Equal(t, "0.51293", o.LowPerKg, "-ln 0.95 in 100 g, "+arith)
	assert.InEpsilon(t, 0.001*math.Pow(1.5, 6)*6/9*MostPerKg(200*um, g), o.LikelyPerKg, 1e-12)
	assert.Equal(t, MostPerKg(200*um, g), o.HighPerKg)
	assert.Equal(t, FromRetained, o.Evidence)
	for name, c := range map[string][3]float64{
		"nothing on it": {0, 0.1, 300 * um}, "not above": {0.001, 0.1, 200 * um}, "more than all": {1.1, 0.1, 300 * um}, "no sample": {0.001, 0, 300 * um},
	} {
		_, ok = RetainedAbove(c[0], c[1], c[2], 200*um, g)
		assert.False(t, ok, name)
	}
}

func TestHeldToALargerSize(t *testing.T) {
	o := Oversize{Evidence: FromBlockages, LikelyPerKg: 2, LowPerKg: 1, HighPerKg: 10}
	assert.Equal(t, o, o.AtLeast(Oversize{LowPerKg: 0.5, LikelyPerKg: 50, HighPerKg: 99}), "says it already")
	assert.Equal(t, Oversize{FromBlockages, 4, 4, 10, false, false}, o.AtLeast(Oversize{LowPerKg: 4, LikelyPerKg: 50, HighPerKg: 99}))
	assert.Equal(t, Oversize{FromBlockages, 50, 20, 99, false, false}, o.AtLeast(Oversize{LowPerKg: 20, LikelyPerKg: 50, HighPerKg: 99}), "tells against it")
	assert.Equal(t, Oversize{FromBlockages, 1.5, 1, 1.5, false, false}, o.AtMost(1.5))
}

func TestInspectedRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		mass              float64
		count             int
		counted, critical float64
	}{
		"no mass":          {0, 0, 200 * um, 200 * um},
		"negative mass":    {-1, 0, 200 * um, 200 * um},
		"mass no number":   {math.NaN(), 0, 200 * um, 200 * um},
		"all there is":     {math.Inf(1), 0, 200 * um, 200 * um},
		"negative count":   {1, -1, 200 * um, 200 * um},
		"larger size":      {1, 0, 250 * um, 200 * um},
		"no size":          {1, 0, 0, 200 * um},
		"size no number":   {1, 0, math.NaN(), 200 * um},
		"critical unknown": {1, 0, 200 * um, math.NaN()},
	} {
		o, ok := Inspected(c.mass, c.count, c.counted, c.critical)
		assert.False(t, ok, name)
		assert.Equal(t, Oversize{}, o, name)
		o, ok = Blockages(c.mass, 0.2, c.count, c.counted, c.critical)
		assert.False(t, ok, name)
		assert.Equal(t, Oversize{}, o, name)
	}
	_, ok := Blockages(1, 0, 0, 0.4e-3, 0.4e-3)
	assert.False(t, ok, "strand without powder says nothing of it")
}

// 10 kg of strand with 2 kg of powder blocked twice: bounds 0.355361 (the root
// of 1 - e^-m·(1 + m) = 0.05) and 6.29579.
func TestBlockages(t *testing.T) {
	o, ok := Blockages(10, 0.2, 2, 0.4e-3, 0.4e-3)
	require.True(t, ok)
	assert.Equal(t, FromBlockages, o.Evidence)
	printed.Equal(t, "3.1479", o.HighPerKg, arith)
	printed.Equal(t, "0.17768", o.LowPerKg, arith)
}

func TestTail(t *testing.T) {
	g := Sphere(1350)
	law := LogNormal{80 * um, 1.6}
	fits := FitSizes(stackOf(law).Analyse())
	inf := math.Inf(1)
	o, ok := Tail(fits, 400*um, inf, g)
	require.True(t, ok)
	assert.Equal(t, FromTail, o.Evidence)
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
	assert.Equal(t, Oversize{Evidence: FromTail}, none, "no legal grain is that large")
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
	printed.Equal(t, "11.6808", CheckMass(0.95, 1, 0.2, 0.05), arith)
	printed.Equal(t, "2.9202", CheckMass(0.95, 0.25, 0.2, 0.05), "a quarter of critical grains block, "+arith)
	// the circle closes: after that mass without a grain, the upper bound gives
	// just that chance
	o, ok := Inspected(CheckMass(0.95, 1, 0.2, 0.05), 0, 200*um, 200*um)
	require.True(t, ok)
	assert.InEpsilon(t, 0.05, BlockChance(o.HighPerKg*0.2, 1), 1e-9)
}

func TestEvidenceIsRanked(t *testing.T) {
	assert.True(t, FromBlockages < FromInspection && FromInspection < FromRetained && FromRetained < FromTail)
}
