package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const noiseM = 12e-6

// noise is a made log: noise of 12 µm alone.
func noise(n int, seed uint64) []float64 {
	random := rand.New(rand.NewPCG(seed, 7))
	x := make([]float64, n)
	for i := range x {
		x[i] = 1.75e-3 + noiseM*random.NormFloat64()
	}
	return x
}

// waves adds waves of 10 µm every 1885 readings and of 8 µm every 300, and drift.
func waves(x []float64) []float64 {
	for i := range x {
		x[i] += 10e-6*math.Sin(float64(i)/300+1) + 8e-6*math.Sin(2*math.Pi*float64(i)/300) + 1e-10*float64(i)
	}
	return x
}

// findLumps feeds a log in pieces, as Scan does.
func findLumps(x []float64) []Lump {
	l := newLumps(x[:min(len(x), 4096)])
	for from := 0; from < len(x); from += 5000 {
		piece := x[from:min(from+5000, len(x))]
		at := make([]float64, len(piece))
		for i := range at {
			at[i] = float64(from + i)
		}
		l.add(at, piece, make([]bool, len(piece)))
	}
	return l.result(1)
}

func TestLumpsOfNoiseAndWavesAreNone(t *testing.T) {
	const n, logs = 1_000_000, 3
	found := 0
	for seed := range uint64(logs) {
		found += len(findLumps(noise(n, seed))) + len(findLumps(waves(noise(n, 50+seed))))
	}
	assert.Less(t, found, 2*n*logs/100_000, "false alarms in %d readings", 2*n*logs)
}

// What stands out by 3 standard deviations of the noise over 16 readings is found
// without a miss; a shorter one must be higher, for chance makes such too, and in waves
// it must be higher than these.
func TestLumpsAreFound(t *testing.T) {
	for _, c := range []struct {
		readings int
		height   float64 // in standard deviations of the noise
		waves    bool
	}{
		{1, 9, false},
		{1, -9, false},
		{4, 5.2, false},
		{16, 3, false},
		{16, -3, false},
		{64, 3, false},
		{200, 3, false},
		{400, -3, false},
		{1, 11, true},
		{4, 8, true},
		{16, 6, true},
		{64, -6, true},
	} {
		x := noise(200_000, 11)
		if c.waves {
			x = waves(x)
		}
		var want []int
		for at := 3000; at < len(x)-3000; at += 7001 {
			want = append(want, at)
			for i := range c.readings {
				x[at+i] += c.height * noiseM
			}
		}
		found := findLumps(x)
		i := 0
		for _, at := range want {
			for i < len(found) && found[i].To < float64(at) {
				i++
			}
			if !assert.True(t, i < len(found) && found[i].From <= float64(at+c.readings), "%+v at %d", c, at) {
				break
			}
			assert.Equal(t, c.height > 0, found[i].HeightM > 0)
			assert.InDelta(t, c.height*noiseM, found[i].HeightM, 5*noiseM)
			assert.LessOrEqual(t, found[i].Readings, int64(c.readings+130))
		}
		assert.InDelta(t, len(want), len(found), 3, "%+v", c)
	}
}

func TestLumpsTellPlaceHeightAndLength(t *testing.T) {
	x := waves(noise(50_000, 5))
	for i := range 30 {
		x[20_000+i] += 200e-6
		x[40_000+i] -= 150e-6
	}
	x[123] += 400e-6 // within the first window
	x[49_990] -= 400e-6
	found := findLumps(x)
	require.Len(t, found, 4)
	for i, want := range []Lump{
		{From: 123, To: 123, HeightM: 400e-6, Readings: 1},
		{From: 20_000, To: 20_029, HeightM: 200e-6, Readings: 30},
		{From: 40_000, To: 40_029, HeightM: -150e-6, Readings: 30},
		{From: 49_990, To: 49_990, HeightM: -400e-6, Readings: 1},
	} {
		assert.InDelta(t, want.From, found[i].From, 1)
		assert.InDelta(t, want.To, found[i].To, 1)
		assert.InDelta(t, want.HeightM, found[i].HeightM, 50e-6)
		assert.InDelta(t, want.Readings, found[i].Readings, 2)
	}
}

func TestLumpsOfAShortLog(t *testing.T) {
	x := []float64{1.74, 1.76, 1.75, 1.78, 1.73, 1.75, 1.77, 1.74, 1.76, 1.72, 1.75, 1.76, 1.74, 2.4, 1.75, 1.73, 1.77, 1.75, 1.76, 1.74, 1.75}
	for i := range x {
		x[i] *= 1e-3
	}
	found := findLumps(x)
	require.Len(t, found, 1)
	assert.InDelta(t, 13, found[0].At, 0)
	assert.InDelta(t, 2.4e-3, found[0].PeakM, 1e-12)
	assert.Empty(t, findLumps(x[:10]), "too few to tell")
}

// A gauge that shows few steps makes most distances 0; one step more is no lump.
func TestLumpsOfACoarseGauge(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	x := make([]float64, 20_000)
	for i := range x {
		x[i] = 1.75e-3
		if random.Float64() < 0.1 {
			x[i] += 10e-6
		}
	}
	assert.Empty(t, findLumps(x))
}
