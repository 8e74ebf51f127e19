package line_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"

	"fillwright/internal/line"
	"fillwright/internal/printed"
)

var laws = map[string]line.Washout{
	"plug and mixed": line.PlugMixed{PlugShare: 0.5}, "mixed": line.PlugMixed{}, "pipe": line.LaminarPipe{}, "screw": line.PintoTadmor{},
}

// TestPintoTadmorTable holds the law against values of the published equations,
// worked out without the program.
func TestPintoTadmorTable(t *testing.T) {
	const source = "equations of Pinto and Tadmor 1970, evaluated by themselves"
	for theta, want := range map[float64]string{0.8: ".427778", 1: ".763033", 1.2: ".866619", 1.5: ".929231", 2: ".966553", 3: ".987393"} {
		printed.Equal(t, "0"+want, line.PintoTadmor{}.New(theta), source)
	}
	assert.Zero(t, line.PintoTadmor{}.New(0.75), "F(2/3) = 0")
	assert.InDelta(t, 0, line.PintoTadmor{}.New(0.7500001), 1e-3)
	assert.InDelta(t, 1, line.PintoTadmor{}.New(1e9), 1e-9, "F(1) = 1")
}

func TestPurgeTable(t *testing.T) {
	const source = "laws of washout, solved for the time without the program"
	for _, c := range []struct {
		rest                   float64
		screw, pipe, half, all string
	}{
		{0.05, "1.709", "2.236", "1.998", "2.996"},
		{0.01, "3.317", "5.000", "2.803", "4.605"},
		{0.001, "9.57", "15.8", "3.95", "6.91"},
	} {
		printed.Equal(t, c.screw, line.PintoTadmor{}.Theta(c.rest), source)
		printed.Equal(t, c.pipe, line.LaminarPipe{}.Theta(c.rest), source)
		printed.Equal(t, c.half, line.PlugMixed{PlugShare: 0.5}.Theta(c.rest), source)
		printed.Equal(t, c.all, line.PlugMixed{}.Theta(c.rest), source)
	}
}

func TestWashoutLaws(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for name, law := range laws {
		assert.Zero(t, law.New(0), name)
		before := 0.0
		for theta := 0.0; theta < 20; theta += 0.01 {
			now := law.New(theta)
			require.GreaterOrEqual(t, now, before-1e-12, "%s at %g", name, theta)
			require.LessOrEqual(t, now, 1.0, name)
			before = now
		}
		for range 200 {
			rest := math.Pow(10, -4*random.Float64()) * 0.99
			require.InDelta(t, 1-rest, law.New(law.Theta(rest)), 1e-9, "%s: %g left", name, rest)
		}
	}
}

// TestMeanOfWashoutIsOne: the mean of θ is ∫ (1 - F) dθ, which is 1 by definition.
// Beyond the end, the rest of pipe and screw falls as 1/(4θ²) and slower; it is
// integrated over 1/θ.
func TestMeanOfWashoutIsOne(t *testing.T) {
	for name, law := range laws {
		left := func(theta float64) float64 { return 1 - law.New(theta) }
		mean := 0.0
		for i := range 400 {
			a := float64(i) / 100
			mean += quad.Fixed(left, a, a+0.01, 8, nil, 0)
		}
		for i := range 200 { // from 4 on, over v = 1/θ
			a := 0.25 * float64(i) / 200
			mean += quad.Fixed(func(v float64) float64 { return left(1/v) / (v * v) }, a, a+0.25/200, 8, nil, 0)
		}
		assert.InDelta(t, 1, mean, 2e-4, name)
	}
}

func TestPlugShareComesBack(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 60 {
		want, mean := 0.05+0.8*random.Float64(), 100+500*random.Float64()
		var samples []line.Sample
		for theta := 0.3; theta < 3; theta += 0.2 {
			fresh := line.PlugMixed{PlugShare: want}.New(theta) + 0.004*(random.Float64()-0.5)
			samples = append(samples, line.Sample{TimeS: theta * mean, New: math.Min(1, math.Max(0, fresh))})
		}
		share, u, ok := line.FitPlugShare(samples, mean)
		require.True(t, ok)
		assert.InDelta(t, want, share, 0.01)
		assert.Less(t, math.Abs(share-want), 4*u+1e-9)
	}
}

func TestPlugShareRefuses(t *testing.T) {
	good := []line.Sample{{300, 0.4}, {600, 0.9}, {900, 0.99}}
	for name, c := range map[string]struct {
		samples []line.Sample
		mean    float64
	}{
		"one sample":     {good[:1], 300},
		"no mean":        {good, math.NaN()},
		"above all":      {append([]line.Sample{{100, 1.2}}, good...), 300},
		"before it came": {append([]line.Sample{{-1, 0}}, good...), 300},
		"too late":       {good, 100},
	} {
		_, _, ok := line.FitPlugShare(c.samples, c.mean)
		assert.False(t, ok, name)
	}
}

func TestPlugShareFromStable(t *testing.T) {
	for _, p := range []float64{0, 0.2, 0.5, 0.9} {
		share, ok := line.PlugShareFromStable(250*line.PlugMixed{PlugShare: p}.Theta(0.01), 0.01, 250)
		require.True(t, ok)
		assert.InDelta(t, p, share, 1e-12)
	}
	for name, timeS := range map[string]float64{"at the mean": 250, "before it": 100, "later than if all were mixed": 1200, "not known": math.NaN()} {
		_, ok := line.PlugShareFromStable(timeS, 0.01, 250)
		assert.False(t, ok, name)
	}
}

func TestSmoothing(t *testing.T) {
	printed.Equal(t, "0.0793", line.Smoothing(60, 30), arithmetic)
	printed.Equal(t, "0.8467", line.Smoothing(60, 600), arithmetic)
	assert.Equal(t, 1.0, line.Smoothing(0, 600), "nothing is mixed")
}

func BenchmarkPintoTadmorTheta(b *testing.B) {
	for b.Loop() {
		_ = line.PintoTadmor{}.Theta(0.01)
	}
}

// What is purged to 99 %: 0.99/4.60517 = 0.214976 of it is old without a plug, and as the
// integral of the washout says with one.
func TestOldInPurge(t *testing.T) {
	printed.Equal(t, "0.214976", line.PlugMixed{}.OldInPurge(0.01), arithmetic)
	for _, plug := range []float64{0, 0.2, 0.5, 0.9} {
		law := line.PlugMixed{PlugShare: plug}
		end, old := law.Theta(0.01), 0.0
		const steps = 200000
		for i := range steps { // midpoints
			old += (1 - law.New((float64(i)+0.5)/steps*end)) / steps
		}
		assert.InEpsilon(t, old, law.OldInPurge(0.01), 1e-5, "plug share %g", plug)
	}
	assert.Greater(t, line.PlugMixed{PlugShare: 0.9}.OldInPurge(0.01), 0.6, "a plug pushes the old out first")
}
