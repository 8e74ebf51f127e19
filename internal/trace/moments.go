package trace

import "math"

// moments adds up readings of a log. All sums run over differences from a value
// near the mean, the mean of the first block, so that readings that differ in their last
// digits only keep them.
type moments struct {
	begun                bool
	shift                float64
	n                    int64
	sum, squares, lagged sum // of differences, of their squares, of products of neighbours
	first, last          float64
	min, max             float64
}

// sum keeps what rounding would lose of each term (Neumaier).
type sum struct{ total, lost float64 }

func (s *sum) add(v float64) {
	t := s.total + v
	if math.Abs(s.total) >= math.Abs(v) {
		s.lost += (s.total - t) + v
	} else {
		s.lost += (v - t) + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.lost }

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
	m.sum.add(s1)
	m.squares.add(s2)
	m.lagged.add(lag)
}

func meanOf(x []float64) float64 {
	var s sum
	for _, v := range x {
		s.add(v - x[0])
	}
	return x[0] + s.value()/float64(len(x))
}

func (m *moments) mean() float64 { return m.shift + m.sum.value()/float64(m.n) }

// spread is the sum of the squared differences from the mean.
func (m *moments) spread() float64 {
	s := m.sum.value()
	return max(m.squares.value()-s*s/float64(m.n), 0)
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
	return (m.squares.value() + 2*m.shift*m.sum.value() + n*m.shift*m.shift) / n
}

// lag1 is the autocorrelation of neighbours: the sum of the products of their
// differences from the mean over that of the squares.
func (m *moments) lag1() float64 {
	spread := m.spread()
	if spread == 0 || m.n < 2 {
		return 0
	}
	n, s := float64(m.n), m.sum.value()
	off := s / n
	products := m.lagged.value() - off*(2*s-m.first-m.last) + (n-1)*off*off
	return products / spread
}
