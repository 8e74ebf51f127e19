package uncertain

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Shape says how an uncertain input is spread about its value.
type Shape uint8

// Shapes of inputs.
const (
	Normal      Shape = iota // a half of a normal curve on each side
	Rectangular              // even on each side
	Positive                 // a half of a normal curve on each side of the logarithm
)

// Own judgement: where an input that must stay above zero has a lower end at or below
// it, this share of its value stands for that end.
const leastShare = 1e-3

// ends says how many standard uncertainties from the value the ends lie that are kept
// when a spread is laid over the logarithm: those of k = 2, about 95 %.
const ends = 2

// Variable is one uncertain input with the shape of its distribution. Its draws are held
// within Least..Most; both zero stand for no bounds.
type Variable struct {
	Input
	Shape       Shape
	Least, Most float64
}

// At returns the quantile of the variable: what it falls below with the probability p.
//
//	Normal       x + z·u
//	Rectangular  x + (2p − 1)·√3·u
//	Positive     x·exp(z·s),  s₋ = ½·ln(x/(x − 2u₋)),  s₊ = ½·ln((x + 2u₊)/x)
//
// x is Value, z the standard normal quantile of p (0 to 1, both without), and u is
// UMinus for p < ½ and UPlus for p > ½, so that x is the median. A Positive keeps the
// two ends of k = 2; where the lower one is not above zero it is taken as x/1000 (own
// judgement), and a Positive whose value is not above zero itself is drawn as Normal.
// The quantile rises with p. An input without uncertainty gives Value whatever p and
// the bounds are. A Value that is not a number gives none.
//
// Source: JCGM 101:2008 6.4.2 for the rectangle and 6.4.7 for the normal curve (numbers
// of the clauses from memory, confirm). Two
// different halves, joined at the median, are own judgement.
func (v Variable) At(p float64) float64 {
	if v.exact() {
		return v.Value
	}
	c := curveOf(v)
	if v.Shape != Rectangular {
		p = mathext.NormalQuantile(p)
	} else {
		p = 2*p - 1
	}
	score := [1]float64{p}
	c.bend(score[:])
	return score[0]
}

func (v Variable) exact() bool { return v.UMinus == 0 && v.UPlus == 0 }

// curve is what turns scores into draws of one variable: normal scores or, for a
// rectangle, numbers that are even over −1..1.
type curve struct {
	value       float64
	sides       [2]float64 // above and below, in the order of the sign bit
	even        bool       // scores are even over −1..1
	logarithm   bool
	bounded     bool
	least, most float64
}

func curveOf(v Variable) curve {
	c := curve{value: v.Value, sides: [2]float64{v.UPlus, v.UMinus}, least: v.Least, most: v.Most}
	c.bounded = v.Least != 0 || v.Most != 0
	switch {
	case v.Shape == Rectangular:
		c.even = true
		c.sides[0] *= math.Sqrt(3)
		c.sides[1] *= math.Sqrt(3)
	case v.Shape == Positive && v.Value > 0:
		c.logarithm = true
		low := v.Value - ends*v.UMinus
		if low <= 0 {
			low = leastShare * v.Value
		}
		c.sides[0] = math.Log1p(ends*v.UPlus/v.Value) / ends
		c.sides[1] = math.Log(v.Value/low) / ends
	}
	return c
}

// bend turns scores into draws, in place. The side is looked up by the sign bit, since
// a branch that goes either way half of the time costs more than all the rest.
func (c *curve) bend(scores []float64) {
	if c.logarithm {
		for i, z := range scores {
			scores[i] = c.value * math.Exp(z*c.sides[math.Float64bits(z)>>63])
		}
	} else {
		for i, z := range scores {
			scores[i] = c.value + z*c.sides[math.Float64bits(z)>>63]
		}
	}
	if c.bounded {
		for i, x := range scores {
			scores[i] = min(max(x, c.least), c.most)
		}
	}
}
