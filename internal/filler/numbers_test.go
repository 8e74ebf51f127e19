package filler

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mathext"

	"fillwright/internal/printed"
)

// allAbove is how many grains of a law lie above a size, in a kg that went through
// nothing.
func allAbove(l SizeLaw, sizeM float64, g Grain) float64 {
	return l.NumberBetween(sizeM, math.Inf(1), g)
}

func TestGrain(t *testing.T) {
	// a sphere of 0.2 mm has 4.18879e-12 m³
	printed.Equal(t, "5.65487e-9", Sphere(1350).MassKg(200*um), arith)
	printed.Same(t, 1350*0.35*8e-12, Grain{1350, 0.35}.MassKg(200*um))
}

// Counts per gram of grains of 1350 kg/m³.
func TestNumbersByHand(t *testing.T) {
	g := Sphere(1350)
	l := LogNormal{80 * um, 1.6}
	for _, c := range []struct {
		size float64
		want string
	}{
		{0, "7.4665e6"},
		{150, "22420.9"},
		{200, "2914.51"},
		{250, "470.058"},
		{300, "90.3035"},
		{400, "4.98764"},
	} {
		printed.Equal(t, c.want, allAbove(l, c.size*um, g)/1000, arith)
	}
	r := RRSB{120 * um, 1.8}
	printed.Equal(t, "1547.6", allAbove(r, 250*um, g)/1000, arith)
	printed.Equal(t, "3.031", allAbove(r, 400*um, g)/1000, arith)
	// another shape and density only change the mass of each
	printed.Same(t, allAbove(l, 250*um, g)*math.Pi/6/0.35/2, allAbove(l, 250*um, Grain{2700, 0.35}))
}

// Closed form and continued fraction against the integral that defines them.
func TestNumbersAgainstQuadrature(t *testing.T) {
	g := Grain{1350, 0.35}
	for _, l := range lawsForTests {
		per := func(x float64) float64 { return density(l, x) / g.MassKg(x) }
		for _, p := range []float64{0.01, 0.3, 0.9, 0.999, 0.999999} {
			from := l.Quantile(p)
			to := l.Quantile(1 - 1e-15)
			if law, ok := l.(RRSB); ok {
				to = law.SizeM * math.Pow(60, 1/law.Exponent)
			} else {
				to = max(to, 3*from) * l.(LogNormal).GSD
			}
			assert.InEpsilon(t, integral(per, from, to), allAbove(l, from, g), 1e-6, "%+v above %g", l, p)

			top := l.Quantile(p + (1-p)/2)
			want := integral(per, from, top) / l.Passing(top)
			assert.InEpsilon(t, want, l.NumberBetween(from, top, g), 1e-6, "%+v above %g, truncated", l, p)
		}
	}
}

// Γ(1/2, z) = √π·erfc(√z), Γ(0, z) by tables, and Γ(a, z) = (Γ(a+1, z) -
// z^a·e^-z)/a.
func TestUpperGamma(t *testing.T) {
	inf := math.Inf(1)
	for _, z := range []float64{1e-6, 0.1, 1, 1.99, 2, 2.01, 5, 50, 300} {
		assert.InEpsilon(t, math.Sqrt(math.Pi)*math.Erfc(math.Sqrt(z)), gammaBetween(0.5, z, inf), 1e-11, "%g", z)
		for _, a := range []float64{-0.5, -2.7, -29} {
			up := gammaBetween(a+1, z, inf)
			power := math.Exp(a*math.Log(z) - z)
			assert.InDelta(t, up, a*gammaBetween(a, z, inf)+power, 1e-10*(up+power), "%g %g", a, z)
		}
	}
	printed.Equal(t, "0.2193839344", gammaBetween(0, 1, inf), "E1(1), Abramowitz and Stegun, table 5.1")
	printed.Equal(t, "0.5597735948", gammaBetween(0, 0.5, inf), "E1(0.5), Abramowitz and Stegun, table 5.1")
	printed.Equal(t, "0.0489005107", gammaBetween(0, 2, inf), "E1(2), Abramowitz and Stegun, table 5.1")
	for _, a := range []float64{0.001, 0.5, 0.997} {
		assert.InEpsilon(t, math.Gamma(a), gammaBetween(a, 0, inf), 1e-12)
		assert.InEpsilon(t, math.Gamma(a)*mathext.GammaIncReg(a, 1.3), gammaBetween(a, 0, 1.3), 1e-12)
		for _, z := range []float64{1e-3, 0.7, 2, 40} {
			assert.InEpsilon(t, math.Gamma(a)*mathext.GammaIncRegComp(a, z), gammaBetween(a, z, inf), 1e-10)
		}
		assert.InEpsilon(t, math.Gamma(a), gammaBetween(a, 1e-300, inf)+math.Pow(1e-300, a)/a, 1e-10)
	}
	assert.True(t, math.IsInf(gammaBetween(0, 0, inf), 1))
	assert.True(t, math.IsInf(gammaBetween(-1, 0, 5), 1))
	assert.Zero(t, gammaBetween(-1, 800, inf))
	assert.Zero(t, gammaBetween(-1, inf, inf))
}

