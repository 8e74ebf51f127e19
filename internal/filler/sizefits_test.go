package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// brezani is the worked example of the Rosin-Rammler plot function by Brezani
// (file-exchange text, 2011): openings in mm, here taken as m, and the
// percentage above.
func brezani() Sieving {
	openings := []float64{.08, .5, 1.25, 2, 4, 6.3, 8, 12.5, 16, 40}
	retained := []float64{95.61, 87.71, 82.45, 79.78, 73.28, 66.98, 63.21, 55.4, 49.91, 23.95}
	test := SieveTest{PanKg: 100 - retained[0]}
	for i, x := range openings {
		on := retained[i]
		if i+1 < len(retained) {
			on -= retained[i+1]
		}
		test.Sieves = append(test.Sieves, SieveMass{x, on})
	}
	return test.Analyse()
}

func TestRRSBExampleOfBrezani(t *testing.T) {
	fits := FitSizes(brezani())
	curve, line := fits[FitRRSBCurve], fits[FitRRSBLine]
	law, ok := curve.Law.(RRSB)
	require.True(t, ok)
	const published = "Brezani 2011, k and n as published"
	printed.Equal(t, "27.0236", law.SizeM, published)
	printed.Equal(t, "0.5946", law.Exponent, published)
	// squares of percentages; ten sieves
	printed.Equal(t, "53.8336", 1e4*10*curve.Misfit*curve.Misfit, "least sum of squares, computed apart from here")
	assert.Equal(t, law.SizeM, curve.Size.Value)
	assert.Equal(t, law.Exponent, curve.Shape.Value)
	assert.Equal(t, 10, curve.Sieves)

	straight, ok := line.Law.(RRSB)
	require.True(t, ok)
	const apart = "least squares of ln(-ln R) over ln x, computed apart from here"
	printed.Equal(t, "30.71444", straight.SizeM, apart)
	printed.Equal(t, "0.52404", straight.Exponent, apart)
	assert.Greater(t, line.Misfit, curve.Misfit, "the curve fit is the least there is")
}

// stackOf sieves a law exactly, in 12 sieves of R20/3 and R40/3.
func stackOf(law SizeLaw) SieveTest {
	test := SieveTest{PanKg: 0.1 * law.Passing(53*um)}
	above := 1.0
	for _, opening := range []float64{355, 300, 250, 212, 180, 150, 125, 106, 90, 75, 63, 53} {
		below := law.Passing(opening * um)
		test.Sieves = append(test.Sieves, SieveMass{opening * um, 0.1 * (above - below)})
		above = below
	}
	return test
}

func TestFitsFindTheLawThatMadeTheSieves(t *testing.T) {
	for _, law := range []RRSB{{120 * um, 1.8}, {90 * um, 0.9}, {200 * um, 4}} {
		fits := FitSizes(stackOf(law).Analyse())
		for _, kind := range []SizeFitKind{FitRRSBCurve, FitRRSBLine} {
			fit := fits[kind]
			require.Equal(t, FitFound, fit.Problem)
			assert.Equal(t, kind, fit.Kind)
			assert.InEpsilon(t, law.SizeM, fit.Size.Value, 1e-9)
			assert.InEpsilon(t, law.Exponent, fit.Shape.Value, 1e-9)
			assert.InDelta(t, 1, fit.R2, 1e-9)
			assert.Less(t, fit.Misfit, 1e-9)
			assert.Less(t, fit.Shape.High-fit.Shape.Low, 1e-6*law.Exponent)
			assert.False(t, fit.Exact)
		}
		assert.Greater(t, fits[FitLogNormal].Misfit, 1e-3, "the other law does not fit")
		best, ok := BestFit(fits)
		require.True(t, ok)
		assert.NotEqual(t, FitLogNormal, best.Kind)
	}
	for _, law := range []LogNormal{{80 * um, 1.6}, {120 * um, 1.4}, {150 * um, 2.5}} {
		fits := FitSizes(stackOf(law).Analyse())
		fit := fits[FitLogNormal]
		require.Equal(t, FitFound, fit.Problem)
		assert.InEpsilon(t, law.MedianM, fit.Size.Value, 1e-9)
		assert.InEpsilon(t, law.GSD, fit.Shape.Value, 1e-9)
		assert.InDelta(t, 1, fit.R2, 1e-9)
		assert.Less(t, fit.Misfit, 1e-9)
		best, ok := BestFit(fits)
		require.True(t, ok)
		assert.Equal(t, FitLogNormal, best.Kind)
	}
}

