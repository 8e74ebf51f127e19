package filler

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/printed"
	"fillwright/internal/stat"
)

// countedAt is a count above the critical size of 200 µm itself.
func countedAt(massKg float64, found int) (Oversize, bool) {
	return Counted([]Count{{MassKg: massKg, SizeM: 200 * um, Found: found}}, 200*um, math.NaN())
}

// countsOf are counts in kg, µm and number by turns.
func countsOf(numbers ...float64) (list []Count) {
	for i := 0; i+2 < len(numbers); i += 3 {
		list = append(list, Count{MassKg: numbers[i], SizeM: numbers[i+1] * um, Found: int(numbers[i+2])})
	}
	return list
}

// counted is what counts say of 200 µm in powder of 1350 kg/m³.
func counted(t *testing.T, numbers ...float64) Oversize {
	t.Helper()
	o, ok := Counted(countsOf(numbers...), 200*um, MostPerKg(200*um, Sphere(1350)))
	require.True(t, ok)
	return o
}

// Upper 95 % bounds of the mean of a Poisson count, χ²(0.95, 2n+2)/2.
func TestCountsByHand(t *testing.T) {
	for n, want := range map[int]string{0: "2.99573", 1: "4.74386", 2: "6.29579", 5: "10.51303"} {
		o, ok := countedAt(1, n)
		require.True(t, ok)
		printed.Equal(t, want, o.HighPerKg, arith)
	}
	// none in 100 g, 200 g in a spool
	o, _ := countedAt(0.1, 0)
	printed.Equal(t, "0.030", o.HighPerKg/1000, arith)
	printed.Equal(t, "6.0", o.HighPerKg*0.2, arith)
	assert.Zero(t, o.LowPerKg)
	// 2 in 2 kg: bounds 0.355361, the root of 1 - e^-m·(1 + m) = 0.05, and 6.29579
	o, _ = countedAt(2, 2)
	printed.Equal(t, "3.1479", o.HighPerKg, arith)
	printed.Equal(t, "0.17768", o.LowPerKg, arith)
}