// A tiny exponent n makes a = 1 - 3/n so steep that a panel for every step of it took
// minutes. Its law is next to flat over ln x, so that above x' there are n/(3e) of a
// grain of that size in its mass, to a relative n.
func TestCountsByATinyExponentTakeNoTime(t *testing.T) {
	g := Sphere(1350)
	began := time.Now()
	for _, n := range []float64{0.05, 1e-3, 1e-6, 1e-9, 1e-12} {
		l := RRSB{120 * um, n}
		want := n / (3 * math.E) / g.MassKg(120*um)
		assert.InEpsilon(t, want, allAbove(l, 120*um, g), n, "%g", n)
		between := l.NumberBetween(120*um, 240*um, g) * l.Passing(240*um) // that of 2³ times the mass is away
		assert.InEpsilon(t, want*7/8, between, 2*n+1e-15/n, "%g, as far as z has digits for it", n)
	}
	for _, n := range []float64{1e-15, 1e-18, 1e-300, 5e-324} {
		for _, size := range []float64{1e-9, 120 * um, 1} {
			for _, top := range []float64{240 * um, 2, math.Inf(1)} {
				count := RRSB{120 * um, n}.NumberBetween(size, top, g)
				assert.False(t, math.IsNaN(count) || count < 0, "%g from %g to %g: %g", n, size, top, count)
			}
		}
	}
	assert.Less(t, time.Since(began), 5*time.Second, "a thousand times what it takes")
}

// The step a·Γ(a, z) = Γ(a+1, z) - z^a·e^-z of exponents down to 0.001, by which
// nearly all of the integral lies just above its lower end.
func TestSteepGamma(t *testing.T) {
	for _, a := range []float64{-0.001, -5.7, -59, -299, -2999} {
		for _, z := range []float64{0.9, 1, 1.2} {
			up := gammaBetween(a+1, z, math.Inf(1))
			power := math.Exp(a*math.Log(z) - z)
			assert.InDelta(t, 0, (a*gammaBetween(a, z, math.Inf(1))+power-up)/(up+power), 1e-11, "%g %g", a, z)
		}
	}
}

func BenchmarkCountsByATinyExponent(b *testing.B) {
	l, g := RRSB{120 * um, 1e-9}, Sphere(1350)
	for b.Loop() {
		allAbove(l, 100*um, g)
	}
}

func TestTailBeyondTheErrorFunction(t *testing.T) {
	for _, z := range []float64{29, 30, 31, 36} { // where both ways still work
		assert.InEpsilon(t, math.Log(math.Erfc(z/math.Sqrt2)/2), logUpperTail(z), 1e-9, "%g", z)
	}
	assert.True(t, math.IsInf(logUpperTail(math.Inf(1)), -1))
	assert.Zero(t, logUpperTail(math.Inf(-1)))
}

func TestTruncationAtInfinityIsNone(t *testing.T) {
	g := Sphere(1350)
	for _, l := range lawsForTests {
		for _, x := range []float64{10 * um, 100 * um, 300 * um} {
			all := allAbove(l, x, g)
			assert.Equal(t, all, l.NumberBetween(x, math.Inf(1), g))
			last := 0.0
			for _, top := range []float64{0, x / 2, x, 1.0001 * x, 1.2 * x, 2 * x, 1, 1e6} {
				n := l.NumberBetween(x, top, g)
				assert.False(t, math.IsNaN(n) || math.IsInf(n, 0) || n < 0, "%+v", l)
				if top <= x {
					assert.Zero(t, n)
				}
				if top <= 1.0001*x { // no grain lighter than x and none counted twice
					assert.LessOrEqual(t, n, (1+1e-9)/g.MassKg(x))
				}
				last = n
			}
			assert.InEpsilon(t, all+1e-300, last+1e-300, 1e-9, "a top of 1000 km")
		}
	}
}

