// Package blend computes what is in a blend: mass and volume fractions,
// density, what to weigh, and what it costs. Pure functions on SI numbers:
// masses in kg, densities in kg/m³, fractions from 0 to 1, phr divided by 100,
// money in the project's currency.
package blend

import "math"

const badLength = "blend: slices differ in length"

// Tolerance within which parts add up to the whole.
const Tolerance = 1e-9

// Basis says what an amount is a share of.
type Basis uint8

// The bases.
const (
	OfWhole   Basis = iota // share of the mass of the whole (wt%)
	OfPolymer              // mass per mass of all polymers (phr)
	ByVolume               // share of the volume of the whole (vol%)
	Balance                // whatever is missing to the whole
)

// Amount is how much of one part is in a blend.
type Amount struct {
	Basis       Basis
	Value       float64 // wt% and vol% from 0 to 1, phr/100; ignored for Balance
	DensityKgM3 float64 // of the solid without pores; 0 or NaN when not given
	Polymer     bool
}

// Problem says why the amounts do not make a blend.
type Problem uint8

// The problems.
const (
	OK                  Problem = iota
	NoParts                     // nothing listed
	TwoBalances                 // only one part can take what is missing
	SumNotWhole                 // no balance, and the parts (phr: the polymers) do not add up to 1
	OverFull                    // the other parts leave less than nothing for the balance
	MixedWithoutBalance         // several bases need one part as the balance
	NoPolymer                   // phr, but no polymer to relate it to
	NeedsDensity                // vol%, but the density of a part is missing
	Undetermined                // the amounts contradict each other or leave one open, or one is not a number
)

// MassFractions writes the mass fraction of each part to dst, of the same
// length (else it panics), and returns what the parts add up to.
//
// Without a balance all parts share one basis:
//
//	wt%:  w_i = x_i/Σx
//	vol%: w_i = x_i·ρ_i/Σ(x·ρ)
//	phr:  w_i = x_i/Σx, where the x of the polymers add up to 1
//
// With a balance the bases may be mixed. Let P be the polymer mass and V the
// volume of unit mass of blend, and B the balance. The parts have
//
//	w_i = x_i (wt%), x_i·P (phr), x_i·ρ_i·V (vol%) or B,
//
// and P, V and B follow from: all w add up to 1, those of the polymers to P,
// and all w/ρ to V.
//
// Any number of parts; amounts from 0, and densities above 0 wherever vol% is
// used.
//
// total is the sum of the amounts when there is no balance (for phr: that of
// the polymers), and of everything but the balance for OverFull; otherwise 1.
// For SumNotWhole dst is scaled to add up to 1 (NaN when all amounts are 0),
// and for OverFull it holds the solution with its negative balance, so that
// both can be differentiated up to the very edge. For every other problem dst
// is NaN and total 0.
//
// Source: mass and volume balances, no physics.
func MassFractions(dst []float64, parts []Amount) (total float64, p Problem) {
	if len(dst) != len(parts) {
		panic(badLength)
	}
	balance, p := survey(parts)
	switch {
	case p != OK:
	case balance >= 0:
		total, p = withBalance(dst, parts, balance)
	default:
		total, p = withoutBalance(dst, parts)
	}
	if p != OK && p != SumNotWhole && p != OverFull {
		spoil(dst)
		return 0, p
	}
	return total, p
}

func spoil(dst []float64) {
	for i := range dst {
		dst[i] = math.NaN()
	}
}

// survey finds the balance (-1 for none) and what can be said against the parts
// without looking at their amounts.
func survey(parts []Amount) (balance int, p Problem) {
	balance = -1
	var used [Balance + 1]int
	polymer, dense := false, true
	for i, part := range parts {
		used[part.Basis]++
		polymer = polymer || part.Polymer
		dense = dense && part.DensityKgM3 > 0
		if part.Basis == Balance {
			balance = i
		}
	}
	n := len(parts)
	alone := used[OfWhole] == n || used[OfPolymer] == n || used[ByVolume] == n
	switch {
	case n == 0:
		p = NoParts
	case used[Balance] > 1:
		p = TwoBalances
	case balance < 0 && !alone:
		p = MixedWithoutBalance
	case used[OfPolymer] > 0 && !polymer:
		p = NoPolymer
	case used[ByVolume] > 0 && !dense:
		p = NeedsDensity
	}
	return balance, p
}