func TestLogNormalFitLeavesOutTheFarEnds(t *testing.T) {
	law := LogNormal{80 * um, 1.3}
	want := 0
	for _, row := range stackOf(law).Analyse().Rows {
		if row.Passing >= 0.005 && row.Passing <= 0.995 {
			want++
		}
	}
	require.Less(t, want, 10)
	fit := FitSizes(stackOf(law).Analyse())[FitLogNormal]
	assert.Equal(t, want, fit.Sieves)
	assert.InEpsilon(t, 1.3, fit.Shape.Value, 1e-9)
}

func TestWhereTheFarEndsBegin(t *testing.T) {
	for _, c := range []struct {
		above, below float64 // outside the coarsest and the finest sieve
		want         int
	}{
		{0.0051, 0.0051, 3}, {0.0049, 0.0051, 2}, {0.0051, 0.0049, 2},
	} {
		middle := (1 - c.above - c.below) / 2
		test := SieveTest{[]SieveMass{{250 * um, c.above}, {125 * um, middle}, {63 * um, middle}}, c.below, 0}
		assert.Equal(t, c.want, FitSizes(test.Analyse())[FitLogNormal].Sieves, "%+v", c)
	}
}

// Two sieves are met by every fit, and say nothing of how well.
func TestTwoSievesAreMetExactly(t *testing.T) {
	s := SieveTest{[]SieveMass{{250 * um, 0.2}, {125 * um, 0.5}}, 0.3, 0}.Analyse()
	for _, fit := range FitSizes(s) {
		require.Equal(t, FitFound, fit.Problem)
		assert.True(t, fit.Exact)
		assert.Equal(t, 2, fit.Sieves)
		assert.InDelta(t, 0.8, fit.Law.Passing(250*um), 1e-9)
		assert.InDelta(t, 0.3, fit.Law.Passing(125*um), 1e-9)
		assert.Zero(t, fit.R2)
		for _, p := range []SizeParameter{fit.Size, fit.Shape} {
			assert.Equal(t, SizeParameter{p.Value, 0, p.Value, p.Value}, p)
		}
	}
}

func TestWhereThereIsNoFit(t *testing.T) {
	for name, c := range map[string]struct {
		test SieveTest
		want [3]SizeFitProblem
	}{
		"one sieve":               {SieveTest{[]SieveMass{{250 * um, 1}}, 1, 0}, [3]SizeFitProblem{FitTooFew, FitTooFew, FitTooFew}},
		"all on one sieve":        {SieveTest{[]SieveMass{{250 * um, 0}, {125 * um, 1}, {63 * um, 0}}, 0, 0}, [3]SizeFitProblem{FitTooFew, FitTooFew, FitTooFew}},
		"nothing between":         {SieveTest{[]SieveMass{{250 * um, 1}, {125 * um, 0}}, 1, 0}, [3]SizeFitProblem{FitFlat, FitFlat, FitFlat}},
		"only far ends":           {SieveTest{[]SieveMass{{250 * um, 0.001}, {125 * um, 0.998}}, 0.001, 0}, [3]SizeFitProblem{FitFound, FitFound, FitTooFew}},
		"nothing but the pan":     {SieveTest{[]SieveMass{{250 * um, 0}, {125 * um, 0}}, 1, 0}, [3]SizeFitProblem{FitTooFew, FitTooFew, FitTooFew}},
		"no analysis":             {SieveTest{}, [3]SizeFitProblem{FitTooFew, FitTooFew, FitTooFew}},
		"one between, empty ends": {SieveTest{[]SieveMass{{500 * um, 0}, {250 * um, 1}, {125 * um, 1}, {63 * um, 0}}, 0, 0}, [3]SizeFitProblem{FitTooFew, FitTooFew, FitTooFew}},
	} {
		t.Run(name, func(t *testing.T) {
			fits := FitSizes(c.test.Analyse())
			require.Len(t, fits, 3)
			for i, fit := range fits {
				assert.Equal(t, SizeFitKind(i), fit.Kind)
				assert.Equal(t, c.want[i], fit.Problem)
				if fit.Problem != FitFound {
					assert.Equal(t, SizeFit{Kind: fit.Kind, Problem: fit.Problem}, fit)
				}
			}
			_, ok := BestFit(fits)
			assert.Equal(t, c.want[0] == FitFound, ok)
		})
	}
	_, ok := BestFit(nil)
	assert.False(t, ok)
}