func TestNumberFallsWithSize(t *testing.T) {
	g := Sphere(1350)
	for _, l := range lawsForTests {
		before := math.Inf(1)
		for x := 5 * um; x < 3e-3; x *= 1.1 {
			n := allAbove(l, x, g)
			assert.False(t, math.IsNaN(n) || math.IsInf(n, 0))
			assert.LessOrEqual(t, n, before)
			above := 1 - l.Passing(x) + 1e-15 // as far as the difference tells
			assert.LessOrEqual(t, n, above/g.MassKg(x), "each weighs at least that of size x")
			before = n
		}
	}
}

func TestCountsAtTheEdges(t *testing.T) {
	g := Sphere(1350)
	for _, l := range lawsForTests {
		for _, x := range []float64{-1, 0, 1e-300, 1e-12, 1, 1e12, math.Inf(1)} {
			for _, top := range []float64{-1, 0, 1e-300, 1e-9, 1, math.Inf(1)} {
				n := l.NumberBetween(x, top, g)
				assert.False(t, math.IsNaN(n) || n < 0, "%+v from %g to %g: %g", l, x, top, n)
			}
		}
	}
	assert.True(t, math.IsInf(allAbove(RRSB{120 * um, 3}, 0, g), 1), "dust without end")
	// n = 6: ∫ y^-3 q3 dy = Γ(1/2)/x'³
	assert.InEpsilon(t, math.Sqrt(math.Pi)/g.MassKg(120*um), allAbove(RRSB{120 * um, 6}, 0, g), 1e-12)
	// wide beyond any powder: exp(4.5·s²) alone is no number any more
	wide := allAbove(LogNormal{80 * um, math.Exp(14)}, 80*um, g)
	assert.False(t, math.IsNaN(wide) || math.IsInf(wide, 0))
	assert.Positive(t, wide)
}

// Ten million grains drawn by number: the log-normal by number has the same GSD
// about its number median.
func TestLogNormalCountsBySimulation(t *testing.T) {
	l, g := LogNormal{80 * um, 1.6}, Sphere(1350)
	const n = 10_000_000
	random := rand.New(rand.NewPCG(6, 1))
	s := math.Log(l.GSD)
	median := l.MedianM * math.Exp(-3*s*s) // by number
	limits := [3]float64{150 * um, 200 * um, 250 * um}
	var logs [3]float64
	for i, limit := range limits {
		logs[i] = math.Log(limit/median) / s
	}
	var counts [3]float64
	cubes := 0.0
	for range n {
		z := random.NormFloat64()
		cubes += math.Exp(3 * s * z)
		for i := 0; i < 3 && z > logs[i]; i++ {
			counts[i]++
		}
	}
	massKg := g.MassKg(median) * cubes
	for i, limit := range limits {
		// five standard deviations of the count; the mass is known to 0.1 %
		within := 5*math.Sqrt(1/counts[i]+1e-6) + 1e-12
		assert.InEpsilon(t, counts[i]/massKg, allAbove(l, limit, g), within, "%g from %g", limit, counts[i])
		assert.Greater(t, counts[i], 400.0)
	}
	assert.InEpsilon(t, n/massKg, allAbove(l, 0, g), 0.005)
}

// Ten million parts of equal mass, drawn by mass: each stands for as many
// grains as its size has in that mass. By number there would be dust without
// end. -ln R of a part is exponential, so that one above a size is drawn as
// such, and its share is known.
func TestRRSBCountsBySimulation(t *testing.T) {
	l, g := RRSB{120 * um, 1.8}, Sphere(1350)
	const n = 10_000_000
	random := rand.New(rand.NewPCG(6, 2))
	top := 300 * um
	zTop, z200, z250 := l.z(top), l.z(200*um), l.z(250*um)
	var above200, above250, between, through float64
	for range n {
		z := random.ExpFloat64()
		if z < zTop {
			through++
		}
		if z <= z200 {
			continue
		}
		grains := 1 / g.MassKg(l.SizeM*math.Pow(z, 1/l.Exponent))
		above200 += grains
		if z > z250 {
			above250 += grains
		}
		if z < zTop {
			between += grains
		}
	}
	// 816,000 and 236,000 of them lie above: 0.6 and 1.2 % are five standard
	// deviations and more
	assert.InEpsilon(t, above200/n, allAbove(l, 200*um, g), 0.006)
	assert.InEpsilon(t, above250/n, allAbove(l, 250*um, g), 0.012)
	assert.InEpsilon(t, between/through, l.NumberBetween(200*um, top, g), 0.007)
}
