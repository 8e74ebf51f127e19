package uncertain

import "math"

// moments are the number, the mean and the sum of squared deviations of some numbers.
type moments struct{ n, mean, squares float64 }

// momentsOf takes the finite numbers of a block, from the first of them, so that equal
// ones have no spread at all.
func momentsOf(block []float64) moments {
	var n, sum, squares float64
	var origin float64
	for _, v := range block {
		if v-v == 0 {
			origin = v
			break
		}
	}
	for _, v := range block {
		if d := v - origin; d-d == 0 {
			n++
			sum += d
			squares += d * d
		}
	}
	if n == 0 {
		return moments{}
	}
	return moments{n, origin + sum/n, max(squares-sum*sum/n, 0)}
}

// add takes in the moments of other numbers.
//
// Source: T. F. Chan, G. H. Golub and R. J. LeVeque, "Algorithms for computing the sample
// variance", The American Statistician 37 (1983) 242-247 (from memory, confirm).
func (m *moments) add(o moments) {
	if o.n == 0 {
		return
	}
	n, d := m.n+o.n, o.mean-m.mean
	m.squares += o.squares + d*d*(m.n/n)*o.n
	m.mean += d * (o.n / n)
	m.n = n
}

// u is the standard deviation.
func (m moments) u() float64 {
	if m.n < 1 {
		return math.NaN()
	}
	return math.Sqrt(m.squares / max(m.n-1, 1))
}

// standardError is that of the mean of independent numbers, of which those that are NaN
// are left out; NaN where fewer than two are left.
func standardError(values []float64) float64 {
	m := momentsOf(values)
	if m.n < 2 {
		return math.NaN()
	}
	return m.u() / math.Sqrt(m.n)
}
