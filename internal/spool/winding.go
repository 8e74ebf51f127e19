package spool

import "math"

// UsualPackingLow and UsualPackingHigh are shares of a winding that is strand: wound at
// random, and level by hand or machine. Common practice, from memory, confirm.
const (
	UsualPackingLow  = 0.60
	UsualPackingHigh = 0.75
)

// UsualSafety is what an allowed strain is divided by, for strand that grows brittle
// with age as PLA does. From memory, confirm.
const UsualSafety = 2.0

// Packing returns the share of a winding that is strand, from one spool of which the
// length is known:
//
//	k = L·A/(π/4·(D_o² - D_i²)·W)
//
// Length L in m, cross-section A in m², diameters of winding D_o and core D_i and
// width W in m; D_o is above D_i, else the result is infinite or negative. More than
// 0.907 cannot be: then a length or a diameter is wrong.
//
// Source: Capacity, solved for k.
func Packing(lengthM, areaM2, outerM, innerM, widthM float64) float64 {
	return lengthM / Capacity(1, outerM, innerM, widthM, areaM2)
}

// Outer returns the diameter in m of the winding of a length of strand:
//
//	D_o = √(D_i² + 4·L·A/(π·k·W))
//
// Symbols as for Packing; k and W are above 0.
//
// Source: Capacity, solved for D_o.
func Outer(lengthM, packing, innerM, widthM, areaM2 float64) float64 {
	return math.Sqrt(innerM*innerM + 4*lengthM*areaM2/(math.Pi*packing*widthM))
}

// SmallestCore returns the diameter in m of the smallest core on which a strand of
// diameter d is strained by no more than allowed:
//
//	D = d·(1/ε - 1)
//
// The strain is above 0 and below 1; beyond, the result is infinite, or no core is too
// small and it is 0.
//
// Source: CoreStrain, solved for D.
func SmallestCore(dM, strain float64) float64 {
	if strain >= 1 {
		return 0
	}
	return dM * (1/strain - 1)
}

// Bent is pieces of strand that were bent around a mandrel.
type Bent struct {
	MandrelM       float64
	Pieces, Broken int
}

// Survived returns the smallest mandrel on which no piece broke, nor on any larger one,
// and how many pieces were bent around it; false where there is none.
func Survived(tests []Bent) (mandrelM float64, pieces int, some bool) {
	worst := 0.0 // largest mandrel on which a piece broke
	for _, t := range tests {
		if t.Broken > 0 {
			worst = max(worst, t.MandrelM)
		}
	}
	for _, t := range tests {
		if t.Broken > 0 || t.Pieces == 0 || t.MandrelM <= worst {
			continue
		}
		switch {
		case !some || t.MandrelM < mandrelM:
			mandrelM, pieces, some = t.MandrelM, t.Pieces, true
		case t.MandrelM == mandrelM:
			pieces += t.Pieces
		}
	}
	return mandrelM, pieces, some
}

// MayBreak returns the largest share of strand that may break when none of n pieces did,
// with the given confidence:
//
//	p = 1 - (1 - c)^(1/n)
//
// Of 10 pieces that is 26 % with 95 %, of 59 it is 5 %. 1 for no pieces.
//
// Source: the exact upper bound of a binomial share when none was counted.
func MayBreak(pieces int, confidence float64) float64 {
	if pieces <= 0 {
		return 1
	}
	return -math.Expm1(math.Log1p(-confidence) / float64(pieces))
}
