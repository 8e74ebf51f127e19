package line

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/stat"
)

// CylinderSurface returns the surface in m²/kg of cut pellets, from diameter and
// length in m and density in kg/m³, all above 0:
//
//	S = (4/D + 2/L)/ρ
//
// Source: geometry of a cylinder.
func CylinderSurface(diameterM, lengthM, densityKgM3 float64) float64 {
	return (4/diameterM + 2/lengthM) / densityKgM3
}

// GrindSurface returns the surface in m²/kg of ground polymer of one grain size in
// m: S = 6/(d·ρ), as of cubes and spheres. It is that of a cylinder as long as it is
// wide, too.
//
// Source: geometry.
func GrindSurface(sizeM, densityKgM3 float64) float64 { return 6 / (sizeM * densityKgM3) }

// MixedSurface is the surface of whole pellets of which a share, 0 to 1 by mass, is
// ground.
func MixedSurface(whole, ground, groundShare float64) float64 {
	return whole*(1-groundShare) + ground*groundShare
}

// CoatThickness returns the thickness in m of powder that lies evenly on pellets:
//
//	t = w/(1 - w)/(ρ_bulk·S)
//
// w is the powder per powder and polymer, below 1, ρ_bulk the density of the powder
// as poured in kg/m³ and S the surface in m²/kg.
//
// Source: conservation of volume.
func CoatThickness(loading, bulkKgM3, surfaceM2Kg float64) float64 {
	return loading / (1 - loading) / (bulkKgM3 * surfaceM2Kg)
}

// MonolayerCapacity returns the powder, per powder and polymer, of one layer of
// grains on pellets:
//
//	x = ρ_f·(2/3)·d·c·S,  w = x/(1 + x)
//
// d is the grain size in m, ρ_f the density of the grains in kg/m³, c the share of
// the surface that is covered and S the surface in m²/kg.
//
// Source: spheres of one size; volume (π/6)·d³ on (π/4)·d² of the surface.
func MonolayerCapacity(sizeM, grainKgM3, coverage, surfaceM2Kg float64) float64 {
	x := grainKgM3 * 2 / 3 * sizeM * coverage * surfaceM2Kg
	return x / (1 + x)
}

// Grains is a powder on pellets.
type Grains struct {
	SizeM       float64 // median by mass
	DensityKgM3 float64
	AdhesionM   float64 // larger grains do not hold on to dry pellets
	FinerShare  float64 // of the mass below AdhesionM; NaN while not known
}

// looseShare is the powder per polymer that may lie loose between the pellets
// without being seen to part from them (own judgement).
const looseShare = 0.02

// PickUpLimit returns the powder, per powder and polymer, that pellets carry: the
// smaller of a single layer and of what adheres. With x the powder per polymer:
//
//	layer     x = capacity of grains of the median size, at most AdhesionM
//	adhesion  (1 - s)·x = 2 %: the coarse part, which falls off, up to what goes unseen
//
// s is FinerShare; while it is not known the median stands for all grains. The layer
// counts for all of the powder and not for its fine part alone: else a coarser powder
// would seem to have more room. It reports whether adhesion is what limits.
//
// Source: MonolayerCapacity; that coarse dry grains fall off, and from about 75 µm,
// is from memory, confirm; the 2 % are own judgement.
func PickUpLimit(g Grains, coverage, surfaceM2Kg float64) (limit float64, byAdhesion bool) {
	size := g.SizeM
	if g.AdhesionM < size {
		size = g.AdhesionM
	}
	layer := MonolayerCapacity(size, g.DensityKgM3, coverage, surfaceM2Kg)
	coarse := 1 - g.FinerShare
	if math.IsNaN(coarse) {
		coarse = 0
		if g.SizeM > g.AdhesionM {
			coarse = 1
		}
	}
	held := 1.0
	if coarse > 0 {
		x := looseShare / coarse
		held = x / (1 + x)
	}
	if held < layer {
		return held, true
	}
	return layer, false
}

