package trace

import (
	"math"
	"sort"
)

// Levels keep every reading of a log, with the least and the greatest of runs of 16,
// 256, 4096 … of them, so that any stretch can be drawn in the same short time: what
// a column of pixels spans is looked up, never gone through. A reading takes about 5 bytes.
type Levels struct {
	readings  []float32 // m
	low, high [][]float32
	anchors   []anchor
	last      float64 // place of the last reading
	gaps      []Stretch
}

// anchor is a reading whose place is kept. Between two of them places are even.
type anchor struct {
	reading int
	place   float64
}

// Stretch is a part of the axis.
type Stretch struct{ From, To float64 }

const (
	levelOf    = 16
	anchorEach = 64
	mostGaps   = 10000
)

// Add takes readings in their order; of two axes the mean.
func (l *Levels) Add(b *Block) {
	for i, d := range b.Diameter {
		if len(b.Second) > 0 {
			d = (d + b.Second[i]) / 2
		}
		n := len(l.readings)
		if b.Gap[i] && len(l.gaps) < mostGaps {
			l.gaps = append(l.gaps, Stretch{l.last, b.At[i]})
			l.anchors = append(l.anchors, anchor{n - 1, l.last}, anchor{n, b.At[i]})
		} else if n%anchorEach == 0 {
			l.anchors = append(l.anchors, anchor{n, b.At[i]})
		}
		l.last = b.At[i]
		l.readings = append(l.readings, float32(d))
	}
}

// Done builds the levels.
func (l *Levels) Done() {
	low, high := l.readings, l.readings
	for len(low) > levelOf {
		var nextLow, nextHigh []float32
		for from := 0; from < len(low); from += levelOf {
			to := min(from+levelOf, len(low))
			a, b := extremes(low[from:to], high[from:to])
			nextLow, nextHigh = append(nextLow, a), append(nextHigh, b)
		}
		l.low, l.high = append(l.low, nextLow), append(l.high, nextHigh)
		low, high = nextLow, nextHigh
	}
	if n := len(l.readings); n > 0 {
		l.anchors = append(l.anchors, anchor{n - 1, l.last})
	}
}

func extremes(low, high []float32) (least, most float32) {
	least, most = low[0], high[0]
	for i := range low {
		least, most = min(least, low[i]), max(most, high[i])
	}
	return least, most
}

// Readings is how many there are.
func (l *Levels) Readings() int { return len(l.readings) }

// Span is the part of the axis that the log covers.
func (l *Levels) Span() Stretch {
	if len(l.readings) == 0 {
		return Stretch{}
	}
	return Stretch{l.anchors[0].place, l.last}
}

// Strip gives the least and the greatest diameter in m of each of so many equal parts of
// a stretch of the axis, NaN where there is no reading, and the middle of each part. A stretch
// with no more readings than parts gives the readings themselves; then low and high are
// the same.
func (l *Levels) Strip(s Stretch, parts int) (at, low, high []float64) {
	if len(l.readings) == 0 || !(s.To > s.From) || parts < 1 {
		return nil, nil, nil
	}
	if from, to := l.index(s.From), l.index(s.To); to-from <= parts {
		return l.single(max(from-1, 0), min(to+1, len(l.readings)))
	}
	width := (s.To - s.From) / float64(parts)
	before := l.index(s.From)
	for k := range parts {
		end := s.From + float64(k+1)*width
		after := l.index(end)
		a, b := math.NaN(), math.NaN()
		if after > before {
			x, y := l.between(before, after)
			a, b = float64(x), float64(y)
		}
		at, low, high = append(at, end-width/2), append(low, a), append(high, b)
		before = after
	}
	return at, low, high
}

// single lists readings one by one, apart where there is a gap.
func (l *Levels) single(from, to int) (at, low, high []float64) {
	for i := from; i < to; i++ {
		place, d := l.place(i), float64(l.readings[i])
		if n := len(at); n > 0 && l.gapIn(at[n-1], place) {
			at, low, high = append(at, place), append(low, math.NaN()), append(high, math.NaN())
		}
		at, low, high = append(at, place), append(low, d), append(high, d)
	}
	return at, low, high
}

func (l *Levels) gapIn(from, to float64) bool {
	i := sort.Search(len(l.gaps), func(i int) bool { return l.gaps[i].To > from })
	return i < len(l.gaps) && l.gaps[i].To <= to
}

// place is that of a reading, straight between anchors.
func (l *Levels) place(i int) float64 {
	k := sort.Search(len(l.anchors), func(k int) bool { return l.anchors[k].reading > i })
	if k == 0 {
		return l.anchors[0].place
	}
	return l.after(k-1, i)
}

// after is the place of a reading behind an anchor and before the next one.
func (l *Levels) after(k, i int) float64 {
	a := l.anchors[k]
	if k+1 == len(l.anchors) || l.anchors[k+1].reading == a.reading {
		return a.place
	}
	b := l.anchors[k+1]
	return a.place + (b.place-a.place)*float64(i-a.reading)/float64(b.reading-a.reading)
}

// index is the first reading at or behind a place.
func (l *Levels) index(place float64) int {
	k := sort.Search(len(l.anchors), func(k int) bool { return l.anchors[k].place >= place })
	if k == 0 {
		return 0
	}
	if k == len(l.anchors) {
		return len(l.readings)
	}
	from, to := l.anchors[k-1].reading, l.anchors[k].reading
	return from + sort.Search(to-from, func(i int) bool { return l.after(k-1, from+i) >= place })
}

// between gives the extremes of the readings from one to before another.
func (l *Levels) between(from, to int) (least, most float32) {
	least, most = float32(math.Inf(1)), float32(math.Inf(-1))
	low, high := l.readings, l.readings
	for level := 0; from < to; level++ {
		if level >= len(l.low) || to-from < 2*levelOf {
			a, b := extremes(low[from:to], high[from:to])
			return min(least, a), max(most, b)
		}
		if up := (from + levelOf - 1) / levelOf * levelOf; up > from {
			a, b := extremes(low[from:up], high[from:up])
			least, most = min(least, a), max(most, b)
			from = up
		}
		if down := to / levelOf * levelOf; down < to {
			a, b := extremes(low[down:to], high[down:to])
			least, most = min(least, a), max(most, b)
			to = down
		}
		low, high = l.low[level], l.high[level]
		from, to = from/levelOf, to/levelOf
	}
	return least, most
}
