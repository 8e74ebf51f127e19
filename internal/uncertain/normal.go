package uncertain

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/mathext"
)

// The table of normal scores covers probabilities from 2^-53 to ½ in parts that halve
// with the probability, each halving divided into scoreParts. A polynomial of scoreOrder
// terms in each is within 1e-10 of the quantile (see the test).
const (
	scoreDigits = 4
	scoreParts  = 1 << scoreDigits
	scoreOrder  = 6
	scoreFirst  = (1023 - 53) << scoreDigits // of the smallest, by its exponent and first digits
	scoreRows   = (53 - 1) * scoreParts
)

// scoreRow is one part: its middle, one over half of its width, and the coefficients.
type scoreRow struct {
	middle, scale float64
	c             [scoreOrder]float64
}

// scoreTable is made when it is first needed, from gonum's quantile at Chebyshev's nodes.
var scoreTable = sync.OnceValue(func() *[scoreRows]scoreRow {
	var table [scoreRows]scoreRow
	powers := mat.NewDense(scoreOrder, scoreOrder, nil)
	values := mat.NewDense(scoreOrder, scoreRows, nil)
	for i := range scoreOrder {
		node := math.Cos((2*float64(i) + 1) / (2 * scoreOrder) * math.Pi)
		for j := range scoreOrder {
			powers.Set(i, j, math.Pow(node, float64(j)))
		}
		for r := range table {
			from, to := scoreEdge(r), scoreEdge(r+1)
			table[r].middle, table[r].scale = (from+to)/2, 2/(to-from)
			values.Set(i, r, mathext.NormalQuantile((from+to)/2+node*(to-from)/2))
		}
	}
	var coefficients mat.Dense
	if err := coefficients.Solve(powers, values); err != nil {
		panic(err) // the nodes are fixed and apart
	}
	for r := range table {
		mat.Col(table[r].c[:], r, &coefficients)
	}
	return &table
})

// scoreEdge is the probability at which part r begins.
func scoreEdge(r int) float64 {
	return math.Float64frombits(uint64(scoreFirst+r) << (52 - scoreDigits))
}

// scoresOf turns probabilities of a stream into normal scores, in place: gonum's
// quantile within 1e-10 in less than half of its time, without a branch that draws
// decide by chance.
func scoresOf(column []float64) {
	table := scoreTable()
	for i, p := range column {
		q := p - 0.5 // exact, as those of a stream are
		p = 0.5 - math.Abs(q)
		row := &table[math.Float64bits(p)>>(52-scoreDigits)-scoreFirst]
		s := (p - row.middle) * row.scale
		c := &row.c
		s2 := s * s
		z := (c[0] + c[1]*s) + s2*((c[2]+c[3]*s)+s2*(c[4]+c[5]*s))
		column[i] = math.Copysign(z, q)
	}
}

// normalBelow is the probability of a standard normal number below z.
func normalBelow(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
