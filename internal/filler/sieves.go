package filler

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"sync"
)

// Sieve is a nominal sieve. Its opening is what it is; the mesh is a label for
// people, because the makers of sieves number the same opening differently.
type Sieve struct {
	OpeningM       float64 // width of the square opening
	Mesh           string  // number by ASTM E11, such as "No. 60"; empty where there is none
	LegacyOpeningM float64 // what charts of old print beside that number; 0 where there is none
}

// seriesR20 and the lists below it are openings in µm, coarse first: of ISO 565,
// and of ASTM E11 above its numbered sieves.
var (
	// every third of these is one of the principal series R20/3
	seriesR20 = []int{
		125000, 112000, 100000, 90000, 80000, 71000, 63000, 56000, 50000, 45000, 40000, 35500, 31500, 28000, 25000,
		22400, 20000, 18000, 16000, 14000, 12500, 11200, 10000, 9000, 8000, 7100, 6300, 5600, 5000, 4500, 4000, 3550,
		3150, 2800, 2500, 2240, 2000, 1800, 1600, 1400, 1250, 1120, 1000, 900, 800, 710, 630, 560, 500, 450, 400, 355,
		315, 280, 250, 224, 200, 180, 160, 140, 125, 112, 100, 90, 80, 71, 63, 56, 50, 45, 40, 36,
	}
	// between those of R20/3, which R40/3 contains
	seriesR40Over3Only = []int{
		106000, 75000, 53000, 37500, 26500, 19000, 13200, 9500, 6700, 4750, 3350, 2360, 1700, 1180,
		850, 600, 425, 300, 212, 150, 106, 75, 53, 38,
	}
	seriesR10Prime = []int{32, 25, 20}
	coarseE11      = []int{
		125000, 106000, 100000, 90000, 75000, 63000, 53000, 50000, 45000, 37500, 31500, 26500, 25000, 22400, 19000,
		16000, 13200, 12500, 11200, 9500, 8000, 6700, 6300,
	}
)

// numberedE11 lists the numbered sieves of ASTM E11 in µm; legacy 0 where old
// charts have none. One chart misprints the 420 of No. 40 as 400.
var numberedE11 = []struct {
	number          string
	opening, legacy int
}{
	{"3.5", 5600, 5660},
	{"4", 4750, 4760},
	{"5", 4000, 4000},
	{"6", 3350, 3360},
	{"7", 2800, 2830},
	{"8", 2360, 2380},
	{"10", 2000, 2000},
	{"12", 1700, 1680},
	{"14", 1400, 1410},
	{"16", 1180, 1190},
	{"18", 1000, 1000},
	{"20", 850, 841},
	{"25", 710, 707},
	{"30", 600, 595},
	{"35", 500, 500},
	{"40", 425, 420},
	{"45", 355, 354},
	{"50", 300, 297},
	{"60", 250, 250},
	{"70", 212, 210},
	{"80", 180, 177},
	{"100", 150, 149},
	{"120", 125, 125},
	{"140", 106, 105},
	{"170", 90, 88},
	{"200", 75, 74},
	{"230", 63, 63},
	{"270", 53, 53},
	{"325", 45, 44},
	{"400", 38, 37},
	{"450", 32, 0},
	{"500", 25, 0},
	{"635", 20, 0},
}

// sieves are the nominal ones of ISO 3310-1 (openings of ISO 565) and ASTM E11 from
// 125 mm to 20 µm, coarse first.
//
// Source: ISO 565 and ASTM E11 (from memory, confirm).
var sieves = sync.OnceValue(func() []Sieve {
	byOpening := map[int]Sieve{}
	for _, openings := range [][]int{seriesR20, seriesR40Over3Only, seriesR10Prime, coarseE11} {
		for _, um := range openings {
			byOpening[um] = Sieve{OpeningM: float64(um) / 1e6}
		}
	}
	for _, e := range numberedE11 {
		byOpening[e.opening] = Sieve{float64(e.opening) / 1e6, "No. " + e.number, float64(e.legacy) / 1e6}
	}
	table := make([]Sieve, 0, len(byOpening))
	for _, s := range byOpening {
		table = append(table, s)
	}
	slices.SortFunc(table, coarseFirst)
	return table
})

// coarseFirst orders sieves.
func coarseFirst(a, b Sieve) int { return cmp.Compare(b.OpeningM, a.OpeningM) }

// sameSieve is how far, by ratio, an opening may lie from a nominal or legacy
// one and still be meant: more than rounding to three digits moves it, and far
// less than the 5 % to the next sieve.
const sameSieve = 0.004

// NearestSieve returns the sieve whose opening is nearest by ratio, and whether
// the opening given is that of the sieve, or the one that old charts print for
// it. No sieve for an opening that is not above 0.
func NearestSieve(openingM float64) (nearest Sieve, nominal bool) {
	if !(openingM > 0) || math.IsInf(openingM, 1) {
		return Sieve{}, false
	}
	table := sieves()
	at, _ := slices.BinarySearchFunc(table, Sieve{OpeningM: openingM}, coarseFirst)
	at = min(at, len(table)-1)
	if at > 0 && apart(table[at-1].OpeningM, openingM) < apart(table[at].OpeningM, openingM) {
		at--
	}
	nearest = table[at]
	off := apart(nearest.OpeningM, openingM)
	if nearest.LegacyOpeningM > 0 {
		off = min(off, apart(nearest.LegacyOpeningM, openingM))
	}
	return nearest, off <= sameSieve
}

// apart is the logarithm of the ratio of two sizes, without its sign.
func apart(a, b float64) float64 { return math.Abs(math.Log(a / b)) }

// SieveByMesh reads a mesh number, written "No. 60", "#60", "60 mesh" or "mesh
// 60", as the number of ASTM E11. False for any other text, and for a bare
// number, which might be an opening. Other countries number differently, so
// keep the opening and show it.
func SieveByMesh(text string) (Sieve, bool) {
	number := strings.ToLower(strings.TrimSpace(text))
	named := false
	for _, name := range []string{"no.", "no", "#", "mesh"} {
		if rest, ok := strings.CutPrefix(number, name); ok {
			number, named = strings.TrimSpace(rest), true
			break
		}
	}
	if rest, ok := strings.CutSuffix(number, "mesh"); ok {
		number, named = strings.TrimSpace(rest), true
	}
	for _, s := range sieves() {
		if named && s.Mesh == "No. "+number {
			return s, true
		}
	}
	return Sieve{}, false
}

// LargestAperture returns the width in m that the largest single aperture of a
// sieve may have, and so the size of a grain that may legally pass it:
//
//	w + X,  X = (2/3)·w^0.75 + 4·w^0.25,  both in µm
//
// w is the nominal opening; the standard covers 20 µm to 125 mm. 0 for an
// opening that is not above 0.
//
// Source: ISO 3310-1, which also holds for ASTM E11 (from memory, confirm).
func LargestAperture(openingM float64) float64 {
	w := 1e6 * openingM
	if !(w > 0) {
		return 0
	}
	return (w + 2./3*math.Pow(w, 0.75) + 4*math.Pow(w, 0.25)) / 1e6
}

// CoarsestSieveBelow returns the coarsest numbered sieve of ASTM E11 that lets no
// legal grain pass above the size: its largest aperture is at most sizeM. False when
// even the finest, of 20 µm, lets larger ones pass.
func CoarsestSieveBelow(sizeM float64) (Sieve, bool) {
	for _, s := range sieves() {
		if s.Mesh != "" && LargestAperture(s.OpeningM) <= sizeM {
			return s, true
		}
	}
	return Sieve{}, false
}
