package line_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/line"
	"fillwright/internal/printed"
)

const pla = 1240

var (
	whole  = line.CylinderSurface(3e-3, 3e-3, pla)
	ground = line.GrindSurface(0.5e-3, pla)
)

func TestSurfaces(t *testing.T) {
	printed.Equal(t, "16.1290", whole*10, arithmetic)
	printed.Equal(t, "96.7742", ground*10, arithmetic)
	printed.Equal(t, "96.7742", line.CylinderSurface(0.5e-3, 0.5e-3, pla)*10, "a cylinder as long as it is wide")
	assert.InEpsilon(t, (whole+ground)/2, line.MixedSurface(whole, ground, 0.5), 1e-12)
	printed.Equal(t, "387.5", line.CoatThickness(0.2, 400, whole)*1e6, arithmetic)
	printed.Equal(t, "64.6", line.CoatThickness(0.2, 400, ground)*1e6, arithmetic)
}

func TestMonolayer(t *testing.T) {
	printed.Equal(t, "6.004", 100*line.MonolayerCapacity(80e-6, 1350, 0.55, whole), arithmetic)
	printed.Equal(t, "27.705", 100*line.MonolayerCapacity(80e-6, 1350, 0.55, ground), arithmetic)
}

func TestPickUpLimit(t *testing.T) {
	fine := line.Grains{SizeM: 60e-6, DensityKgM3: 1350, AdhesionM: 75e-6, FinerShare: 1}
	limit, byAdhesion := line.PickUpLimit(fine, 0.55, whole)
	assert.InEpsilon(t, line.MonolayerCapacity(60e-6, 1350, 0.55, whole), limit, 1e-12, "all of it adheres")
	assert.False(t, byAdhesion)

	coarse := fine
	coarse.FinerShare = 0.5
	limit, byAdhesion = line.PickUpLimit(coarse, 0.55, ground)
	assert.InEpsilon(t, 0.04/1.04, limit, 1e-12, "half of 4 % falls off, which is the 2 %")
	assert.True(t, byAdhesion)

	unknown := line.Grains{SizeM: 120e-6, DensityKgM3: 1350, AdhesionM: 75e-6, FinerShare: math.NaN()}
	limit, byAdhesion = line.PickUpLimit(unknown, 0.55, ground)
	assert.InEpsilon(t, 0.02/1.02, limit, 1e-12, "the median is too coarse, so all of it counts as such")
	assert.True(t, byAdhesion)

	random := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		g := line.Grains{SizeM: (20 + 200*random.Float64()) * 1e-6, DensityKgM3: 1000 + 2000*random.Float64(), AdhesionM: 75e-6, FinerShare: random.Float64()}
		surface := 1 + 20*random.Float64()
		low, _ := line.PickUpLimit(g, 0.5, surface)
		more, _ := line.PickUpLimit(g, 0.5, surface*1.5)
		require.GreaterOrEqual(t, more, low, "more surface carries no less")
		g.FinerShare += (1 - g.FinerShare) / 2
		finer, _ := line.PickUpLimit(g, 0.5, surface)
		require.GreaterOrEqual(t, finer, low, "a finer powder falls off no sooner")
		require.True(t, low > 0 && low < 1)
	}
}

func TestGroundShare(t *testing.T) {
	g := line.Grains{SizeM: 60e-6, DensityKgM3: 1350, AdhesionM: 75e-6, FinerShare: 1}
	share, ok := line.GroundShareFor(0.03, g, 0.55, whole, ground)
	assert.True(t, ok && share == 0, "whole pellets do")
	share, ok = line.GroundShareFor(0.10, g, 0.55, whole, ground)
	require.True(t, ok)
	limit, _ := line.PickUpLimit(g, 0.55, line.MixedSurface(whole, ground, share))
	assert.InDelta(t, 0.10, limit, 1e-9, "just enough")
	_, ok = line.GroundShareFor(0.5, g, 0.55, whole, ground)
	assert.False(t, ok, "too much for all of them ground")
}

// TestRandomMix has the masses of 25 mg pellets, cubes of 0.5 mm (0.155 mg), and
// spheres of 80 µm at 1.35 g/cm³.
func TestRandomMix(t *testing.T) {
	grain := 1350 * math.Pi / 6 * math.Pow(80e-6, 3)
	cubes := pla * math.Pow(0.5e-3, 3)
	balls := cubes * math.Pi / 6
	for i, sample := range []float64{1e-3, 10e-3, 30e-3} {
		printed.Equal(t, []string{"14.14", "4.47", "2.58"}[i], 100*line.RandomMixRSD(0.2, 25e-6, grain, sample), arithmetic)
		printed.Equal(t, []string{"0.813", "0.257", "0.148"}[i], 100*line.RandomMixRSD(0.2, balls, grain, sample), arithmetic)
	}
	assert.Greater(t, cubes, balls)
	printed.Equal(t, "0.0289", line.SecondPassFactor(30e-3/25e-6), arithmetic)
	assert.Equal(t, 1.0, line.SecondPassFactor(0.1), "less than a pellet evens nothing out")
}

func TestLacey(t *testing.T) {
	random := math.Sqrt(0.2 * 0.8 / 5000)
	printed.Equal(t, "0.998794", line.Lacey(0.015, 0.2, random), arithmetic)
	assert.InDelta(t, 1, line.Lacey(random, 0.2, random), 1e-12, "a perfect random mix")
	assert.InDelta(t, 0, line.Lacey(0.4, 0.2, random), 1e-12, "not mixed at all")
}

func TestSpreadOfLoadings(t *testing.T) {
	contents := []float64{.096, .104, .099, .108, .093, .101, .097, .105, .100, .102}
	s, ok := line.RelativeSD(contents)
	require.True(t, ok)
	assert.InDelta(t, 0.1005, s.Mean, 1e-12)
	assert.InEpsilon(t, s.RSD*0.6878, s.Low, 1e-4, "χ² of 9 at 0.975 is 19.023 (tables)")
	assert.InEpsilon(t, s.RSD*1.8256, s.High, 1e-4, "χ² of 9 at 0.025 is 2.700 (tables)")
	low, high := line.SDFactors(10, 0.90)
	printed.Equal(t, "0.729", low, "χ² of 9 at 0.95 is 16.919 (tables)")
	printed.Equal(t, "1.645", high, "χ² of 9 at 0.05 is 3.325 (tables)")
	for _, few := range [][]float64{nil, {0.1}, {0, 0}} {
		_, ok := line.RelativeSD(few)
		assert.False(t, ok)
	}
	printed.Equal(t, "27.3", line.SamplesNeeded(0.08, 0.03), arithmetic)
	printed.Equal(t, "24.0", line.SamplesNeeded(0.05, 0.02), arithmetic)
}

func TestHopper(t *testing.T) {
	printed.Equal(t, "576.9", line.BulkOfMix(0.2, 300, 750), arithmetic)
	assert.True(t, line.Segregates(300, 750))
	assert.True(t, line.Segregates(1600, 750), "powder that is heavier parts too")
	assert.False(t, line.Segregates(400, 750))
}
