package filler

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

const um = 1e-6

// numberedText is the numbered part of ASTM E11 (from memory, confirm; Nos. 200,
// 325, 400, 500 and 635 as read in a mesh converter): number, opening in µm and
// the opening of old charts.
const numberedText = `3.5 5600 5660; 4 4750 4760; 5 4000 4000; 6 3350 3360; 7 2800 2830; 8 2360 2380; 10 2000 2000;
12 1700 1680; 14 1400 1410; 16 1180 1190; 18 1000 1000; 20 850 841; 25 710 707; 30 600 595; 35 500 500; 40 425 420;
45 355 354; 50 300 297; 60 250 250; 70 212 210; 80 180 177; 100 150 149; 120 125 125; 140 106 105; 170 90 88; 200 75 74;
230 63 63; 270 53 53; 325 45 44; 400 38 37; 450 32 0; 500 25 0; 635 20 0`

func TestNumberedSieves(t *testing.T) {
	rows := strings.Split(numberedText, ";")
	require.Len(t, rows, 33)
	for _, row := range rows {
		var number string
		var opening, legacy float64
		_, err := fmt.Sscan(row, &number, &opening, &legacy)
		require.NoError(t, err)
		s, ok := SieveByMesh("No. " + number)
		require.True(t, ok, number)
		assert.Equal(t, opening, math.Round(1e10*s.OpeningM)/1e4, number)
		assert.Equal(t, legacy, math.Round(1e10*s.LegacyOpeningM)/1e4, number)
	}
	numbered := 0
	for _, s := range sieves() {
		if s.Mesh != "" {
			numbered++
		}
	}
	assert.Equal(t, 33, numbered)
}

// Each numbered sieve of old was 2^(1/4) wider than the next, from 1 mm.
func TestLegacyOpeningsAreFourthRootsOfTwo(t *testing.T) {
	k := 10
	for _, s := range sieves() {
		if s.LegacyOpeningM == 0 {
			continue
		}
		digits := 3
		if s.LegacyOpeningM < 100*um {
			digits = 2
		}
		old := strconv.FormatFloat(1e3*s.LegacyOpeningM, 'e', digits-1, 64)
		printed.Equal(t, old, math.Pow(2, float64(k)/4), "fourth roots of two, "+s.Mesh)
		k--
	}
	assert.Equal(t, -20, k, "down to No. 400")
}

// The openings of ISO 565 are preferred numbers, rounded: 10^(k/20) in R20, of which
// every third is in R20/3, 10^(3k/40) in R40/3, 10^(k/10) in R'10.
func TestSeriesArePreferredNumbers(t *testing.T) {
	require.Len(t, seriesR20, 72)
	r40 := slices.Clone(seriesR40Over3Only)
	for i := 0; i < len(seriesR20); i += 3 {
		r40 = append(r40, seriesR20[i])
	}
	slices.SortFunc(r40, func(a, b int) int { return b - a })
	for _, c := range []struct {
		openings      []int
		coarse, fine  int
		start, step   float64 // logarithms
		count, within int     // per mille
	}{
		{seriesR20, 125000, 36, 5.1, 1. / 20, 72, 21},
		{r40, 125000, 38, 5.1, 3. / 40, 48, 13},
		{seriesR10Prime, 32, 20, 1.5, 1. / 10, 3, 15},
	} {
		require.Len(t, c.openings, c.count)
		assert.Equal(t, []int{c.coarse, c.fine}, []int{c.openings[0], c.openings[c.count-1]})
		for k, opening := range c.openings {
			exact := math.Pow(10, c.start-float64(k)*c.step)
			assert.InEpsilon(t, exact, opening, float64(c.within)/1000, "%d", opening)
		}
	}
}

func TestSievesAreSorted(t *testing.T) {
	table := sieves()
	assert.True(t, slices.IsSortedFunc(table, coarseFirst))
	assert.Equal(t, 125e-3, table[0].OpeningM)
	assert.Equal(t, 20e-6, table[len(table)-1].OpeningM)
	assert.Len(t, table, 72+24+3)
	for i := 1; i < len(table); i++ {
		assert.Greater(t, table[i-1].OpeningM, 1.04*table[i].OpeningM, "openings too near to tell apart")
	}
}

// ASTM E11 stands between ISO 565 and a few openings of its own numbers.
func TestEveryE11SieveIsOneOfISO(t *testing.T) {
	e11 := slices.Clone(coarseE11)
	for _, e := range numberedE11 {
		e11 = append(e11, e.opening)
	}
	assert.Len(t, e11, 23+33, "coarse and numbered")
	for _, um := range e11 {
		assert.True(t, slices.Contains(slices.Concat(seriesR20, seriesR40Over3Only, seriesR10Prime), um), "%d", um)
	}
}