// noisy sieves a law with an error of each mass.
func noisy(random *rand.Rand, law SizeLaw, relative float64) Sieving {
	test := stackOf(law)
	for i := range test.Sieves {
		test.Sieves[i].RetainedKg *= math.Exp(relative * random.NormFloat64())
	}
	return test.Analyse()
}

// The sums of squares are the least: a step aside makes each larger.
func TestFitsAreMinima(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 1))
	for range 50 {
		s := noisy(random, RRSB{120 * um, 1 + 2*random.Float64()}, 0.2)
		fits := FitSizes(s)
		law := fits[FitRRSBCurve].Law.(RRSB)
		for _, aside := range []RRSB{
			{law.SizeM * 1.001, law.Exponent},
			{law.SizeM / 1.001, law.Exponent},
			{law.SizeM, law.Exponent * 1.001},
			{law.SizeM, law.Exponent / 1.001},
		} {
			assert.Greater(t, s.misfit(aside), fits[FitRRSBCurve].Misfit)
		}
		assert.LessOrEqual(t, fits[FitRRSBCurve].Misfit, fits[FitRRSBLine].Misfit)

		probits := func(l LogNormal) (sum float64) {
			for i, row := range s.Rows {
				if row.Passing < 0.005 || row.Passing > 0.995 {
					continue
				}
				below := row.Passing
				if i+1 < len(s.Rows) {
					below = s.Rows[i+1].Retained
				}
				// the probit of what passes, from the quantile of the standard normal
				z := math.Log(LogNormal{1, math.E}.Quantile(row.Passing))
				sum += (row.Retained + below) / 2 * squared(z-math.Log(row.OpeningM/l.MedianM)/math.Log(l.GSD))
			}
			return sum
		}
		best := fits[FitLogNormal].Law.(LogNormal)
		for _, aside := range []LogNormal{
			{best.MedianM * 1.001, best.GSD},
			{best.MedianM / 1.001, best.GSD},
			{best.MedianM, best.GSD * 1.001},
			{best.MedianM, best.GSD / 1.001},
		} {
			assert.Greater(t, probits(aside), probits(best))
		}
	}
}

// The first of the four data sets of Anscombe, The American Statistician 27
// (1973) 17: slope 0.5001 with standard error 0.1179, R² 0.6665, intercept
// 3.0001 (as widely reprinted). It crosses 0 at -3.0001/0.5001.
func TestLineThroughPublishedPoints(t *testing.T) {
	var points curvePoints
	y := []float64{8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68}
	for i, x := range []float64{10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5} {
		points.add(x, y[i], 2)
	}
	fit, slope := points.fit(FitRRSBLine)
	const source = "Anscombe 1973"
	printed.Equal(t, "0.5001", math.Exp(slope.Value), source)
	printed.Equal(t, "0.1179", math.Exp(slope.Value)*slope.SD, source)
	printed.Equal(t, "0.6665", fit.R2, source)
	crossing := math.Log(fit.Size.Value)
	printed.Equal(t, "3.0001", -math.Exp(slope.Value)*crossing, source)
	// √(s²/11 + s²/110·(7.5009/0.50009)²)/0.50009 with s = 1.2366
	printed.Equal(t, "3.614", fit.Size.SD/fit.Size.Value, "propagation by hand")
	// t = 2.262157 for 9 degrees of freedom (tables)
	printed.Equal(t, "8.18", math.Log(fit.Size.High)-crossing, "2.262157·3.614")
	printed.Equal(t, "0.5333", slope.High-slope.Value, "2.262157·0.1179055/0.5000909")
	assert.Equal(t, 11, fit.Sieves)
	assert.False(t, fit.Exact)
}

