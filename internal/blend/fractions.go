package blend

import "math"

// VolumeFractions writes the volume fraction of each part to dst:
//
//	v_i = (w_i/ρ_i)/Σ(w_j/ρ_j)
//
// w are mass fractions (0 to 1) and ρ densities in kg/m³, above 0; volumes add
// up and there are no voids. Use solid densities for the solid, and the melt
// density of the polymer for the melt. A part with w = 0 needs no density; any
// other missing density (0 or NaN) makes every fraction NaN. dst may be
// massFractions itself. It panics if the lengths differ.
//
// Source: definition.
func VolumeFractions(dst, massFractions, densitiesKgM3 []float64) {
	if len(dst) != len(massFractions) {
		panic(badLength)
	}
	volume := 1 / Density(massFractions, densitiesKgM3)
	for i, w := range massFractions {
		if w != 0 {
			w /= densitiesKgM3[i] * volume
		}
		dst[i] = w
		if math.IsNaN(volume) {
			dst[i] = math.NaN()
		}
	}
}

// Density returns the density in kg/m³ of a blend of mass fractions w (0 to 1,
// adding up to 1) of parts with densities rho in kg/m³:
//
//	ρ = 1/Σ(w_i/ρ_i)
//
// Volumes add up and there are no voids: woods, corks and hurds keep some of
// theirs, so the strand may be lighter. A part with w = 0 needs no density; any
// other missing one (0 or NaN) gives NaN, and so does a blend of nothing. It
// panics if the lengths differ.
//
// Source: inverse rule of mixtures.
func Density(w, rho []float64) float64 {
	if len(w) != len(rho) {
		panic(badLength)
	}
	var volume float64
	for i, w := range w {
		if w == 0 {
			continue
		}
		if !(rho[i] > 0) {
			return math.NaN()
		}
		volume += w / rho[i]
	}
	if volume == 0 {
		return math.NaN()
	}
	return 1 / volume
}

// PHR writes the mass of each part per mass of all polymers to dst, as a
// fraction: 0.25 is 25 phr.
//
//	x_i = w_i/Σ_polymers w_j
//
// Every x is NaN when there is no polymer. dst may be w itself. It panics if
// the lengths differ.
//
// Source: definition.
func PHR(dst, w []float64, polymer []bool) {
	if len(w) != len(polymer) || len(w) != len(dst) {
		panic(badLength)
	}
	var base float64
	for i, w := range w {
		if polymer[i] {
			base += w
		}
	}
	if !(base > 0) {
		base = math.NaN()
	}
	for i := range w {
		dst[i] = w[i] / base
	}
}

// SetFillerContent writes to dst the mass fractions of a blend whose fillers
// add up to content (from 0 to below 1), in the proportions that they have in
// w, and whose other parts share the rest in their proportions. A single filler
// may have had no share yet. It returns false, and leaves dst alone, when there
// is no filler, when several have no share to go by, when nothing but filler
// has one, or when content is out of range. dst may be w itself. It panics if
// the lengths differ.
func SetFillerContent(dst, w []float64, filler []bool, content float64) bool {
	if len(w) != len(filler) || len(w) != len(dst) {
		panic(badLength)
	}
	var fillers, rest float64
	count, last := 0, 0
	for i, w := range w {
		if filler[i] {
			fillers += w
			count++
			last = i
		} else {
			rest += w
		}
	}
	fresh := fillers == 0 && count == 1
	if !(content >= 0 && content < 1) || !(rest > 0) || !(fillers > 0 || fresh) {
		return false
	}
	for i := range w {
		if filler[i] && !fresh {
			dst[i] = w[i] * (content / fillers)
		} else {
			dst[i] = w[i] * ((1 - content) / rest)
		}
	}
	if fresh {
		dst[last] = content
	}
	return true
}