func TestCountsAgainstChiSquared(t *testing.T) {
	quantile := func(p, freedom float64) float64 { return distuv.ChiSquared{K: freedom}.Quantile(p) / 2 }
	for _, n := range []int{0, 1, 2, 3, 7, 20, 100, 1000, 1000000} {
		o, ok := countedAt(2, n)
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
		o, ok := countedAt(1, n)
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
	at, other := counted(t, 0.1, 200, 5), counted(t, 0.1, 100, 5)
	assert.Equal(t, at.HighPerKg, other.HighPerKg, "there are no more above 200 than above 100")
	assert.Zero(t, other.LowPerKg)
	assert.InEpsilon(t, at.LikelyPerKg/512, other.LikelyPerKg, 1e-12, "size^-9")
	assert.True(t, other.OtherSize)
	assert.False(t, at.OtherSize)
}

// 5 in 100 g above 300 µm: at least the low end for 5, 1.97015 (χ²(0.05, 10)/2,
// tables), are above 200 µm, and the likely ones as size^-9 says; nothing says that
// there are not more.
func TestCountedAboveALargerSize(t *testing.T) {
	most := MostPerKg(200*um, Sphere(1350))
	o := counted(t, 0.1, 300, 5)
	printed.Equal(t, "1.9701", o.LowPerKg/10, arith)
	assert.InEpsilon(t, stat.PoissonMedian(5)/0.1*math.Pow(1.5, 9), o.LikelyPerKg, 1e-12)
	assert.Equal(t, most, o.HighPerKg)
	assert.True(t, o.OtherSize)
	assert.Equal(t, Oversize{most, most, most, true, false}, counted(t, 1e-9, 300, 1000), "no more than all there is")
	_, ok := Counted(countsOf(0.1, 300, 5), 200*um, math.NaN())
	assert.False(t, ok, "nothing holds it from above")
}

// Counts above several sizes, by hand.
func TestCountsOfSeveralSizes(t *testing.T) {
	likely, low, high := stat.PoissonMedian, func(n int) float64 { return stat.PoissonLower(n, 0.95) }, func(n int) float64 { return stat.PoissonUpper(n, 0.95) }
	for name, c := range map[string]struct {
		counts            []float64
		low, likely, high float64
	}{
		"one size, added up":                      {[]float64{1, 200, 2, 3, 201, 4}, low(6) / 4, likely(6) / 4, high(6) / 4},
		"poorer sample of a smaller size":         {[]float64{1, 200, 2, 0.1, 100, 50}, low(2), likely(2), high(2)},
		"clean at the size and below":             {[]float64{1, 200, 0, 9, 150, 0}, 0, likely(0) / (1 + 9/math.Pow(0.75, 9)), high(0) / 10},
		"more below than at it":                   {[]float64{1, 200, 2, 9, 100, 900}, low(2), likely(2), high(2)},
		"fewer below than at it: together":        {[]float64{1, 200, 2, 9, 100, 1}, low(2), likely(3) / 10, high(3) / 10},
		"two below that contradict":               {[]float64{1, 180, 4, 1, 50, 0}, 0, likely(4) / 2 * math.Pow(0.9, 9), high(4) / 2},
		"on both sides":                           {[]float64{0.01, 150, 12, 0.01, 300, 5}, low(5) / 0.01, math.Exp((math.Log(likely(12)/0.01)*math.Log(300./200) + math.Log(likely(5)/0.01)*math.Log(200./150)) / math.Log(2)), high(12) / 0.01},
		"clean at it, found above":                {[]float64{10, 200, 0, 0.01, 300, 3}, low(3) / 10.01, likely(3) / 10.01, high(0) / 10},
		"clean at it, one in much above":          {[]float64{0.05, 200, 0, 20, 300, 1}, low(1) / 20.05, likely(0) / 0.05, high(0) / 0.05},
		"samples that exclude each other":         {[]float64{1, 200, 0, 1, 300, 100}, low(100) / 2, likely(100) / 2, high(100) / 2},
		"clean between it and what was found":     {[]float64{20, 250, 0, 0.1, 300, 2}, low(2) / 20.1, likely(2) / 20.1 * math.Pow(1.25, 9), MostPerKg(200*um, Sphere(1350))},
		"more seen above than the few at it show": {[]float64{0.01, 200, 1, 1, 300, 20}, low(21) / 1.01, likely(1) / 0.01, high(1) / 0.01},
		"none above a larger size":                {[]float64{1, 200, 2, 100, 300, 0}, low(2), likely(2), high(2)},
	} {
		o := counted(t, c.counts...)
		assert.InDelta(t, c.low, o.LowPerKg, 1e-9*(1+c.low), name)
		assert.InEpsilon(t, c.high, o.HighPerKg, 1e-9, name)
		assert.InEpsilon(t, min(max(c.likely, c.low), c.high), o.LikelyPerKg, 1e-9, name)
	}
}

// Whatever was counted: the ends hold the likely number, an order of rows does not
// matter, nor does it whether a sample is written as one row or two, and whatever is
// looked through besides without finding any never tells of more grains, as long as
// no larger size tells of some.
func TestCountsAnyhow(t *testing.T) {
	random := rand.New(rand.NewPCG(12, 25))
	most := MostPerKg(200*um, Sphere(1350))
	row := func(found int) Count {
		return Count{
			MassKg: math.Exp(3 * random.NormFloat64()), OffKg: 0,
			SizeM: []float64{50, 100, 150, 190, 200, 210, 300, 500}[random.IntN(8)] * um, Found: found,
		}
	}
	for range 3000 {
		var list []Count
		for range 1 + random.IntN(5) {
			list = append(list, row(random.IntN(4)*random.IntN(5)))
		}
		o, ok := Counted(list, 200*um, most)
		if !ok {
			continue
		}
		require.True(t, 0 <= o.LowPerKg && o.LowPerKg <= o.LikelyPerKg && o.LikelyPerKg <= o.HighPerKg && o.HighPerKg <= most, "%v: %v", list, o)

		random.Shuffle(len(list), func(i, k int) { list[i], list[k] = list[k], list[i] })
		shuffled, _ := Counted(list, 200*um, most)
		within(t, o, shuffled)

		split := append([]Count{}, list...)
		half := split[0]
		half.MassKg, half.Found = half.MassKg/2, half.Found/2
		split[0].MassKg, split[0].Found = half.MassKg, split[0].Found-half.Found
		halves, _ := Counted(append(split, half), 200*um, most)
		within(t, o, halves)

		clean := row(0)
		if slices.ContainsFunc(append(list, clean), func(c Count) bool { return c.SizeM > 200*um*SameSize }) {
			continue // see TestFindingGrainsTellsOfMore
		}
		more, _ := Counted(append(list, clean), 200*um, most)
		assert.LessOrEqual(t, more.HighPerKg, o.HighPerKg*(1+1e-9), "%v and %v", list, clean)
		assert.LessOrEqual(t, more.LikelyPerKg, o.LikelyPerKg*(1+1e-9), "%v and %v", list, clean)
	}
}

func within(t *testing.T, want, got Oversize) {
	t.Helper()
	assert.InDelta(t, want.LowPerKg, got.LowPerKg, 1e-9*(1+want.LowPerKg))
	assert.InEpsilon(t, want.LikelyPerKg, got.LikelyPerKg, 1e-9)
	assert.InEpsilon(t, want.HighPerKg, got.HighPerKg, 1e-9)
}

// A mass that may be off moves both ends, to first order.
func TestCountsInAMassThatIsOff(t *testing.T) {
	o, ok := Counted([]Count{{MassKg: 2, OffKg: 0.5, SizeM: 200 * um, Found: 3}}, 200*um, math.NaN())
	require.True(t, ok)
	exact, _ := countedAt(2, 3)
	assert.InEpsilon(t, exact.LowPerKg/1.25, o.LowPerKg, 1e-12)
	assert.InEpsilon(t, exact.HighPerKg*1.25, o.HighPerKg, 1e-12)
	assert.Equal(t, exact.LikelyPerKg, o.LikelyPerKg)
}

// Grains that were found, above whatever size, never make fewer likely, nor hold the
// high end lower.
func TestFindingGrainsTellsOfMore(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		list := countsOf(math.Exp(2*random.NormFloat64()), 200, float64(random.IntN(3)), math.Exp(2*random.NormFloat64()), 100, float64(random.IntN(30)))
		if list[1].rate() < list[0].rate() {
			continue // these contradict each other already
		}
		before, ok := Counted(list, 200*um, math.NaN())
		require.True(t, ok)
		after, _ := Counted(append(list, countsOf(math.Exp(3*random.NormFloat64()), 300, float64(1+random.IntN(5)))...), 200*um, math.NaN())
		assert.GreaterOrEqual(t, after.LikelyPerKg, before.LikelyPerKg*(1-1e-9), "%v", list)
		assert.GreaterOrEqual(t, after.HighPerKg, before.HighPerKg*(1-1e-9), "%v", list)
		assert.GreaterOrEqual(t, before.LikelyPerKg*(1+1e-9), before.LowPerKg)
	}
}

