package trace

import (
	"math"

	"fillwright/internal/stat"
)

// moments adds up readings of a log. All sums run over differences from a value
// near the mean, the mean of the first block, so that readings that differ in their last
// digits only keep them.
type moments struct {
	begun                bool
	shift                float64
	n                    int64
	sum, squares, lagged stat.Sum // of differences, of their squares, of products of neighbours
	first, last          float64
	min, max             float64
}

// add takes a run of readings. Within a run plain sums do: a run is short.
func (m *moments) add(x []float64) {
	if len(x) == 0 {
		return
	}
	before := 0.0 // the difference of the reading before; 0 counts for nothing
	if !m.begun {
		m.begun, m.shift, m.min, m.max = true, meanOf(x), x[0], x[0]
		m.first = x[0] - m.shift
	} else {
		before = m.last
	}
	var s1, s2, lag float64
	low, high := m.min, m.max
	for _, v := range x {
		d := v - m.shift
		s1 += d
		s2 += d * d
		lag += d * before
		before = d
		low, high = min(low, v), max(high, v)
	}
	m.last, m.min, m.max = before, low, high
	m.n += int64(len(x))
	m.sum.Add(s1)
	m.squares.Add(s2)
	m.lagged.Add(lag)
}

func meanOf(x []float64) float64 {
	var s stat.Sum
	for _, v := range x {
		s.Add(v - x[0])
	}
	return x[0] + s.Value()/float64(len(x))
}

func (m *moments) mean() float64 { return m.shift + m.sum.Value()/float64(m.n) }

// spread is the sum of the squared differences from the mean.
func (m *moments) spread() float64 {
	s := m.sum.Value()
	return max(m.squares.Value()-s*s/float64(m.n), 0)
}

// sd is the standard deviation with n - 1.
func (m *moments) sd() float64 {
	if m.n < 2 {
		return 0
	}
	return math.Sqrt(m.spread() / float64(m.n-1))
}

// meanSquare is the mean of the squares.
func (m *moments) meanSquare() float64 {
	n := float64(m.n)
	return (m.squares.Value() + 2*m.shift*m.sum.Value() + n*m.shift*m.shift) / n
}

// lag1 is the autocorrelation of neighbours: the sum of the products of their
// differences from the mean over that of the squares.
func (m *moments) lag1() float64 {
	spread := m.spread()
	if spread == 0 || m.n < 2 {
		return 0
	}
	n, s := float64(m.n), m.sum.Value()
	off := s / n
	products := m.lagged.Value() - off*(2*s-m.first-m.last) + (n-1)*off*off
	return products / spread
}