// GroundShareFor returns the smallest share of the pellets that must be ground so
// that the rest and the ground carry a loading, per powder and polymer; surfaces in
// m²/kg. 0 where whole pellets carry it. It returns false where even all of them
// ground do not: then coarse grains fall off whatever they lie on, or there is too
// much powder.
//
// Source: PickUpLimit with MixedSurface, solved for the share.
func GroundShareFor(loading float64, g Grains, coverage, whole, ground float64) (share float64, ok bool) {
	carries := func(surface float64) bool {
		limit, _ := PickUpLimit(g, coverage, surface)
		return limit >= loading
	}
	switch {
	case carries(whole):
		return 0, true
	case !carries(ground):
		return math.NaN(), false
	}
	low, high := 0.0, 1.0
	for range 50 {
		if mid := (low + high) / 2; carries(MixedSurface(whole, ground, mid)) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, true
}

// RandomMixRSD returns the relative standard deviation of the powder content of
// samples from a perfect random mix of pellets and grains:
//
//	var = x·y·(y·m_x + x·m_y)/M,  RSD = √var/x
//
// x is the powder per powder and polymer and y the rest; m_x and m_y are the mean
// masses of grains and of pellets, weighted by mass, and M the mass of a sample, all
// in kg and above 0.
//
// Source: Poole, Taylor and Wall for particles of unequal mass (from memory,
// confirm).
func RandomMixRSD(content, pelletKg, grainKg, sampleKg float64) float64 {
	x, y := content, 1-content
	return math.Sqrt(x*y*(y*grainKg+x*pelletKg)/sampleKg) / x
}

// SecondPassFactor returns by what factor the spread falls when strand is cut and
// run again, with pellets, at least one, in the line at a time: 1/√n.
//
// Source: mean of n independent pieces.
func SecondPassFactor(pellets float64) float64 { return 1 / math.Sqrt(math.Max(1, pellets)) }

// Lacey returns the mixing index of a spread sd of the content p, above 0 and below
// 1:
//
//	(s0² - s²)/(s0² - sR²),  s0² = p·(1 - p)
//
// sR is that of a perfect random mix. 1 is perfect, 0 not mixed at all, above 1 more
// even than chance. NaN where sR reaches s0, as it does in samples smaller than the
// pieces: nothing is left to tell apart. Practical values lie in 0.75 to 1, so that it
// tells little apart: show RelativeSD beside it.
//
// Source: Lacey 1954, doi 10.1002/jctb.5010040504.
func Lacey(sd, content, randomSD float64) float64 {
	apart := content * (1 - content)
	if !(randomSD*randomSD < apart) {
		return math.NaN()
	}
	return (apart - sd*sd) / (apart - randomSD*randomSD)
}

// Spread is the relative standard deviation of measured contents, with the ends of
// its interval of 95 %.
type Spread struct{ Mean, RSD, Low, High float64 }

// RelativeSD returns the spread of measured contents. It returns false for fewer
// than two and for a mean that is not above 0.
//
//	s·√((n - 1)/χ²_0.975) to s·√((n - 1)/χ²_0.025), over the mean
//
// Source: chi-square interval of a standard deviation, for contents that spread
// normally.
func RelativeSD(contents []float64) (Spread, bool) {
	s, ok := stat.Summarise(contents)
	if !ok || s.N < 2 || !(s.Mean > 0) {
		return Spread{}, false
	}
	low, high := sdFactors(s.N, 0.95)
	rsd := s.SD / s.Mean
	return Spread{Mean: s.Mean, RSD: rsd, Low: rsd * low, High: rsd * high}, true
}

// sdFactors are what a standard deviation of n values is multiplied by for the ends
// of its interval.
func sdFactors(n int, level float64) (low, high float64) {
	chi := distuv.ChiSquared{K: float64(n - 1)}
	free := float64(n - 1)
	return math.Sqrt(free / chi.Quantile((1+level)/2)), math.Sqrt(free / chi.Quantile((1-level)/2))
}

// SamplesNeeded returns how many samples a mean needs that is known to a share error
// of itself at 95 %, not rounded: (1.96·RSD/error)².
//
// Source: interval of a mean of a normal spread.
func SamplesNeeded(rsd, relativeError float64) float64 {
	z := distuv.UnitNormal.Quantile(0.975)
	return math.Pow(z*rsd/relativeError, 2)
}

// BulkOfMix returns the density in kg/m³ as poured of pellets and powder, with w the
// powder per powder and polymer: 1/(w/ρ_powder + (1 - w)/ρ_pellets), as if both kept
// their volume.
//
// Source: additive volumes; powder between the pellets makes it more.
func BulkOfMix(loading, powderKgM3, pelletKgM3 float64) float64 {
	return 1 / (loading/powderKgM3 + (1-loading)/pelletKgM3)
}

// Segregates reports whether pellets and powder of these densities as poured part in
// a hopper by themselves: a ratio above 2 either way.
//
// Source: common practice (from memory, confirm).
func Segregates(powderKgM3, pelletKgM3 float64) bool {
	return math.Max(powderKgM3/pelletKgM3, pelletKgM3/powderKgM3) > 2
}

// SegregatesBySize reports whether free-flowing pieces of these sizes, in m, part in
// a hopper by themselves, as whole and ground pellets do: a ratio above 1.3 either
// way. It does not hold for powder that clings to the pellets; see PickUpLimit.
//
// Source: common practice (from memory, confirm).
func SegregatesBySize(oneM, otherM float64) bool { return math.Max(oneM/otherM, otherM/oneM) > 1.3 }
