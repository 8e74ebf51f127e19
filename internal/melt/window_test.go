package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestHeatMargin(t *testing.T) {
	for seconds, want := range map[float64]float64{
		-10: 10, 0: 10, 119: 10, 120: 10, 210: 15, 165: 12.5, 300: 20, 301: 20, 1e6: 20,
	} {
		assert.InDelta(t, want, HeatMargin(seconds), 1e-12, "%v s", seconds)
	}
	assert.Equal(t, 20.0, HeatMargin(math.NaN()), "not known: the wide one")
	assert.Equal(t, 20.0, HeatMargin(math.Inf(1)))
}

func TestHeatSeverity(t *testing.T) {
	printed.Same(t, 180, HeatSeverity(180, 473))
	assert.Zero(t, HeatSeverity(0, 520))
	// e to the power of 10·15000/(473·483) = 0.6565730 up, and of -0.6849346 down.
	printed.Equal(t, "1.928173", HeatSeverity(1, 483), arith)
	printed.Equal(t, "0.504123", HeatSeverity(1, 463), arith)
	printed.Equal(t, "125", 15000*GasConstantJMolK/1000, "kJ/mol, as quoted")
	printed.Same(t, HeatSeverity(300, 490), HeatSeverity(100, 490)+HeatSeverity(200, 490))
	printed.Same(t, ArrheniusFactor(473, 495, 15000*GasConstantJMolK)*60, HeatSeverity(60, 495))
	// 10 minutes at 200 °C are 3 at between 218 and 220 °C.
	assert.Less(t, HeatSeverity(180, 473+18), float64(SeverityLimitS))
	assert.Greater(t, HeatSeverity(180, 473+20), float64(SeverityLimitS))
}

var not = math.NaN()

func TestMeltWindow(t *testing.T) {
	pla := HeatLimits{LowK: 453, HighK: 493, OnsetK: 563}
	pbat := HeatLimits{LowK: 413, HighK: 453, OnsetK: not}
	olive := HeatLimits{LowK: not, HighK: not, OnsetK: 483}
	shell := HeatLimits{LowK: not, HighK: not, OnsetK: 873}
	unsaid := HeatLimits{not, not, not}
	for name, c := range map[string]struct {
		parts []HeatLimits
		timeS float64
		want  Window
		ok    bool
	}{
		"polymer alone":    {[]HeatLimits{pla}, 180, Window{453, 493, 0, 0, false}, true},
		"olive, short":     {[]HeatLimits{pla, olive}, 60, Window{453, 473, 0, 1, true}, true},
		"olive, long":      {[]HeatLimits{olive, pla}, 400, Window{453, 463, 1, 0, true}, true},
		"olive, not known": {[]HeatLimits{olive, pla}, not, Window{453, 463, 1, 0, true}, true},
		"shell":            {[]HeatLimits{unsaid, pla, shell}, 180, Window{453, 493, 1, 1, false}, true},
		"one temperature":  {[]HeatLimits{pla, pbat}, 180, Window{453, 453, 0, 1, false}, true},
		"empty": {
			[]HeatLimits{pla, pbat, {LowK: not, HighK: not, OnsetK: 460}},
			60,
			Window{453, 450, 0, 2, true},
			false,
		},
		"of equals the first": {[]HeatLimits{pla, pla}, 60, Window{453, 493, 0, 0, false}, true},
	} {
		t.Run(name, func(t *testing.T) {
			got, ok := MeltWindow(c.parts, c.timeS)
			assert.Equal(t, c.want, got)
			assert.Equal(t, c.ok, ok)
		})
	}
}

func TestMeltWindowThatIsNotKnown(t *testing.T) {
	for name, parts := range map[string][]HeatLimits{
		"nothing":   nil,
		"not said":  {{not, not, not}},
		"low only":  {{453, not, not}},
		"high only": {{not, 493, not}},
	} {
		w, ok := MeltWindow(parts, 180)
		assert.False(t, ok, name)
		assert.Equal(t, w.LowBy < 0, math.IsNaN(w.LowK), name)
		assert.Equal(t, w.HighBy < 0, math.IsNaN(w.HighK), name)
		assert.True(t, w.LowBy < 0 || w.HighBy < 0, name)
	}
}

// Each end is one that its constituent sets, no constituent is violated, one more
// constituent never widens the window, and longer in the melt never does either.
func TestMeltWindowProperties(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	maybe := func(k float64) float64 {
		if random.IntN(3) == 0 {
			return math.NaN()
		}
		return k + 30*random.Float64()
	}
	for range 1000 {
		parts := []HeatLimits{{LowK: 420, HighK: 500, OnsetK: not}}
		for range random.IntN(4) {
			parts = append(parts, HeatLimits{LowK: maybe(420), HighK: maybe(480), OnsetK: maybe(490)})
		}
		timeS := 600 * random.Float64()
		w, ok := MeltWindow(parts, timeS)
		assert.Equal(t, w.LowK <= w.HighK, ok)
		for _, p := range parts {
			assert.False(t, p.LowK > w.LowK || p.HighK < w.HighK || p.OnsetK-HeatMargin(timeS) < w.HighK)
		}
		assert.Equal(t, parts[w.LowBy].LowK, w.LowK)
		if w.ByOnset {
			assert.Equal(t, parts[w.HighBy].OnsetK-HeatMargin(timeS), w.HighK)
		} else {
			assert.Equal(t, parts[w.HighBy].HighK, w.HighK)
		}
		fewer, _ := MeltWindow(parts[:1], timeS)
		longer, _ := MeltWindow(parts, timeS+100)
		assert.True(t, fewer.LowK <= w.LowK && fewer.HighK >= w.HighK)
		assert.True(t, longer.LowK == w.LowK && longer.HighK <= w.HighK)
	}
}
