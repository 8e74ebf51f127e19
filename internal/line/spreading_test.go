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

	large := line.Grains{SizeM: 80e-6, DensityKgM3: 1350, AdhesionM: 75e-6, FinerShare: 0.9}
	limit, byAdhesion = line.PickUpLimit(large, 0.55, whole)
	assert.InEpsilon(t, line.MonolayerCapacity(75e-6, 1350, 0.55, whole), limit, 1e-12, "a layer is of what adheres")
	assert.False(t, byAdhesion)

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
	limit, _ = line.PickUpLimit(g, 0.55, line.MixedSurface(whole, ground, share-1e-6))
	assert.Less(t, limit, 0.10, "and less does not do")
	_, ok = line.GroundShareFor(0.5, g, 0.55, whole, ground)
	assert.False(t, ok, "too much for all of them ground")
	_, ok = line.GroundShareFor(math.NaN(), g, 0.55, whole, ground)
	assert.False(t, ok, "not known how much")
	before := 0.0
	for loading := 0.03; loading < 0.2; loading += 0.01 {
		share, ok := line.GroundShareFor(loading, g, 0.55, whole, ground)
		require.True(t, ok)
		require.GreaterOrEqual(t, share, before, "more powder needs no less ground")
		before = share
	}
}

// Olive-stone flour of which 63 % is finer than what adheres: 5 % sits on whole
// pellets, 10 % falls off, and grinding does not help against that. Finer flour is
// held by its layer, and there it does.
func TestFlourOnPellets(t *testing.T) {
	flour := line.Grains{SizeM: 70e-6, DensityKgM3: 1350, AdhesionM: 75e-6, FinerShare: 0.63}
	limit, byAdhesion := line.PickUpLimit(flour, 0.55, whole)
	assert.True(t, limit > 0.05 && limit < 0.10 && byAdhesion)
	_, ok := line.GroundShareFor(0.10, flour, 0.55, whole, ground)
	assert.False(t, ok)

	flour.FinerShare = 0.95
	limit, byAdhesion = line.PickUpLimit(flour, 0.55, whole)
	assert.True(t, limit > 0.05 && limit < 0.10 && !byAdhesion)
	share, ok := line.GroundShareFor(0.10, flour, 0.55, whole, ground)
	assert.True(t, ok && share > 0 && share < 1)
}

// TestRandomMix has pellets of 25 mg, balls of 0.5 mm (0.0812 mg) and balls of 80 µm
// at 1.35 g/cm³. With cubes of 0.5 mm (0.155 mg) it would be 1.119, 0.354 and 0.204 %.
func TestRandomMix(t *testing.T) {
	grain := 1350 * math.Pi / 6 * math.Pow(80e-6, 3)
	balls := pla * math.Pi / 6 * math.Pow(0.5e-3, 3)
	for i, sample := range []float64{1e-3, 10e-3, 30e-3} {
		printed.Equal(t, []string{"14.14", "4.47", "2.58"}[i], 100*line.RandomMixRSD(0.2, 25e-6, grain, sample), arithmetic)
		printed.Equal(t, []string{"0.813", "0.257", "0.148"}[i], 100*line.RandomMixRSD(0.2, balls, grain, sample), arithmetic)
	}
	printed.Equal(t, "0.0289", line.SecondPassFactor(30e-3/25e-6), arithmetic)
	assert.Equal(t, 1.0, line.SecondPassFactor(0.1), "less than a pellet evens nothing out")
}

// Of pieces of one mass a sample is so many draws: the spread is that of the binomial.
func TestRandomMixOfEqualPieces(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	for range 100 {
		x, n := 0.01+0.98*random.Float64(), 10+1e5*random.Float64()
		piece, powder := 1e-6, 1e-9*random.Float64()
		require.InEpsilon(t, math.Sqrt((1-x)/(x*n)), line.RandomMixRSD(x, piece, piece, n*piece), 1e-9)
		one, four := line.RandomMixRSD(x, piece, powder, 1e-3), line.RandomMixRSD(x, piece, powder, 4e-3)
		require.InEpsilon(t, one, 2*four, 1e-12, "four times the sample halves it")
		require.InEpsilon(t, one*x, line.RandomMixRSD(1-x, powder, piece, 1e-3)*(1-x), 1e-9, "either part varies as much")
		require.Greater(t, line.RandomMixRSD(x, 2*piece, powder, 1e-3), one, "larger pellets spread it less evenly")
	}
}

func TestLacey(t *testing.T) {
	random := math.Sqrt(0.2 * 0.8 / 5000)
	printed.Equal(t, "0.998794", line.Lacey(0.015, 0.2, random), arithmetic)
	assert.InDelta(t, 1, line.Lacey(random, 0.2, random), 1e-12, "a perfect random mix")
	assert.InDelta(t, 0, line.Lacey(0.4, 0.2, random), 1e-12, "not mixed at all")
	assert.Greater(t, line.Lacey(random/2, 0.2, random), 1.0, "more even than chance")
	for name, v := range map[string]float64{
		"samples of less than a piece": line.Lacey(0.1, 0.2, 0.4), "nothing in it": line.Lacey(0, 0, 0),
		"more than all": line.Lacey(0.1, 1.2, 0.01), "not known": line.Lacey(0.1, 0.2, math.NaN()),
	} {
		assert.True(t, math.IsNaN(v), name)
	}
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
	tenth := make([]float64, len(contents))
	for i := range contents {
		tenth[i] = contents[i] / 10
	}
	small, ok := line.RelativeSD(tenth)
	require.True(t, ok)
	assert.InEpsilon(t, s.RSD, small.RSD, 1e-9, "relative to the mean")
	assert.InEpsilon(t, s.High, small.High, 1e-9)
	for _, few := range [][]float64{nil, {0.1}, {0, 0}} {
		_, ok := line.RelativeSD(few)
		assert.False(t, ok)
	}
	printed.Equal(t, "27.3", line.SamplesNeeded(0.08, 0.03), arithmetic)
	printed.Equal(t, "24.0", line.SamplesNeeded(0.05, 0.02), arithmetic)
	assert.Equal(t, 28.0, math.Ceil(line.SamplesNeeded(0.08, 0.03)))
	assert.Equal(t, 25.0, math.Ceil(line.SamplesNeeded(0.05, 0.02)), "it is 24.009, so that 24 are too few")
}

func TestHopper(t *testing.T) {
	printed.Equal(t, "576.9", line.BulkOfMix(0.2, 300, 750), arithmetic)
	assert.True(t, line.Segregates(300, 750))
	assert.True(t, line.Segregates(1600, 750), "powder that is heavier parts too")
	assert.False(t, line.Segregates(400, 750))
	assert.True(t, line.SegregatesBySize(3e-3, 0.5e-3), "whole and ground pellets")
	assert.True(t, line.SegregatesBySize(0.5e-3, 3e-3), "whichever is named first")
	assert.False(t, line.SegregatesBySize(3e-3, 2.5e-3), "pellets of two makers")
	random := rand.New(rand.NewPCG(4, 1))
	for range 100 {
		w, powder, pellets := random.Float64(), 200+1000*random.Float64(), 200+1000*random.Float64()
		mix := line.BulkOfMix(w, powder, pellets)
		require.True(t, mix >= math.Min(powder, pellets)*(1-1e-12) && mix <= math.Max(powder, pellets)*(1+1e-12))
		require.InEpsilon(t, mix, line.BulkOfMix(1-w, pellets, powder), 1e-12)
	}
}