func TestNearestSieve(t *testing.T) {
	for _, c := range []struct {
		entered, want float64
		nominal       bool
	}{
		{250e-6, 250e-6, true},
		{math.Nextafter(250e-6, 1), 250e-6, true},
		{249.5e-6, 250e-6, true},
		{247e-6, 250e-6, false}, // 1.2 %
		{149e-6, 150e-6, true},  // old charts
		{37e-6, 38e-6, true},    // old charts, though 36 is about as near
		{841e-6, 850e-6, true},
		{400e-6, 400e-6, true}, // R20, and a misprint for No. 40
		{500e-6, 500e-6, true},
		{237e-6, 250e-6, false}, // nearer by ratio than 224
		{1.25e-3, 1.25e-3, true},
		{20e-6, 20e-6, true},
		{10e-6, 20e-6, false},
		{125e-3, 125e-3, true},
		{5, 125e-3, false},
	} {
		got, nominal := NearestSieve(c.entered)
		assert.Equal(t, c.want, got.OpeningM, "%g", c.entered)
		assert.Equal(t, c.nominal, nominal, "%g", c.entered)
	}
	for _, none := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		got, nominal := NearestSieve(none)
		assert.Equal(t, Sieve{}, got)
		assert.False(t, nominal)
	}
	for _, s := range sieves() {
		got, nominal := NearestSieve(s.OpeningM)
		assert.Equal(t, s, got)
		assert.True(t, nominal)
		if s.LegacyOpeningM > 0 {
			got, nominal = NearestSieve(s.LegacyOpeningM)
			assert.Equal(t, s, got, "old %g", s.LegacyOpeningM)
			assert.True(t, nominal)
		}
	}
}

func TestSieveByMesh(t *testing.T) {
	for _, text := range []string{"No. 60", "no.60", "No 60", "#60", "# 60", "60 mesh", "60mesh", "Mesh 60", "  60 MESH "} {
		s, ok := SieveByMesh(text)
		assert.True(t, ok, text)
		assert.Equal(t, 250e-6, s.OpeningM, text)
		assert.Equal(t, "No. 60", s.Mesh)
	}
	for _, text := range []string{"", "60", "mesh", "No.", "No. 61", "60 um", "mesh 0", "No. -60", "No. 60.0", "meshmesh"} {
		s, ok := SieveByMesh(text)
		assert.False(t, ok, text)
		assert.Equal(t, Sieve{}, s)
	}
}

// The tolerance of ISO 3310-1: X of 63 and 125 µm is tabulated as 26 and 38 (from
// memory, confirm); the rest is arithmetic from the formula.
func TestLargestAperture(t *testing.T) {
	const source = "ISO 3310-1, formula"
	for _, c := range []struct {
		w          float64
		x, largest string
	}{
		{45, "21.94", "66.9"},
		{63, "26.18", "89.2"},
		{75, "28.76", "103.8"},
		{106, "34.86", "140.9"},
		{125, "38.30", "163.3"},
		{150, "42.57", "192.6"},
		{212, "52.30", "264.3"},
		{250, "57.82", "307.8"},
		{500, "89.41", "589.4"},
	} {
		largest := 1e6 * LargestAperture(c.w*um)
		printed.Equal(t, c.x, largest-c.w, source)
		printed.Equal(t, c.largest, largest, source)
	}
	const table = "ISO 3310-1, table (from memory, confirm)"
	printed.Equal(t, "26", 1e6*LargestAperture(63*um)-63, table)
	printed.Equal(t, "38", 1e6*LargestAperture(125*um)-125, table)
	for _, none := range []float64{0, -1, math.NaN()} {
		assert.Zero(t, LargestAperture(none))
	}
}

func TestCoarsestSieveBelow(t *testing.T) {
	// a third of a bore of 0.4 mm: 106 µm may pass 140.9, 90 µm passes 121.8
	s, ok := CoarsestSieveBelow(0.4e-3 / 3)
	require.True(t, ok)
	assert.Equal(t, "No. 170", s.Mesh)
	_, ok = CoarsestSieveBelow(30e-6)
	assert.False(t, ok, "the largest aperture of 20 µm is 34.8")
	for _, s := range sieves() {
		if s.Mesh == "" {
			continue
		}
		got, ok := CoarsestSieveBelow(LargestAperture(s.OpeningM))
		require.True(t, ok)
		assert.Equal(t, s, got)
	}
}