// Standard deviations of x' and n in the published problem, by differences of
// the curve in x' and n themselves rather than in their logarithms.
func TestSpreadOfTheCurveFit(t *testing.T) {
	s := brezani()
	fit := FitSizes(s)[FitRRSBCurve]
	law := fit.Law.(RRSB)
	var aa, ab, bb, rss float64
	for _, row := range s.Rows {
		slope := func(d float64, a, b RRSB) float64 {
			return 100 * (a.Passing(row.OpeningM) - b.Passing(row.OpeningM)) / d
		}
		const h = 1e-5
		a := slope(2*h, RRSB{law.SizeM + h, law.Exponent}, RRSB{law.SizeM - h, law.Exponent})
		b := slope(2*h, RRSB{law.SizeM, law.Exponent + h}, RRSB{law.SizeM, law.Exponent - h})
		aa, ab, bb = aa+a*a, ab+a*b, bb+b*b
		rss += squared(100 * (law.Passing(row.OpeningM) - row.Passing))
	}
	det := aa*bb - ab*ab
	assert.InEpsilon(t, math.Sqrt(rss/8*bb/det), fit.Size.SD, 1e-6)
	assert.InEpsilon(t, math.Sqrt(rss/8*aa/det), fit.Shape.SD, 1e-6)
	// t = 2.306004 for 8 degrees of freedom (tables); about the logarithm
	assert.InEpsilon(t, law.SizeM*math.Exp(2.306004*fit.Size.SD/law.SizeM), fit.Size.High, 1e-6)
	assert.InEpsilon(t, law.SizeM*math.Exp(-2.306004*fit.Size.SD/law.SizeM), fit.Size.Low, 1e-6)
	assert.InEpsilon(t, law.Exponent*math.Exp(-2.306004*fit.Shape.SD/law.Exponent), fit.Shape.Low, 1e-6)
}

func TestIntervalsHoldTheirValue(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 2))
	for range 200 {
		for _, fit := range FitSizes(noisy(random, LogNormal{110 * um, 1.3 + random.Float64()}, 0.3)) {
			for _, p := range []SizeParameter{fit.Size, fit.Shape} {
				assert.True(t, 0 < p.Low && p.Low < p.Value && p.Value < p.High)
				assert.Positive(t, p.SD)
			}
			assert.True(t, fit.Kind != FitLogNormal || fit.Shape.Low > 1)
			assert.True(t, fit.bounded())
			assert.Len(t, fit.laws(), 5)
		}
	}
}

// An interval tells nothing from 1e4 times the value up, or from 1e-4 of it down.
func TestOpenParameter(t *testing.T) {
	inf := math.Inf(1)
	for p, open := range map[SizeParameter]bool{
		{2, 0, 2, 2}: false, {2, 1, 1, 1.9e4}: false, {2, 1, 1, 2.1e4}: true, {2, 1, 1, inf}: true,
		{2, 1, 2.1e-4, 3}: false, {2, 1, 1.9e-4, 3}: true, {2, 1, 0, 3}: true, {0, 0, 0, 0}: true,
	} {
		assert.Equal(t, open, p.Open(), "%v", p)
	}
	fit := SizeFit{Kind: FitLogNormal, Law: LogNormal{100 * um, 2}, Size: SizeParameter{100 * um, 0, 50 * um, 200 * um}, Shape: SizeParameter{2, 1, 1.0039, 1.56e41}}
	tail, ok := Tail([]SizeFit{fit}, 130*um, inf, Sphere(1350))
	assert.True(t, ok && tail.LowPerKg == 0 && tail.HighPerKg == MostPerKg(130*um, Sphere(1350)), "it bounds nothing: %v", tail)
}

// In larger units everything stays but the sizes; heavier charges change nothing.
func TestFitsScale(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 3))
	s := noisy(random, RRSB{120 * um, 1.5}, 0.2)
	larger := Sieving{Rows: append([]SieveRow(nil), s.Rows...)}
	for i := range larger.Rows {
		larger.Rows[i].OpeningM *= 1000
	}
	for i, want := range FitSizes(s) {
		got := FitSizes(larger)[i]
		assert.InEpsilon(t, 1000*want.Size.Value, got.Size.Value, 1e-8)
		assert.InEpsilon(t, 1000*want.Size.SD, got.Size.SD, 1e-6)
		assert.InEpsilon(t, want.Shape.Value, got.Shape.Value, 1e-8)
		assert.InEpsilon(t, want.Shape.SD, got.Shape.SD, 1e-6)
		assert.InEpsilon(t, want.Misfit, got.Misfit, 1e-6)
	}
}

// BenchmarkSieveAnalysis is everything a stack of 12 sieves is asked for.
func BenchmarkSieveAnalysis(b *testing.B) {
	random := rand.New(rand.NewPCG(5, 4))
	test := stackOf(RRSB{120 * um, 1.8})
	for i := range test.Sieves {
		test.Sieves[i].RetainedKg *= math.Exp(0.1 * random.NormFloat64())
	}
	b.ReportAllocs()
	for b.Loop() {
		s := test.Analyse()
		for _, p := range []float64{0.1, 0.5, 0.9} {
			s.Percentile(p)
		}
		fits := FitSizes(s)
		Tail(fits, 400e-6/3, LargestAperture(125*um), Sphere(1350))
	}
}

func squared(x float64) float64 { return x * x }
