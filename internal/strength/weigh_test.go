package strength

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestBandShare(t *testing.T) {
	inf := math.Inf(1)
	for _, tt := range []struct {
		name                string
		points, plain, band float64
		apart               float64
		want                float64
	}{
		{"as certain as each other", 1, 0, 1, 0, 0},
		{"points twice as certain", 0.5, 0, 1, 0, 0},
		{"band three times as certain", 3, 0, 1, 0, 0.8},
		{"as far apart as both allow", 4, 0, 3, -5, 0.28},
		{"the plain polymer as uncertain as the points", 2, 2, 1, 0, 7.0 / 9},
		{"plain polymer hardly known", 0, 3, 1, 0, 0.8},
		{"points off the band", 4, 0, 1, 5, 0.28},
		{"points below the band", 4, 0, 1, -5, 0.28},
		{"points far off the band", 4, 0, 1, 6, 0},
		{"exact points", 0, 0, 1, 0, 0},
		{"points without end", inf, 0, 1, 0, 1},
		{"plain polymer not known at all", 1, inf, 1, 9, 1},
		{"band without width", 1, 0, 0, 0.5, 1},
		{"band without width, points off it", 4, 0, 0, 5, 0.28},
		{"band without end", 1, 1, inf, 0, 0},
		{"without end apart", 1, 1, 1, inf, 0},
		{"all exact", 0, 0, 0, 0, 0},
	} {
		printed.Same(t, tt.want, BandShare(tt.points, tt.plain, tt.band, tt.apart), tt.name)
	}
	nan := math.NaN()
	for _, u := range [][4]float64{{-1, 0, 1, 0}, {1, -1, 1, 0}, {1, 0, -1, 0}, {nan, 0, 1, 0}, {1, nan, 1, 0}, {1, 0, nan, 0}, {1, 0, 1, nan}, {inf, 0, 1, nan}} {
		assert.True(t, math.IsNaN(BandShare(u[0], u[1], u[2], u[3])), u)
	}
}

// Points that do not contradict the band, however bad, leave B no less certain than the band
// alone; those that are known better stand as they were measured.
func TestPointsNeverCostCertainty(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		size := func() float64 { return math.Pow(10, 6*random.Float64()-3) }
		points, plain, band := size(), size(), size()
		all := math.Hypot(points, plain)
		apart := (2*random.Float64() - 1) * math.Hypot(all, band)
		share := BandShare(points, plain, band, apart)
		assert.True(t, share >= 0 && share <= 1)
		assert.LessOrEqual(t, math.Hypot((1-share)*all, share*band), band*(1+1e-9))
		assert.Equal(t, all <= band, share == 0, "what was measured well stands")
		assert.LessOrEqual(t, share, BandShare(2*points, plain, band, apart)+1e-12, "worse points count for less")
		assert.GreaterOrEqual(t, share, BandShare(points, plain, band, 3*math.Hypot(all, band)), "a band that is contradicted counts for less")
		assert.Zero(t, BandShare(1e-6*band, 0, band, 0))
		assert.Greater(t, BandShare(1e6*band, 0, band, 0), 1-1e-11)
	}
}
