package trace

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func findAll(x []float64, variance float64) []Wave {
	w := newWelch(mostLevel)
	w.add(x, make([]bool, len(x)))
	return findWaves(levelsOf(w), variance)
}

// A pure sine comes out with its amplitude within 1 % and its period within 0.5 %,
// wherever between two bins it lies, whatever the length of the log.
func TestWavesOfAPureSine(t *testing.T) {
	for _, n := range []int{2000, 20_000, 300_000, 2_000_000} {
		for _, period := range []float64{2.7, 7.3, 31.7, 100, 233.3, 260, 300, 900, 1885, 4000, 12_345, 50_000} {
			if float64(n) < 60*period {
				continue
			}
			t.Run(fmt.Sprintf("%d readings, period %g", n, period), func(t *testing.T) {
				x := make([]float64, n)
				for i := range x {
					x[i] = 1.75e-3 + 10e-6*math.Sin(2*math.Pi*float64(i)/period+0.3)
				}
				found := findAll(x, 10e-6*10e-6/2)
				require.NotEmpty(t, found)
				assert.InEpsilon(t, 10e-6, found[0].AmplitudeM, 0.01)
				assert.InEpsilon(t, period, found[0].Period, 0.005)
				assert.InDelta(t, 1, found[0].Share, 0.02)
				if len(found) > 1 {
					assert.Less(t, found[1].AmplitudeM, 0.05*10e-6, "%+v", found[1])
				}
			})
		}
	}
}

func TestWavesOfNoiseAreNone(t *testing.T) {
	for seed := range uint64(10) {
		assert.Empty(t, findAll(noise(200_000, seed), noiseM*noiseM))
	}
}

func TestWavesInNoise(t *testing.T) {
	found := findAll(waves(noise(400_000, 3)), 0)
	require.GreaterOrEqual(t, len(found), 2)
	assert.InEpsilon(t, 2*math.Pi*300, found[0].Period, 0.01)
	assert.InEpsilon(t, 10e-6, found[0].AmplitudeM, 0.05)
	assert.InEpsilon(t, 300, found[1].Period, 0.01)
	assert.InEpsilon(t, 8e-6, found[1].AmplitudeM, 0.05)
}

// A wave in a half of a long log counts half, whichever half it is, though not every
// segment is taken.
func TestWavesOfHalfALog(t *testing.T) {
	for _, first := range []bool{true, false} {
		x := make([]float64, 6_000_000)
		for i := range x {
			x[i] = 1.75e-3
			if first == (i < len(x)/2) {
				x[i] += 10e-6 * math.Sin(2*math.Pi*float64(i)/100)
			}
		}
		found := findAll(x, 0)
		require.NotEmpty(t, found)
		assert.InEpsilon(t, 10e-6/math.Sqrt2, found[0].AmplitudeM, 0.03, "in the first half: %v", first)
	}
}

func TestMatchTurning(t *testing.T) {
	parts := []Turning{{Key: "screw", PeriodS: 3}, {Key: "puller", PeriodS: 4.1, SpreadS: 0.3}, {Key: "unknown"}}
	for _, c := range []struct {
		period float64
		want   string
	}{
		{3.05, "screw 1/1"}, {3.2, ""}, {1.5, "screw 1/2"}, {1, "screw 1/3"}, {6, "screw 2/1"}, {4.35, "puller 1/1"}, {2.05, "puller 1/2"}, {9, ""},
	} {
		text := ""
		for _, m := range MatchTurning(c.period, parts) {
			text += fmt.Sprintf("%s %d/%d", m.Turning.Key, m.Turns, m.Times)
		}
		assert.Equal(t, c.want, text, "%g s", c.period)
	}
}