// Who looks through as much as asked for, without finding any, has the claim.
func TestMoreToLookThrough(t *testing.T) {
	for _, counts := range [][]float64{{}, {0.01, 200, 3}, {0.005, 90, 30}, {1, 200, 0, 1, 100, 5}, {0.05, 200, 0, 20, 300, 1}, {100, 200, 0}} {
		list := countsOf(counts...)
		more := MoreToLookThrough(list, 200*um, 0.95, 0.05, 0.05)
		require.LessOrEqual(t, more, CheckMass(3, 0.95, 1, 0.05, 0.05), "%v", counts)
		if more == 0 {
			more = 1e-9
		}
		o, ok := Counted(append(list, Count{MassKg: more, SizeM: 200 * um}), 200*um, 1e12)
		require.True(t, ok)
		assert.LessOrEqual(t, BlockChance(o.HighPerKg*0.05, 1), 0.05*(1+1e-9), "%v", counts)
	}
}

func TestCountsThatTellNothing(t *testing.T) {
	for name, c := range map[string]Count{
		"no mass": {SizeM: 200 * um}, "negative mass": {MassKg: -1, SizeM: 200 * um}, "mass no number": {MassKg: math.NaN(), SizeM: 200 * um},
		"all there is": {MassKg: math.Inf(1), SizeM: 200 * um}, "negative count": {MassKg: 1, SizeM: 200 * um, Found: -1},
		"none above a larger size": {MassKg: 1, SizeM: 250 * um}, "no size": {MassKg: 1}, "size no number": {MassKg: 1, SizeM: math.NaN()},
	} {
		assert.False(t, TakesPart(c, []Count{c}, 200*um), name)
		o, ok := Counted([]Count{c}, 200*um, 1e9)
		assert.False(t, ok, name)
		assert.Equal(t, Oversize{}, o, name)
	}
	for _, critical := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, ok := Counted(countsOf(1, 200, 3), critical, 1e9)
		assert.False(t, ok, "%v", critical)
	}
	_, ok := Counted(nil, 200*um, 1e9)
	assert.False(t, ok)
}