// withoutBalance handles parts of one basis that have to add up by themselves.
func withoutBalance(dst []float64, parts []Amount) (total float64, p Problem) {
	var mass float64
	for i, part := range parts {
		w := part.Value
		if part.Basis == ByVolume {
			w *= part.DensityKgM3
		}
		if part.Basis != OfPolymer || part.Polymer {
			total += part.Value
		}
		dst[i] = w
		mass += w
	}
	if math.IsNaN(mass) || math.IsInf(mass, 0) {
		return 0, Undetermined
	}
	for i := range dst {
		dst[i] /= mass
	}
	if math.Abs(total-1) > Tolerance {
		return total, SumNotWhole
	}
	return total, OK
}

// share is what all parts of one basis have together, per unit of their basis:
// mass, polymer mass, and volume in units of the volume of unit mass of
// balance.
type share struct{ mass, polymer, volume float64 }

func (s *share) add(mass, density float64, polymer bool) {
	s.mass += mass
	s.volume += mass / density
	if polymer {
		s.polymer += mass
	}
}

// withBalance solves for polymer, volume and balance. Densities are taken
// relative to that of the balance, so that every coefficient is near one.
func withBalance(dst []float64, parts []Amount, balance int) (total float64, p Problem) {
	var whole, phr, vol share
	reference := parts[balance].DensityKgM3
	for i := range parts {
		part := &parts[i]
		density := part.DensityKgM3 / reference
		switch part.Basis {
		case OfWhole:
			whole.add(part.Value, density, part.Polymer)
		case OfPolymer:
			phr.add(part.Value, density, part.Polymer)
		case ByVolume:
			vol.add(part.Value*density, density, part.Polymer)
		}
	}
	polymer, volume, ok := solve(whole, phr, vol, parts[balance].Polymer)
	if !ok {
		return 0, Undetermined
	}
	rest := 1 - whole.mass - phr.mass*polymer - vol.mass*volume
	if -Tolerance <= rest && rest < 0 {
		rest = 0
	}
	for i, part := range parts {
		switch part.Basis {
		case OfWhole:
			dst[i] = part.Value
		case OfPolymer:
			dst[i] = part.Value * polymer
		case ByVolume:
			dst[i] = part.Value * part.DensityKgM3 / reference * volume
		case Balance:
			dst[i] = rest
		}
	}
	for _, sum := range [...]float64{whole.mass, phr.polymer, vol.volume, 1 - rest} {
		if sum > 1+Tolerance {
			return sum, OverFull
		}
	}
	if polymer <= Tolerance && phr.mass > 0 {
		return 0, Undetermined
	}
	return 1, OK
}

// solve returns the polymer mass and the volume of unit mass of blend. The
// balance has been eliminated with the help of the mass balance; what is left
// is
//
//	(1 - phr.polymer + δ·phr.mass)·P + (δ·vol.mass - vol.polymer)·V = whole.polymer + δ·(1 - whole.mass)
//	(phr.mass - phr.volume)·P + (1 - vol.volume + vol.mass)·V       = whole.volume + 1 - whole.mass
//
// with δ = 1 when the balance is a polymer and 0 when not. Without vol% the
// second line drops out, for densities may then be missing.
func solve(whole, phr, vol share, balanceIsPolymer bool) (polymer, volume float64, ok bool) {
	a11, a12, b1 := 1-phr.polymer, -vol.polymer, whole.polymer
	if balanceIsPolymer {
		a11 += phr.mass
		a12 += vol.mass
		b1 += 1 - whole.mass
	}
	a21, a22, b2 := 0.0, 1.0, 0.0
	if vol.mass != 0 {
		a21 = phr.mass - phr.volume
		a22 += vol.mass - vol.volume
		b2 = whole.volume + 1 - whole.mass
	}
	det := a11*a22 - a12*a21
	polymer = (b1*a22 - a12*b2) / det
	volume = (a11*b2 - a21*b1) / det
	ok = math.Abs(det) > Tolerance && !math.IsNaN(polymer+volume) && !math.IsInf(polymer+volume, 0)
	return polymer, volume, ok
}
